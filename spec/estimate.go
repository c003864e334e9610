package spec

import (
	"slices"

	"evenpull/spec/bolt"
	"evenpull/spec/clamp"
)

// Joint gives a group to the estimates of package clamp, and whether it can be
// estimated at all: without a class nothing is known of its strength.
func (g *Group) Joint() (clamp.Joint, bool) {
	j := clamp.Joint{Thread: g.Thread, Class: g.Class, BoreMM: g.Bore.Mm()}
	switch {
	case g.Friction.Word != "":
		j.Friction, _ = clamp.ParseFriction(g.Friction.Word) // the reader allows only words it knows
	case g.Friction.Coefficient > 0:
		j.Friction, _ = clamp.FrictionOf(g.Friction.Coefficient)
	}
	return j, g.HasClass
}

// GripOf gives what the sheet says of what a group clamps; no length if it says
// nothing. A group with an engagement is screwed into a tapped hole, of the material
// it names; what it clamps is of the cover's material if it holds the cover.
func (p *Procedure) GripOf(g *Group) clamp.Grip {
	c := clamp.Grip{LengthMM: g.Grip.Mm(), Tapped: !g.Engagement.IsZero()}
	if hole, err := bolt.ParseMaterial(g.Into); err == nil {
		c.HoleGPa = hole.ElasticGPa
	}
	if p.Cover == nil || !slices.Contains(p.Cover.Groups, g) {
		return c
	}
	if m, err := p.Cover.Plate(); err == nil { // the reader refuses covers it doesn't know
		c.PartsGPa = m.ElasticMPa / 1000
	}
	return c
}

// FinalOf gives the torque and turns that the passes take a group to, for the
// estimates, and whether there is such a figure. A group that is measured by
// stretch is only seated by its torque: there is none for it.
func (p *Procedure) FinalOf(g *Group) (clamp.Stage, bool) {
	s := clamp.Stage{OneUse: g.OneUse, LengthMM: g.Engagement.Mm(), Grip: p.GripOf(g)}
	if g.Into != "" {
		s.Into, _ = bolt.ParseMaterial(g.Into) // unknown materials are judged as not known
	}
	freed := false // what was reached before a loosening is not what a later turn counts from
	for _, pass := range p.Passes {
		if !pass.takes(g) {
			continue
		}
		for _, step := range pass.Steps {
			target := step.Targets[g]
			switch step.Action {
			case Torque:
				if nm := spanTop(target.Torque); freed || nm >= s.TorqueNm {
					s.TorqueNm, s.Unit, freed = nm, target.Torque.Unit().Symbol(), false
				}
			case Turn:
				if target.Turn.High != nil {
					s.TurnDegrees += target.Turn.High.Degrees()
				}
			case Loosen, Remove:
				s.TurnDegrees, freed = 0, true
			case Stretch:
				return s, false
			}
		}
	}
	return s, s.TorqueNm > 0
}

// doubtFigures warns where a final figure does not fit its bolt.
func (b *binder) doubtFigures() {
	if b.p.Direction != Close {
		return
	}
	type alike struct {
		joint clamp.Joint
		final clamp.Stage
	}
	doubtsOf := map[alike][]clamp.Doubt{} // groups of the same bolt and figure are judged once
	for _, g := range b.p.Groups {
		joint, known := g.Joint()
		final, given := b.p.FinalOf(g)
		if !known || !given {
			continue
		}
		same := alike{joint, final}
		doubts, judged := doubtsOf[same]
		if !judged {
			doubts, _ = joint.Plausible(final) // what the estimate cannot take is no reason to doubt the sheet
			doubtsOf[same] = doubts
		}
		for _, d := range doubts {
			at := b.figureOf(g)
			if d.Kind == "torque to yield" {
				at = b.lastTurn(g)
			}
			b.warn(at, "check it against the service manual, which governs", "group %s: %s", quote(g.ID), d.Text)
		}
	}
}

// lastTurn finds the last angle of a group.
func (b *binder) lastTurn(g *Group) int {
	at := b.at[g]
	for _, pass := range b.p.Passes {
		if !pass.takes(g) {
			continue
		}
		for i, step := range pass.Steps {
			if step.Action == Turn {
				at = b.at[stepAt{pass, i}]
			}
		}
	}
	return at
}

// figureAt is where the figure of a group in a pass stands in the file.
type figureAt struct {
	pass  *Pass
	group *Group
}

// figureOf finds the figure that takes a group highest.
func (b *binder) figureOf(g *Group) int {
	at, most := b.at[g], 0.0
	for _, pass := range b.p.Passes {
		if !pass.takes(g) {
			continue
		}
		for _, step := range pass.Steps {
			target := step.Targets[g]
			if step.Action != Torque || spanTop(target.Torque) < most {
				continue
			}
			most = spanTop(target.Torque)
			if at = b.at[figureAt{pass, g}]; target.Percent != "" {
				at = b.at[figureAt{nil, g}]
			}
		}
	}
	return at
}
