package read

import (
	"math"
	"slices"
	"time"

	"evenpull/spec"
	"evenpull/spec/estimate"
	"evenpull/spec/measure"
	"evenpull/spec/quantity"
)

// What no sheet means: a figure past one of these has its point in the wrong place, or the
// wrong unit (all: common practice, no source). Torques, turns, stretches and engagements are
// held against the bolt itself, in package clamp.
const (
	leastSnug    = 0.05 // of the final torque: a pass under it does nothing
	holds        = 0.95 // of the torque before: under it nothing turns
	leastDegrees = 10   // of one turn or loosening
	shortGrip    = 0.5  // diameters
	longGrip     = 30
	gripOfCover  = 0.35 // a bolt that holds the cover goes through its thickness, but for a deep recess
	thinCover    = 1.5  // mm
	thickCover   = 80
	thinBore     = 0.1  // diameters
	headsTouch   = 1.25 // diameters between two bolts
	farApart     = 60   // diameters between neighbours
	outlying     = 6    // times the usual distance between neighbours
	mostPlaces   = 400  // bolts whose places are compared
	limitsRatio  = 25   // max over min
	stockRatio   = 4    // a shim over the middle one of its stock
	radiusRatio  = 5    // of the two radii of a backlash
)

// doubtSlips warns of figures that only a slip of the pen explains.
func (b *binder) doubtSlips() {
	for _, g := range b.p.Groups {
		b.doubtSizes(g)
		b.doubtSteps(g)
	}
	b.doubtPlaces()
	b.doubtTimes()
	for _, c := range b.p.Checks {
		b.doubtLimits(c)
	}
	if c := b.p.Cover; c != nil {
		if mm := c.Thickness.Mm(); mm < thinCover || mm > thickCover {
			b.slip(b.at[c], "[cover]: a thickness of %s is hardly a cover's", c.Thickness)
		}
	}
}

func (b *binder) slip(at int, what string, args ...any) {
	b.warn(at, "look for the point, and the unit", what, args...)
}

// doubtSizes looks at the lengths of a group's bolt.
func (b *binder) doubtSizes(g *spec.Group) {
	d := g.Thread.DiameterMM
	if bore := g.Bore.Mm(); bore > 0 && bore < thinBore*d {
		b.slip(b.at[keyAt{g, "bore"}], "group %s: a bore of %s is hardly a hole in %s", spec.Quote(g.ID), g.Bore, g.Thread.Name)
	}
	grip := g.Grip.Mm()
	if grip == 0 {
		return
	}
	at := b.at[keyAt{g, "grip"}]
	if grip < shortGrip*d || grip > longGrip*d {
		b.slip(at, "group %s: a grip of %s is %.2g diameters of %s", spec.Quote(g.ID), g.Grip, grip/d, g.Thread.Name)
	} else if c := b.p.Cover; c != nil && slices.Contains(c.Groups, g) && !g.Hollow() && grip < gripOfCover*c.Thickness.Mm() {
		b.slip(at, "group %s: a grip of %s does not go through the cover's %s", spec.Quote(g.ID), g.Grip, c.Thickness)
	}
}

// doubtSteps follows a group through its passes: a torque under the one before it turns nothing.
func (b *binder) doubtSteps(g *spec.Group) {
	final, _ := estimate.Final(b.p, g)
	before := 0.0
	for _, pass := range b.p.Passes {
		if !pass.Takes(g) {
			continue
		}
		for i, step := range pass.Steps {
			target := step.Target(g)
			switch step.Action {
			case spec.Torque:
				nm := most(target.Torque)
				at := b.at[figureAt{pass, i, g}]
				switch {
				case nm < leastSnug*final.TorqueNm:
					b.slip(at, "pass %s: %s is next to nothing beside the %.4g N·m that group %s ends at", spec.Quote(pass.Name), target.Torque.Text(), final.TorqueNm, spec.Quote(g.ID))
				case nm < holds*before:
					b.slip(at, "pass %s: %s turns nothing in group %s, which holds %.4g N·m already", spec.Quote(pass.Name), target.Torque.Text(), spec.Quote(g.ID), before)
				}
				before = max(before, nm)
			case spec.Turn, spec.Loosen:
				_, high := target.Turn.Ends(quantity.Degree)
				alone := step.Action == spec.Turn && final.TurnDegrees <= high // then judged with its bolt
				if !target.Fully && !alone && high < leastDegrees {
					b.slip(b.at[stepAt{pass, i}], "pass %s: %s %s is next to nothing", spec.Quote(pass.Name), step.Action, target.Turn.Text())
				}
				before = 0 // nothing is known of the torque after a turn
			default:
				before = 0
			}
		}
	}
}

