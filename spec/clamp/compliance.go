package clamp

import (
	"fmt"
	"math"

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

// boltMMPerN is how much longer the bolt itself gets for each newton, end to end, in mm/N, with a
// plain shank of so many mm (VDI 2230, from memory): head, shank, waist, free thread and the
// core of the engaged thread, in series. A bore is taken off all but the head.
func (m *model) boltMMPerN(g Grip, shankMM float64) float64 {
	d, mpa := m.Thread.DiameterMM, g.Bolt.ElasticGPa*1000
	section := func(diameter float64) float64 { return math.Pi / 4 * (diameter*diameter - m.BoreMM*m.BoreMM) }
	head := 0.5
	if m.Head == bolt.Socket {
		head = 0.4
	}
	waist := g.WaistMM
	if m.Joint.WaistMM > 0 && waist == 0 {
		waist = shankMM
	}
	inside := head*d/(math.Pi/4*d*d) + (shankMM-waist)/section(d) + (g.LengthMM-shankMM+0.5*d)/section(m.Thread.RootDiameterMM())
	if waist > 0 {
		inside += waist / section(m.Joint.WaistMM)
	}
	return inside / mpa
}

// seatMMPerN is how far the nut or the tapped hole gives with its thread, in mm/N (VDI 2230,
// from memory). A stretch measured on the bolt does not hold it.
func (m *model) seatMMPerN(g Grip) float64 {
	d := m.Thread.DiameterMM
	nominal := math.Pi / 4 * d * d
	if g.Tapped {
		return 0.33 * d / (g.HoleGPa * 1000 * nominal)
	}
	return 0.4 * d / (g.Bolt.ElasticGPa * 1000 * nominal)
}

// partsMMPerN is the compliance of the clamped parts, in mm/N, by VDI 2230's cone (from
// memory): a full cone, a cone inside a sleeve, or a sleeve.
func (m *model) partsMMPerN(g Grip) float64 {
	dw, dh, w := m.BearingMM, m.HoleMM, 1.0
	tan := coneTangent(g, dw)
	if g.Tapped {
		w = 2
	}
	mpa, l, da := g.PartsGPa*1000, g.LengthMM, g.OuterMM
	limit := dw + w*l*tan
	switch {
	case da >= limit:
		return 2 * math.Log((dw+dh)*(limit-dh)/((dw-dh)*(limit+dh))) / (w * mpa * math.Pi * dh * tan)
	case da <= dw:
		return l / (mpa * math.Pi / 4 * (da*da - dh*dh))
	}
	cone := 2 / (w * dh * tan) * math.Log((dw+dh)*(da-dh)/((dw-dh)*(da+dh)))
	sleeve := 4 / (da*da - dh*dh) * (l - (da-dw)/(w*tan))
	return (cone + sleeve) / (mpa * math.Pi)
}

// coneTangent is the slope of VDI 2230's pressure cone, for a nut or a tapped joint.
func coneTangent(g Grip, dw float64) float64 {
	length, y := g.LengthMM/dw, g.MeetMM/dw
	if g.Tapped {
		return 0.348 + 0.013*math.Log(length) + 0.193*math.Log(y)
	}
	return 0.362 + 0.032*math.Log(length/2) + 0.153*math.Log(y)
}

// Stiffness is what the springs of a joint are, by VDI 2230.
type Stiffness struct {
	BoltMMPerN    float64 // δS, with the nut or the tapped hole
	StretchMMPerN float64 // the bolt alone, end to end
	PartsMMPerN   float64 // δP
	LoadFactor    float64 // Φ = δP/(δS+δP), load at the head plane
}

// giveMMPerN is what bolt and parts give together.
func (s Stiffness) giveMMPerN() float64 { return s.BoltMMPerN + s.PartsMMPerN }

// Stiffness estimates the compliance of bolt and parts.
func (j Joint) Stiffness(g Grip) (Stiffness, error) {
	_, springs, err := j.sprung(g)
	return springs.usual, err
}

// springs are a joint's, with the shank that is known or assumed, and with the shortest and
// the longest it may have.
type springs struct{ usual, soft, stiff Stiffness }

// sprung fills in a joint and its grip, says what was taken for granted, and gives the springs.
func (j Joint) sprung(g Grip) (*model, springs, error) {
	m, err := j.model()
	if err != nil {
		return nil, springs{}, err
	}
	if g, err = m.fillGrip(g); err != nil {
		return nil, springs{}, err
	}
	if g.OuterMM <= m.HoleMM {
		return nil, springs{}, fmt.Errorf("parts of %.4g mm about a hole of %.4g mm; give an outside diameter over the hole", g.OuterMM, m.HoleMM)
	}
	if coneTangent(g, m.BearingMM) <= 0 {
		return nil, springs{}, fmt.Errorf("grip of %v mm in parts of %v mm is outside VDI 2230's cone; give the real grip and diameters", g.LengthMM, g.OuterMM)
	}
	m.say("%s", m.describe(g))
	parts, seat := m.partsMMPerN(g), m.seatMMPerN(g)
	of := func(shankMM float64) Stiffness {
		s := Stiffness{StretchMMPerN: m.boltMMPerN(g, shankMM), PartsMMPerN: parts}
		s.BoltMMPerN = s.StretchMMPerN + seat
		s.LoadFactor = parts / s.giveMMPerN()
		return s
	}
	short, middle, long := g.shanks()
	all := springs{of(middle), of(short), of(long)}
	if all.soft.BoltMMPerN < all.stiff.BoltMMPerN { // a waist thinner than the thread's root
		all.soft, all.stiff = all.stiff, all.soft
	}
	return m, all, nil
}

// BoltStiffness is the textbook form kb = Ad·At·E/(Ad·lt + At·ld) (Shigley), in N/mm, for
// plain and threaded areas in mm², their lengths in mm and E in MPa.
func BoltStiffness(plainMM2, threadMM2, plainMM, threadMM, elasticMPa float64) float64 {
	return plainMM2 * threadMM2 * elasticMPa / (plainMM2*threadMM + threadMM2*plainMM)
}

// FrustumStiffness is one layer of the textbook 30° frusta (Shigley), in N/mm: thickness
// t, bolt d, small diameter D, all mm, and E in MPa.
func FrustumStiffness(elasticMPa, d, small, t float64) float64 {
	spread := 2 / math.Sqrt(3) * t // 1.155·t
	return math.Pi * elasticMPa * d / math.Sqrt(3) / math.Log((spread+small-d)*(small+d)/((spread+small+d)*(small-d)))
}

// MemberStiffness is two equal frusta of a joint of one material, washer face 1.5·d
// (Shigley's closed form), in N/mm: bolt d and grip l in mm, E in MPa.
func MemberStiffness(elasticMPa, d, grip float64) float64 {
	const tan30 = 0.5774 // as printed
	return tan30 * math.Pi * elasticMPa * d / (2 * math.Log(5*(tan30*grip+0.5*d)/(tan30*grip+2.5*d)))
}
