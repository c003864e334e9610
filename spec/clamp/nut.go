package clamp

import "evenpull/spec/bolt"

// judgeNut holds the class of a nut against the bolt's, and its proof load against the most
// that the figure pulls.
func (j Joint) judgeNut(g *Judgement, s Pull) error {
	n := s.Nut
	if n == (bolt.Nut{}) {
		return nil
	}
	if s.TorqueNm == 0 && s.StretchHighMM == 0 {
		return nil
	}
	strong := j.classed(true)
	a, err := strong.Assess(s.TorqueNm)
	if err != nil {
		return err
	}
	pull, how := min(a.PreloadHighN, a.YieldPreloadN), "the figure"
	if s.TurnDegrees > 0 || s.StretchHighMM > 0 {
		pull, how = a.YieldPreloadN, "the bolt at yield"
	}
	proof := n.ProofMPa * j.Thread.StressAreaMM2()
	const basis = "ISO 898-2, least proof stress; an estimate"
	holds, known := n.For(j.Class)
	switch {
	case pull > proof:
		g.doubt("nut", pull/1000, proof/1000, "kN", basis, "a nut of class %s holds %.3g kN, and %s pulls up to %.3g kN", n.Name, proof/1000, how, pull/1000)
	case known && !holds && n.Number == 0:
		g.judged("a thin nut of class %s holds what %s pulls, %.3g of %.3g kN; it strips before the bolt breaks", n.Name, how, pull/1000, proof/1000)
	case known && !holds:
		g.doubt("nut", float64(n.Number), float64(j.Class.Number()), "", basis, "a nut of class %s is for bolts up to class %d: on %s its thread strips before the bolt breaks", n.Name, n.Number, strong.name())
	case known:
		g.judged("a nut of class %s goes with %s", n.Name, j.Class.Name)
	default:
		g.judged("a nut of class %s holds what %s pulls, %.3g of %.3g kN", n.Name, how, pull/1000, proof/1000)
	}
	return nil
}
