package clamping

import (
	"fmt"
	"math"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/clamp/neighbours"
	"evenpull/spec/estimate"
)

// startShare is the share of yield that bolts are taken to carry before an opening
// whose sheet gives no figure (assumed: the middle of what final figures reach).
const startShare = 0.65

// Study is a procedure's bolts and what each pass leaves on them.
type Study struct {
	Procedure *spec.Procedure
	Bolts     []Bolt
	StartN    []float64 // what each carried before; 0 for out, nil when all were out
	Passes    []Held
	Face      neighbours.FacePreset

	plan     *plan.Plan
	models   [modelCount]*neighbours.Model
	history  [modelCount]neighbours.History
	index    map[string]*placed
	preloads map[preloadKey]float64
	said     []string

	uncompared string // how the joint lies outside of what was compared with solids
}

type placed struct {
	Bolt
	place int
}

// Held is the joint right after one pass.
type Held struct {
	Name    string
	Steps   int
	ForcesN []float64 // residual clamp by bolt, in the order of Study.Bolts; 0 for out or slack
	KeptBy  []float64 // share of what the bolt held right after its own last stage, or before any; NaN where that is 0
	Kept    Kept
	Soft    Kept // the same on the softest face to expect, if it is a rim
	Stiff   Kept // and on the stiffest, if it goes on without end
	Band    Band // what Kept.Lowest may really be
	End     neighbours.Summary
}

// Band is the least and the most that a share may really be, by what is not known of the
// joint face and by how far the models were from solid finite elements.
type Band struct{ Low, High float64 }

// Width is how far apart two shares must be for the estimate to tell them apart.
func (b Band) Width() float64 { return b.High - b.Low }

// Kept sums up what the bolts still hold of their own last setting, as shares. 1 is
// all of it. Bolts is 0, and the rest too, when none was tightened yet.
type Kept struct {
	Bolts    int
	Lowest   float64
	LowestID string
	Mean     float64
	Highest  float64
	Spread   float64 // (highest − lowest)/mean
	LowestN  float64 // clamp in newtons of the bolt that keeps least
}

// Together studies what the bolts of a procedure's cover do to each other. Errors say what the file must give.
func Together(p *spec.Procedure) (*Study, error) {
	if err := need(p); err != nil {
		return nil, err
	}
	s := &Study{Procedure: p, plan: plan.Of(p), index: map[string]*placed{}, preloads: map[preloadKey]float64{}}
	var err error
	if s.Bolts, err = bolts(p); err != nil {
		return nil, err
	}
	for i, b := range s.Bolts {
		s.index[b.ID] = &placed{b, i}
	}
	if s.Face, err = estimate.Seat(p.Cover); err != nil {
		return nil, fmt.Errorf("[cover]: %w", err)
	}
	if err = s.model(); err != nil {
		return nil, err
	}
	if err := s.start(); err != nil {
		return nil, err
	}
	return s, s.walk()
}

// start gives every bolt that is tight before the first pass the preload of its
// group's figure: all of them in an opening, else those that are loosened first.
func (s *Study) start() error {
	start := make([]float64, len(s.Bolts))
	tight, assumed := false, false
	for i, b := range s.Bolts {
		if s.Procedure.Direction != spec.Open && !s.loosenedFirst(b) {
			continue
		}
		tight = true
		if b.Group.Torque == nil {
			start[i], assumed = startShare*b.YieldN, true
			continue
		}
		n, err := s.preload(b.Group, b.Group.Torque.Aim().Nm())
		if err != nil {
			return fmt.Errorf("group %q: %w", b.Group.ID, err)
		}
		start[i] = n
	}
	if !tight {
		return nil
	}
	s.StartN = start
	s.said = append(s.said, "bolts that are tight before the first pass carry their group's figure, evenly")
	if assumed {
		s.said = append(s.said, fmt.Sprintf("groups without torque start at %.0f %% of yield (assumed); give torque = \"…\" for the sheet's own figure", 100*startShare))
	}
	return nil
}

// loosenedFirst reports whether the first stage that moves a bolt takes load off it.
func (s *Study) loosenedFirst(b Bolt) bool {
	for _, st := range s.plan.Stages {
		if st.Fastener == b.Fastener && (st.Action.Tightens() || st.Action.Frees()) {
			return st.Action.Frees()
		}
	}
	return false
}

