// Package clamping estimates what the stages of a procedure leave in its bolts: in one
// bolt taken by itself ([Alone]), and in all bolts of a cover together ([Together]), which
// take clamp from their neighbours.
//
// Alone, the torque, turn or stretch of a stage is a preload with a band, between nothing
// and yield (package clamp). Together, the cover is an elastic plate (package
// clamp/neighbours), the stages come in the plan's order, and what counts is the clamp that
// each bolt still holds after each pass.
//
// Method of the latter. A torque becomes a preload at nominal friction, drawn as
// by a click wrench; an angle moves the thread by pitch × angle/360°; a
// bolt that would go past yield is held at its yield line. A bolt's spring
// is its own compliance and that of the parts under its head in series (VDI 2230).
//
// Limits. Those of clamp and neighbours, which Study.Assumptions lists. Every figure
// is an estimate; the sheet governs.
package clamping
