package clamp

import (
	"cmp"
	"evenpull/spec/quantity"
	"fmt"
)

// Bounds on turns and stretches (all: common practice, no source).
const (
	ttyTurn     = 60.0  // degrees after a torque, from which a turn is usually torque-to-yield
	idleTurn    = 15.0  // a turn under this is no stage of its own,
	leastTurn   = 10.0  // wherever,
	idleShare   = 0.05  // nor one that adds less than this of yield
	wholeTurn   = 360.0 // a turn over this, from snug, is a slip
	mostLasting = 0.03  // of the grip: a bolt drawn further is near breaking (class 12.9 breaks at 8 % of its gauge length, ISO 898-1, from memory)
	stretchTop  = 1.10  // of the stretch at yield: over it the bolt stays longer
	stretchPast = 2.0   // a one-use one is drawn further, but not this far
	stretchLow  = 0.35
	thinStretch = 0.003 // of the diameter, where no grip is known: a grip of under two diameters
	fatStretch  = 0.10  // a grip of over twenty
)

// judgeTurn doubts a turn that adds next to nothing, one that takes a bolt past yield when the
// sheet doesn't call it one-use, and one that all but breaks it.
func (j Joint) judgeTurn(g *Judgement, s Pull) error {
	if s.TurnDegrees == 0 {
		return nil
	}
	if err := positive("angle", s.TurnDegrees, "degrees"); err != nil {
		return err
	}
	if s.Grip.LengthMM == 0 {
		j.judgeTurnAlone(g, s)
		return nil
	}
	strong := j.classed(true)
	t, err := strong.Turn(s.Grip, s.TorqueNm, s.TurnDegrees)
	if err != nil {
		return err
	}
	snug, err := strong.Assess(s.TorqueNm)
	if err != nil {
		return err
	}
	added := (t.ElasticN - snug.PreloadN) / t.YieldN
	lasting := t.LastingMM / s.Grip.LengthMM
	basis := fmt.Sprintf("grip %.4g mm of %.4g GPa in VDI 2230's cone, %s", s.Grip.LengthMM, cmp.Or(s.Grip.PartsGPa, steelGPa), strong.basis())
	switch {
	case added < idleShare || s.TurnDegrees < leastTurn:
		g.doubt("idle turn", s.TurnDegrees, max(leastTurn, s.TurnDegrees*idleShare/added), "degrees", basis, "a turn of %.4g° adds only %.2g %% of the yield of %s; is the angle, or the grip, right?", s.TurnDegrees, 100*added, strong.name())
	case lasting > mostLasting:
		limit := t.YieldDeg + (s.TurnDegrees-t.YieldDeg)*mostLasting/lasting
		g.doubt("overstretched", s.TurnDegrees, limit, "degrees", basis, "a turn of %.4g° leaves %s %.2g %% of its grip longer, near breaking; it looks like a point in the wrong place in the angle or the grip", s.TurnDegrees, strong.named(j), 100*lasting)
	case t.Yields && !s.OneUse:
		g.doubt("torque to yield", s.TurnDegrees, t.YieldDeg, "degrees", basis, "a turn of %.4g° after %.4g N·m takes %s past yield (reached at about %.0f°), and it isn't marked one-use", s.TurnDegrees, s.TorqueNm, strong.named(j), t.YieldDeg)
	case t.Yields:
		g.judged("a turn of %.4g° past yield, which is reached at about %.0f°; %.2g %% of the grip stays", s.TurnDegrees, t.YieldDeg, 100*lasting)
	case j.unclassed():
		g.notJudged("whether the turn of %.4g° yields it: no class", s.TurnDegrees)
	default:
		g.judged("a turn of %.4g°, to %.0f %% of yield", s.TurnDegrees, 100*t.PreloadN/t.YieldN)
	}
	return nil
}

// judgeTurnAlone goes by rules of thumb: without a grip a turn is no strain.
func (j Joint) judgeTurnAlone(g *Judgement, s Pull) {
	basis := fmt.Sprintf("no grip length given: a turn from snug is usually %.0f° to %.0f°; common practice, no source", idleTurn, wholeTurn)
	switch {
	case s.TurnDegrees < idleTurn:
		g.doubt("idle turn", s.TurnDegrees, idleTurn, "degrees", basis, "a turn of %.4g° adds next to nothing%s", s.TurnDegrees, tenfold(s.TurnDegrees, ttyTurn, wholeTurn))
	case s.TurnDegrees > wholeTurn:
		g.doubt("overstretched", s.TurnDegrees, wholeTurn, "degrees", basis, "a turn of %.4g° from snug all but breaks a bolt%s", s.TurnDegrees, tenfold(s.TurnDegrees, idleTurn, wholeTurn))
	default:
		g.notJudged("the turn of %.4g°: no grip", s.TurnDegrees)
		if s.TurnDegrees >= ttyTurn && !s.OneUse {
			g.note("a turn of %.0f° or more usually passes yield: does the sheet call for new bolts?", ttyTurn)
		}
	}
}

