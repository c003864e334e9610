package clamp

import (
	"fmt"

	"evenpull/spec/bolt"
)

// Lengths of engagement in diameters that no sheet means (common practice, no source).
const (
	shortest = 0.5
	longest  = 4.0
)

// judgeThread doubts an engagement that no bolt has, and a hole whose thread the figure strips.
func (j Joint) judgeThread(g *Judgement, s Pull) error {
	d := j.Thread.DiameterMM
	basis := fmt.Sprintf("%.2g to %.2g diameters is the usual range; common practice, no source", shortest, longest)
	switch {
	case s.LengthMM == 0 && s.Into == (bolt.Material{}):
		return nil // into a nut, as far as the sheet says
	case s.LengthMM == 0:
		g.notJudged("the thread in %s: no engagement", s.Into.Name)
		return nil
	case s.LengthMM < shortest*d:
		g.doubt("engagement", s.LengthMM, shortest*d, "mm", basis, "%.4g mm of thread engaged is only %.3g diameters of %s; is the point in the right place?", s.LengthMM, s.LengthMM/d, j.Thread.Name)
		return nil
	case s.LengthMM > longest*d:
		g.doubt("engagement", s.LengthMM, longest*d, "mm", basis, "%.4g mm of thread engaged is %.3g diameters of %s; is the point in the right place?", s.LengthMM, s.LengthMM/d, j.Thread.Name)
		return nil
	case s.Into == (bolt.Material{}):
		g.notJudged("the thread's hold: no material it goes into")
		return nil
	case s.TorqueNm == 0:
		return nil
	}
	return j.classed(true).judgeHold(g, s)
}

// judgeHold holds the most that the figure pulls against what strips the hole's thread.
func (j Joint) judgeHold(g *Judgement, s Pull) error {
	e := j.engagement(s)
	if err := e.Check(); err != nil {
		return err
	}
	a, err := j.Assess(s.TorqueNm)
	if err != nil {
		return err
	}
	pull := min(a.PreloadHighN, a.YieldPreloadN)
	how := "the figure"
	if s.TurnDegrees > 0 || s.StretchHighMM > 0 {
		pull, how = a.YieldPreloadN, "the bolt at yield"
	}
	in := s.Into.Name
	if s.WireInsert {
		in += " behind a wire insert"
	}
	basis := fmt.Sprintf("shear strength of %s at least %.3g MPa (%s); FED-STD-H28 areas, %s; an estimate", s.Into.Name, s.Into.LeastShearMPa(), s.Into.Source, j.Thread.Limits().Basis)
	if holds := e.HoleStripN(); pull > holds {
		g.doubt("strips", s.LengthMM, e.MinimumMM(), "mm", basis, "the thread in %s strips first: %.3g mm engaged holds about %.3g kN, and %s pulls up to %.3g kN; the bolt breaks first from %.3g mm on",
			in, s.LengthMM, holds/1000, how, pull/1000, e.MinimumMM())
		return nil
	}
	g.judged("%.3g mm of thread in %s holds what %s pulls, %.3g of %.3g kN", s.LengthMM, in, how, pull/1000, e.HoleStripN()/1000)
	return nil
}

// threadLimits reports whether a low figure is right because the hole's thread is the weak part:
// half of what strips it is reached.
func (j Joint) threadLimits(s Pull, a Assessment) bool {
	e := j.engagement(s)
	return e.Check() == nil && s.LengthMM >= shortest*j.Thread.DiameterMM && a.PreloadN > 0.5*min(e.HoleStripN(), e.BoltStripN())
}

func (j Joint) engagement(s Pull) bolt.Engagement {
	return bolt.Engagement{Thread: j.Thread, Class: j.Class, BoreMM: j.BoreMM, LengthMM: s.LengthMM, Hole: s.Into, WireInsert: s.WireInsert}
}
