package clamp

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"evenpull/spec/bolt"
)

// Edition names the way torsion and yield enter the combined stress.
type Edition string

// The editions differ by 5 to 20 % in the preload they allow.
const (
	Current Edition = "VDI 2230 (2001 and later)" // plastic torsion modulus, minimum yield
	Older   Edition = "VDI 2230 (1986)"           // elastic torsion modulus, nominal yield
)

// Joint is a bolt as it is tightened. Thread and Class must be given; the rest has
// a zero value that means "the usual", and Assess says what that was.
type Joint struct {
	Thread bolt.Thread
	Class  bolt.Class

	BoreMM       float64 // 0: solid
	WaistMM      float64 // shank turned down to this; 0: none
	CrossHoleMM  float64 // radial oil hole; 0: none
	CrossOuterMM float64 // outer diameter at the radial hole; 0: the waist, else the thread root

	Friction     Friction // thread and head; zero: Unstated
	HeadFriction Friction // under the head, when it differs; zero: as Friction

	Head      bolt.Head // "": hexagon
	Fit       bolt.Fit  // "": medium clearance hole
	BearingMM float64   // outside diameter the head bears on; 0: by Head
	HoleMM    float64   // hole under the head; 0: by Fit

	Form         Form    // "": Table
	NutFactor    float64 // K, for Form Short only
	Edition      Edition // "": Current
	Tool         Tool    // zero: a torque wrench of ISO 6789, ±4 %
	PrevailingNm float64 // running torque of a locking nut or insert, part of the wrench's figure

	YieldMPa float64 // measured or special yield strength; 0: by Class
}

// Assessment is what a torque does to a joint. Every figure is an estimate.
type Assessment struct {
	TorqueNm      float64  `json:"torque_nm"`
	PreloadN      float64  `json:"preload_n"`      // nominal
	PreloadLowN   float64  `json:"preload_low_n"`  // least to expect
	PreloadHighN  float64  `json:"preload_high_n"` // most to expect
	Utilisation   float64  `json:"utilisation"`    // combined stress over yield at the nominal preload; 1 is yield
	YieldPreloadN float64  `json:"yield_preload_n"`
	YieldTorqueNm float64  `json:"yield_torque_nm"`    // wrench figure at yield
	Torque90Nm    float64  `json:"torque_90_yield_nm"` // wrench figure at 90 % of yield
	WeakSection   string   `json:"weak_section"`       // the section that yields first
	NutFactor     float64  `json:"nut_factor"`         // K implied: torque over preload and diameter
	Method        string   `json:"method"`
	Assumptions   []string `json:"assumptions"`
}

// model is a joint with its blanks filled in and checked.
type model struct {
	Joint
	bearingMM float64 // mean diameter of the bearing ring
	yieldMPa  float64
	sections  []bolt.Section
	said      []string
}

func (m *model) say(format string, args ...any) {
	m.said = append(m.said, fmt.Sprintf(format, args...))
}

// model fills in a joint's blanks; its error says what to give instead.
func (j Joint) model() (*model, error) {
	m := &model{Joint: j}
	m.say("estimate only; the sheet's figure governs")
	m.Form = cmp.Or(m.Form, Table)
	m.Edition = cmp.Or(m.Edition, Current)
	for _, fill := range []func() error{m.fillOptions, m.fillStrength, m.fillSections, m.fillBearing, m.fillFriction, m.fillTool, m.fillDrag} {
		if err := fill(); err != nil {
			return nil, err
		}
	}
	return m, nil
}

func (m *model) fillOptions() error {
	if m.Edition != Current && m.Edition != Older {
		return fmt.Errorf("no edition %.60q; give %q or %q", string(m.Edition), Current, Older)
	}
	if !slices.Contains(forms, m.Form) {
		return fmt.Errorf("no torque formula %.40q; give one of: %s", string(m.Form), strings.Join(FormNames(), ", "))
	}
	return notNegative("prevailing torque", m.PrevailingNm, "N·m")
}

