package walk

import (
	"strings"
	"testing"
	"time"
)

// cases is a case with a sealant: two groups of one pass, and a hollow bolt that
// only the last pass tightens.
const cases = `format = 1
[procedure]
name = "Case"
direction = "close"
source = "invented"
[sealant]
name = "flange sealant"
work_time = "20m"
before = "Draw down"
[group.rim]
thread = "M6x1"
class = "8.8"
torque = "8 N·m"
prep = "oil the threads"
at = { R1 = [0, 0] }
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "20 N·m"
prep = "oil, and under the head"
at = { B1 = [40, 0] }
[group.feed]
thread = "M10x1.25"
class = "8.8"
bore = "5 mm"
torque = "20 N·m"
prep = "blow the bore through"
at = { F1 = [80, 0] }
[[pass]]
name = "Draw down"
groups = ["rim", "main"]
torque = "50 %"
first = "weak"
[[pass]]
name = "Final"
groups = ["rim", "main", "feed"]
torque = "100 %"
first = "weak"
[[check]]
before = "Draw down"
ask = "Faces clean?"
`

// agendaText names what a walk asks for, in order, without what is asked for later.
func agendaText(c *Course) string {
	var list []string
	for _, it := range c.Items {
		if !it.Later {
			list = append(list, it.Key().String())
		}
	}
	return strings.Join(list, " ")
}

// Where the threads of each group are made ready.
func TestThreadsAreReadyBeforeTheClockOfASealantStarts(t *testing.T) {
	const passes = "Draw down/R1 Draw down/B1 Final/R1 Final/B1 Final/F1"
	change := func(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(cases) }
	noSeal := cases[:strings.Index(cases, "[sealant]")] + cases[strings.Index(cases, "[group.rim]"):]
	for _, c := range []struct {
		name, text string
		rules      int
		want       string
	}{
		{"all that its clock covers", cases, Rules, "check:faces-clean prep:rim prep:main prep:feed sealant " + passes},
		{"a walk of before keeps its order", cases, strictRules, "check:faces-clean sealant prep:rim Draw down/R1 prep:main Draw down/B1 Final/R1 Final/B1 prep:feed Final/F1"},
		{"a walk of the first rules too", cases, 0, "check:faces-clean sealant prep:rim Draw down/R1 prep:main Draw down/B1 Final/R1 Final/B1 prep:feed Final/F1"},
		{"without a sealant, all of a pass", noSeal, Rules, "check:faces-clean prep:rim prep:main Draw down/R1 Draw down/B1 prep:feed Final/R1 Final/B1 Final/F1"},
		{"a wait ends the clock", change("[[pass]]\nname = \"Final\"", "[[pass]]\nname = \"Settle\"\nwait = \"1h\"\n[[pass]]\nname = \"Final\""), Rules,
			"check:faces-clean prep:rim prep:main sealant Draw down/R1 Draw down/B1 Settle prep:feed Final/R1 Final/B1 Final/F1"},
		{"a bolt at a time stays at its bolt", change("prep = \"oil the threads\"", "prep = \"oil the threads\"\nprep_each = true"), Rules,
			"check:faces-clean prep:main prep:feed sealant prep:rim/R1 Draw down/R1 Draw down/B1 Final/R1 Final/B1 Final/F1"},
		{"smeared before a later pass", change(`before = "Draw down"`+"\n[group", `before = "Final"`+"\n[group"), Rules,
			"check:faces-clean prep:rim prep:main Draw down/R1 Draw down/B1 prep:feed sealant Final/R1 Final/B1 Final/F1"},
		{"what is felt under the clock is still in", change("groups = [\"rim\", \"main\"]\ntorque = \"50 %\"", "groups = [\"rim\", \"main\", \"feed\"]\nverify = \"at least 5 N·m\""), Rules,
			"check:faces-clean sealant Draw down/R1 Draw down/B1 Draw down/F1 prep:rim prep:main prep:feed Final/R1 Final/B1 Final/F1"},
		{"what is loosened first comes out on the way", change(`torque = "100 %"`, `each = [{ loosen = "90°" }, { torque = "100 %" }]`), Rules,
			"check:faces-clean prep:rim prep:main sealant Draw down/R1 Draw down/B1 Final/R1/1 Final/R1/2 Final/B1/1 Final/B1/2 Final/F1/1 prep:feed Final/F1/2"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := agendaText(CourseOf(planOf(t, c.text), c.rules)); got != c.want {
				t.Errorf("asked for:\n%s\nwant:\n%s", got, c.want)
			}
		})
	}
}

// Sealed afresh, the threads are made ready as a group again, also those that were
// asked for one by one; a walk of before does as it did.
func TestThreadsAreReadyAgainBeforeASecondSmear(t *testing.T) {
	s := New(planOf(t, cases))
	for range 6 {
		forward(t, s, start)
	}
	must(t, s, Command{Do: Problem, Target: "R1", Text: "bent"}, start)
	if closed(s, "prep:rim/R1") {
		t.Fatal("a new bolt needs its threads made ready")
	}
	must(t, s, Command{Do: Reseal, Text: "smeared off"}, start.Add(time.Minute))
	for key, want := range map[string]bool{"prep:rim": false, "prep:main": false, "prep:feed": false, "sealant": false, "prep:rim/R1": true, "prep:main/B1": true, "prep:feed/F1": true} {
		if closed(s, key) != want {
			t.Errorf("%s closed: %v", key, !want)
		}
	}
	must(t, s, Command{Do: Undo, Text: "not so"}, start.Add(time.Minute))
	if closed(s, "prep:rim/R1") || !closed(s, "prep:rim") || !closed(s, "sealant") {
		t.Error("undone, it is not as before")
	}

	old := CourseOf(planOf(t, cases), strictRules).Start()
	for range 4 {
		forward(t, old, start)
	}
	must(t, old, Command{Do: Reseal, Text: "smeared off"}, start)
	for _, key := range []string{"prep:rim", "prep:rim/R1"} {
		if closed(old, key) {
			t.Errorf("in a walk of before, %s is not open again", key)
		}
	}
}
