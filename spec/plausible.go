package spec

import "evenpull/spec/quantity"

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
	t.wrong(v.at, "give a torque over 0 and up to 10 000 N·m; check the unit", "%s: %s %s is absurd", t.name, key, quote(v.text))
	return false
}

func (t table) spanPlausible(v *node, key string, s TorqueSpan) bool {
	return t.plausible(v, key, spanTop(s)) && (s.Low == nil || t.plausible(v, key, s.Low.Nm()))
}

func (t table) anglePlausible(v *node, action Action, s AngleSpan) bool {
	for _, a := range []*quantity.Angle{s.Low, s.High} {
		if a != nil && (a.Degrees() <= 0 || a.Degrees() > mostDegrees) {
			t.wrong(v.at, "give an angle over 0° and up to 10 turns", "%s: %s %s is absurd", t.name, action, quote(v.text))
			return false
		}
	}
	return true
}

// spanTop is the highest torque a span allows, in N·m; its lowest if it is open above.
func spanTop(s TorqueSpan) float64 {
	switch {
	case s.High != nil:
		return s.High.Nm()
	case s.Low != nil:
		return s.Low.Nm()
	}
	return 0
}

// spanBottom is the lowest torque a span allows, in N·m.
func spanBottom(s TorqueSpan) float64 {
	if s.Low != nil {
		return s.Low.Nm()
	}
	return spanTop(s)
}
