package walk

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/measure"
)

// start is the moment every test walk begins.
var start = time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)

// planOf reads a sheet as a record's is read: what is drawn may leave a bolt short of
// its figure, and the walk has to hold for such a sheet too.
func planOf(t interface{ Fatalf(string, ...any) }, text string) *plan.Plan {
	p, problems := spec.ReadRecorded("test.toml", []byte(text))
	if p == nil {
		t.Fatalf("%v\n%s", problems.Error(), text)
	}
	return plan.Of(p)
}

// drawProcedure writes a random procedure file: any direction, pass kinds,
// checks, parts, a sealant, waits, one-use pieces, hollow bolts.
func drawProcedure(t *rapid.T) string {
	var b strings.Builder
	direction := rapid.SampledFrom([]string{"close", "close", "close", "open"}).Draw(t, "direction")
	fmt.Fprintf(&b, "format = 1\n[procedure]\nname = \"Joint\"\ndirection = %q\nsource = \"drawn\"\n", direction)
	groups := rapid.IntRange(1, 3).Draw(t, "groups")
	var names []string
	for g := range groups {
		names = append(names, fmt.Sprintf("%q", fmt.Sprintf("g%d", g)))
		thread := rapid.SampledFrom([]string{"M6x1", "M8x1.25", "M10x1"}).Draw(t, "thread")
		fmt.Fprintf(&b, "[group.g%d]\nthread = %q\nclass = \"8.8\"\ntorque = \"20 N·m\"\none_use = %v\n", g, thread, rapid.Bool().Draw(t, "one use"))
		if thread == "M10x1" && rapid.Bool().Draw(t, "hollow") {
			b.WriteString("bore = \"4 mm\"\n")
		}
		if rapid.Bool().Draw(t, "washers") {
			fmt.Fprintf(&b, "with = [{ part = \"sealing washer\", count = 2, one_use = %v }]\n", rapid.Bool().Draw(t, "washer one use"))
		}
		if rapid.IntRange(0, 2).Draw(t, "prep") == 0 {
			fmt.Fprintf(&b, "prep = \"oil the threads\"\nprep_each = %v\n", rapid.Bool().Draw(t, "prep each"))
		}
		fmt.Fprintf(&b, "[group.g%d.at]\n", g)
		for i := range rapid.IntRange(1, 4).Draw(t, "bolts") {
			fmt.Fprintf(&b, "B%d%d = [%d, %d]\n", g, i, 40*i, 30*g)
		}
	}
	passes := drawPasses(t, &b, strings.Join(names, ", "), direction)
	drawExtras(t, &b, passes)
	return b.String()
}

func drawPasses(t *rapid.T, b *strings.Builder, groups, direction string) (names []string) {
	actions := []string{`torque = "50 %"`, `torque = "18 N·m to 22 N·m"`, `verify = "at least 15 N·m"`, `wait = "1h"`, `each = [{ loosen = "90°" }, { torque = "20 N·m" }, { turn = "90°" }]`, `stretch = "0.10 mm to 0.15 mm"`}
	if direction == "open" {
		actions = []string{`loosen = "90°"`, `loosen = "fully"`, `remove = true`}
	}
	count := rapid.IntRange(1, 4).Draw(t, "passes")
	snug := false
	for i := range count {
		action := rapid.SampledFrom(actions).Draw(t, "action")
		if snug && rapid.IntRange(0, 2).Draw(t, "turn") == 0 {
			action = `turn = "90° to 94°"`
		}
		snug = snug || strings.Contains(action, "torque =") || strings.Contains(action, "stretch")
		name := fmt.Sprintf("Pass %d", i)
		fmt.Fprintf(b, "[[pass]]\nname = %q\n%s\n", name, action)
		if !strings.Contains(action, "wait") {
			fmt.Fprintf(b, "groups = [%s]\nfirst = \"weak\"\norder = %q\n", groups, rapid.SampledFrom(spec.Orders).Draw(t, "order"))
		}
		names = append(names, name)
	}
	return names
}

func drawExtras(t *rapid.T, b *strings.Builder, passes []string) {
	at := func() string {
		return fmt.Sprintf("%s = %q", rapid.SampledFrom([]string{"before", "after"}).Draw(t, "when"), rapid.SampledFrom(passes).Draw(t, "pass"))
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "questions") {
		fmt.Fprintf(b, "[[check]]\nask = \"Question %d?\"\n%s\n", i, at())
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "measures") {
		kind := rapid.SampledFrom([]string{"direct", "float", "squish", "gap"}).Draw(t, "kind")
		fmt.Fprintf(b, "[[check]]\nmeasure = \"float %d\"\nkind = %q\nmin = \"0.05 mm\"\nmax = \"0.20 mm\"\n%s\n", i, kind, at())
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "parts") {
		fmt.Fprintf(b, "[[part]]\nname = \"part %d\"\nkind = \"washer\"\none_use = %v\n", i, rapid.Bool().Draw(t, "part one use"))
	}
	if rapid.IntRange(0, 2).Draw(t, "sealant") == 0 && strings.Contains(b.String(), "torque = \"") && strings.Contains(b.String(), `direction = "close"`) {
		fmt.Fprintf(b, "[sealant]\nname = \"sealant\"\nwork_time = \"40m\"\nbefore = %q\n", passes[0])
	}
}

