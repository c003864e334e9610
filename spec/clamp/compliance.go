package clamp

import (
	"fmt"
	"math"

	"evenpull/spec/bolt"
)

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
