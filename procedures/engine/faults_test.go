package engine

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

const questions = `
[[check]]
after = "Take out"
ask   = "Gasket face flat?"
[[check]]
after   = "Take out"
measure = "rotor runout"
max     = "0.03 mm"
of      = ["rotor"]
`

func texts(e Engine) string {
	var list []string
	for _, f := range e.Faults {
		list = append(list, f.Text())
	}
	return strings.Join(list, "|")
}

// What a strip-down found wrong stays until the close-up that closes it best has
// said what was done, whatever their clocks say.
func TestAFindingStaysUntilItsCloseUpAnswersIt(t *testing.T) {
	other := sheet(t, strings.NewReplacer("Close the cover", "Fit the rotor alone", "125 single\"", "125 single\"", "[[part]]\nname  = \"shim\"\nkind  = \"shim\"\ncount = 2\n", "").Replace(closeSheet))
	closers := []*spec.Procedure{other, sheet(t, closeSheet)}
	down := begin(t, "down", sheet(t, openSheet+questions), day).on("check:gasket-face-flat", nil).
		do(walk.Command{Do: walk.No, Text: "hollow"}, walk.Command{Do: walk.Measure, Reading: "0.05 mm"}).done()
	e := fold("7", []Walk{down.walk()}, nil, closers)
	if got := texts(e); got != "Gasket face flat? no: hollow|rotor runout is 0.05 mm, over the limit of 0.03 mm" || e.Faults[0].Record != "down" || e.Faults[1].Where != "rotor" {
		t.Fatalf("found %q, %+v", got, e.Faults)
	}
	if a, b := len(e.FaultsFor(closers[0])), len(e.FaultsFor(closers[1])); a != 0 || b != 2 {
		t.Errorf("%d are asked by the sheet that shares less, %d by the one that shares most", a, b)
	}
	for _, at := range []time.Time{day.AddDate(1, 0, 0), day.AddDate(-1, 0, 0)} {
		up := begin(t, "up", closers[1], at).bring(e).do(walk.Command{Do: walk.Settle, Facts: walk.Facts{walk.How: walk.ByNew}})
		half := fold("7", []Walk{down.walk(), up.walk()}, nil, closers)
		if got := texts(half); got != "rotor runout is 0.05 mm, over the limit of 0.03 mm" {
			t.Errorf("begun %s, after one answer open: %q", at, got)
		}
		up.do(walk.Command{Do: walk.Undo, Text: "it was not"})
		if got := fold("7", []Walk{down.walk(), up.walk()}, nil, closers); len(got.Faults) != 2 {
			t.Errorf("an answer that was taken back stands: %q", texts(got))
		}
	}
}

// Found once more in another strip-down, it is another finding.
func TestFoundAgainItIsAskedAgain(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	strip := func(id string, at time.Time) Walk {
		return begin(t, id, sheet(t, openSheet+questions), at).on("check:gasket-face-flat", nil).do(walk.Command{Do: walk.No, Text: "hollow"}).on("", nil).done().walk()
	}
	one := strip("one", day)
	e := fold("7", []Walk{one}, nil, closers)
	up := begin(t, "up", closers[0], day.AddDate(0, 1, 0)).bring(e).do(walk.Command{Do: walk.Settle, Facts: walk.Facts{walk.How: walk.ByNew}}).on("", nil).done().walk()
	two := strip("two", day.AddDate(1, 0, 0))
	e = fold("7", []Walk{one, up, two}, nil, closers)
	if len(e.Faults) != 1 || e.Faults[0].Record != "two" {
		t.Errorf("open: %+v", e.Faults)
	}
	lone := fold("7", []Walk{one}, nil, nil)
	lone.Off, lone.Buy = nil, nil
	if h := lone.Headline(day); !strings.Contains(h, "next: say what was done about what was found wrong: 1") {
		t.Error(h)
	}
}