func (m *model) fillStrength() error {
	if m.YieldMPa != 0 {
		m.yieldMPa = m.YieldMPa
		m.say("yield strength %.4g MPa as given", m.YieldMPa)
		return positive("yield strength", m.YieldMPa, "MPa")
	}
	_, yield, _, assumption := m.Class.Strength(m.Thread)
	if yield == 0 {
		return fmt.Errorf("no property class in the joint; give one such as 8.8, A2-70 or SAE 5")
	}
	if m.Edition == Older {
		yield = m.Class.NominalYieldMPa(m.Thread)
	}
	m.yieldMPa = yield
	m.say("yield strength %.4g MPa, %s", yield, assumption)
	return nil
}

// fillSections lists every section the bolt could yield at; the weakest counts.
func (m *model) fillSections() error {
	thread, err := bolt.ThreadSection(m.Thread, m.BoreMM)
	if err != nil {
		return err
	}
	m.sections = []bolt.Section{thread}
	if m.WaistMM != 0 {
		waist, err := bolt.WaistSection(m.WaistMM, m.BoreMM)
		if err != nil {
			return err
		}
		m.sections = append(m.sections, waist)
	}
	if m.CrossHoleMM == 0 {
		return nil
	}
	m.CrossOuterMM = cmp.Or(m.CrossOuterMM, m.WaistMM, m.Thread.RootDiameterMM())
	cross, err := bolt.CrossHoleSection(m.CrossOuterMM, m.BoreMM, m.CrossHoleMM)
	if err != nil {
		return err
	}
	m.sections = append(m.sections, cross)
	m.say("cross-hole section of %.4g mm is the ring less hole width × wall, twice (common practice, no source)", m.CrossOuterMM)
	return nil
}

func (m *model) fillBearing() error {
	m.Head, m.Fit = cmp.Or(m.Head, bolt.Hexagon), cmp.Or(m.Fit, bolt.Medium)
	outer, outerFrom := m.Head.BearingMM(m.Thread)
	hole, holeFrom := m.Fit.ClearanceMM(m.Thread)
	if m.BearingMM != 0 {
		outer, outerFrom = m.BearingMM, "as given"
	}
	if m.HoleMM != 0 {
		hole, holeFrom = m.HoleMM, "as given"
	}
	if err := positive("bearing diameter", outer, "mm"); err != nil {
		return err
	}
	if err := positive("hole diameter", hole, "mm"); err != nil {
		return err
	}
	if hole >= outer {
		return fmt.Errorf("hole of %.4g mm swallows the bearing face of %.4g mm; give a hole under it", hole, outer)
	}
	m.BearingMM, m.HoleMM = outer, hole
	m.bearingMM = (outer + hole) / 2
	m.say("%s head bears on a ring of %.4g mm (%s) by %.4g mm (%s)", m.Head, outer, outerFrom, hole, holeFrom)
	return nil
}

func (m *model) fillFriction() error {
	if m.Form == Short {
		return m.fillNutFactor()
	}
	if m.Friction == (Friction{}) {
		m.Friction = Unstated
	}
	if m.HeadFriction == (Friction{}) {
		m.HeadFriction = m.Friction
	} else {
		m.say("friction under the head %s: %.3g, range %.3g to %.3g (%s)", m.HeadFriction.Name, m.HeadFriction.Nominal, m.HeadFriction.Low, m.HeadFriction.High, m.HeadFriction.Source)
	}
	m.say("friction %s: %.3g, range %.3g to %.3g (%s)", m.Friction.Name, m.Friction.Nominal, m.Friction.Low, m.Friction.High, m.Friction.Source)
	if err := m.Friction.check("friction"); err != nil {
		return err
	}
	return m.HeadFriction.check("friction under the head")
}

// fillNutFactor takes the friction that the VDI formula would need to give the same K, for the
// torsion in the bolt and for the band.
func (m *model) fillNutFactor() error {
	if !(m.NutFactor > 0 && finite(m.NutFactor)) {
		return fmt.Errorf("nut factor K is %v; the form %s needs one: give K such as 0.20 for dry or 0.15 for oiled steel", m.NutFactor, Short)
	}
	mu := (m.NutFactor*m.Thread.DiameterMM - m.Thread.PitchMM/(2*math.Pi)) / (m.Thread.PitchDiameterMM()/(2*cosFlank) + m.bearingMM/2)
	implied, err := FrictionOf(mu)
	if err != nil {
		return fmt.Errorf("nut factor K of %v means a friction of %.3f, outside %v to %v; give K such as 0.20 for dry or 0.15 for oiled steel", m.NutFactor, mu, LeastFriction, MostFriction)
	}
	m.Friction, m.HeadFriction = implied, implied
	m.say("nut factor K %.3g as given; friction %.3f taken from it by the VDI 2230 formula for the torsion", m.NutFactor, mu)
	return nil
}

