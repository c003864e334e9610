package walk

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// edited is a sheet with one thing written otherwise.
func edited(t *testing.T, sheet, was, now string) string {
	t.Helper()
	if !strings.Contains(sheet, was) {
		t.Fatalf("the sheet has no %q", was)
	}
	return strings.Replace(sheet, was, now, 1)
}

// What an edit of the joint opens again, when all but its last stage is confirmed:
// what the table says of what stands on what was changed, and nothing else.
func TestAnEditedSheetOpensWhatStoodOnWhatChanged(t *testing.T) {
	const (
		both   = "Snug/M1 Snug/M2 check:no-gap Turn/M1 Turn/M2 check:turns-freely Settle Felt/M1 check:faces-clean"
		letGo  = " slacken:M1 slacken:M2 prep:main/M1 prep:main/M2 new:M1:copper washer new:M2:copper washer"
		one    = "slacken:M2 prep:main/M2 Snug/M2 Turn/M2 check:faces-clean check:no-gap check:turns-freely Settle new:M2:copper washer"
		opened = "part:gasket check:faces-clean prep:main sealant Snug/M1 Snug/M2 check:no-gap Turn/M1 Turn/M2 check:turns-freely Settle Felt/M1 new:M1:copper washer new:M2:copper washer new:gasket:gasket"
	)
	for _, c := range []struct{ name, was, now, want string }{
		{"a remark", "format = 1", "format = 1 # read twice", ""},
		{"a source, a title, a part number", `number = "OS-5"`, `number = "OS-6"`, ""},
		{"a figure", `torque = "9 N·m"`, `torque = "10 N·m"`, both + letGo},
		{"the last figure, open so far for M2", `at least 15 N·m`, `at least 14 N·m`, strings.TrimSuffix("slacken:M1 prep:main/M1 Snug/M1 Turn/M1 Felt/M1 check:faces-clean check:no-gap check:turns-freely Settle new:M1:copper washer", " ")},
		{"a thread", `thread = "M8x1.25"`, `thread = "M8x1"`, both + letGo + " prep:main"},
		{"a class", `class = "8.8"`, `class = "10.9"`, both + letGo + " prep:main"},
		{"a socket", `prep = "oil the threads"`, "prep = \"oil the threads\"\ndrive = \"12 mm hex\"", both + letGo + " prep:main"},
		{"a caution of the group", `prep = "oil the threads"`, "prep = \"oil the threads\"\ncaution = \"mind the seal\"", both + letGo + " prep:main"},
		{"a caution of a pass", `name = "Turn"`, "name = \"Turn\"\ncaution = \"watch the gauge\"", both + letGo},
		{"the preparation", `prep = "oil the threads"`, `prep = "grease the threads"`, both + letGo + " prep:main"},
		{"where a bolt sits", "M2 = [70, 0]", "M2 = [75, 0]", one + " prep:main"},
		{"the order", "name = \"Snug\"\ngroups = [\"main\"]", "name = \"Snug\"\norder = \"reverse\"\ngroups = [\"main\"]", "slacken:M1 prep:main/M1 Snug/M1 Turn/M1 Felt/M1 check:faces-clean check:no-gap check:turns-freely Settle new:M1:copper washer"},
		{"a bolt more, last of all", "M2 = [70, 0]", "M2 = [70, 0]\nM3 = [70, 70]", both + letGo + " prep:main Snug/M3 Turn/M3 Felt/M3 new:M3:copper washer"},
		{"a longer wait", `wait = "1h"`, `wait = "2h"`, "Settle slacken:M1 prep:main/M1 Snug/M1 Turn/M1 Felt/M1 check:faces-clean check:no-gap check:turns-freely new:M1:copper washer"},
		{"a shorter wait", `wait = "1h"`, `wait = "30m"`, ""},
		{"a question", `ask = "No gap?"`, `ask = "No gap anywhere?"`, "check:no-gap-anywhere"},
		{"a question that is measured now", `ask = "No gap?"`, "id = \"no-gap\"\nmeasure = \"gap\"\nmax = \"0.1 mm\"", "check:no-gap"},
		{"what a no does", `ask = "No gap?"`, "ask = \"No gap?\"\nno_restarts = [\"M1\"]", "check:no-gap"},
		{"a part that goes in", `kind = "gasket"`, "kind = \"gasket\"\nwhere = \"the thin side out\"", "part:gasket new:gasket:gasket"},
		{"another sealant", `"flange sealant"`, `"silicone"`, opened},
		{"less time for the sealant, all held in time by the old one", `work_time = "2h"`, `work_time = "90m"`, opened},
		{"more time for the sealant", `work_time = "2h"`, `work_time = "3h"`, ""},
		{"heat before the first pass", "[[part]]", "[[callout]]\nkind = \"heat\"\nsay = \"warm it\"\nbefore = \"Snug\"\n[[part]]", "callout:callout-warm-it sealant " + opened},
		{"a tool before the first pass", "[[part]]", "[[callout]]\nkind = \"tool\"\nsay = \"a lamp\"\nbefore = \"Snug\"\n[[part]]", "callout:callout-a-lamp"},
	} {
		t.Run(c.name, func(t *testing.T) {
			before, now := closedUp(t)
			text := edited(t, joint, c.was, c.now)
			makes, refusal := before.Resheeting(text)
			if refusal != nil {
				t.Fatal(refusal)
			}
			after := before.Anew()
			Replay(after, before.Events)
			must(t, after, Command{Do: Resheet, Sheet: text, Text: "misread"}, now)
			got := reopened(before, after)
			want := strings.Fields(c.want)
			slices.Sort(want)
			if want = slices.Compact(want); !slices.Equal(got, want) {
				t.Errorf("open again\n%q\nwant\n%q", got, want)
			}
			if differs := after.differs(before.begun.Plan); differs != "" && !strings.Contains(c.now, "90m") { // the second reading knows of no clock
				t.Error(differs)
			}
			var open []string
			for i, it := range before.Items {
				if at, still := after.Find(it.Key().String()); still && before.Mark(i).Seq > 0 && !after.Mark(at).Closed {
					open = append(open, it.Text())
				}
			}
			if !slices.Equal(makes.Open, open) {
				t.Errorf("said to be open again\n%q\nand it is\n%q", makes.Open, open)
			}
			if again := before.Anew(); len(Replay(again, after.Events)) > 0 || !slices.Equal(again.left(), after.left()) {
				t.Error("it is not read again as it was written")
			}
		})
	}
}

