// Package interplay estimates what the bolts of a procedure do to each other:
// its cover as an elastic plate, its stages in the plan's order, and the
// clamp each bolt still holds after each pass.
//
// Method. A torque becomes a preload at nominal friction (package clamp), drawn as
// by a click wrench; an angle moves the thread by pitch × angle/360°; a
// bolt that would go past yield is held at its yield line. A bolt's spring
// is its own compliance and that of the parts under its head in series (VDI 2230). The
// plate and the joint face are package neighbours'.
//
// Limits. Those of clamp and neighbours, which Study.Assumptions lists. Every figure
// is an estimate; the sheet governs.
package interplay
