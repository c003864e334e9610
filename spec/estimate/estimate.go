// Package estimate gives what a procedure says of its bolts to the estimates of
// package clamp: what a bolt is, what it clamps, what its passes take it to, and
// whether its figures fit it.
package estimate

import (
	"slices"

	"evenpull/spec"
	"evenpull/spec/bolt"
	"evenpull/spec/clamp"
	"evenpull/spec/quantity"
)

// Joint gives a group to the estimates of package clamp, and whether it can be
// estimated at all: without a class nothing is known of its strength.
func Joint(g *spec.Group) (clamp.Joint, bool) {
	j := clamp.Joint{Thread: g.Thread, Class: g.Class, BoreMM: g.Bore.Mm(), WaistMM: g.Waist.Diameter.Mm(), CrossHoleMM: g.CrossHole.Mm()}
	if g.Friction.Word != "" {
		j.Friction, _ = clamp.ParseFriction(g.Friction.Word) // the reader allows only words it knows
	} else {
		j.Friction, _ = clamp.FrictionOf(g.Friction.Coefficient) // 0 is no coefficient: it stays as not stated
	}
	return j, g.HasClass
}

// Grip gives what the sheet says of what a group clamps; no length if it says
// nothing. A group with an engagement is screwed into a tapped hole, of the material
// it names; what it clamps is what the sheet says, else of the cover's material if it holds the cover.
func Grip(p *spec.Procedure, g *spec.Group) clamp.Grip {
	c := clamp.Grip{LengthMM: g.Grip.Mm(), Tapped: !g.Engagement.IsZero(), WaistMM: g.Waist.Length.Mm()}
	if g.Shank != nil {
		c.ShankMM, c.ShankKnown = g.Shank.Mm(), true
	}
	if g.Into != "" {
		hole, _ := bolt.ParseMaterial(g.Into) // an old record may name another
		c.HoleGPa = hole.ElasticGPa
	}
	if g.Clamps != "" { // an old record may name another
		if parts, err := bolt.ParseMaterial(g.Clamps); err == nil {
			c.Parts, c.PartsGPa, c.PartsPerMK = parts.Name, parts.ElasticGPa, parts.ExpansionPerMK
			return c
		}
	}
	if p.Cover == nil || !slices.Contains(p.Cover.Groups, g) {
		return c
	}
	if m, err := Plate(p.Cover); err == nil { // of another material nothing is known
		c.PartsGPa = m.ElasticMPa / 1000
		if alloy, err := bolt.ParseMaterial(m.Name); err == nil {
			c.Parts, c.PartsPerMK = m.Name, alloy.ExpansionPerMK
		}
	}
	return c
}

// Final gives the torque, turns and stretch that the passes take a group to, for the
// estimates, and whether anything tightens it. The torque before a stretch only seats.
func Final(p *spec.Procedure, g *spec.Group) (clamp.Pull, bool) {
	s := clamp.Pull{OneUse: g.OneUse, LengthMM: g.Engagement.Mm(), WireInsert: g.WireInsert, Grip: Grip(p, g), Light: g.Light, Nut: g.Nut}
	if g.Into != "" {
		s.Into, _ = bolt.ParseMaterial(g.Into) // in an old record unknown ones are judged as not known
	}
	freed := false // what was reached before a loosening is not what a later turn counts from
	for _, pass := range p.Passes {
		if !pass.Takes(g) {
			continue
		}
		for _, step := range pass.Steps {
			freed = reach(&s, step.Action, *step.Target(g), freed)
		}
	}
	return s, s.TorqueNm > 0 || s.StretchHighMM > 0
}

// reach takes a stage one step further.
func reach(s *clamp.Pull, action spec.Action, target spec.Target, freed bool) (stillFreed bool) {
	switch action {
	case spec.Torque:
		if _, nm := target.Torque.Ends(quantity.NewtonMetre); freed || nm >= s.TorqueNm {
			s.TorqueNm, s.Unit = nm, target.Torque.Unit().Symbol()
			s.VerifyNm = 0
			return false
		}
	case spec.Turn:
		_, high := target.Turn.Ends(quantity.Degree)
		s.TurnDegrees += high
		s.VerifyNm = 0
	case spec.Loosen, spec.Remove:
		s.TurnDegrees, s.StretchLowMM, s.StretchHighMM, s.CeilingNm, s.VerifyNm = 0, 0, 0, 0, 0
		return true
	case spec.Stretch:
		s.StretchLowMM, s.StretchHighMM = target.Stretch.Ends(quantity.Millimetre)
		s.StretchUnit = target.Stretch.Unit().Symbol()
		if target.Ceiling != nil {
			s.CeilingNm = target.Ceiling.Nm()
		}
	case spec.Verify:
		s.VerifyNm, _ = target.Torque.Ends(quantity.NewtonMetre)
	}
	return freed
}
