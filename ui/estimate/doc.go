// Package estimate shows what a figure does to its bolt, to a person: a bar from
// nothing to yield, which wrench to set to what, and what the neighbours take away.
// It only renders; the reckoning is in procedures/clamping
// and the packages below. Whatever it shows says that it is an estimate.
package estimate
