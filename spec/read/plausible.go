package read

import (
	"evenpull/spec/quantity"

	"evenpull/spec"
)

// Bounds past which a figure can only be a slip. They are wide on purpose:
// what is merely doubtful gets a warning from the bolt's own strength.
const (
	mostTorqueNm = 10_000 // no engine-stand fastener comes near it (common practice, no source)
	mostDegrees  = 3_600  // ten turns
)

func (t table) plausible(v *node, key string, nm float64) bool {
	if nm > 0 && nm <= mostTorqueNm {
		return true
	}
	t.wrong(v.at, "give a torque over 0 and up to 10 000 N·m; check the unit", "%s: %s %s is absurd", t.name, key, spec.Quote(v.text))
	return false
}

func (t table) spanPlausible(v *node, key string, s spec.TorqueSpan) bool {
	return t.plausible(v, key, most(s)) && t.plausible(v, key, least(s))
}

func (t table) anglePlausible(v *node, action spec.Action, s spec.AngleSpan) bool {
	for _, a := range []*quantity.Angle{s.Low, s.High} {
		if a != nil && (a.Degrees() <= 0 || a.Degrees() > mostDegrees) {
			t.wrong(v.at, "give an angle over 0° and up to 10 turns", "%s: %s %s is absurd", t.name, action, spec.Quote(v.text))
			return false
		}
	}
	return true
}

// least and most are the ends of a span of torque, in N·m.
func least(s spec.TorqueSpan) float64 { low, _ := s.Ends(quantity.NewtonMetre); return low }
func most(s spec.TorqueSpan) float64  { _, high := s.Ends(quantity.NewtonMetre); return high }
