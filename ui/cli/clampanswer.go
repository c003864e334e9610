package cli

import (
	"fmt"
	"io"

	"evenpull/procedures/clamping"
	"evenpull/spec/bolt"
	"evenpull/spec/clamp"
	"evenpull/ui/estimate"
	"evenpull/ui/theme"
)

// answer is what can be said of one bolt; also the JSON of clamp.
type answer struct {
	Estimate bool   `json:"estimate"` // always true
	Thread   string `json:"thread"`
	Class    string `json:"class"`
	clamp.Assessment
	Turn     *clamp.Turned `json:"turn,omitempty"`
	Stretch  *clamp.Turned `json:"stretch,omitempty"`
	Strip    *jsonStrip    `json:"strip,omitempty"`
	Relubed  *jsonRelubed  `json:"bench,omitempty"`
	Aim      *jsonAim      `json:"aim,omitempty"`
	Warm     *clamp.Warmed `json:"warm,omitempty"`
	Doubts   []jsonDoubt   `json:"doubts"`
	Governs  string        `json:"governs"`
	question question
}

type jsonStrip struct {
	Into        string  `json:"into"`
	EngagedMM   float64 `json:"engaged_mm"`
	MinimumMM   float64 `json:"minimum_mm"` // so that the bolt breaks first
	HoleStripN  float64 `json:"hole_strip_n"`
	BoltStripN  float64 `json:"bolt_strip_n"`
	BoltBreaksN float64 `json:"bolt_breaks_n"`
}

type jsonRelubed struct {
	Friction       string  `json:"friction"`
	PreloadN       float64 `json:"preload_n"`
	Utilisation    float64 `json:"utilisation"`
	SamePreloadNm  float64 `json:"same_preload_nm"`
	Recommendation string  `json:"text"`
}

type jsonDoubt struct {
	Kind       string  `json:"kind"`
	Number     float64 `json:"number"`
	Limit      float64 `json:"limit"`
	Unit       string  `json:"unit"`
	Assumption string  `json:"assumption"`
	Text       string  `json:"text"`
}

const governs = "the service manual governs"

func (a *app) clampBolt(f clampFlags, thread string) error {
	q, err := f.read(thread)
	if err != nil {
		return err
	}
	var aimed *jsonAim
	if q.aim != nil {
		if aimed, err = a.aim(&q, f); err != nil {
			return err
		}
	}
	ans, err := q.answer()
	if err == nil {
		err = ans.warmed()
	}
	if err != nil {
		return problem(err)
	}
	ans.Aim = aimed
	if f.json {
		return problem(writeJSON(a.Out, ans))
	}
	theme.ForText()
	return problem(ans.write(a.Out))
}

// answer works a question out.
func (q question) answer() (answer, error) {
	ans := answer{Estimate: true, Thread: q.joint.Thread.Name, Class: q.joint.Class.Name, Doubts: []jsonDoubt{}, Governs: governs, question: q}
	if q.stretchMM > 0 {
		return ans.stretched()
	}
	var err error
	if ans.Assessment, err = q.joint.Assess(q.torqueNm); err != nil {
		return ans, err
	}
	if q.degrees > 0 {
		t, err := q.joint.Turn(q.grip, q.torqueNm, q.degrees)
		if err != nil {
			return ans, err
		}
		ans.Turn = &t
	}
	if q.engagedMM > 0 {
		e := bolt.Engagement{Thread: q.joint.Thread, Class: q.joint.Class, BoreMM: q.joint.BoreMM, LengthMM: q.engagedMM, Hole: q.into, WireInsert: q.insert}
		if err := e.Check(); err != nil {
			return ans, err
		}
		ans.Strip = &jsonStrip{q.into.Name, q.engagedMM, e.MinimumMM(), e.HoleStripN(), e.BoltStripN(), e.BreakN()}
	}
	if q.bench != nil {
		r, err := q.joint.Relubed(q.torqueNm, *q.bench)
		if err != nil {
			return ans, err
		}
		ans.Relubed = &jsonRelubed{q.bench.Name, r.BenchN, r.BenchOfYield, r.SamePreloadNm, r.Text}
	}
	doubts, err := q.joint.Plausible(clamp.Pull{TorqueNm: q.torqueNm, Unit: q.unit, TurnDegrees: q.degrees, Grip: q.grip, Into: q.into, LengthMM: q.engagedMM, WireInsert: q.insert})
	for _, d := range doubts {
		if q.aim != nil && d.Kind == "far below" {
			continue // it was asked for
		}
		ans.Doubts = append(ans.Doubts, jsonDoubt(d))
	}
	return ans, err
}

// stretched answers for a measured stretch: the same preload, and the torque it would take.
func (ans answer) stretched() (answer, error) {
	q := ans.question
	t, err := q.joint.Stretched(q.grip, q.stretchMM)
	if err != nil {
		return ans, err
	}
	nm, err := q.joint.Torque(t.PreloadN)
	if err != nil {
		return ans, err
	}
	if ans.Assessment, err = q.joint.Assess(nm); err != nil {
		return ans, err
	}
	ans.PreloadN, ans.PreloadLowN, ans.PreloadHighN = t.PreloadN, t.LowN, t.HighN
	ans.Stretch, ans.Method, ans.Assumptions = &t, t.Method, t.Assumptions
	return ans, nil
}

