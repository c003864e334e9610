package clamp

import "fmt"

// Turned is what an angle or a stretch leaves in a joint: an estimate.
type Turned struct {
	PreloadN    float64  `json:"preload_n"`         // held at the yield line if Yields
	LowN        float64  `json:"preload_low_n"`     // least to expect
	HighN       float64  `json:"preload_high_n"`    // most to expect
	ElasticN    float64  `json:"elastic_preload_n"` // what the springs alone would give
	YieldN      float64  `json:"yield_preload_n"`
	Yields      bool     `json:"yields"`        // the bolt goes past yield
	LastingMM   float64  `json:"lasting_mm"`    // stretch that stays, if it yields
	YieldDeg    float64  `json:"yield_degrees"` // turn after the snug torque at which yield is reached
	Method      string   `json:"method"`        // the formulae used
	Assumptions []string `json:"assumptions"`   // what was taken for granted
}

// Turn estimates the preload after a snug torque in N·m and a turn in degrees:
// ΔF = θ/360·P/(δS+δP) (VDI 2230, from memory), held at the preload of the yield
// line, since past it the elastic formula gives preloads no bolt holds. The band is that of
// tightening by angle, and never narrower than what the snug torque's own band becomes.
func (j Joint) Turn(g Grip, snugNm, degrees float64) (Turned, error) {
	seated, err := j.model()
	if err != nil {
		return Turned{}, err
	}
	j.Tool = angleTool
	m, s, err := j.sprung(g)
	if err != nil {
		return Turned{}, err
	}
	if err := positive("angle", degrees, "degrees"); err != nil {
		return Turned{}, err
	}
	if err := positive("snug torque", snugNm, "N·m"); err != nil {
		return Turned{}, err
	}
	net := snugNm - m.PrevailingNm
	if net <= 0 {
		return Turned{}, fmt.Errorf("snug torque of %v N·m is all taken by the prevailing torque of %v N·m; give the target with the drag added", snugNm, m.PrevailingNm)
	}
	snug := seated.band(net, 1000*net/m.nominalLeverMM())
	turn := m.Thread.PitchMM * degrees / 360 // mm
	give := s.usual.giveMMPerN()
	m.say("the snug torque has closed the joint; the turn counts from there")
	m.say("snug preload %.3g to %.3g kN, %s", snug.LowN/1000, snug.HighN/1000, seated.Tool.Name)
	t := m.turned(Band{snug.LowN + turn/s.soft.giveMMPerN(), snug.NominalN + turn/give, snug.HighN + turn/s.stiff.giveMMPerN()}, give)
	t.YieldDeg = max(0, (t.YieldN-snug.NominalN)*give*360/m.Thread.PitchMM)
	t.Method = "turn through the compliance of bolt and parts (VDI 2230), held at the yield line; " + m.method()
	return t, nil
}

// Stretched estimates the preload of a bolt measured longer by stretchMM than it was
// free: ΔL over the bolt's own compliance, held at the yield line. The band is that of
// measured stretch, and holds every shank the bolt may have.
func (j Joint) Stretched(g Grip, stretchMM float64) (Turned, error) {
	j.Tool = stretchTool
	m, s, err := j.sprung(g)
	if err != nil {
		return Turned{}, err
	}
	if err := positive("stretch", stretchMM, "mm"); err != nil {
		return Turned{}, err
	}
	m.say("stretch is end to end, over head and engaged thread as VDI 2230 counts them; the nut or the tapped hole is not in it")
	off := m.Tool.PreloadPct / 100
	t := m.turned(Band{
		LowN:     stretchMM * (1 - off) / s.soft.StretchMMPerN,
		NominalN: stretchMM / s.usual.StretchMMPerN,
		HighN:    stretchMM * (1 + off) / s.stiff.StretchMMPerN,
	}, s.usual.StretchMMPerN)
	t.Method = "stretch over the bolt's compliance (VDI 2230), held at the yield line; " + m.method()
	return t, nil
}

// turned holds an elastic preload at the yield line, and its band too: slick threads twist
// the bolt less, and so let it hold more. The tool's own deviation goes about what is held.
// give is the compliance that the rest of the movement would have loaded.
func (m *model) turned(elastic Band, give float64) Turned {
	t := Turned{PreloadN: elastic.NominalN, ElasticN: elastic.NominalN, YieldN: m.yieldN()}
	if elastic.NominalN > t.YieldN {
		t.PreloadN, t.Yields, t.LastingMM = t.YieldN, true, (elastic.NominalN-t.YieldN)*give
		m.say("torque-to-yield: the bolt yields at about %.3g kN and keeps a lasting stretch; work hardening is left out", t.YieldN/1000)
	}
	off := m.Tool.PreloadPct / 100
	t.LowN = min(t.PreloadN*(1-off), elastic.LowN, m.preloadAtN(1, m.Friction.High))
	t.HighN = max(t.PreloadN*(1+off), min(elastic.HighN, m.preloadAtN(1, m.Friction.Low)))
	t.Assumptions = m.said
	return t
}
