package clamping

import (
	"fmt"
	"math"
	"strings"

	"evenpull/spec"
	"evenpull/spec/clamp/neighbours"
	"evenpull/spec/estimate"
)

// Bolt is one fastener of the cover as a spring.
type Bolt struct {
	*spec.Fastener
	YieldN          float64 // preload at which it yields while being tightened
	StiffnessNPerMM float64 // bolt and parts under its head in series
}

// need refuses a procedure that doesn't say enough, with all that is missing.
func need(p *spec.Procedure) error {
	if p.Cover == nil {
		return fmt.Errorf("%s has no [cover], so what its bolts do to each other cannot be estimated; add [cover] with part, material, thickness (of the metal from the joint face to the bolt heads) and face", p.File)
	}
	var missing []string
	var first *spec.Fastener
	count := 0
	at := map[[2]float64]*spec.Fastener{}
	for _, g := range p.Cover.Groups {
		if !g.HasClass {
			missing = append(missing, fmt.Sprintf("group %q has no class; give one, such as class = \"8.8\"", g.ID))
		}
		if g.Grip.IsZero() {
			missing = append(missing, fmt.Sprintf("group %q has no grip; give the clamp length, such as grip = \"52 mm\"", g.ID))
		}
		for _, f := range g.Members {
			if other := at[[2]float64{f.X, f.Y}]; other != nil && first == nil {
				first = f
				missing = append(missing, fmt.Sprintf("%s and %s are both at [%g, %g]; give each its own coordinates, or name the cover's bolts: groups = [%q]", other.ID, f.ID, f.X, f.Y, g.ID))
			}
			at[[2]float64{f.X, f.Y}] = f
			count++
		}
	}
	if count == 1 {
		missing = append(missing, "a single bolt has no neighbours; give at least two under [group.NAME.at]")
	}
	if len(missing) > 0 {
		return fmt.Errorf("%s does not say enough to estimate what its bolts do to each other:\n%s", p.File, strings.Join(missing, "\n"))
	}
	return nil
}

// bolts makes the springs of a cover, in file order.
func bolts(p *spec.Procedure) ([]Bolt, error) {
	var list []Bolt
	for _, g := range p.Cover.Groups {
		joint, _ := estimate.Joint(g)
		springs, err := joint.Stiffness(estimate.Grip(p, g))
		if err != nil {
			return nil, fmt.Errorf("group %q: %w", g.ID, err)
		}
		yield, err := joint.PreloadAt(1)
		if err != nil {
			return nil, fmt.Errorf("group %q: %w", g.ID, err)
		}
		for _, f := range g.Members {
			list = append(list, Bolt{f, yield, 1 / (springs.BoltMMPerN + springs.PartsMMPerN)})
		}
	}
	return list, nil
}

// rimShare is the narrowest joint face to expect along the bolts, in bolt diameters
// (common practice, no source): hardly more than the heads need to stand on.
const rimShare = 2.5

// rimMM is that of the thinnest bolt.
func rimMM(list []Bolt) float64 {
	thinnest := math.Inf(1)
	for _, b := range list {
		thinnest = min(thinnest, b.Group.Thread.DiameterMM)
	}
	return rimShare * thinnest
}

// The models of a study: the middle of what is to be expected, then the corners of what
// is not known, the face's stiffness and its outline.
const (
	middle = iota
	softRim
	stiffWide
	softWide
	stiffRim
	modelCount
)

// model prepares the joint on every face and outline.
func (s *Study) model() error {
	m, err := estimate.Plate(s.Procedure.Cover)
	if err != nil {
		return fmt.Errorf("[cover]: %w", err)
	}
	j := neighbours.Joint{Plate: neighbours.Plate{ElasticMPa: m.ElasticMPa, Poisson: m.Poisson, ThicknessMM: s.Procedure.Cover.Thickness.Mm()}}
	var diameters []float64
	for _, b := range s.Bolts {
		j.Bolts = append(j.Bolts, neighbours.Bolt{ID: b.ID, XMM: b.X, YMM: b.Y, StiffnessNPerMM: b.StiffnessNPerMM})
		diameters = append(diameters, b.Group.Thread.DiameterMM)
	}
	j.Face = s.Face.LowFace
	s.uncompared = j.Uncompared(diameters)
	wide := func(j neighbours.Joint, _ float64) (*neighbours.Model, error) { return neighbours.New(j) }
	for i, one := range [modelCount]struct {
		make func(neighbours.Joint, float64) (*neighbours.Model, error)
		face neighbours.Face
	}{
		middle:    {neighbours.NewBetween, s.Face.Face},
		softRim:   {neighbours.NewRim, s.Face.LowFace},
		stiffWide: {wide, s.Face.HighFace},
		softWide:  {wide, s.Face.LowFace},
		stiffRim:  {neighbours.NewRim, s.Face.HighFace},
	} {
		j.Face = one.face
		if s.models[i], err = one.make(j, rimMM(s.Bolts)); err != nil {
			return err
		}
	}
	return nil
}