// judgeStretch doubts a stretch that does not go with the bolt and its grip, and a ceiling
// that is never reached or comes before it.
func (j Joint) judgeStretch(g *Judgement, s Pull) error {
	if s.StretchHighMM == 0 {
		return nil
	}
	if s.Grip.LengthMM == 0 {
		j.judgeStretchAlone(g, s)
	} else if err := j.judgeStrain(g, s); err != nil {
		return err
	}
	if s.CeilingNm == 0 {
		return nil
	}
	strong, weak := j.classed(true).dragging(), j.classed(false)
	most, err := strong.Assess(s.CeilingNm)
	if err != nil {
		return err
	}
	least, err := weak.Assess(s.CeilingNm)
	if err != nil {
		return err
	}
	low := max(ceilingLow*weak.yieldNm(), s.TorqueNm)
	top := ceilingTop * most.YieldTorqueNm
	switch {
	case most.Utilisation > ceilingTop:
		g.doubt("ceiling", s.CeilingNm, top, "N·m", strong.basis(), "a ceiling of %.4g N·m is %.0f %% of what yields %s: it guards nothing%s", s.CeilingNm, 100*most.Utilisation, strong.name(), tenfold(s.CeilingNm, low, top))
	case s.CeilingNm < low:
		g.doubt("ceiling", s.CeilingNm, low, "N·m", weak.basis(), "a ceiling of %.4g N·m comes before the stretch: it is %.2g %% of what yields %s%s", s.CeilingNm, 100*least.Utilisation, weak.name(), tenfold(s.CeilingNm, low, top))
	default:
		g.judged("a ceiling of %.4g N·m against the bolt's yield", s.CeilingNm)
	}
	return nil
}

// yieldNm is the wrench's figure at yield; 0 for a joint that cannot be estimated.
func (j Joint) yieldNm() float64 {
	a, err := j.Assess(1 + j.PrevailingNm)
	if err != nil {
		return 0
	}
	return a.YieldTorqueNm
}

// judgeStrain holds the window against the stretch at which the bolt yields.
func (j Joint) judgeStrain(g *Judgement, s Pull) error {
	strong, weak := j.classed(true), j.classed(false)
	t, err := strong.Stretched(s.Grip, s.StretchHighMM)
	if err != nil {
		return err
	}
	w, err := weak.Stretched(s.Grip, s.StretchLowMM)
	if err != nil {
		return err
	}
	top, low := t.ElasticN/t.YieldN, w.ElasticN/w.YieldN
	allowed := stretchTop
	if s.OneUse {
		allowed = stretchPast
	}
	mostMM, leastMM := s.StretchHighMM*allowed/top, s.StretchLowMM*stretchLow/low
	basis := fmt.Sprintf("grip %.4g mm, %s", s.Grip.LengthMM, strong.basis())
	switch {
	case top > allowed:
		g.doubt("stretch", s.StretchHighMM, mostMM, "mm", basis, "a stretch of %.3g mm is %.0f %% of what yields %s over its grip%s", s.StretchHighMM, 100*top, strong.name(), stretchHint(s, s.StretchHighMM, leastMM, mostMM))
	case low < stretchLow:
		g.doubt("stretch", s.StretchLowMM, leastMM, "mm", basis, "a stretch of %.3g mm is only %.2g %% of what yields %s over its grip%s", s.StretchLowMM, 100*low, weak.name(), stretchHint(s, s.StretchLowMM, leastMM, mostMM))
	case j.unclassed():
		g.judged("a stretch of %.3g mm between the weakest class, %s, and the strongest, %s, for want of one", s.StretchHighMM, weak.Class.Name, strong.Class.Name)
	default:
		g.judged("a stretch of %.3g mm, %.0f %% of that at yield", s.StretchHighMM, 100*top)
	}
	return nil
}

func (j Joint) judgeStretchAlone(g *Judgement, s Pull) {
	d := j.Thread.DiameterMM
	basis := "no grip given: bolts of one to twenty diameters are stretched by 0.003 to 0.1 of their diameter; common practice, no source"
	switch {
	case s.StretchHighMM > fatStretch*d:
		g.doubt("stretch", s.StretchHighMM, fatStretch*d, "mm", basis, "a stretch of %.3g mm is more than any %s gives%s", s.StretchHighMM, j.Thread.Name, stretchHint(s, s.StretchHighMM, thinStretch*d, fatStretch*d))
	case s.StretchLowMM < thinStretch*d:
		g.doubt("stretch", s.StretchLowMM, thinStretch*d, "mm", basis, "a stretch of %.3g mm is next to nothing for %s%s", s.StretchLowMM, j.Thread.Name, stretchHint(s, s.StretchLowMM, thinStretch*d, fatStretch*d))
	default:
		g.notJudged("the stretch of %.3g mm: no grip", s.StretchHighMM)
	}
}

// stretchHint offers thou read as mm or the other way round, or a moved point.
func stretchHint(s Pull, mm, low, high float64) string {
	thou, inch := quantity.Thou.Size(), quantity.Inch.Size()
	for _, slip := range []struct {
		read, meant string
		by          float64
	}{{"mm", "thou", thou}, {"in", "mm", 1 / inch}, {"mm", "in", inch}, {"thou", "mm", 1 / thou}, {"thou", "µm", 0.001 / thou}, {"µm", "thou", thou / 0.001}} {
		if meant := mm * slip.by; s.StretchUnit == slip.read && meant >= low && meant <= high {
			return fmt.Sprintf("; it looks like a figure in %s read as %s", slip.meant, slip.read)
		}
	}
	return tenfold(mm, low, high)
}
