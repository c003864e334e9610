package clamp

import (
	"fmt"
	"math"

	"evenpull/spec/bolt"
)

// steelGPa is the modulus of a steel bolt (common practice, no source).
const steelGPa = 205

// Grip is what lies between head and thread, and how the parts are shaped. Only
// LengthMM must be given.
type Grip struct {
	LengthMM float64 // clamp length, head to first engaged thread
	ShankMM  float64 // plain shank within it; the rest is free thread
	ShankDia float64 // diameter of the plain shank in mm; 0: the thread's (or the joint's waist)
	Tapped   bool    // screwed into a tapped hole rather than a nut
	OuterMM  float64 // outside diameter of the parts about the bolt; 0: wide
	MeetMM   float64 // diameter the parts share where they meet (D'A); 0: as OuterMM
	BoltGPa  float64 // modulus of the bolt; 0: 205, steel
	PartsGPa float64 // modulus of the clamped parts; 0: 205
	HoleGPa  float64 // modulus of the tapped part; 0: as PartsGPa
}

// wideMM stands in for parts with no near edge: VDI 2230's y beyond which the cone grows no
// wider is about this many bearing diameters (assumed).
const wideRatio = 3

func (g Grip) fill(bearingMM float64) (Grip, error) {
	for _, blank := range []struct {
		v     *float64
		usual float64
	}{{&g.BoltGPa, steelGPa}, {&g.PartsGPa, steelGPa}, {&g.OuterMM, wideRatio * bearingMM}} {
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
	}{{"grip length", g.LengthMM, "mm"}, {"bolt modulus", g.BoltGPa, "GPa"}, {"parts' modulus", g.PartsGPa, "GPa"},
		{"tapped part's modulus", g.HoleGPa, "GPa"}, {"parts' outside diameter", g.OuterMM, "mm"}, {"parts' meeting diameter", g.MeetMM, "mm"}} {
		if err := positive(need.what, need.v, need.unit); err != nil {
			return g, err
		}
	}
	if err := notNegative("shank diameter", g.ShankDia, "mm"); err != nil {
		return g, err
	}
	if !(g.ShankMM >= 0 && g.ShankMM <= g.LengthMM) {
		return g, fmt.Errorf("shank of %v mm in a grip of %v mm; give a length from 0 to the grip", g.ShankMM, g.LengthMM)
	}
	return g, nil
}

// describe is what a filled grip takes the parts to be.
func (g Grip) describe() string {
	into := "a nut"
	if g.Tapped {
		into = fmt.Sprintf("a tapped hole of %.4g GPa", g.HoleGPa)
	}
	return fmt.Sprintf("bolt of %.4g GPa into %s; clamped parts of %.4g GPa, %.3g mm across about the bolt", g.BoltGPa, into, g.PartsGPa, g.OuterMM)
}

// boltMMPerN is the compliance of the bolt, in mm/N (VDI 2230, from memory): head, shank, free
// thread, engaged thread, and nut or tapped part. A bore is taken off shank and thread.
func (m *model) boltMMPerN(g Grip) float64 {
	d, mpa := m.Thread.DiameterMM, g.BoltGPa*1000
	bore := math.Pi / 4 * m.BoreMM * m.BoreMM
	nominal := math.Pi / 4 * d * d
	root := math.Pi/4*m.Thread.RootDiameterMM()*m.Thread.RootDiameterMM() - bore
	dia := d
	if m.WaistMM > 0 {
		dia = m.WaistMM
	}
	if g.ShankDia > 0 {
		dia = g.ShankDia
	}
	shank := math.Pi/4*dia*dia - bore
	head := 0.5
	if m.Head == bolt.Socket {
		head = 0.4
	}
	inside := head*d/(mpa*nominal) + g.ShankMM/(mpa*shank) + (g.LengthMM-g.ShankMM)/(mpa*root) + 0.5*d/(mpa*root)
	if g.Tapped {
		return inside + 0.33*d/(g.HoleGPa*1000*nominal)
	}
	return inside + 0.4*d/(mpa*nominal)
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
	BoltMMPerN  float64 // δS
	PartsMMPerN float64 // δP
	LoadFactor  float64 // Φ = δP/(δS+δP), load at the head plane
}

// Stiffness estimates the compliance of bolt and parts.
func (j Joint) Stiffness(g Grip) (Stiffness, error) {
	m, err := j.model()
	if err != nil {
		return Stiffness{}, err
	}
	return m.stiffness(g)
}

func (m *model) stiffness(g Grip) (Stiffness, error) {
	g, err := g.fill(m.BearingMM)
	if err != nil {
		return Stiffness{}, err
	}
	if g.OuterMM <= m.HoleMM {
		return Stiffness{}, fmt.Errorf("parts of %.4g mm about a hole of %.4g mm; give an outside diameter over the hole", g.OuterMM, m.HoleMM)
	}
	if g.ShankDia > 0 && g.ShankDia <= m.BoreMM {
		return Stiffness{}, fmt.Errorf("bore of %v mm is as wide as the shank of %v mm or wider; give a bore under it", m.BoreMM, g.ShankDia)
	}
	if coneTangent(g, m.BearingMM) <= 0 {
		return Stiffness{}, fmt.Errorf("grip of %v mm in parts of %v mm is outside VDI 2230's cone; give the real grip and diameters", g.LengthMM, g.OuterMM)
	}
	s := Stiffness{BoltMMPerN: m.boltMMPerN(g), PartsMMPerN: m.partsMMPerN(g)}
	s.LoadFactor = s.PartsMMPerN / (s.BoltMMPerN + s.PartsMMPerN)
	return s, nil
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