// load is the answer as the bar takes it.
func (ans answer) load() clamping.Load {
	y := ans.YieldPreloadN
	n := min(ans.PreloadN, y)
	l := clamping.Load{LowN: min(ans.PreloadLowN, y), NominalN: n, HighN: min(ans.PreloadHighN, y), YieldN: y, MayYield: ans.PreloadHighN > y}
	if t := ans.Turn; t != nil {
		l.LowN, l.NominalN, l.HighN, l.MayYield = min(t.LowN, y), t.PreloadN, min(t.HighN, y), t.HighN >= y
	}
	return l
}

// lineWriter writes lines, and keeps the first error.
type lineWriter struct {
	w   io.Writer
	err error
}

func (p *lineWriter) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

func (ans answer) write(w io.Writer) error {
	p := &lineWriter{w: w}
	q := ans.question
	figure := fmt.Sprintf("%.4g N·m", q.torqueNm)
	switch {
	case ans.Aim != nil:
		figure = ans.Aim.title(q.aim.share)
	case q.stretchMM > 0:
		figure = fmt.Sprintf("%.4g mm of stretch", q.stretchMM)
	case q.degrees > 0:
		figure += fmt.Sprintf(", then %.4g°", q.degrees)
	}
	p.line("%s %s, %s: an estimate", ans.Thread, ans.Class, figure)
	p.line("")
	for _, l := range estimate.Bar(ans.load(), 72) {
		p.line("  %s", l)
	}
	p.line("")
	if ans.Aim != nil {
		ans.Aim.write(p)
	}
	name := "preload"
	if q.degrees > 0 {
		name = "snug preload"
	}
	p.line("  %-14s %s, expect %s to %s", name, estimate.KN(ans.PreloadN), estimate.KN(ans.PreloadLowN), estimate.KN(ans.PreloadHighN))
	p.line("  %-14s %s of yield (%s, at the %s)", "load", estimate.Percent(ans.Utilisation), estimate.KN(ans.YieldPreloadN), ans.WeakSection)
	p.line("  %-14s %s N·m at 90 %% of yield, %s N·m at yield", "torque", clamp.Digits(ans.Torque90Nm, 3), clamp.Digits(ans.YieldTorqueNm, 3))
	p.line("  %-14s K = %.3g", "nut factor", ans.NutFactor)
	ans.extras(p)
	list(p, "Doubts", "!", texts(ans.Doubts))
	list(p, "Assumed", "-", ans.said())
	p.line("\nmethod: %s", ans.Method)
	if ans.Aim != nil {
		p.line("This is an estimate, for where the sheet gives no figure; %s.", governs)
		return p.err
	}
	p.line("This is an estimate; %s.", governs)
	return p.err
}

// extras are the lines of the flags that were given.
func (ans answer) extras(p *lineWriter) {
	if t := ans.Turn; t != nil {
		p.line("  %-14s %s, expect %s to %s; yield is reached after about %.0f°", "after the turn", estimate.KN(t.PreloadN), estimate.KN(min(t.LowN, t.YieldN)), estimate.KN(min(t.HighN, t.YieldN)), t.YieldDeg)
		if t.Yields {
			p.line("  %-14s past yield: held there, %.2g mm of lasting stretch", "", t.LastingMM)
		}
	}
	if t := ans.Stretch; t != nil {
		p.line("  %-14s the same preload takes about %s N·m", "by torque", clamp.Digits(ans.TorqueNm, 3))
		if t.Yields {
			p.line("  %-14s past yield: held there, %.2g mm of lasting stretch", "", t.LastingMM)
		}
	}
	if w := ans.Warm; w != nil {
		p.line("  %-14s %s, expect %s to %s; %s of yield", fmt.Sprintf("at %.4g °C", w.WarmC), estimate.KN(w.PreloadN), estimate.KN(w.LowN), estimate.KN(w.HighN), estimate.Percent(w.Utilisation))
		p.line("  %-14s %s", "", w.Text)
	}
	if s := ans.Strip; s != nil {
		p.line("  %-14s %.3g mm in %s: the thread strips at %s or more, the bolt breaks at %s or more", "engagement", s.EngagedMM, s.Into, estimate.KN(min(s.HoleStripN, s.BoltStripN)), estimate.KN(s.BoltBreaksN))
		p.line("  %-14s the bolt breaks first from %.3g mm on (areas of FED-STD-H28; like strengths against like)", "", s.MinimumMM)
	}
	if r := ans.Relubed; r != nil {
		p.line("  %-14s %s", "on the bench", r.Recommendation)
	}
}

// said is every assumption once: the turn repeats those of the torque.
func (ans answer) said() []string {
	all := ans.Assumptions
	if ans.Turn != nil {
		all = append(append([]string{}, all...), ans.Turn.Assumptions...)
	}
	if ans.Warm != nil {
		all = append(append([]string{}, all...), ans.Warm.Assumptions...)
	}
	var once []string
	seen := map[string]bool{}
	for _, s := range all {
		if !seen[s] {
			once = append(once, s)
		}
		seen[s] = true
	}
	return once
}

func texts(doubts []jsonDoubt) []string {
	var list []string
	for _, d := range doubts {
		list = append(list, d.Text)
	}
	return list
}

func list(p *lineWriter, title, mark string, lines []string) {
	if len(lines) == 0 {
		return
	}
	p.line("\n%s", title)
	for _, l := range lines {
		p.line("  %s %s", mark, l)
	}
}
