package clamp

import (
	"cmp"
	"fmt"
	"strings"

	"evenpull/spec/bolt"
)

// Pull is the final figure of a bolt to be doubted, with what else its sheet says. Don't ask
// about a draw-down pass: a light figure is its purpose.
type Pull struct {
	TorqueNm      float64 // final torque, or the snug torque before a turn or a stretch; 0: none
	Unit          string  // as written on the sheet: "N·m", "lbf·ft", "lbf·in", "kgf·m", "kgf·cm"; "": not known
	Light         string  // why the figure is light on purpose: "drain plug"; "": it isn't
	TurnDegrees   float64 // turn after the torque; 0: none
	StretchLowMM  float64 // stretch window; 0: none
	StretchHighMM float64
	StretchUnit   string        // "mm", "in", "thou", "µm"; "": not known
	CeilingNm     float64       // torque never to be passed on the way to the stretch; 0: none
	VerifyNm      float64       // torque to be felt afterwards without movement; 0: none
	Grip          Grip          // for turn and stretch; no length: judged by rules of thumb
	OneUse        bool          // the sheet marks the bolt one-use
	Into          bolt.Material // what the thread is in; zero: not known
	LengthMM      float64       // engagement; 0: not known
	WireInsert    bool
	Nut           bolt.Nut // the nut's class; zero: not known, or none
}

// Doubt is one warning: the number doubted, the limit it breaks, and what both rest on.
type Doubt struct {
	Kind       string // "over yield", "far below", "hollow", "strips", "torque to yield", "idle turn", "overstretched", "stretch", "ceiling", "verify", "nut"
	Number     float64
	Limit      float64
	Unit       string // of Number and Limit: "N·m", "mm", "degrees"
	Assumption string
	Text       string // one line with all of it, for a person
}

// Judgement is what can be said of a stage, figure by figure. Each entry is one short text.
type Judgement struct {
	Doubts    []Doubt
	Judged    []string // against what
	Notes     []string // worth knowing, no reason to doubt
	NotJudged []string // why not
}

func (g *Judgement) doubt(kind string, number, limit float64, unit, basis, format string, args ...any) {
	g.Doubts = append(g.Doubts, Doubt{kind, number, limit, unit, basis, fmt.Sprintf(format, args...) + " (" + basis + ")"})
}

func (g *Judgement) judged(format string, args ...any) {
	g.Judged = append(g.Judged, fmt.Sprintf(format, args...))
}

func (g *Judgement) note(format string, args ...any) {
	g.Notes = append(g.Notes, fmt.Sprintf(format, args...))
}

func (g *Judgement) notJudged(format string, args ...any) {
	g.NotJudged = append(g.NotJudged, fmt.Sprintf(format, args...))
}

// Shares of yield that bound what is usual (all: common practice, no source, but for the first).
const (
	overYield   = 1.03 // tables print 90 % of yield (VDI 2230), and 0.14 read as oiled, 0.12, makes 101 % of it
	tightHollow = 0.90 // a hollow bolt is not drawn as hard as its section allows
	farBelow    = 0.45 // a final figure under this is rare,
	farOther    = 0.20 // but for a big nut, whose thread is sized for its shaft, and for a hollow bolt, held back by its sealing washers
	farLight    = 0.03 // and what only crushes a washer is lighter still
	farSnug     = 0.06 // even a snug torque is more
	bigMM       = 16.0 // a nut over this diameter is big
	ceilingTop  = 1.30 // a ceiling lies over the figure it guards, but not far past yield
	ceilingLow  = 0.30
)

// Plausible lists what is doubtful about a stage's figures, worst first; none when they look
// right. Errors are those of Assess.
func (j Joint) Plausible(s Pull) ([]Doubt, error) {
	g, err := j.Judge(s)
	return g.Doubts, err
}

// Judge holds every figure of a stage against the bolt. A joint without a class is held
// against the strongest and the weakest there are.
func (j Joint) Judge(s Pull) (Judgement, error) {
	var g Judgement
	if j.Class.Standard == stainless && j.Friction == (Friction{}) {
		j.Friction = UnstatedStainless
	}
	for _, part := range []func(*Judgement, Pull) error{j.judgeTorque, j.judgeThread, j.judgeNut, j.judgeTurn, j.judgeStretch, j.judgeVerify} {
		if err := part(&g, s); err != nil {
			return Judgement{}, err
		}
	}
	return g, nil
}

