// Package bolt knows what a fastener is: its thread, its property class, its
// section (solid, hollow, cross-drilled, waisted), its head and hole, and the
// thread it is screwed into.
//
// Method. Thread sizes come from the basic profile (ISO 68-1, ISO 724, ASME
// B1.1), areas from the stress diameter d0 = (d2+d3)/2 (ISO 898-1) or
// d − 0.9743/n (ASME B1.1), strengths from the minimum figures of ISO 898-1,
// ISO 3506-1 and SAE J429, thread shear areas from the unified form of
// FED-STD-H28/2B with the tolerance limits of ISO 965-1 6g/6H or ASME B1.1 2A/2B.
//
// Limits. A worn, stretched, corroded or re-cut thread is weaker than any of
// these figures. What is computed here is an estimate; the sheet's figure governs.
//
// Everything is millimetres, square millimetres, MPa and newtons, and says so in
// its name. Nothing here reads files or clocks.
package bolt