// reopened says what is open after and was not before, by the text a record has of it.
func reopened(before, after *State) []string {
	var list []string
	was := before.left()
	for _, key := range after.left() {
		if !slices.Contains(was, key) {
			key = strings.TrimPrefix(key, "new part:")
			if owner, piece, isPiece := strings.Cut(strings.TrimPrefix(key, "new "), "|"); isPiece {
				key = "new:" + owner + ":" + piece
			}
			list = append(list, strings.Fields(key)...)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// What a sheet may not do to an open walk.
func TestAnEditedSheetIsRefused(t *testing.T) {
	open := strings.NewReplacer(`direction = "close"`, `direction = "open"`, "[sealant]\nname = \"flange sealant\"\nwork_time = \"2h\"\n", "").Replace(strings.Split(joint, "[[pass]]")[0]) +
		"[[pass]]\nname = \"Off\"\ngroups = [\"main\"]\nremove = true\n[[check]]\nbefore = \"Off\"\nask = \"Seat whole?\"\n[[check]]\nbefore = \"Off\"\nask = \"Dry?\"\n[[part]]\nname = \"shim\"\nafter = \"Off\"\n"
	for _, c := range []struct {
		name, sheet string
		do          []Command
		edit        func(string) string
		want        string
	}{
		{"nothing edited", joint, nil, func(s string) string { return s }, "the sheet is as it was, to the letter"},
		{"no reason", joint, nil, func(s string) string { return s + "\n" }, "a reason is needed"},
		{"not a sheet", joint, nil, func(s string) string { return s + "[" }, "cannot be walked: test.toml:45:1: not valid TOML"},
		{"another procedure", joint, nil, func(s string) string { return edited(t, s, `name = "Joint"`, `name = "Cover"`) }, `this is a walk of "Joint", and the sheet is of another procedure: "Cover"`},
		{"the other way", joint, nil, func(string) string { return open }, "is to open, and this walk is to close"},
		{"a stripped thread that would be forgotten", joint, []Command{{Do: Problem, Target: "M2", Text: "stripped", Facts: Facts{StrippedAt: InCase}}},
			func(s string) string { return edited(t, s, "M2 = [70, 0]\n", "") }, "M2 is no longer on the sheet, and its thread in the case is stripped and not recorded as repaired"},
		{"a bolt that has come off", open, []Command{{Do: Yes}, {Do: Yes}, {Do: Confirm}}, func(s string) string { return edited(t, s, "M1 = [0, 0]\n", "") }, "M1 is no longer on the sheet, and it has been let go or come off"},
		{"a part that has come off", open, []Command{{Do: Yes}, {Do: Yes}, {Do: Confirm}, {Do: Confirm}, {Do: Confirm}}, func(s string) string { return edited(t, s, "[[part]]\nname = \"shim\"\nafter = \"Off\"\n", "") }, "shim is no longer on the sheet, and it has come off"},
		{"a finding", open, []Command{{Do: No, Text: "pitted"}}, func(s string) string { return edited(t, s, "Seat whole?", "Seat round?") }, "the check: Seat whole? is no longer on the sheet, and something was found wrong there"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := New(planOf(t, c.sheet))
			for _, do := range c.do {
				must(t, s, do, start)
			}
			reason := "misread"
			if c.name == "no reason" {
				reason = ""
			}
			if r := refuse(t, s, Command{Do: Resheet, Sheet: c.edit(c.sheet), Text: reason}, start); !strings.Contains(r.Error(), c.want) {
				t.Errorf("refused with %q, want %q", r.Error(), c.want)
			}
			if _, edited := s.Sheet(); edited {
				t.Error("it went over all the same")
			}
		})
	}
	s := New(planOf(t, joint))
	must(t, s, Command{Do: Stop, Text: "sold"}, start)
	if r := refuse(t, s, Command{Do: Resheet, Sheet: joint + "\n", Text: "misread"}, start); r.What != "this walk is stopped" {
		t.Error(r)
	}
}

// Nothing before an edited sheet can be undone, and it cannot be itself.
func TestAnEditedSheetIsNotUndone(t *testing.T) {
	s, now := closedUp(t)
	must(t, s, Command{Do: Resheet, Sheet: joint + "\n", Text: "misread"}, now)
	if r := refuse(t, s, Command{Do: Undo, Text: "oops"}, now); r.What != "there is nothing to undo" {
		t.Error(r)
	}
}

// What the wrench is set to and what is on it is not known by a sheet whose sockets
// may be called otherwise.
func TestTheWrenchIsSetAnewByAnEditedSheet(t *testing.T) {
	sheet := strings.Replace(joint, `prep = "oil the threads"`, `drive = "12 mm hex"`, 1)
	s := New(planOf(t, sheet))
	for range 4 {
		forward(t, s, start)
	}
	for len(s.DueNow()) > 0 || s.CurrentItem().Kind != StageItem {
		forward(t, s, start)
	}
	must(t, s, Command{Do: Confirm}, start)
	if c, change := s.Changeover(); change && len(s.DueNow()) == 0 {
		t.Fatalf("set and on, and yet %+v", c)
	}
	must(t, s, Command{Do: Resheet, Sheet: sheet + "\n", Text: "misread"}, start)
	if c, change := s.Changeover(); !change || !c.Wrench || c.SetTo != nil || c.On != "" {
		t.Errorf("after the sheet was edited: %+v, %v", c, change)
	}
}

// What was confirmed is told as it was asked then, and what differs as it stands on
// the two sheets; of very many differences not all.
func TestWhatWasConfirmedIsToldAsItWasAskedThen(t *testing.T) {
	s, now := closedUp(t)
	at := slices.IndexFunc(s.Events, func(e Event) bool { return e.Item == "Snug/M1" })
	must(t, s, Command{Do: Resheet, Sheet: edited(t, joint, `torque = "9 N·m"`, `torque = "10 N·m"`), Text: "misread"}, now)
	if it, ok := s.ItemAt(s.Events[at].Seq, "Snug/M1"); !ok || it.Text() != "Snug: M1, 9 N·m" {
		t.Errorf("then it was asked: %s", it.Text())
	}
	if it, ok := s.ItemAt(len(s.Events)+1, "Snug/M1"); !ok || it.Text() != "Snug: M1, 10 N·m" {
		t.Errorf("now it is asked: %s", it.Text())
	}
	if got := s.Deviations[len(s.Deviations)-1].Text; got != "on the sheet: pass Snug, figure of main: was torque 9 N·m, now torque 10 N·m" {
		t.Errorf("told: %q", got)
	}
	many := joint
	for i := range mostChanges + 5 {
		many += "[[check]]\nafter = \"Felt\"\nask = \"Question " + strings.Repeat("i", i+1) + "?\"\n"
	}
	must(t, s, Command{Do: Resheet, Sheet: many, Text: "more to ask"}, now.Add(time.Minute))
	if got := s.Deviations[len(s.Deviations)-1].Text; got != "on the sheet: 6 more differences" { // and the figure is back
		t.Errorf("told last: %q", got)
	}
}

// A new piece stays new only where what it is of means the same; one that is condemned
// stays condemned by whatever sheet.
func TestPiecesByAnEditedSheet(t *testing.T) {
	s := New(planOf(t, joint))
	must(t, s, bring(Carried{ID: "gasket", Name: "gasket", Count: 1, Facts: Facts{Condition: "scored"}, Record: "r1"}), start)
	must(t, s, Command{Do: Renew, Target: "gasket", Number: "none"}, start)
	if due := s.Due(s.Items[0].Thing()); len(due) > 0 {
		t.Fatalf("the gasket is due: %v", due)
	}
	must(t, s, Command{Do: Resheet, Sheet: edited(t, joint, `kind = "gasket"`, "kind = \"gasket\"\ncount = 2"), Text: "there are two"}, start)
	if due := s.Due(s.Items[0].Thing()); len(due) != 1 || due[0].Count != 2 {
		t.Errorf("two gaskets by the sheet, due: %v", due)
	}
	must(t, s, Command{Do: Resheet, Sheet: edited(t, joint, "kind = \"gasket\"\none_use = true", `kind = "gasket"`), Text: "it goes in again"}, start)
	if due := s.Due(s.Items[0].Thing()); len(due) != 1 || !due[0].Condemned {
		t.Errorf("no longer one-use, but scored, due: %v", due)
	}
}

// What was said not to go back is asked for again where the sheet asks for it otherwise.
func TestWhatDoesNotGoBackIsAskedForByAnEditedSheet(t *testing.T) {
	sheet := edited(t, joint, "kind = \"gasket\"\none_use = true", `kind = "gasket"`)
	s := New(planOf(t, sheet))
	must(t, s, bring(Carried{ID: "gasket", Name: "gasket", Count: 1, Facts: Facts{Condition: "scored"}, Record: "r1"}), start)
	must(t, s, Command{Do: Account, Target: "gasket", Text: "none by the new drawing"}, start)
	if len(s.Due(s.Items[0].Thing())) > 0 || !s.Mark(0).Closed {
		t.Fatal("it is asked for though it does not go back")
	}
	must(t, s, Command{Do: Resheet, Sheet: edited(t, sheet, `kind = "gasket"`, "kind = \"gasket\"\nwhere = \"under the cover\""), Text: "it does"}, start)
	if len(s.Due(s.Items[0].Thing())) != 1 || s.Mark(0).Closed {
		t.Error("it goes in by the sheet, was scored, and is not asked for")
	}
}

// A sheet that knows of no sealant any more has no clock of it.
func TestASheetWithoutItsSealantHasNoClock(t *testing.T) {
	s, now := closedUp(t)
	must(t, s, Command{Do: Resheet, Sheet: edited(t, joint, "[sealant]\nname = \"flange sealant\"\nwork_time = \"2h\"\n", ""), Text: "it is dry"}, now)
	if _, cures := s.CuredAt(); cures {
		t.Error("it cures")
	}
	if _, running := s.SealantLeft(now); running {
		t.Error("it runs")
	}
}

// A bolt that is described and whose thread was misprinted is the same bolt.
func TestWhatWasSaidOfABoltGoesWithItsThread(t *testing.T) {
	sheet := edited(t, strings.Split(joint, "[sealant]")[0], "close", "open") + "[group.main]\nthread = \"M8x1.25\"\nclass = \"8.8\"\n[group.main.at]\nM1 = [0, 0]\n[[pass]]\nname = \"Off\"\ngroups = [\"main\"]\nremove = true\n"
	s := New(planOf(t, sheet))
	must(t, s, Command{Do: Find, Target: "M1", Facts: Facts{Condition: "cracked", Again: "no"}}, start)
	must(t, s, Command{Do: Note, Target: "M1", Text: "it rattled"}, start)
	must(t, s, Command{Do: Confirm}, start)
	must(t, s, Command{Do: Resheet, Sheet: edited(t, sheet, "M8x1.25", "M8x1"), Text: "misprinted"}, start)
	bolt := thingOf(s.Plan.Procedure.Fasteners[0])
	if bolt.Thread != "M8x1" || s.FoundOf(bolt)[Condition] != "cracked" || len(s.SaidOf(bolt)) != 1 {
		t.Errorf("%s: %v, %v", bolt, s.FoundOf(bolt), s.SaidOf(bolt))
	}
	if s.CurrentItem() == nil {
		t.Error("its thread is another, and it is not asked for again")
	}
}

// Also where the smear is the first line of all, another sealant opens the joint; and a sheet
// that reads the same says so.
func TestAnEditedSheetIsToldAndMindsAFirstSmear(t *testing.T) {
	s, now := walked(t, sealed, ok(), ok())
	must(t, s, Command{Do: Resheet, Sheet: edited(t, sealed, "format = 1", "format = 1 # read twice"), Text: "a remark"}, now)
	if got := lastDeviation(s); got != "on the sheet: nothing that is read from it" || !closed(s, "sealant") || !closed(s, "Snug/M1") {
		t.Errorf("said %q, next is %s", got, s.nextText())
	}
	must(t, s, Command{Do: Resheet, Sheet: edited(t, sealed, `"flange sealant"`, `"silicone"`), Text: "another tube"}, now)
	if closed(s, "sealant") || closed(s, "Snug/M1") {
		t.Errorf("sealed with something else, and next is %s", s.nextText())
	}
	if s.Deviations[len(s.Deviations)-1].Text == "on the sheet: nothing that is read from it" {
		t.Error("another sealant is said to be nothing")
	}
}

// What the sealant holds stays held over an edit that leaves it be, though it is the first line of all; taken off the
// sheet and put back it is smeared anew, with a time of its own.
func TestTheSealantsTimeOverAnEdit(t *testing.T) {
	s, now := walked(t, sealed, ok(), ok(), ok())
	since, held := s.CuredAt()
	must(t, s, Command{Do: Resheet, Sheet: edited(t, sealed, "format = 1", "format = 1 # read twice"), Text: "a remark"}, now.Add(time.Hour))
	if at, still := s.CuredAt(); s.smear != 0 || !held || !still || at != since {
		t.Errorf("line %d; held %v, and after the edit %v", s.smear, held, still)
	}
	dry := edited(t, sealed, "[sealant]\nname = \"flange sealant\"\nwork_time = \"20m\"\ncure_time = \"12h\"\n", "")
	dry = edited(t, dry, "9 N·m", "8 N·m") // so that nothing is tight any more
	must(t, s, Command{Do: Resheet, Sheet: dry, Text: "no sealant"}, now)
	must(t, s, Command{Do: Resheet, Sheet: sealed, Text: "sealant after all"}, now)
	for s.CurrentItem().Kind != SealItem {
		must(t, s, ok(), now)
	}
	must(t, s, ok(), now)
	if left, running := s.SealantLeft(now); !running || left != 20*time.Minute {
		t.Errorf("smeared anew, %s are left, running %v", left, running)
	}
}
