// Package clamp estimates what a torque, an angle, a stretch or heat does to a bolt, and what torque a
// clamp takes.
//
// Method. Torque becomes preload by one of four named forms (see Form). The bolt's
// stress is tension with torsion, combined after von Mises, against the yield strength; the
// torsion modulus is the plastic one of the current VDI 2230 editions or the elastic one of the 1986
// edition (see Edition). Angle and stretch go through the compliance of bolt and parts (VDI 2230,
// from memory, or the 30° frusta of the textbooks), and stop at the yield line; so does heat, which makes
// bolt and parts grow by their own measure.
//
// Limits. Friction decides, and is never known: the same torque gives preloads that
// differ by a half or more. So a preload comes with a band, every result lists its
// assumptions, and the sheet's figure governs.
package clamp
