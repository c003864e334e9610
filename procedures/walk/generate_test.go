package walk

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/measure"
	"evenpull/spec/read"
)

// start is the moment every test walk begins.
var start = time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)

// planOf reads a sheet as a record's is read: what is drawn may leave a bolt short of
// its figure, and the walk has to hold for such a sheet too.
func planOf(t interface{ Fatalf(string, ...any) }, text string) *plan.Plan {
	p, problems := read.Recorded("test.toml", []byte(text))
	if p == nil {
		t.Fatalf("%v\n%s", problems.Error(), text)
	}
	return plan.Of(p)
}

// dice decides what is drawn: rapid, which shrinks what fails, or a plain
// generator for very many sequences.
type dice interface{ roll(n int) int }

type rapidDice struct{ t *rapid.T }

func (d rapidDice) roll(n int) int { return rapid.IntRange(0, n-1).Draw(d.t, "roll") }

type plainDice struct{ *rand.Rand }

func (d plainDice) roll(n int) int { return d.IntN(n) }

func one[T any](d dice, list []T) T { return list[d.roll(len(list))] }

func between(d dice, low, high int) int { return low + d.roll(high-low+1) }

func coin(d dice) bool { return d.roll(2) == 1 }

// drawProcedure writes a random procedure file: any direction, pass kinds,
// checks, parts, a sealant, waits, one-use pieces, hollow bolts.
func drawProcedure(t dice) string {
	var b strings.Builder
	direction := one(t, []string{"close", "close", "close", "open"})
	fmt.Fprintf(&b, "format = 1\n[procedure]\nname = \"Joint\"\ndirection = %q\nsource = \"drawn\"\n", direction)
	groups := between(t, 1, 3)
	var names []string
	for g := range groups {
		names = append(names, fmt.Sprintf("%q", fmt.Sprintf("g%d", g)))
		thread := one(t, []string{"M6x1", "M8x1.25", "M10x1"})
		fmt.Fprintf(&b, "[group.g%d]\nthread = %q\nclass = \"8.8\"\ntorque = \"20 N·m\"\none_use = %v\n", g, thread, coin(t))
		if drive := one(t, []string{"", "8 mm hex", "12 mm hex"}); drive != "" {
			fmt.Fprintf(&b, "drive = %q\n", drive)
		}
		if thread == "M10x1" && coin(t) {
			b.WriteString("bore = \"4 mm\"\n")
		}
		if coin(t) {
			fmt.Fprintf(&b, "with = [{ part = \"sealing washer\", count = 2, one_use = %v }]\n", coin(t))
		}
		if between(t, 0, 2) == 0 {
			fmt.Fprintf(&b, "prep = \"oil the threads\"\nprep_each = %v\n", coin(t))
		}
		fmt.Fprintf(&b, "[group.g%d.at]\n", g)
		for i := range between(t, 1, 4) {
			fmt.Fprintf(&b, "B%d%d = [%d, %d]\n", g, i, 40*i, 30*g)
		}
	}
	passes := drawPasses(t, &b, strings.Join(names, ", "), direction)
	drawExtras(t, &b, passes)
	return b.String()
}

func drawPasses(t dice, b *strings.Builder, groups, direction string) (names []string) {
	actions := []string{`torque = "50 %"`, `torque = "18 N·m to 22 N·m"`, `verify = "at least 15 N·m"`, `wait = "1h"`, `each = [{ loosen = "90°" }, { torque = "20 N·m" }, { turn = "90°" }]`, `each = [{ torque = "10 N·m" }, { torque = "20 N·m" }]`, `torque = { TABLE }`, `stretch = "0.10 mm to 0.15 mm"`}
	if direction == "open" {
		actions = []string{`loosen = "90°"`, `loosen = "fully"`, `remove = true`}
	}
	count := between(t, 1, 4)
	snug := false
	for i := range count {
		action := strings.Replace(one(t, actions), "TABLE", torqueTable(t, groups), 1)
		if snug && between(t, 0, 2) == 0 {
			action = `turn = "90° to 94°"`
		}
		if i == count-1 && direction == "close" {
			action = `torque = "18 N·m to 22 N·m"` // what is done to a bolt last is its figure
		}
		snug = snug || strings.Contains(action, "torque =") || strings.Contains(action, "stretch")
		name := fmt.Sprintf("Pass %d", i)
		fmt.Fprintf(b, "[[pass]]\nname = %q\n%s\n", name, action)
		if !strings.Contains(action, "wait") {
			fmt.Fprintf(b, "groups = [%s]\nfirst = \"weak\"\norder = %q\n", groups, one(t, spec.Orders))
		}
		names = append(names, name)
	}
	return names
}

