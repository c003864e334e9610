package clamp

import (
	"cmp"
	"fmt"

	"evenpull/spec/bolt"
)

// Stage is the final figure to be doubted, with what else its sheet says. Don't ask about a
// draw-down pass: a light figure is its purpose.
type Stage struct {
	TorqueNm    float64       // final torque, or the snug torque before a turn
	Unit        string        // as written on the sheet: "N·m", "lbf·ft", "lbf·in", "kgf·m", "kgf·cm"; "": not known
	TurnDegrees float64       // turn after the torque; 0: none
	Grip        Grip          // for the turn; no length: judged by a rule of thumb
	OneUse      bool          // the sheet marks the bolt one-use
	Into        bolt.Material // what the thread is in; zero: not known
	LengthMM    float64       // engagement; 0: not known
	WireInsert  bool
}

// Doubt is one warning: the number doubted, the limit it breaks, and what both rest on.
type Doubt struct {
	Kind       string // "over yield", "near yield", "far below", "hollow", "strips", "torque to yield"
	Number     float64
	Limit      float64
	Unit       string // of Number and Limit: "N·m", "mm", "degrees"
	Assumption string
	Text       string // one line with all of it, for a person
}

// Shares of yield that bound what is usual.
const (
	nearYield = 0.90 // VDI 2230's usual limit
	farBelow  = 0.45 // a final figure under this is rare (common practice, no source),
	farOther  = 0.20 // but for a big nut, whose thread is sized for its shaft, and for a hollow bolt, held back by its sealing washers
	bigMM     = 16.0 // a nut over this diameter is big (both: common practice, no source)
	likelyLow = 0.50 // a mistaken figure is taken for another if that would be
	likelyTop = 0.95 // within these shares of yield
	ttyTurn   = 60.0 // degrees after a torque, from which a turn is usually torque-to-yield (common practice, no source)
)

// Plausible lists what is doubtful about a stage's figure, worst first; none when it looks
// right. Errors are those of Assess.
func (j Joint) Plausible(s Stage) ([]Doubt, error) {
	a, err := j.Assess(s.TorqueNm)
	if err != nil {
		return nil, err
	}
	var doubts []Doubt
	hollow, err := j.doubtHollow(s, a)
	if err != nil {
		return nil, err
	}
	strips, err := j.doubtThread(s, a)
	if err != nil {
		return nil, err
	}
	turn, err := j.doubtTurn(s)
	if err != nil {
		return nil, err
	}
	for _, found := range [][]Doubt{j.doubtLoad(s, a), hollow, strips, turn} {
		doubts = append(doubts, found...)
	}
	return doubts, nil
}

// basis is the assumption behind the yield torque, in a line.
func (j Joint) basis() string {
	m, err := j.model()
	if err != nil {
		return ""
	}
	return fmt.Sprintf("friction %.3g (%s), yield %.4g MPa, %s; an estimate", m.Friction.Nominal, m.Friction.Name, m.yieldMPa, m.Form)
}

// name is the bolt as a warning calls it: "M8x1.25 8.8".
func (j Joint) name() string { return j.Thread.Name + " " + j.Class.Name }

// least is the share of yield under which a final figure is doubted.
func (j Joint) least() float64 {
	if j.Thread.DiameterMM > bigMM || j.BoreMM > 0 {
		return farOther
	}
	return farBelow
}

// doubtLoad doubts a torque for its share of yield. A snug torque before a turn is
// not too low whatever it is.
func (j Joint) doubtLoad(s Stage, a Assessment) []Doubt {
	d := Doubt{Number: s.TorqueNm, Unit: "N·m", Assumption: j.basis()}
	share := 100 * a.Utilisation
	switch {
	case a.Utilisation > 1:
		d.Kind, d.Limit = "over yield", a.YieldTorqueNm
		d.Text = fmt.Sprintf("%.4g N·m is %.0f %% of what yields %s (about %s N·m)", s.TorqueNm, share, j.name(), Digits(d.Limit, 3))
	case a.Utilisation > nearYield:
		d.Kind, d.Limit = "near yield", a.Torque90Nm
		d.Text = fmt.Sprintf("%.4g N·m is %.0f %% of yield for %s; 90 %% is about %s N·m", s.TorqueNm, min(share, 99), j.name(), Digits(d.Limit, 3))
	case a.Utilisation < j.least() && s.TurnDegrees == 0 && !j.threadLimits(s, a):
		d.Kind, d.Limit = "far below", j.least()/a.Utilisation*s.TorqueNm
		d.Text = fmt.Sprintf("%.4g N·m is only %.0f %% of yield for %s; a final figure is rarely under %s N·m", s.TorqueNm, share, j.name(), Digits(d.Limit, 3))
	default:
		return nil
	}
	if d.Kind != "near yield" {
		if why := j.explain(s, a); why != "" {
			d.Text += "; " + why
		}
	}
	d.Text += " (" + d.Assumption + ")"
	return []Doubt{d}
}

