// Package wrench answers what a torque wrench will really deliver: whether it fits a
// target, what to set on its own scale with an adapter on, which mark is nearest, and the band that
// ISO 6789 lets it be off by.
//
// Dates come in as arguments. Torque is N·m unless a name says scale: scale figures are
// in the wrench's own unit.
package wrench