// torqueTable gives each group a torque of its own.
func torqueTable(t dice, groups string) string {
	var list []string
	for _, g := range strings.Split(groups, ", ") {
		list = append(list, fmt.Sprintf("%s = %q", strings.Trim(g, `"`), one(t, []string{"10 N·m", "20 N·m"})))
	}
	return strings.Join(list, ", ")
}

func drawExtras(t dice, b *strings.Builder, passes []string) {
	at := func() string {
		return fmt.Sprintf("%s = %q", one(t, []string{"before", "after"}), one(t, passes))
	}
	if t.roll(3) == 0 {
		fmt.Fprintf(b, "[[callout]]\nkind = %q\nsay = \"a lamp\"\nbefore = %q\n", one(t, []string{"tool", "heat"}), one(t, passes))
	}
	if t.roll(3) == 0 {
		fmt.Fprintf(b, "[[callout]]\nkind = \"heat\"\nsay = \"seat hot\"\nto = \"120 °C\"\nwithin = \"30s\"\nbefore = %q\n", passes[len(passes)-1])
	}
	parts := between(t, 0, 2)
	about := func() {
		if between(t, 0, 3) == 0 {
			of := []string{"g0", "B00"}
			if parts > 0 {
				of = append(of, "part 0")
			}
			fmt.Fprintf(b, "of = [%q]\n", one(t, of))
		}
		if between(t, 0, 2) == 0 {
			fmt.Fprintf(b, "no_restarts = [%q]\n", one(t, []string{"g0", "B00"}))
		}
	}
	for i := range between(t, 0, 2) {
		fmt.Fprintf(b, "[[check]]\nask = \"Question %d?\"\n%s\n", i, at())
		about()
	}
	for i := range between(t, 0, 2) {
		kind := one(t, []string{"direct", "float", "squish", "gap"})
		fmt.Fprintf(b, "[[check]]\nmeasure = \"float %d\"\nkind = %q\nmin = \"0.05 mm\"\nmax = \"0.20 mm\"\n%s\n", i, kind, at())
		about()
	}
	for i := range parts {
		fmt.Fprintf(b, "[[part]]\nname = \"part %d\"\nkind = \"washer\"\none_use = %v\n", i, coin(t))
		if coin(t) {
			fmt.Fprintf(b, "%s\n", at())
		}
	}
	if between(t, 0, 2) == 0 && strings.Contains(b.String(), "torque = \"") && strings.Contains(b.String(), `direction = "close"`) {
		fmt.Fprintf(b, "[sealant]\nname = \"sealant\"\nwork_time = \"40m\"\nbefore = %q\n", one(t, passes))
	}
}

// drawCommand draws a command that often, but not always, fits what comes next.
// What the engine brings can come at any moment: another walk may be at work.
func drawCommand(t dice, s *State) Command {
	switch kind := between(t, 0, 39); {
	case kind == 0 || kind < 20 && len(s.Events) == 0:
		return Command{Do: Bring, Brought: drawCarried(t), Faults: drawFaults(t)}
	case kind > 6:
		return aptCommand(t, s)
	case kind == 1 && t.roll(3) == 0:
		text, _ := s.Sheet()
		return Command{Do: Resheet, Text: "misread", Sheet: drawEdit(t, string(text))}
	}
	target := ""
	if coin(t) {
		target = one(t, []string{"B00", "B01", "B10", "part 0", "part-0", "shim", "old bolt", "nobody", "sealing washer", "odd clip", "thin", Whole})
	}
	c := Command{
		Do:      one(t, []Verb{Confirm, Measure, Yes, No, Renew, Undo, Lose, Problem, Reseal, Note, FinishUp, Undo, Renew, Resume, Change, Stop, Find, Refit, Account, Clean, Repair, Settle, Settle, Later, Picture}),
		Target:  target,
		Piece:   one(t, []string{"", "", "sealing washer", "fastener", "part 0"}),
		Number:  one(t, []string{"", "none", "lot 2"}),
		Reading: one(t, []string{"", "20 N·m", "99 N·m", "5 N·m", "92°", "20°", "97°", "0.12 mm", "0.9 mm", "9 mm", "0.12 mm; 0.80 mm", "0.32 mm; 0.80 mm", "nonsense", "20"}),
		Facts:   one(t, []map[string]string{nil, nil, {Condition: "scored"}, {Condition: "cracked"}, {Condition: "cracked", Again: "no"}, {Condition: "worn", OfPiece: "2"}, {Box: "2"}, {StrippedAt: InCase}, {StrippedAt: InBolt}, {How: ByRepair, By: "the shop"}, {How: ByMeasure}, lobe.Facts()}),
		Text:    one(t, []string{"", "the phone rang", "stripped"}),
	}
	if c.Do == Find {
		c.New = one(t, []string{"", "odd clip", "odd clip", "part 0"})
		c.Count = one(t, []int{0, 2})
	}
	if c.Do == No {
		c.Restarts = one(t, [][]string{nil, nil, {"B00"}, {"b01", "B00"}, {"nobody"}})
	}
	return c
}

