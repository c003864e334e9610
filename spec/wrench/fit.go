package wrench

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
)

// The share of full scale a wrench is specified over (ISO 6789-1:2017, from memory; agrees
// with the test points read in print), and where it reads best (NAVEDTRA 14001).
const (
	LeastShare = 0.20
	BestShare  = 0.50
	// coarsest is the largest error a mark may leave before the scale is too coarse for the
	// target (common practice, no source).
	coarsest = 0.02
)

// Setting is what one wrench does for one target. Figures of the scale are in its unit.
type Setting struct {
	Wrench      string
	Scale       float64  // exact figure to set
	Mark        float64  // nearest graduation within the range
	DeliveredNm float64  // torque at the fastener when set to Mark, if the wrench is true
	MarkError   float64  // share by which DeliveredNm misses the target: −0.01 is 1 % short
	LowNm       float64  // delivered band, by the permissible deviation
	HighNm      float64  //
	Share       float64  // Scale over the top of the scale
	Problems    []string // why it doesn't fit; empty: it does
	Source      string   // of the deviation
}

// Fits reports whether nothing speaks against the wrench.
func (s Setting) Fits() bool { return len(s.Problems) == 0 }

// For says how to set the wrench for a target in N·m with an adapter on, and whether
// it fits. An error means a figure that makes no sense.
func (w Wrench) For(targetNm float64, a Adapter) (Setting, error) {
	if err := w.Check(); err != nil {
		return Setting{}, err
	}
	setNm, err := SettingNm(targetNm, w.ArmMM, a)
	if err != nil {
		return Setting{}, fmt.Errorf("wrench %.60q: %w", w.Name, err)
	}
	lever := targetNm / setNm
	off := w.Permissible()
	s := Setting{Wrench: w.Name, Scale: setNm / w.UnitNm, Source: w.Kind.Source}
	s.Mark = w.nearestMark(s.Scale)
	s.DeliveredNm = s.Mark * w.UnitNm * lever
	s.MarkError = s.DeliveredNm/targetNm - 1
	s.LowNm, s.HighNm = s.DeliveredNm*(1-off), s.DeliveredNm*(1+off)
	s.Share = s.Scale / w.High
	s.Problems = w.problems(s)
	return s, nil
}

// nearestMark is the graduation nearest to a scale figure, counted from the lowest mark.
func (w Wrench) nearestMark(scale float64) float64 {
	const hair = 1e-9 // a range of whole steps must not lose its last to rounding
	last := math.Floor((w.High-w.Low)/w.Graduation + hair)
	step := math.Round((scale - w.Low) / w.Graduation)
	return w.Low + w.Graduation*min(max(step, 0), last)
}

func (w Wrench) problems(s Setting) []string {
	var found []string
	const hair = 1e-9
	switch {
	case s.Scale > w.High*(1+hair):
		found = append(found, fmt.Sprintf("%.4g %s is over its %.4g %s", s.Scale, w.Unit, w.High, w.Unit))
	case s.Scale < w.Low*(1-hair):
		found = append(found, fmt.Sprintf("%.4g %s is under its lowest mark, %.4g %s", s.Scale, w.Unit, w.Low, w.Unit))
	case s.Share < LeastShare-hair:
		found = append(found, fmt.Sprintf("%.4g %s is under a fifth of its scale, where its deviation isn't specified (ISO 6789-1, from memory)", s.Scale, w.Unit))
	case math.Abs(s.MarkError) > coarsest+hair:
		found = append(found, fmt.Sprintf("its marks are too far apart: the nearest, %.4g %s, is %.1f %% off", s.Mark, w.Unit, 100*s.MarkError))
	}
	return found
}

// Choose ranks a drawer for a target: those that fit first, the one reading nearest the
// middle of its scale at the top; then those that don't, with why. It is an error only
// if no wrench makes sense of the target.
func Choose(drawer []Wrench, targetNm float64, a Adapter) ([]Setting, error) {
	if len(drawer) == 0 {
		return nil, fmt.Errorf("no wrenches; list at least one with its range and graduation")
	}
	settings := make([]Setting, 0, len(drawer))
	var failures []error
	for _, w := range drawer {
		s, err := w.For(targetNm, a)
		if err != nil {
			failures = append(failures, err)
			s = Setting{Wrench: w.Name, Problems: []string{err.Error()}}
		}
		settings = append(settings, s)
	}
	if len(failures) == len(drawer) {
		return nil, errors.Join(failures...)
	}
	slices.SortStableFunc(settings, func(a, b Setting) int {
		if a.Fits() != b.Fits() {
			return map[bool]int{true: -1, false: 1}[a.Fits()]
		}
		return cmp.Compare(math.Abs(a.Share-BestShare), math.Abs(b.Share-BestShare))
	})
	return settings, nil
}

// Text is the setting in one line: "set 24.6 N·m (target 25 N·m); nearest mark 24.5 N·m …".
func (s Setting) Text(unit string) string {
	line := fmt.Sprintf("%s: set %.4g %s; nearest mark %.4g %s gives %.4g N·m (%+.1f %%), delivered %.4g to %.4g N·m",
		s.Wrench, s.Scale, unit, s.Mark, unit, s.DeliveredNm, 100*s.MarkError, s.LowNm, s.HighNm)
	if !s.Fits() {
		line += "; " + strings.Join(s.Problems, "; ")
	}
	return line
}
