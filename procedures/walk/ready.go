package walk

import (
	"evenpull/procedures/plan"
	"evenpull/spec"
)

// readyBefore says which groups have their threads made ready before which pass:
// all that the pass begins to tighten, and before the smear of a sealant all that
// is first tightened while its clock runs. Not so where a bolt of the group is let
// go or felt on the way there: it is still in.
func readyBefore(p *plan.Plan) map[*spec.Pass][]*spec.Group {
	ready := map[*spec.Pass][]*spec.Group{}
	last := map[*spec.Group]*spec.Pass{} // the pass a bolt of it was last touched in
	done := map[*spec.Group]bool{}
	for _, s := range p.Stages {
		if s.Fastener == nil {
			continue
		}
		g := s.Fastener.Group
		if g.Prep != "" && !g.PrepEach && !done[g] && s.Action.Tightens() {
			done[g] = true
			from := smearedFor(p.Procedure, s.Pass)
			for _, pass := range []*spec.Pass{from, s.Pass} {
				if touched := last[g]; touched == nil || touched.Index < pass.Index {
					ready[pass] = append(ready[pass], g)
					break
				}
			}
		}
		last[g] = s.Pass
	}
	return ready
}

// smearedFor is the pass before which the sealant is smeared whose clock runs in
// this one, or else this one.
func smearedFor(p *spec.Procedure, pass *spec.Pass) *spec.Pass {
	if p.Sealant == nil || p.Sealant.Before.Index > pass.Index {
		return pass
	}
	for _, between := range p.Passes[p.Sealant.Before.Index:pass.Index] {
		if between.IsWait() {
			return pass // a wait ends its clock
		}
	}
	return p.Sealant.Before
}