// Work that what a finding is of came back from since answers it without more words;
// work of before, or that it is still away for, does not.
func TestWorkDoneSinceAnswersAFinding(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	down := begin(t, "down", sheet(t, openSheet+questions), day).on("check:gasket-face-flat", nil).
		do(walk.Command{Do: walk.No, Text: "hollow"}, walk.Command{Do: walk.Measure, Reading: "0.05 mm"}).done().walk()
	seen := fold("7", []Walk{down}, nil, closers).Faults[1].At
	sent := walk.Event{Kind: record.Sent, Item: "part:rotor", Text: "truing", Facts: map[string]string{"to": "the grinder"}}
	back := walk.Event{Kind: record.Back, Item: "part:rotor"}
	sentBefore, backBefore := sent, back
	sentBefore.At, backBefore.At = seen.Add(-2), seen.Add(-1)
	for _, c := range []struct {
		at       time.Time
		events   []walk.Event
		work, by string
	}{
		{day.Add(time.Hour), []walk.Event{sent, back}, "truing", "the grinder"},
		{day.Add(time.Hour), []walk.Event{sent}, "", ""},
		{day.Add(time.Hour), []walk.Event{sent, back, sent}, "truing", "the grinder"},
		{day.Add(time.Hour), []walk.Event{sentBefore, backBefore}, "", ""},
	} {
		e := fold("7", []Walk{down}, []*record.File{ledger("l", c.at, c.events...)}, closers)
		if f := e.Faults[1]; f.Work != c.work || f.By != c.by || e.Faults[0].Work != "" {
			t.Errorf("after %d events: %q by %q; of no thing: %q", len(c.events), f.Work, f.By, e.Faults[0].Work)
		}
	}
}

// Of two sheets that share as much with a strip-down each asks its findings, and with what
// was said since of what they are of. Sheets that nothing was taken apart by differ in nothing.
func TestEachSheetThatClosesBestAsks(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet), sheet(t, strings.Replace(closeSheet, "Close the cover", "Close it once more", 1))}
	down := begin(t, "down", sheet(t, openSheet+questions), day).on("check:gasket-face-flat", nil).
		do(walk.Command{Do: walk.Yes}, walk.Command{Do: walk.Measure, Reading: "0.05 mm"}).done().walk()
	l := ledger("l", day.Add(time.Hour), walk.Event{Kind: walk.Noted, Item: "part:rotor", Text: "nicked"})
	e := fold("7", []Walk{down}, []*record.File{l}, closers)
	for _, p := range closers {
		list := e.FaultsFor(p)
		if len(list) != 1 {
			t.Fatalf("%s asks %+v", p.Name, list)
		}
		wantList(t, p.Name, linesOf(list[0].Said), []string{"2025-03-02: nicked"})
	}
	if got := fold("7", nil, nil, closers).Differences(closers[0]); got != nil {
		t.Errorf("never apart: %q", got)
	}
}

// What was said of the things a finding is of is told in the order it was said in.
func TestWhatWasSaidOfSeveralIsToldInItsOrder(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	down := begin(t, "down", sheet(t, openSheet+strings.Replace(questions, `of      = ["rotor"]`, `of      = ["rotor", "shim"]`, 1)), day).on("check:gasket-face-flat", nil).
		do(walk.Command{Do: walk.Yes}, walk.Command{Do: walk.Measure, Reading: "0.05 mm"}).done().walk()
	say := func(item, text string) walk.Event { return walk.Event{Kind: walk.Noted, Item: item, Text: text} }
	l := ledger("l", day.Add(time.Hour), say("part:shim", "first"), say("part:rotor", "second"), say("part:shim", "third"))
	e := fold("7", []Walk{down}, []*record.File{l}, closers)
	if len(e.Faults) != 1 {
		t.Fatalf("found %+v", e.Faults)
	}
	wantList(t, "said", linesOf(e.Faults[0].Said), []string{"2025-03-02: first", "2025-03-02: second", "2025-03-02: third"})
}