// walk runs the sheet's passes on every model.
func (s *Study) walk() error {
	passes, err := s.passes(s.plan)
	if err != nil {
		return err
	}
	if len(passes) == 0 {
		return fmt.Errorf("%s: no pass moves a bolt of the cover; check groups in [cover]", s.Procedure.File)
	}
	held := 0
	if s.history, held, err = s.runAll(passes); err != nil {
		return err
	}
	var kept [modelCount][]Held
	for i, h := range s.history {
		kept[i] = s.results(h)
	}
	s.Passes = kept[middle]
	for i := range s.Passes {
		p := &s.Passes[i]
		p.Soft, p.Stiff, p.Band = kept[softRim][i].Kept, kept[stiffWide][i].Kept, s.lowest(kept, i)
	}
	if held > 0 {
		s.said = append(s.said, fmt.Sprintf("%d turns reach yield: the bolt is held at its yield line, hardening left out", held))
	}
	return nil
}

// runAll runs passes on every model; held counts the turns that reach yield on the middle one.
func (s *Study) runAll(passes []neighbours.Round) (all [modelCount]neighbours.History, held int, err error) {
	for i, m := range s.models {
		h, n, err := s.run(m, passes)
		if err != nil {
			return all, 0, err
		}
		if all[i] = h; i == middle {
			held = n
		}
	}
	return all, held, nil
}

// lowest is the band of the least that any bolt keeps after a pass. A bolt keeps no more
// than was set but for the hair that a neighbour adds. Outside of what was compared with
// solids, anything is possible.
func (s *Study) lowest(kept [modelCount][]Held, pass int) Band {
	var shares []float64
	most := 1.0
	for _, k := range kept {
		shares = append(shares, k[pass].Kept.Lowest)
		most = max(most, k[pass].Kept.Lowest)
	}
	low, high := neighbours.Band(shares...)
	if s.uncompared != "" {
		return Band{0, most}
	}
	return Band{low, min(high, most)}
}

// results sums up a history pass by pass.
func (s *Study) results(h neighbours.History) []Held {
	set := make([]float64, len(s.Bolts)) // what each held right after its own last stage, or before the first
	copy(set, s.StartN)
	var list []Held
	for _, p := range h.Passes {
		out := Held{Name: p.Name, Steps: len(p.Stages), End: p.End}
		for _, st := range p.Stages {
			i := s.index[st.Step.BoltID].place
			set[i], out.ForcesN = st.ForcesN[i], st.ForcesN
		}
		out.KeptBy = make([]float64, len(set))
		for i, had := range set {
			out.KeptBy[i] = out.ForcesN[i] / had // NaN for 0/0: never tightened, or let go
			if had == 0 {
				out.KeptBy[i] = math.NaN()
			}
		}
		out.Kept = s.kept(out)
		list = append(list, out)
	}
	return list
}

func (s *Study) kept(p Held) Kept {
	k := Kept{Lowest: math.Inf(1), Highest: math.Inf(-1)}
	for i, share := range p.KeptBy {
		if math.IsNaN(share) {
			continue
		}
		k.Bolts++
		k.Mean += share
		k.Highest = max(k.Highest, share)
		if share < k.Lowest {
			k.Lowest, k.LowestID, k.LowestN = share, s.Bolts[i].ID, p.ForcesN[i]
		}
	}
	if k.Bolts == 0 {
		return Kept{}
	}
	k.Mean /= float64(k.Bolts)
	if k.Mean > 0 {
		k.Spread = (k.Highest - k.Lowest) / k.Mean
	}
	return k
}

// Assumptions lists what every figure of the study rests on.
func (s *Study) Assumptions() []string {
	lines := s.models[middle].Assumptions()
	lines = append(lines,
		fmt.Sprintf("joint face %s: %.6g N/mm³ (%s)", s.Face.Name, s.Face.Face.ModulusNPerMM3, s.Face.Basis),
		fmt.Sprintf("bands: faces of %.6g to %.6g N/mm³, from a rim %.3g mm wide to one without end, and how far such models were from solid finite elements; the scatter of friction comes on top",
			s.Face.LowFace.ModulusNPerMM3, s.Face.HighFace.ModulusNPerMM3, rimMM(s.Bolts)))
	if m, err := estimate.Plate(s.Procedure.Cover); err == nil {
		lines = append(lines, fmt.Sprintf("cover of %s, %s: %.4g GPa (%s)", m.Name, s.Procedure.Cover.Thickness, m.ElasticMPa/1000, m.Basis))
	}
	lines = append(lines, "torques become preload at nominal friction, and a click wrench leaves alone what carries more; bolt and parts, of the cover's material, in series by VDI 2230")
	if s.uncompared != "" {
		lines = append(lines, s.uncompared+", where no model was compared with solids: what it may be is not known")
	}
	return append(lines, s.said...)
}
