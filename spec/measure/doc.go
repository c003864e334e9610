// Package measure turns what an instrument shows into what a service sheet
// asks for: a clearance, a float, the shim to fit.
//
// A small table of general kinds says for each what is read, how the result comes
// of it, and what to do when it is out of range. A Setup is one measurement as a
// procedure declares it; Setup.Judge takes the text a person gives, such as
// "float 0.32 mm; shim 0.80 mm", and gives the Result.
//
// The arithmetic is exact, on rational numbers, in the unit of the first
// reading; only a division by π is rounded. Still every computed figure is an
// estimate: the instrument, the feel of the feeler and a bent part are not in
// the formula. The formulae are plain arithmetic and need no source; which way
// a tie between two shims is decided, and the advice, are common practice, no source.
//
// Where several readings are taken, each of them has to lie in range, not only
// their mean.
package measure
