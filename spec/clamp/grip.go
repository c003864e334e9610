package clamp

import (
	"fmt"

	"evenpull/spec/bolt"
)

// steelGPa is the modulus of clamped steel (common practice, no source).
const steelGPa = 205

// A bolt whose plain shank nobody measured may be threaded up to its head, or have a shank of
// about this share of the grip; an estimate takes the middle, and its band holds both
// (common practice, no source).
const longShank = 0.8

// Grip is what lies between head and thread, and how the parts are shaped. Only
// LengthMM must be given.
type Grip struct {
	LengthMM   float64    // clamp length, head to first engaged thread
	ShankMM    float64    // plain shank within it, waist and all; the rest is free thread
	ShankKnown bool       // ShankMM is meant, also when it is 0: thread up to the head
	WaistMM    float64    // length of the joint's waist; 0: the whole shank, if there is a waist
	Tapped     bool       // screwed into a tapped hole rather than a nut
	OuterMM    float64    // outside diameter of the parts about the bolt; 0: wide
	MeetMM     float64    // diameter the parts share where they meet (D'A); 0: as OuterMM
	Bolt       bolt.Metal // what the bolt is of; zero: by its class
	Parts      string     // what the clamped parts are of, for the words; "": not known
	PartsGPa   float64    // their modulus; 0: 205
	PartsPerMK float64    // their expansion, 10⁻⁶ for each kelvin; 0: not known
	HoleGPa    float64    // modulus of the tapped part; 0: as PartsGPa
}

// wideMM stands in for parts with no near edge: VDI 2230's y beyond which the cone grows no
// wider is about this many bearing diameters (assumed).
const wideRatio = 3

// fillGrip fills in a grip's blanks; its error says what to give instead.
func (m *model) fillGrip(g Grip) (Grip, error) {
	if g.Bolt == (bolt.Metal{}) {
		g.Bolt = m.Class.Metal()
	}
	for _, blank := range []struct {
		v     *float64
		usual float64
	}{{&g.PartsGPa, steelGPa}, {&g.OuterMM, wideRatio * m.BearingMM}} {
		if *blank.v == 0 {
			*blank.v = blank.usual
		}
	}
	if g.MeetMM == 0 {
		g.MeetMM = g.OuterMM
	}
	if g.HoleGPa == 0 {
		g.HoleGPa = g.PartsGPa
	}
	for _, need := range []struct {
		what string
		v    float64
		unit string
	}{{"grip length", g.LengthMM, "mm"}, {"bolt modulus", g.Bolt.ElasticGPa, "GPa"}, {"parts' modulus", g.PartsGPa, "GPa"},
		{"tapped part's modulus", g.HoleGPa, "GPa"}, {"parts' outside diameter", g.OuterMM, "mm"}, {"parts' meeting diameter", g.MeetMM, "mm"}} {
		if err := positive(need.what, need.v, need.unit); err != nil {
			return g, err
		}
	}
	return g, m.checkShank(g)
}

func (m *model) checkShank(g Grip) error {
	if !(g.ShankMM >= 0 && g.ShankMM <= g.LengthMM) {
		return fmt.Errorf("shank of %v mm in a grip of %v mm; give a length from 0 to the grip", g.ShankMM, g.LengthMM)
	}
	if g.WaistMM > 0 && m.Joint.WaistMM == 0 {
		return fmt.Errorf("waist of %v mm length but no diameter; give its diameter too", g.WaistMM)
	}
	room := g.LengthMM
	if g.shankKnown() {
		room = g.ShankMM
	}
	if !(g.WaistMM >= 0 && g.WaistMM <= room) {
		return fmt.Errorf("waist of %v mm length in a shank of %v mm; give a length from 0 to the shank", g.WaistMM, room)
	}
	return nil
}

func (g Grip) shankKnown() bool { return g.ShankKnown || g.ShankMM > 0 }

// shanks are the plain shanks to reckon with, in mm: the one that is known, or from a bolt
// threaded up to its head (or its waist) to one with a long shank, and the middle.
func (g Grip) shanks() (short, middle, long float64) {
	if g.shankKnown() {
		return g.ShankMM, g.ShankMM, g.ShankMM
	}
	short, long = g.WaistMM, max(g.WaistMM, longShank*g.LengthMM)
	return short, (short + long) / 2, long
}

// describe is what a filled grip takes the parts to be.
func (m *model) describe(g Grip) string {
	into := "a nut"
	if g.Tapped {
		into = fmt.Sprintf("a tapped hole of %.4g GPa", g.HoleGPa)
	}
	short, middle, long := g.shanks()
	shank := fmt.Sprintf("%.4g mm of it plain shank", middle)
	if !g.shankKnown() {
		shank = fmt.Sprintf("plain shank not given: %.4g mm assumed, the band holds %.4g to %.4g mm", middle, short, long)
	}
	if m.Joint.WaistMM > 0 {
		waist := g.WaistMM
		if waist == 0 {
			waist = middle
		}
		shank += fmt.Sprintf(", %.4g mm of that at the %.4g mm waist", waist, m.Joint.WaistMM)
	}
	return fmt.Sprintf("bolt of %.4g GPa into %s; grip %.4g mm, %s; clamped parts of %.4g GPa, %.3g mm across about the bolt",
		g.Bolt.ElasticGPa, into, g.LengthMM, shank, g.PartsGPa, g.OuterMM)
}