func aptCommand(t dice, s *State) Command {
	it := s.CurrentItem()
	if _, change := s.Changeover(); change && coin(t) {
		return Command{Do: Change}
	}
	if due := s.DueNow(); len(due) > 0 && between(t, 0, 3) > 0 {
		return Command{Do: Renew, Piece: due[0].Name, Number: one(t, []string{"none", "lot 1", "lot 3"})}
	}
	if it != nil && it.Kind != PartItem {
		if c, ok := s.CarriedOf(it.Thing()); ok && c.Unclean != "" && coin(t) {
			return Command{Do: Clean, Target: c.ID}
		}
	}
	switch {
	case it == nil && len(s.LeftOver()) > 0:
		return Command{Do: one(t, []Verb{Refit, Account, Clean}), Target: s.LeftOver()[0].ID, Text: "sold"}
	case it != nil && it.Kind == PartItem && s.judgePart(it.Part) != nil:
		return Command{Do: one(t, []Verb{Account, Clean, Renew}), Target: it.Part.ID, Text: "sold", Number: "none"}
	case it == nil:
		for _, p := range s.Pieces() {
			if p.due() {
				return Command{Do: Renew, Target: p.Fastener + p.Part, Piece: p.Name, Number: "none"}
			}
		}
		return Command{Do: FinishUp}
	case it.Kind == MeasureItem:
		if it.Check.How.Kind == measure.Squish {
			return Command{Do: Measure, Reading: "left 0.12 mm, right 0.14 mm"}
		}
		return Command{Do: Measure, Reading: "0.12 mm"}
	case it.Kind == AskItem && s.finds():
		return Command{Do: one(t, []Verb{Yes, Yes, No}), Text: "blued"}
	case it.Kind == AskItem:
		return Command{Do: Yes}
	case it.Kind == FaultItem && it.Fault.Measured() && coin(t):
		return Command{Do: Measure, Reading: one(t, []string{"0.12 mm", "0.3 mm"})}
	case it.Kind == FaultItem:
		return Command{Do: one(t, []Verb{Settle, Settle, Settle, Later}), Facts: one(t, []map[string]string{{How: ByNew}, {How: ByRepair, By: "the shop"}}), Text: "later"}
	case it.Kind == RepairItem:
		return Command{Do: Repair, Facts: Facts{"insert": "wire coil", "size": "M8", "by": "the shop", "torque": "as the sheet", "engagement": "14 mm", "drive": "as the sheet"}}
	case it.Kind == StageItem && it.Stage.Action == spec.Stretch:
		return Command{Do: Confirm, Reading: "0.12 mm"}
	}
	return Command{Do: Confirm}
}

// drawCarried is what an engine might bring: a part and a bolt the procedure
// knows, things it does not know; whole, condemned, away or unclean, and from
// this strip-down or that.
func drawCarried(t dice) []Carried {
	var list []Carried
	for _, c := range []Carried{{ID: "part-0", Name: "part 0", Count: 1}, {ID: "B00", Fastener: true, Name: "B00", Count: 1}, {ID: "shim", Name: "shim", Count: 1}, {ID: "old bolt", Fastener: true, Name: "old bolt", Count: 1}, {ID: "thin", Name: "thin washer", Count: 2, New: true}, {ID: "odd-clip", Name: "odd clip", Count: 1, New: true}} {
		if coin(t) {
			continue
		}
		c.Record = one(t, []string{"r1", "r1", "r2"})
		c.Facts = one(t, []Facts{nil, {Condition: "good"}, {Condition: "scored"}, {Condition: "missing"}, {Goes: "balancing"}, {Condition: "a little dull"}, {Condition: "bent, chipped", Again: "no"}, {Condition: "bent", Again: "yes"}})
		c.Away = one(t, []string{"", "", "", "", "balancing"})
		c.Unclean = one(t, []string{"", "", "blasting"})
		if !c.Fastener && coin(t) {
			c.Pieces = one(t, [][]PieceFound{{{"1", Facts{Condition: "scored"}}, {"2", Facts{Condition: "good"}}}, {{"2", Facts{Condition: "bent", Again: "no"}}}})
		}
		if c.New {
			c.Before = one(t, []string{"part:part-0", "part:part-1", "B00", "B10", "nowhere", ""})
		}
		if c.Fastener && coin(t) {
			c.Thread = one(t, []string{"M8x1.25", "M6x1", "M10x1"})
		}
		if c.Fastener && t.roll(6) == 0 {
			c.Case = one(t, []string{"r1", "r2"})
		}
		c.Loose = c.Fastener && c.ID == "B00" && between(t, 0, 4) == 0
		list = append(list, c)
	}
	return list
}