// drawCommand draws a command that often, but not always, fits what comes next.
func drawCommand(t *rapid.T, s *State) Command {
	if len(s.Events) == 0 && rapid.Bool().Draw(t, "bring") {
		return Command{Do: Bring, Brought: drawCarried(t)}
	}
	if rapid.IntRange(0, 9).Draw(t, "apt") > 0 {
		return aptCommand(t, s)
	}
	target := ""
	if rapid.Bool().Draw(t, "named") {
		target = rapid.SampledFrom([]string{"B00", "B01", "B10", "part 0", "part-0", "shim", "old bolt", "nobody", "sealing washer"}).Draw(t, "target")
	}
	return Command{
		Do:      rapid.SampledFrom([]Verb{Confirm, Measure, Yes, No, Renew, Undo, Lose, Problem, Reseal, Note, FinishUp, Undo, Renew, Resume, Stop, Find, Refit, Account, Clean}).Draw(t, "verb"),
		Target:  target,
		Piece:   rapid.SampledFrom([]string{"", "", "sealing washer", "fastener", "part 0"}).Draw(t, "piece"),
		Reading: rapid.SampledFrom([]string{"", "20 N·m", "99 N·m", "5 N·m", "92°", "20°", "0.12 mm", "9 mm", "0.12 mm; 0.80 mm", "0.32 mm; 0.80 mm", "nonsense", "20"}).Draw(t, "reading"),
		Facts:   rapid.SampledFrom([]map[string]string{nil, nil, {Condition: "scored"}, {Condition: "odd"}, {Box: "2"}}).Draw(t, "facts"),
		Text:    rapid.SampledFrom([]string{"", "the phone rang"}).Draw(t, "text"),
	}
}

func aptCommand(t *rapid.T, s *State) Command {
	if due := s.DueNow(); len(due) > 0 && rapid.Bool().Draw(t, "renew first") {
		return Command{Do: Renew, Piece: due[0].Name}
	}
	it := s.CurrentItem()
	switch {
	case it == nil && len(s.LeftOver()) > 0:
		return Command{Do: rapid.SampledFrom([]Verb{Refit, Account, Clean}).Draw(t, "settle"), Target: s.LeftOver()[0].ID, Text: "sold"}
	case it != nil && it.Kind == PartItem && s.judgePart(it.Part) != nil:
		return Command{Do: rapid.SampledFrom([]Verb{Account, Clean, Renew}).Draw(t, "ready"), Target: it.Part.ID, Text: "sold"}
	case it == nil:
		for _, p := range s.Pieces() {
			if !p.Renewed {
				return Command{Do: Renew, Target: p.Fastener + p.Part, Piece: p.Name}
			}
		}
		return Command{Do: FinishUp}
	case it.Kind == MeasureItem:
		if it.Check.How.Kind == measure.Squish {
			return Command{Do: Measure, Reading: "left 0.12 mm, right 0.14 mm"}
		}
		return Command{Do: Measure, Reading: "0.12 mm"}
	case it.Kind == AskItem:
		return Command{Do: Yes}
	}
	return Command{Do: Confirm}
}

// drawCarried is what an engine might bring: a part and a bolt the procedure
// knows, things it does not know; whole, condemned, away or unclean.
func drawCarried(t *rapid.T) []Carried {
	var list []Carried
	for _, c := range []Carried{{ID: "part-0", Name: "part 0", Count: 1}, {ID: "B00", Fastener: true, Name: "B00", Count: 1}, {ID: "shim", Name: "shim", Count: 1}, {ID: "old bolt", Fastener: true, Name: "old bolt", Count: 1}} {
		if rapid.Bool().Draw(t, "carried") {
			continue
		}
		c.Facts = rapid.SampledFrom([]Facts{nil, {Condition: "good"}, {Condition: "scored"}, {Condition: "missing"}, {Goes: "balancing"}}).Draw(t, "state")
		c.Away = rapid.SampledFrom([]string{"", "", "", "balancing"}).Draw(t, "away")
		c.Unclean = rapid.SampledFrom([]string{"", "", "blasting"}).Draw(t, "unclean")
		list = append(list, c)
	}
	return list
}

func drawWait(t *rapid.T) time.Duration {
	return time.Duration(rapid.SampledFrom([]int{5, 20, 60, 600, 3700}).Draw(t, "seconds")) * time.Second
}

// must carries out a command that a test says is accepted.
func must(t *testing.T, s *State, c Command, at time.Time) {
	t.Helper()
	e, refusal := Decide(s, c, at)
	if refusal != nil {
		t.Fatalf("%+v was refused: %v", c, refusal)
	}
	s.Apply(*e)
}

// refuse carries out a command that a test says is refused, and gives the refusal.
func refuse(t *testing.T, s *State, c Command, at time.Time) *Refusal {
	t.Helper()
	e, refusal := Decide(s, c, at)
	if refusal == nil {
		t.Fatalf("%+v was accepted", c)
	}
	if e != nil {
		s.Apply(*e)
	}
	return refusal
}