// dragging is a joint at its highest friction, where a bolt takes the most torque to yield.
func (j Joint) dragging() Joint {
	j.Friction = cmp.Or(j.Friction, Unstated)
	j.Friction.Nominal = j.Friction.High
	return j
}

const stainless = "ISO 3506-1"

// UnstatedStainless is what Judge takes where the sheet of a stainless bolt says nothing.
var UnstatedStainless = Friction{"not stated, stainless", 0.10, 0.20, 0.30, "assumed, the friction is not stated; the published stainless torque tables run from 0.10 to 0.30, read in print"}

// classed gives a joint without a class the strongest one, or the weakest.
func (j Joint) classed(strongest bool) Joint {
	if j.Class != (bolt.Class{}) {
		return j
	}
	weak, strong := "4.6", "12.9"
	if j.Thread.Inch {
		weak, strong = "SAE 1", "SAE 8"
	}
	if strongest {
		weak = strong
	}
	j.Class, _ = bolt.ParseClass(weak)
	return j
}

func (j Joint) unclassed() bool { return j.Class == (bolt.Class{}) }

// basis is the assumption behind the yield torque, in a line.
func (j Joint) basis() string {
	m, err := j.model()
	if err != nil {
		return ""
	}
	return fmt.Sprintf("friction %.3g (%s), yield %.4g MPa, %s; an estimate", m.Friction.Nominal, m.Friction.Name, m.yieldMPa, m.Form)
}

// name is the bolt as a warning calls it: "M8x1.25 8.8".
func (j Joint) name() string { return j.Thread.Name + " " + j.Class.Name }

// least is the share of yield under which a figure is doubted.
func (j Joint) least(s Pull) float64 {
	switch {
	case s.TurnDegrees > 0 || s.StretchHighMM > 0:
		return farSnug
	case j.Thread.DiameterMM > bigMM || j.BoreMM > 0:
		return farOther
	}
	return farBelow
}

// judgeTorque doubts a torque for its share of yield.
func (j Joint) judgeTorque(g *Judgement, s Pull) error {
	if s.TorqueNm == 0 && (s.StretchHighMM > 0 || s.VerifyNm > 0) {
		return nil
	}
	strong, weak := j.classed(true), j.classed(false)
	if j.Friction == UnstatedStainless {
		strong = strong.dragging() // its tables differ too much to say more
	}
	most, err := strong.Assess(s.TorqueNm)
	if err != nil {
		return err
	}
	least, err := weak.Assess(s.TorqueNm)
	if err != nil {
		return err
	}
	switch {
	case j.BoreMM > 0 && most.Utilisation > tightHollow && strong.solidFits(s.TorqueNm):
		strong.doubtHollow(g, s, most)
	case most.Utilisation > overYield:
		j.doubtOver(g, s, most)
	case least.Utilisation < weak.least(s) && !weak.threadLimits(s, least):
		j.doubtLow(g, s, least)
	case j.unclassed():
		g.judged("%.4g N·m between what is usual for the weakest class, %s, and the yield of the strongest, %s, for want of one", s.TorqueNm, weak.Class.Name, strong.Class.Name)
	default:
		g.judged("%.4g N·m, %.0f %% of yield of %s, friction %s", s.TorqueNm, 100*most.Utilisation, strong.name(), cmp.Or(j.Friction.Name, Unstated.Name))
	}
	return nil
}

func (j Joint) doubtOver(g *Judgement, s Pull, a Assessment) {
	strong := j.classed(true)
	if j.Friction == UnstatedStainless {
		strong = strong.dragging()
	}
	g.doubt("over yield", s.TorqueNm, a.YieldTorqueNm, "N·m", strong.basis(), "%.4g N·m is %.0f %% of what yields %s (about %s N·m)%s",
		s.TorqueNm, 100*a.Utilisation, strong.named(j), Digits(a.YieldTorqueNm, 3), j.likely(s, a))
}

// named is the bolt's name, with why it has a class that its sheet does not give.
func (j Joint) named(sheet Joint) string {
	if sheet.unclassed() {
		return j.name() + ", taken for want of a class,"
	}
	return j.name()
}

// likely is the hint; for a joint without a class that of the commonest one.
func (j Joint) likely(s Pull, a Assessment) string {
	if !j.unclassed() {
		return j.hint(s, a)
	}
	usual := "8.8"
	if j.Thread.Inch {
		usual = "SAE 5"
	}
	j.Class, _ = bolt.ParseClass(usual)
	b, err := j.Assess(s.TorqueNm)
	if err != nil {
		return ""
	}
	if hint := j.hint(s, b); hint != "" {
		return hint + " if it is " + usual
	}
	return ""
}

