package speech

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
	"evenpull/ui/internal/golden"
	"evenpull/ui/words"
)

var morning = time.Date(2026, 3, 4, 9, 30, 0, 0, time.UTC)

// walker goes through a procedure as a person would, ten seconds a step.
type walker struct {
	*testing.T
	s   *walk.State
	now time.Time
}

func newWalker(t *testing.T, p *spec.Procedure) *walker {
	return &walker{t, walk.New(plan.Of(p)), morning}
}

func sheet(t *testing.T, text string) *walker {
	t.Helper()
	p, problems := read.Procedure("sheet.toml", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	return newWalker(t, p)
}

// do carries out a command and gives what is said of it.
func (w *walker) do(c walk.Command) string {
	w.now = w.now.Add(10 * time.Second)
	e, refusal := walk.Decide(w.s, c, w.now)
	if refusal != nil {
		if e != nil {
			w.s.Apply(*e)
		}
		return Refusal(refusal)
	}
	w.s.Apply(*e)
	return Event(w.s, *e)
}

func (w *walker) step() string {
	if change := Change(w.s, words.Setting{}); change != "" {
		return change
	}
	return Step(w.s, words.Setting{}, w.where(), w.now)
}

// where says where the fastener in hand sits.
func (w *walker) where() string {
	f := words.InHand(w.s.CurrentItem())
	if f == nil {
		return ""
	}
	return words.Places(w.s.Plan.Procedure)[f.Index]
}

// onward gives the straight answer to what is in hand.
func (w *walker) onward() string {
	if Change(w.s, words.Setting{}) != "" {
		return w.do(walk.Command{Do: walk.Change})
	}
	if due := w.s.DueNow(); len(due) > 0 {
		said := ""
		for _, p := range due {
			said = w.do(walk.Command{Do: walk.Renew, Target: w.s.CurrentItem().Thing().ID, Piece: p.Name})
		}
		return said
	}
	c := walk.Command{Do: walk.Confirm}
	switch it := w.s.CurrentItem(); {
	case it.Kind == walk.AskItem:
		c.Do = walk.Yes
	case it.Kind == walk.MeasureItem:
		c = walk.Command{Do: walk.Measure, Reading: it.Check.How.Example()}
	case it.Kind == walk.WaitItem:
		w.now = w.now.Add(it.Pass.Wait)
	case it.Kind == walk.StageItem && it.Stage.Action == spec.Stretch:
		c.Reading = walk.WindowOf(it.Stage).Example()
	}
	return w.do(c)
}

// to goes on until the step of this text is in hand.
func (w *walker) to(step string) *walker {
	w.Helper()
	for w.s.CurrentItem() != nil && (w.s.CurrentItem().Key().String() != step || Change(w.s, words.Setting{}) != "") {
		w.onward()
	}
	if w.s.CurrentItem() == nil {
		w.Fatalf("never came to %s", step)
	}
	return w
}

// wholeWalk is every sentence of a walk through a bundled procedure, as it is said:
// what was recorded, then what comes next.
func wholeWalk(t *testing.T, name string) []string {
	t.Helper()
	p, _, err := procedures.Library{}.Load(name)
	if err != nil || p == nil {
		t.Fatal(name, err)
	}
	w := newWalker(t, p)
	lines := []string{w.step()}
	for w.s.CurrentItem() != nil {
		lines = append(lines, strings.TrimSpace(w.onward()+" "+w.step()))
	}
	return append(lines, strings.TrimSpace(w.do(walk.Command{Do: walk.FinishUp})+" "+w.step()))
}

func TestGoldenSentencesOfWholeWalks(t *testing.T) {
	texts := map[string]string{}
	for _, name := range []string{"crankcase-close", "crankcase-open", "head-torque-turn", "flywheel-nut-left", "rod-bolts"} {
		texts[name+".txt"] = strings.Join(wholeWalk(t, name), "\n") + "\n"
	}
	golden.Files(t, texts)
}

// In no bundled procedure is anything left for a speech program to guess at.
func TestEverySentenceOfEveryBundledProcedureIsInWords(t *testing.T) {
	for _, name := range procedures.Bundled() {
		for _, line := range wholeWalk(t, name) {
			if line == "" || strings.ContainsAny(line, "·°±×–→%") || !strings.ContainsAny(line[len(line)-1:], ".?!") {
				t.Errorf("%s: %q", name, line)
			}
		}
	}
}

// Every kind of step, and every hazard of one, on an invented sheet.
const odd = `format = 1
[procedure]
name      = "Close"
direction = "close"
[group.a]
title   = "case bolts"
thread  = "M8x1.25"
drive   = "12 mm hex"
prep    = "oil the thread"
caution = "aluminium thread"
one_use = true
[group.a.at]
A1 = [0, 0]
A2 = [70, 0]
[group.s]
thread = "M8x1"
[group.s.at]
S1 = [140, 0]
[group.n]
thread = "M16x1.5"
hand   = "left"
with   = [{ part = "tab washer", count = 2, one_use = true }]
source = "sheet 3 (invented)"
[group.n.at]
N1 = [70, 50]
[[pass]]
name    = "Down"
groups  = ["a"]
each    = [{ torque = "20 N·m to 25 N·m" }, { turn = "90°" }, { verify = "at least 30 N·m" }]
caution = "mind the rod"
[[pass]]
name   = "Nut"
groups = ["n"]
each   = [{ loosen = "1/2 turn" }, { loosen = "fully" }, { torque = "60 N·m" }, { turn = "90° to 94°" }]
source = "sheet 3 (invented)"
[[pass]]
name = "Settle"
wait = "1h30m"
[[pass]]
name      = "Rods"
fasteners = ["S1"]
stretch   = "0.12 mm to 0.15 mm"
ceiling   = "45 N·m"
[[callout]]
before = "Down"
kind   = "tool"
say    = "two wrenches"
[[part]]
name  = "dowel"
kind  = "dowel"
count = 2
where = "pressed home"
before = "Nut"
[[check]]
after = "Rods"
measure = "end float"
min = "0.05 mm"
max = "0.20 mm"
caution = "chain off first"
`

func TestStepsAreSaidWithAllThatIsDangerousInThem(t *testing.T) {
	w := sheet(t, odd)
	for _, tt := range []struct{ step, want string }{
		{"have ready", "Have ready: two wrenches."},
		{"Down/A1/1", "A1, left one: first a new fastener; then tighten to between 20 and 25 newton metres, unsourced figure. Caution: mind the rod. Caution: aluminium thread."},
		{"Down/A1/2", "A1, left one: tighten by a quarter turn, 90 degrees, unsourced figure."},
		{"Down/A1/3", "A1, left one: feel, do not move it: at least 30 newton metres, unsourced figure."},
		{"part: 2 × dowel", "Fit dowel, 2 of them, pressed home."},
		{"Nut/N1/1", "N1, top, left-hand thread: loosen clockwise by half a turn, 180 degrees."},
		{"Nut/N1/2", "N1, top, left-hand thread: loosen clockwise until it is free."},
		{"Nut/N1/3", "N1, top, left-hand thread: first a new tab washer, 2 of them; then tighten anticlockwise to 60 newton metres."},
		{"Nut/N1/4", "N1, top, left-hand thread: tighten anticlockwise by between 90 and 94 degrees."},
		{"Settle", "Wait 1 hour 30 minutes."},
		{"Rods/S1", "S1, lower right: stretch by between 0.12 and 0.15 millimetres, never over 45 newton metres, unsourced figure."},
		{"measure: end float", "Measure end float: between 0.05 and 0.2 millimetres. Caution: chain off first."},
	} {
		for w.s.CurrentItem() != nil && (Change(w.s, words.Setting{}) != "" || !strings.Contains(w.s.CurrentItem().Key().String()+" "+w.s.CurrentItem().Text(), tt.step)) {
			w.onward()
		}
		if w.s.CurrentItem() == nil {
			t.Fatalf("never came to %s", tt.step)
		}
		if got := w.step(); got != tt.want {
			t.Errorf("%s:\n got %s\nwant %s", tt.step, got, tt.want)
		}
	}
}

const apart = `format = 1
[procedure]
name      = "Apart"
direction = "open"
source    = "sheet 4 (invented)"
[group.a]
thread  = "M8x1.25"
caution = "aluminium thread"
[group.a.at]
A1 = [0, 0]
A2 = [70, 0]
[[pass]]
name    = "Off"
groups  = ["a"]
order   = "listed"
loosen  = "fully"
caution = "mind the rod"
`

// What changes on the wrench is a step of its own; where bolts take turns it is said
// with each.
func TestWhatChangesOnTheWrenchIsSaid(t *testing.T) {
	w := sheet(t, odd)
	var said []string
	for w.s.CurrentItem() != nil {
		if it := w.s.CurrentItem(); it.Kind == walk.StageItem && it.Pass.Name == "Down" {
			said = append(said, Change(w.s, words.Setting{})+"|"+strings.SplitAfter(Step(w.s, words.Setting{}, w.where(), w.now), ". ")[0])
		}
		w.onward()
	}
	want := []string{
		"Set the wrench to 20 to 25 newton metres, socket 12 millimetres hex.|A1, ",
		"|A1, ", // it is set, and the fastener new
		"|A1, ",
		"|A1, ",
		"Set the wrench to at least 30 newton metres.|A1, ",
		"|A1, ",
		"|Set the wrench to 20 to 25 newton metres. ",
	}
	for i, text := range want {
		if !strings.HasPrefix(said[i], text) {
			t.Errorf("step %d: got %s, want %s…\n%s", i, said[i], text, strings.Join(said, "\n"))
			return
		}
	}
}

func TestACautionIsSaidOnceAPass(t *testing.T) {
	w := sheet(t, apart)
	for _, want := range []string{
		"A1, left one: loosen until it is free. Caution: mind the rod. Caution: aluminium thread.",
		"A2, right one: loosen until it is free.",
	} {
		if got := w.step(); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
		w.onward()
	}
}

const found = `
[[check]]
before  = "Off"
ask     = "Studs sound?"
[[check]]
after   = "Off"
measure = "guide clearance"
max     = "0.20 mm"
`

// What a strip-down finds is said as it is found, and again where it has to be answered.
func TestFindingsAreSaid(t *testing.T) {
	w := sheet(t, apart+found)
	w.do(walk.Command{Do: walk.No, Text: "two pulled"})
	if got, want := Event(w.s, w.s.Events[0]), "A finding: Studs sound? no: two pulled."; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	for w.s.CurrentItem().Kind != walk.MeasureItem {
		w.onward()
	}
	if got, want := w.do(walk.Command{Do: walk.Measure, Reading: "0.3 mm"}), "Read 0.3 millimetres. A finding: guide clearance"; !strings.HasPrefix(got, want) {
		t.Errorf("got %s, want %s", got, want)
	}
	up := sheet(t, odd)
	up.do(walk.Command{Do: walk.Bring, Faults: w.s.Faults()})
	for up.s.CurrentItem() != nil && up.s.CurrentItem().Kind != walk.FaultItem {
		up.onward()
	}
	if got, want := up.step(), "Found at strip-down: Studs sound? no: two pulled; say what was done about it."; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	for _, tt := range []struct {
		c    walk.Command
		want string
	}{
		{walk.Command{Do: walk.Later, Text: "at the shop"}, "Asked for at the end."},
		{walk.Command{Do: walk.Settle, Facts: map[string]string{walk.How: walk.ByRepair, walk.By: "the shop"}, Text: "new guide"}, "Noted."},
	} {
		if got := up.do(tt.c); got != tt.want {
			t.Errorf("%s: got %s, want %s", tt.c.Do, got, tt.want)
		}
	}
}

func TestANoIsToBePutRight(t *testing.T) {
	w := sheet(t, strings.Replace(odd, "measure = \"end float\"\nmin = \"0.05 mm\"\nmax = \"0.20 mm\"", "ask = \"Free?\"", 1))
	for w.s.CurrentItem().Kind != walk.AskItem {
		w.onward()
	}
	if got, want := w.do(walk.Command{Do: walk.No, Text: "stiff"}), "Noted as no; put it right, then answer yes."; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestRefusalsSayWhyAndWhatToDo(t *testing.T) {
	w := sheet(t, odd).to("Nut/N1/3")
	w.onward() // the washers
	for _, tt := range []struct {
		c    walk.Command
		want string
	}{
		{walk.Command{Do: walk.Confirm, Reading: "40 N·m"}, "Refused: N1 at 40 newton metres is short of 57.6 to 62.4 newton metres; go on until it is reached."},
		{walk.Command{Do: walk.Confirm, Reading: "24.6"}, "Refused: it has no unit; write the unit too, such as 22 newton metres."},
		{walk.Command{Do: walk.Confirm, Reading: "70 N·m"}, "Refused: N1 at 70 newton metres is over 57.6 to 62.4 newton metres; slacken it and start it again from its first stage."},
		{walk.Command{Do: walk.FinishUp}, "Not done: 7 outstanding."},
	} {
		if got := w.do(tt.c); got != tt.want {
			t.Errorf("%+v:\n got %s\nwant %s", tt.c, got, tt.want)
		}
	}
	if got, want := w.step(), "N1, top, left-hand thread: slacken it fully, then it starts again."; got != want {
		t.Errorf("after it:\n got %s\nwant %s", got, want)
	}
	kept := w.s.Events[len(w.s.Events)-2]
	if got, want := Event(w.s, kept), "Refused: N1 at 70 newton metres is over 57.6 to 62.4 newton metres."; got != want {
		t.Errorf("from the record:\n got %s\nwant %s", got, want)
	}
}

func TestWhatWasRecordedIsSaidWhereTheNextStepDoesNot(t *testing.T) {
	w := sheet(t, odd).to("Nut/N1/3")
	for _, tt := range []struct {
		c    walk.Command
		want string
	}{
		{walk.Command{Do: walk.Renew, Target: "N1", Piece: "tab washer"}, "Noted as new."},
		{walk.Command{Do: walk.Confirm, Reading: "60.5 N·m"}, "Read 60.5 newton metres."},
		{walk.Command{Do: walk.Undo, Text: "wrong one"}, "Taken back."},
		{walk.Command{Do: walk.Note, Text: "cold"}, "Noted."},
		{walk.Command{Do: walk.Change}, ""},
		{walk.Command{Do: walk.Problem, Target: "A2", Text: "bent"}, "Problem with A2, noted."},
		{walk.Command{Do: walk.Lose, Target: "A1", Text: "phone"}, "Angle lost, noted."},
		{walk.Command{Do: walk.Confirm}, ""},
	} {
		if got := w.do(tt.c); got != tt.want {
			t.Errorf("%+v:\n got %s\nwant %s", tt.c, got, tt.want)
		}
	}
}

func TestTheEndIsSaid(t *testing.T) {
	w := sheet(t, odd)
	w.do(walk.Command{Do: walk.Stop, Text: "wrong sheet"})
	if got := w.step(); !strings.HasPrefix(got, "Ended unfinished, with ") {
		t.Error(got)
	}
	w = sheet(t, odd)
	for w.s.CurrentItem() != nil {
		w.onward()
	}
	if got, want := w.step(), "Every stage is confirmed: close the walk."; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	w.do(walk.Command{Do: walk.Problem, Target: "A2", Text: "bent"})
	if got := w.step(); strings.Contains(got, "close the walk") {
		t.Errorf("with something open it says %s", got)
	}
}

func TestWarningsOfTheSealantAndOfAWait(t *testing.T) {
	text, err := os.ReadFile("../stand/testdata/case.toml")
	if err != nil {
		t.Fatal(err)
	}
	w := sheet(t, string(text))
	said := func() string {
		var list []string
		for _, x := range Warnings(w.s, w.now) {
			list = append(list, fmt.Sprintf("%s %s", x.At.Sub(w.now), x.Text))
		}
		return strings.Join(list, " | ")
	}
	if got := said(); got != "" {
		t.Errorf("before the smear: %s", got)
	}
	w.to("Draw down/M1")
	for _, tt := range []struct {
		wait        time.Duration
		clock, want string
	}{
		{0, "Sealant: 20 minutes left.", "15m0s Sealant: 5 minutes left. | 18m0s Sealant: 2 minutes left. | 19m0s Sealant: 1 minute left. | 20m0s Sealant past its work time: open it, clean it, seal it afresh."},
		{15 * time.Minute, "Sealant: 5 minutes left.", "3m0s Sealant: 2 minutes left. | 4m0s Sealant: 1 minute left. | 5m0s Sealant past its work time: open it, clean it, seal it afresh."},
		{5 * time.Minute, "Sealant past its work time: open it, clean it, seal it afresh.", ""},
	} {
		w.now = w.now.Add(tt.wait)
		if got := Clock(w.s, w.now); got != tt.clock {
			t.Errorf("after %s the clock is said as %s, want %s", tt.wait, got, tt.clock)
		}
		if got := said(); got != tt.want {
			t.Errorf("after %s:\n got %s\nwant %s", tt.wait, got, tt.want)
		}
	}
	w.now = w.now.Add(-20 * time.Minute)
	w.to("Settle")
	if got, want := said(), "4h0m0s The wait is over."; got != want {
		t.Errorf("at the wait: %s, want %s", got, want)
	}
	w.now = w.now.Add(4 * time.Hour)
	if got, want := w.step(), "The wait is over."; got != want {
		t.Errorf("after it: %s, want %s", got, want)
	}
	w.do(walk.Command{Do: walk.Stop, Text: "x"})
	if got := Clock(w.s, w.now); got != "" {
		t.Errorf("after the end: %s", got)
	}
	if got := said(); got != "" {
		t.Errorf("after the end: %s", got)
	}
}

func TestPlacesAreSaidInWords(t *testing.T) {
	for where, want := range map[string]string{
		"bottom row, 3rd of 5":        "bottom row, third of five",
		"2nd from left, top row":      "second from left, top row",
		"between 2 and 3 o'clock":     "between 2 and 3 o'clock",
		"lower left, 2nd of the 3":    "lower left, second of the 3",
		"row 2 of 3, 11th of 12":      "row 2 of three, eleventh of twelve",
		"2 of 5":                      "2 of five",
		"13th of 14":                  "13th of 14",
		"upper left, same place as 2": "upper left, same place as 2",
	} {
		if got := place(where); got != want {
			t.Errorf("place(%q) = %q, want %q", where, got, want)
		}
	}
}

// With an adapter on, what is said is what the scale has to show.
func TestAnAdapterIsHeard(t *testing.T) {
	p, _, err := procedures.Library{}.Load("head-torque-turn")
	if err != nil || p == nil {
		t.Fatal(err)
	}
	s := walk.New(plan.Of(p))
	now := morning
	for ; s.CurrentItem().Kind != walk.StageItem; now = now.Add(time.Second) {
		c := walk.Command{Do: walk.Confirm}
		switch it := s.CurrentItem(); {
		case len(s.DueNow()) > 0:
			c = walk.Command{Do: walk.Renew, Number: walk.NoNumber}
		case it.Kind == walk.MeasureItem:
			c = walk.Command{Do: walk.Measure, Reading: it.Check.How.Example()}
		}
		e, refusal := walk.Decide(s, c, now)
		if refusal != nil {
			t.Fatal(refusal)
		}
		s.Apply(*e)
	}
	for set, want := range map[words.Setting]string{
		{}: "Set the wrench to 15 newton metres, socket 12 millimetres twelve-point.",
		{Mark: "12.5", Unit: "N·m", With: "the crowfoot"}: "Set the wrench to 12.5 newton metres with the crowfoot, for 15 newton metres, socket 12 millimetres twelve-point.",
	} {
		if got := Change(s, set); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