// doubtPlaces looks for bolts whose heads would touch, and for places far from all others.
func (b *binder) doubtPlaces() {
	all := b.p.Fasteners
	if len(all) < 2 || len(all) > mostPlaces {
		return
	}
	nearest := make([]float64, len(all))
	for i, f := range all {
		nearest[i] = math.Inf(1)
		for k, o := range all {
			apart := math.Hypot(f.X-o.X, f.Y-o.Y)
			if i == k || apart == 0 && f.Group != o.Group { // a stud and its nut share a place
				continue
			}
			nearest[i] = min(nearest[i], apart)
			if touch := headsTouch * (f.Group.Thread.DiameterMM + o.Group.Thread.DiameterMM) / 2; i > k && apart < touch {
				b.slip(b.at[f], "fasteners %s and %s are %.3g mm apart, and their heads would touch", spec.Quote(o.ID), spec.Quote(f.ID), apart)
			}
		}
	}
	usual := middle(nearest)
	for i, f := range all {
		switch d := f.Group.Thread.DiameterMM; {
		case len(all) > 3 && nearest[i] > outlying*usual && nearest[i] > farApart*d/4:
			b.slip(b.at[f], "fastener %s is %.4g mm from every other, and they are %.3g mm apart", spec.Quote(f.ID), nearest[i], usual)
		case len(all) > 2 && usual > farApart*d && !math.IsInf(usual, 0):
			b.slip(b.at[f], "fastener %s is %.4g mm from the next: places are in mm", spec.Quote(f.ID), nearest[i])
			return // one says it for all
		}
	}
}

// middle is the median.
func middle(of []float64) float64 {
	sorted := slices.Sorted(slices.Values(of))
	return sorted[len(sorted)/2]
}

// doubtTimes looks at sealant and waits.
func (b *binder) doubtTimes() {
	for _, pass := range b.p.Passes {
		if pass.IsWait() && (pass.Wait < 30*time.Second || pass.Wait > 7*24*time.Hour) {
			b.slip(b.at[stepAt{pass, 0}], "pass %s waits %s", spec.Quote(pass.Name), spec.Span(pass.Wait))
		}
	}
	s := b.p.Sealant
	if s == nil {
		return
	}
	switch {
	case s.WorkTime < 2*time.Minute || s.WorkTime > 4*time.Hour:
		b.slip(b.at[s], "[sealant]: a work_time of %s is hardly a sealant's", spec.Span(s.WorkTime))
	case s.CureTime > 0 && s.CureTime < s.WorkTime:
		b.slip(b.at[s], "[sealant]: it cures in %s, before its work_time of %s is over", spec.Span(s.CureTime), spec.Span(s.WorkTime))
	case s.CureTime > 14*24*time.Hour:
		b.slip(b.at[s], "[sealant]: a cure_time of %s is hardly a sealant's", spec.Span(s.CureTime))
	}
}

// doubtLimits looks at the limits of a measurement and what goes with them.
func (b *binder) doubtLimits(c *spec.Check) {
	if c.Min != nil && c.Max != nil && !c.Min.IsZero() {
		if ratio := c.Max.In(c.Max.Unit()) / c.Min.In(c.Max.Unit()); ratio > limitsRatio {
			b.slip(b.at[c], "%s: from %s to %s is a wide window", spec.Quote(c.Measure), c.Min, c.Max)
		}
	}
	if c.Shim != nil {
		var sizes []float64
		for _, l := range c.Shim.Stock {
			sizes = append(sizes, l.Mm())
		}
		for i, mm := range sizes {
			if usual := middle(sizes); mm > stockRatio*usual || mm < usual/stockRatio {
				b.slip(b.at[c], "%s: a shim of %s lies far from the rest of its stock", spec.Quote(c.Measure), c.Shim.Stock[i])
			}
		}
	}
	if pitch, dial := c.How.PitchRadius.Mm(), c.How.DialRadius.Mm(); c.How.Kind == measure.Backlash && pitch > 0 && dial > 0 {
		if pitch > radiusRatio*dial || dial > radiusRatio*pitch {
			b.slip(b.at[c], "%s: a pitch_radius of %s and a dial_radius of %s do not go together", spec.Quote(c.Measure), c.How.PitchRadius, c.How.DialRadius)
		}
	}
}