// threadLimits reports whether a low figure is right because the hole's thread is the weak part:
// half of what strips it is reached.
func (j Joint) threadLimits(s Stage, a Assessment) bool {
	e := j.engagement(s)
	return e.Check() == nil && a.PreloadN > 0.5*min(e.HoleStripN(), e.BoltStripN())
}

func (j Joint) engagement(s Stage) bolt.Engagement {
	return bolt.Engagement{Thread: j.Thread, Class: j.Class, BoreMM: j.BoreMM, LengthMM: s.LengthMM, Hole: s.Into, WireInsert: s.WireInsert}
}

// doubtHollow doubts a figure that a solid bolt would bear and this one doesn't.
func (j Joint) doubtHollow(s Stage, a Assessment) ([]Doubt, error) {
	if j.BoreMM == 0 || a.Utilisation <= nearYield {
		return nil, nil
	}
	solid := j
	solid.BoreMM, solid.CrossHoleMM, solid.CrossOuterMM = 0, 0, 0
	as, err := solid.Assess(s.TorqueNm)
	if err != nil || as.Utilisation > 1 {
		return nil, err
	}
	text := fmt.Sprintf("%.4g N·m suits a solid %s (%.0f %% of yield), but this one has a %.3g mm bore: 90 %% of its yield is about %s N·m",
		s.TorqueNm, j.name(), 100*as.Utilisation, j.BoreMM, Digits(a.Torque90Nm, 3))
	return []Doubt{{"hollow", s.TorqueNm, a.Torque90Nm, "N·m", j.basis(), text + " (" + j.basis() + ")"}}, nil
}

// doubtThread doubts a hole whose thread strips before the bolt breaks.
func (j Joint) doubtThread(s Stage, a Assessment) ([]Doubt, error) {
	if s.LengthMM == 0 || s.Into == (bolt.Material{}) {
		return nil, nil
	}
	e := j.engagement(s)
	if err := e.Check(); err != nil {
		return nil, err
	}
	if e.HoleStripN() >= e.BreakN() {
		return nil, nil
	}
	basis := fmt.Sprintf("shear strength of %s at least %.3g MPa (%s); FED-STD-H28 areas, %s; an estimate", s.Into.Name, s.Into.LeastShearMPa(), s.Into.Source, j.Thread.Limits().Basis)
	needs := e.MinimumMM()
	text := fmt.Sprintf("the thread in %s strips first: %.3g mm engaged holds about %.3g kN, the bolt breaks at %.3g kN; by shear strength it takes %.3g mm",
		s.Into.Name, s.LengthMM, e.HoleStripN()/1000, e.BreakN()/1000, needs)
	if a.PreloadHighN > e.HoleStripN() {
		text += fmt.Sprintf(", and %.4g N·m alone can pull up to %.3g kN", s.TorqueNm, a.PreloadHighN/1000)
	}
	return []Doubt{{"strips", s.LengthMM, needs, "mm", basis, text + " (" + basis + ")"}}, nil
}

// doubtTurn doubts a turn that takes a bolt past yield when the sheet doesn't call it
// one-use. Without a grip a turn of 60° or more after a torque is taken to.
func (j Joint) doubtTurn(s Stage) ([]Doubt, error) {
	if s.TurnDegrees == 0 || s.OneUse {
		return nil, positiveOrZero(s.TurnDegrees)
	}
	if s.Grip.LengthMM == 0 {
		if s.TurnDegrees < ttyTurn {
			return nil, positiveOrZero(s.TurnDegrees)
		}
		basis := "no grip length given: 60° or more after a torque is usually torque-to-yield (common practice, no source)"
		text := fmt.Sprintf("a turn of %.4g° probably takes %s past yield, and it isn't marked one-use (%s)", s.TurnDegrees, j.name(), basis)
		return []Doubt{{"torque to yield", s.TurnDegrees, ttyTurn, "degrees", basis, text}}, nil
	}
	t, err := j.Turn(s.Grip, s.TorqueNm, s.TurnDegrees)
	if err != nil || !t.Yields {
		return nil, err
	}
	basis := fmt.Sprintf("grip %.4g mm of %.4g GPa in VDI 2230's cone, %s", s.Grip.LengthMM, cmp.Or(s.Grip.PartsGPa, steelGPa), j.basis())
	text := fmt.Sprintf("a turn of %.4g° after %.4g N·m takes %s past yield (reached at about %.0f°), and it isn't marked one-use (%s)",
		s.TurnDegrees, s.TorqueNm, j.name(), t.YieldDeg, basis)
	return []Doubt{{"torque to yield", s.TurnDegrees, t.YieldDeg, "degrees", basis, text}}, nil
}

func positiveOrZero(degrees float64) error { return notNegative("angle", degrees, "degrees") }