// doubtLow doubts a light figure, but for one that is meant to be light.
func (j Joint) doubtLow(g *Judgement, s Pull, a Assessment) {
	weak := j.classed(false)
	limit := weak.least(s) / a.Utilisation * s.TorqueNm
	share := fmt.Sprintf("%.2g %% of yield for %s", 100*a.Utilisation, weak.named(j))
	switch {
	case s.Light != "" && a.Utilisation >= farLight:
		g.judged("%.4g N·m, %s", s.TorqueNm, share)
		g.note("light on purpose: %s", s.Light)
		return
	case s.Light != "":
		limit = farLight / a.Utilisation * s.TorqueNm
	}
	what := "a final figure"
	if s.TurnDegrees > 0 || s.StretchHighMM > 0 {
		what = "even a snug torque"
	}
	g.doubt("far below", s.TorqueNm, limit, "N·m", weak.basis(), "%.4g N·m is only %s; %s is rarely under %s N·m%s",
		s.TorqueNm, strings.TrimSuffix(share, ","), what, Digits(limit, 3), j.likely(s, a))
}

func (j Joint) solid() Joint {
	j.BoreMM, j.CrossHoleMM, j.CrossOuterMM = 0, 0, 0
	return j
}

// solidFits reports whether a torque suits the bolt without its bore.
func (j Joint) solidFits(torqueNm float64) bool {
	a, err := j.solid().Assess(torqueNm)
	return err == nil && a.Utilisation <= overYield
}

// doubtHollow doubts a figure that a solid bolt would bear and this one doesn't.
func (j Joint) doubtHollow(g *Judgement, s Pull, a Assessment) {
	solid, _ := j.solid().Assess(s.TorqueNm) // solidFits has assessed it
	g.doubt("hollow", s.TorqueNm, a.Torque90Nm, "N·m", j.basis(), "%.4g N·m suits a solid %s (%.0f %% of yield), but this one has a %.3g mm bore: 90 %% of its yield is about %s N·m",
		s.TorqueNm, j.name(), 100*solid.Utilisation, j.BoreMM, Digits(a.Torque90Nm, 3))
}

// judgeVerify doubts a limit to be felt that the bolt cannot hold still at, or that says nothing.
func (j Joint) judgeVerify(g *Judgement, s Pull) error {
	if s.VerifyNm == 0 {
		return nil
	}
	strong := j.classed(true).dragging()
	a, err := strong.Assess(s.VerifyNm)
	if err != nil {
		return err
	}
	top, why := s.TorqueNm*1.05, "over the torque it was tightened to, so it would turn"
	if s.TurnDegrees > 0 || s.StretchHighMM > 0 || s.TorqueNm == 0 {
		top, why = a.YieldTorqueNm*ceilingTop, "far past what yields "+strong.name()
	}
	basis := "what is felt lies between half the torque before it and what the bolt holds; common practice, no source"
	switch {
	case s.VerifyNm > top:
		g.doubt("verify", s.VerifyNm, top, "N·m", basis, "feeling for %.4g N·m is %s%s", s.VerifyNm, why, tenfold(s.VerifyNm, s.TorqueNm/2, top))
	case s.VerifyNm < s.TorqueNm/2:
		g.doubt("verify", s.VerifyNm, s.TorqueNm/2, "N·m", basis, "feeling for %.4g N·m says nothing after %.4g N·m%s", s.VerifyNm, s.TorqueNm, tenfold(s.VerifyNm, s.TorqueNm/2, top))
	default:
		g.judged("%.4g N·m to be felt against the tightening before it", s.VerifyNm)
	}
	return nil
}

// tenfold asks after a point in the wrong place where ten times more or less would do.
func tenfold(figure, low, high float64) string {
	for _, by := range []float64{10, 0.1} {
		if moved := figure * by; moved >= low && moved <= high {
			return fmt.Sprintf("; it looks like a point in the wrong place: %s would do", Digits(moved, 4))
		}
	}
	return ""
}

// Summary is the judgement in a line: "judged: …; not judged: …".
func (g Judgement) Summary() string {
	var parts []string
	for _, p := range []struct {
		label string
		texts []string
	}{{"judged", g.Judged}, {"note", g.Notes}, {"not judged", g.NotJudged}} {
		if len(p.texts) > 0 {
			parts = append(parts, p.label+": "+strings.Join(p.texts, "; "))
		}
	}
	return strings.Join(parts, "; ")
}