// fillDrag refuses a running torque that leaves the bolt too little: it twists the bolt
// before there is any preload.
func (m *model) fillDrag() error {
	if m.PrevailingNm == 0 {
		return nil
	}
	const most = 0.9 // of the yield strength: past it nothing is left of what a bolt may usually bear
	if twist, where := m.stressMPa(0, 0); twist > most*m.yieldMPa {
		return fmt.Errorf("prevailing torque of %.4g N·m alone twists the %s to %.0f %% of yield; check the figure and its unit", m.PrevailingNm, where, 100*twist/m.yieldMPa)
	}
	m.say("%.3g N·m of running drag taken off the wrench's figure; it twists the bolt all the same", m.PrevailingNm)
	return nil
}

// leverMM is wrench torque for each newton of preload, in N·mm/N, at one pair of frictions.
func (m *model) leverMM(muThread, muHead float64) float64 {
	return m.threadLeverMM(muThread) + muHead*m.bearingMM/2
}

// threadLeverMM is the part of leverMM that twists the bolt.
func (m *model) threadLeverMM(muThread float64) float64 {
	return m.Form.threadLeverMM(m.Thread, muThread)
}

func (m *model) nominalLeverMM() float64 {
	return m.leverMM(m.Friction.Nominal, m.HeadFriction.Nominal)
}

// stressMPa is the combined stress where it is highest, √(σ² + 3·τ²) (von Mises; VDI 2230),
// for a pull in newtons and the thread torque that twistNmm adds to the running drag.
func (m *model) stressMPa(pullN, twistNmm float64) (mpa float64, where string) {
	for _, s := range m.sections {
		tension, shear := pullN/s.AreaMM2(), (twistNmm+1000*m.PrevailingNm)/m.torsionMM3(s)
		if stress := math.Hypot(tension, math.Sqrt(3)*shear); stress > mpa {
			mpa, where = stress, s.What
		}
	}
	return mpa, where
}

// tightenedMPa is the combined stress at a preload reached by turning, at the nominal friction.
func (m *model) tightenedMPa(preloadN float64) (mpa float64, where string) {
	return m.stressMPa(preloadN, preloadN*m.threadLeverMM(m.Friction.Nominal))
}

func (m *model) torsionMM3(s bolt.Section) float64 {
	if m.Edition == Older {
		return s.ElasticTorsionMM3()
	}
	return s.PlasticTorsionMM3()
}

// preloadAtN is the preload at which the combined stress reaches a share of yield, at one
// thread friction: the root of F²/A² + 3·(G·F + drag)²/W² = σ², in the weakest section. It is
// 0 when the drag alone gets there.
func (m *model) preloadAtN(share, muThread float64) float64 {
	g, drag, limit := m.threadLeverMM(muThread), 1000*m.PrevailingNm, share*m.yieldMPa
	least := math.Inf(1)
	for _, s := range m.sections {
		area, w := s.AreaMM2(), m.torsionMM3(s)
		a := 1/(area*area) + 3*g*g/(w*w)
		half := 3 * g * drag / (w * w)
		c := 3*drag*drag/(w*w) - limit*limit
		least = min(least, (math.Sqrt(max(0, half*half-a*c))-half)/a)
	}
	return max(0, least)
}

// yieldN is the preload at which the combined stress reaches yield.
func (m *model) yieldN() float64 { return m.preloadAtN(1, m.Friction.Nominal) }

func (m *model) method() string {
	torsion := "plastic torsion modulus, minimum yield"
	if m.Edition == Older {
		torsion = "elastic torsion modulus, nominal yield"
	}
	return fmt.Sprintf("%s; tension and torsion after von Mises with %s, %s", m.Form.describe(), torsion, m.Edition)
}
