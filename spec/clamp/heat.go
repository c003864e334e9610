package clamp

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Room is where a joint is tightened, and Running about where a water-cooled engine runs
// (common practice, no source), in °C.
const (
	Room    = 20.0
	Running = 90.0
)

// Temperatures this estimate speaks of, in °C: below, metals turn brittle; above, steel bolts relax and
// light alloys creep (common practice, no source).
const (
	coldest = -60.0
	hottest = 250.0
)

// springsOff is how far off the springs of VDI 2230 are taken to be when they meet heat. Solids of revolution
// with grips of two to eight diameters, reckoned in finite elements, gained 4 to 14 % less than
// springs (see TestHeatAgainstASolid); it is a fifth, for what such solids leave out.
const springsOff = 0.20

// ParseCelsius reads a temperature as "90 °C", "90C" or "194 °F", in °C. A bare number is refused.
func ParseCelsius(text string) (float64, error) {
	bare := strings.ToUpper(strings.Map(func(r rune) rune {
		if r == ' ' || r == '°' || r == '\u00a0' {
			return -1
		}
		return r
	}, text))
	unit := strings.TrimLeft(bare, "+-−0123456789.,")
	number := strings.NewReplacer(",", ".", "−", "-").Replace(strings.TrimSuffix(bare, unit))
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || !finite(v) || unit != "C" && unit != "F" && unit != "" {
		return 0, fmt.Errorf("no temperature %.40q; write one such as 90 °C or 194 °F", text)
	}
	if unit == "" {
		return 0, fmt.Errorf("temperature %.40q has no unit; write %s °C or %s °F", text, number, number)
	}
	if unit == "F" {
		v = (v - 32) / 1.8
	}
	if v < coldest || v > hottest {
		return 0, fmt.Errorf("temperature %.40q is out of the range of this estimate; give one from %v to %v °C", text, coldest, hottest)
	}
	return v, nil
}

// Warmed is what a change of temperature makes of a clamp that was set at another: an estimate.
type Warmed struct {
	ColdC       float64  `json:"cold_c"`
	WarmC       float64  `json:"warm_c"`
	GainN       float64  `json:"gain_n"` // under 0: the clamp falls
	PreloadN    float64  `json:"preload_n"`
	LowN        float64  `json:"preload_low_n"`
	HighN       float64  `json:"preload_high_n"`
	Utilisation float64  `json:"utilisation"` // with the torsion that tightening left in the bolt
	Text        string   `json:"text"`
	Assumptions []string `json:"assumptions"`
}

// ThermalN is the force that a change of temperature adds to a clamp, in newtons: parts and bolt are as long
// as the grip, give so much for each newton together, and would grow apart if
// they could: ΔF = (αP−αS)·ΔT·l/(δS+δP) (VDI 2230, from memory; strength of materials).
func ThermalN(partsPerMK, boltPerMK, kelvin, gripMM, giveMMPerN float64) float64 {
	return (partsPerMK - boltPerMK) * 1e-6 * kelvin * gripMM / giveMMPerN
}

// Warm takes a clamp set at coldC to warmC, in °C, all of the joint at one temperature. The grip must
// say what is clamped.
func (j Joint) Warm(g Grip, set Band, coldC, warmC float64) (Warmed, error) {
	m, s, err := j.sprung(g)
	if err != nil {
		return Warmed{}, err
	}
	if g, err = m.fillGrip(g); err != nil {
		return Warmed{}, err
	}
	if g.PartsPerMK == 0 {
		return Warmed{}, fmt.Errorf("what is clamped is not known; name it, such as cast aluminium")
	}
	for _, c := range []float64{coldC, warmC} {
		if !(c >= coldest && c <= hottest) {
			return Warmed{}, fmt.Errorf("temperature is %v °C; give one from %v to %v °C", c, coldest, hottest)
		}
	}
	if err := positive("preload", set.NominalN, "N"); err != nil {
		return Warmed{}, err
	}
	gain := func(s Stiffness) float64 {
		return ThermalN(g.PartsPerMK, g.Bolt.ExpansionPerMK, warmC-coldC, g.LengthMM, s.giveMMPerN())
	}
	w := Warmed{ColdC: coldC, WarmC: warmC, GainN: gain(s.usual)}
	w.PreloadN = max(0, set.NominalN+w.GainN)
	least, most := math.Abs(gain(s.soft))*(1-springsOff), math.Abs(gain(s.stiff))*(1+springsOff)
	if w.GainN < 0 {
		least, most = -most, -least
	}
	w.LowN, w.HighN = max(0, set.LowN+least), max(0, set.HighN+most)
	stress, _ := m.stressMPa(w.PreloadN, set.NominalN*m.threadLeverMM(m.Friction.Nominal))
	w.Utilisation = stress / m.yieldMPa
	m.say("all of the joint at one temperature; while it warms the parts are ahead of the bolt, and the clamp is higher still if they grow more than it")
	m.say("springs of VDI 2230: what heat adds is taken to be right within a fifth; beside solids in finite elements it was 4 to 16 %% high")
	m.say("expansion for each kelvin %.3g·10⁻⁶ for the bolt (%s), %.3g·10⁻⁶ for the parts", g.Bolt.ExpansionPerMK, g.Bolt.Source, g.PartsPerMK)
	m.say("moduli and yield strength as at room temperature: at %.0f °C steel is some 2 %% softer, light alloys some 4 %% (from memory)", Running)
	w.Text, w.Assumptions = w.words(g), m.said
	return w, nil
}

// words is the finding in a line.
func (w Warmed) words(g Grip) string {
	parts := g.Parts
	if parts == "" {
		parts = "the parts"
	}
	pair := fmt.Sprintf("%s under a %s bolt", parts, g.Bolt.Name)
	var text string
	switch kN := math.Abs(w.GainN) / 1000; {
	case w.PreloadN == 0:
		return pair + ": the clamp is lost altogether"
	case kN < 0.005*w.PreloadN/1000:
		text = pair + ": the clamp stays as it is"
	case w.GainN > 0:
		text = fmt.Sprintf("%s: the clamp rises by about %s kN", pair, Digits(kN, 2))
	default:
		text = fmt.Sprintf("%s: the clamp falls by about %s kN", pair, Digits(kN, 2))
	}
	if w.Utilisation > 1 {
		text += "; past yield: the bolt stretches for good, and clamps less when it is cold again"
	}
	return text
}