// drawFaults is what strip-downs may have found wrong: at checks this sheet has
// as well, and at others; found once, and found anew.
func drawFaults(t dice) []Fault {
	var list []Fault
	for _, f := range []Fault{{ID: "float-0", What: "float 0", Found: "is 0.3 mm", Reading: "0.3 mm"}, {ID: "question-0", What: "Question 0?", Found: "blued"}, {ID: "seat", What: "seat", Found: "is 5 mm", Max: "1 mm"}} {
		if t.roll(3) > 0 {
			continue
		}
		if f.ID == "float-0" {
			f.Min, f.Max = "0.05 mm", one(t, []string{"0.20 mm", "0.13 mm", "0.1 mm"})
		}
		f.Record, f.At = one(t, []string{"r1", "r1", "r2"}), one(t, []time.Time{start, start, start.Add(time.Hour)})
		list = append(list, f)
	}
	return list
}

// edits are what somebody may have changed on a sheet: a figure, a thread, a socket, a
// caution, the order, what goes in and when; or nothing that is read.
var edits = [][2]string{
	{`18 N·m to 22 N·m`, `18 N·m to 23 N·m`}, {`torque = "50 %"`, `torque = "60 %"`}, {`turn = "90°"`, `turn = "95°"`}, {`loosen = "90°"`, `loosen = "80°"`}, {`stretch = "0.10`, `stretch = "0.11`},
	{"one_use = true", "one_use = false"}, {"one_use = false", "one_use = true"}, {"prep_each = false", "prep_each = true"}, {`prep = "oil the threads"`, `prep = "grease them"`},
	{`thread = "M8x1.25"`, `thread = "M8x1"`}, {`thread = "M6x1"`, `thread = "M8x1.25"`}, {`drive = "8 mm hex"`, `drive = "10 mm hex"`}, {`class = "8.8"`, `class = "10.9"`},
	{"B01 = [40, 0]", "B01 = [44, 0]"}, {"B00 = [0, 0]", "B00 = [0, 0]\nB08 = [8, 70]"}, {"B01 = [40, 0]\n", ""}, {"B00 = [0, 0]\n", ""}, {`order = "cross"`, `order = "listed"`}, {`order = "listed"`, `order = "reverse"`},
	{`wait = "1h"`, `wait = "2h"`}, {`wait = "1h"`, `wait = "30m"`}, {`max = "0.20 mm"`, `max = "0.25 mm"`}, {"Question 0?", "Question zero?"}, {`before = "Pass 1"`, `after = "Pass 1"`}, {`after = "Pass 0"`, `before = "Pass 0"`},
	{`name = "Pass 0"`, `name = "Pass 0"` + "\ncaution = \"mind the seal\""}, {`name = "Pass 0"`, `name = "Pass zero"`}, {"[[pass]]", "[[callout]]\nkind = \"heat\"\nsay = \"warm it\"\nbefore = \"Pass 0\"\n[[pass]]"},
	{"[[pass]]", "[[part]]\nname = \"thin\"\none_use = true\nbefore = \"Pass 0\"\n[[pass]]"}, {"[[pass]]", "[[part]]\nname = \"part 0\"\n[[pass]]"}, {`name = "part 0"`, `name = "part 0"` + "\ncount = 2"}, {`name = "part 1"`, `name = "shim"`},
	{`to = "120 °C"`, `to = "110 °C"`}, {`within = "30s"`, `within = "60s"`}, {"within = \"30s\"\n", ""},
	{"[sealant]\nname = \"sealant\"", "[sealant]\nname = \"goo\""}, {"[[pass]]", "[sealant]\nname = \"sealant\"\nwork_time = \"40m\"\n[[pass]]"}, {`source = "drawn"`, `source = "redrawn"`}, {`direction = "close"`, `direction = "open"`}, {"", "\n"},
}

// drawEdit is a sheet that somebody has edited: in one place or two, well or badly.
func drawEdit(t dice, text string) string {
	for range between(t, 1, 2) {
		edit := one(t, edits)
		text = strings.Replace(text, edit[0], edit[1], 1)
	}
	return text
}

// drawWait is the time between two steps; now and then the clock jumps, either way.
func drawWait(t dice) time.Duration {
	return time.Duration(one(t, []int{5, 5, 20, 20, 60, 60, 600, 3700, -300, -90000})) * time.Second
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
