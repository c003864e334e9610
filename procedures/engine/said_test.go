package engine

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

var lobe = walk.Photo{Name: "lobe.jpg", SHA256: strings.Repeat("0a", 32), Type: "jpg"}

func linesOf(list []walk.Said) (lines []string) {
	for _, s := range list {
		lines = append(lines, s.Line())
	}
	return lines
}

// What is said of a thing from its last refitting on is brought with it: the lot it
// was fitted from, what was said at strip-down, and what became of it since.
func TestWhatWasSaidOfAThingIsBroughtWithIt(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	up := begin(t, "up", sheet(t, closeSheet), day).bring(fold("7", nil, nil, closers)).on("Final/M1", nil).
		do(walk.Command{Do: walk.Renew, Number: "lot 5"}, walk.Command{Do: walk.Renew, Target: "M1", Piece: "fastener", Number: "lot 9"}, walk.Command{Do: walk.Confirm}, walk.Command{Do: walk.Renew, Target: "M2", Number: walk.NoNumber}).on("", nil).done()
	down := begin(t, "down", sheet(t, openSheet), day.AddDate(0, 1, 0)).
		do(walk.Command{Do: walk.Note, Text: "tender"}, walk.Command{Do: walk.Picture, Target: "rotor", Text: "blue", Facts: lobe.Facts()}, walk.Command{Do: walk.Picture, Facts: lobe.Facts()}, walk.Command{Do: walk.Undo, Text: "wrong"},
			walk.Command{Do: walk.Picture, Target: walk.Whole, Facts: lobe.Facts()}, walk.Command{Do: walk.Note, Target: walk.Whole, Text: "boxes on the shelf"}, walk.Command{Do: walk.Find, Target: "M1", Facts: walk.Facts{walk.Condition: "stretched"}}).on("", nil).done()
	rotor := map[string]string{"count": "1", "number": "125-01"}
	photo := walk.Event{Kind: walk.Pictured, Item: "part:rotor", Text: "drilled twice", Facts: lobe.Facts()}
	whole := walk.Event{Kind: walk.Pictured, Facts: lobe.Facts()}
	l := ledger("l", day.AddDate(0, 2, 0), walk.Event{Kind: record.Sent, Item: "part:rotor", Text: "balancing", Facts: map[string]string{"to": "the balancer"}},
		walk.Event{Kind: record.Back, Item: "part:rotor"}, photo, walk.Event{Kind: walk.Cleaned, Item: "part:rotor"}, walk.Event{Kind: walk.Noted, Item: "part:rotor", Text: "3 g off"},
		walk.Event{Kind: walk.Noted, Text: "smells of fuel"}, whole, walk.Event{Kind: record.Arrived, Piece: "cover bolts M8x1.25", Number: "lot 11", Facts: maps.Clone(rotor)})
	e := fold("7", []Walk{up.walk(), down.walk()}, []*record.File{l}, closers)
	if len(e.Problems) > 0 {
		t.Fatalf("%q", e.Problems)
	}
	carried := map[string]walk.Carried{}
	for _, c := range e.Carried(closers[0]) {
		carried[c.ID] = c
	}
	wantList(t, "rotor", linesOf(carried["rotor"].Said), []string{"2025-04-02: photo lobe.jpg: blue", "2025-05-02: sent to the balancer for balancing", "2025-05-02: back from balancing", "2025-05-02: photo lobe.jpg: drilled twice", "2025-05-02: cleaned", "2025-05-02: 3 g off"})
	wantList(t, "M1", linesOf(carried["M1"].Said), []string{"2025-03-02: sealing washer fitted new, number lot 5 (Close the cover)", "2025-03-02: fitted new, number lot 9 (Close the cover)", "2025-04-02: tender", "2025-05-02: 1 × cover bolts M8x1.25 arrived, lot 11"})
	wantList(t, "M2", linesOf(carried["M2"].Said), nil)
	var photos, notes []string
	for _, p := range e.Photos {
		thing := "nothing single"
		if p.Thing != nil {
			thing = p.Thing.String()
		}
		photos = append(photos, p.Record+": "+p.Text()+" ("+thing+")")
	}
	for _, n := range e.Notes {
		notes = append(notes, n.Text)
	}
	wantList(t, "photos", photos, []string{"down: photo lobe.jpg: blue, of rotor (rotor)", "down: photo lobe.jpg (nothing single)", "l: photo lobe.jpg: drilled twice, of rotor (rotor)", "l: photo lobe.jpg (nothing single)"})
	wantList(t, "notes", notes, []string{"boxes on the shelf", "smells of fuel"})

	back := begin(t, "back", closers[0], day.AddDate(1, 0, 0)).bring(e).on("", nil)
	if again := fold("7", []Walk{up.walk(), down.walk(), back.walk()}, []*record.File{l}, closers); slices.ContainsFunc(again.Off, func(t Thing) bool { return len(t.Said) > 0 }) {
		t.Errorf("still off: %+v", again.Off)
	}
}

// A note on a bolt that a close walk has let go does not make the letting go newer.
func TestSayingSomethingDoesNothing(t *testing.T) {
	down := begin(t, "down", sheet(t, openSheet), day).do(walk.Command{Do: walk.Note, Text: "tender"})
	e := fold("7", []Walk{down.walk()}, nil, nil)
	if len(e.Off) > 0 || len(e.loose) > 0 || !strings.HasPrefix(e.Headline(down.now), "last: Open the cover left at 0 of 2") {
		t.Errorf("%+v, %s", e.Off, e.Headline(down.now))
	}
}

const sealedSheet = `format = 1
[procedure]
name      = "Seal the cover"
engine    = "Osier 125 single"
direction = "close"
source    = "Osier sheet 5 (invented)"
[sealant]
name      = "flange sealant"
work_time = "20m"
cure_time = "12h"
[group.main]
thread = "M8x1.25"
class  = "8.8"
[group.main.at]
M1 = [0, 0]
[[pass]]
name   = "Final"
groups = ["main"]
torque = "22 N·m"
[[pass]]
name = "Settle"
wait = "4h"
`

func TestWhatTimeRunsOutOnIsToldWithWhenItIsOver(t *testing.T) {
	due := func(w *walked, at time.Time) (list []string) {
		for _, d := range fold("7", []Walk{w.walk()}, nil, nil).Due(at) {
			list = append(list, d.Text())
		}
		return list
	}
	w := begin(t, "w", sheet(t, sealedSheet), day)
	wantList(t, "before the smear", due(w, day), nil)
	w.do(walk.Command{Do: walk.Confirm})
	smeared := w.now
	wantList(t, "smeared", due(w, smeared.Add(5*time.Minute)), []string{"work time of flange sealant: over at 2025-03-02 09:20, in 15 min"})
	wantList(t, "too late", due(w, smeared.Add(21*time.Minute)), []string{"work time of flange sealant: over since 2025-03-02 09:20, 1 min ago; open, clean and seal afresh"})
	w.do(walk.Command{Do: walk.Confirm})
	held := w.now
	wantList(t, "waiting", due(w, held.Add(time.Hour)), []string{"Settle: wait 4 h: over at 2025-03-02 13:00, in 3 h", "flange sealant cured 2025-03-02 21:00, in 11 h; no oil before"})
	wantList(t, "waited", due(w, held.Add(5*time.Hour)), []string{"Settle: wait 4 h: over since 2025-03-02 13:00, 1 h ago", "flange sealant cured 2025-03-02 21:00, in 7 h; no oil before"})
	w.now = held.Add(5 * time.Hour)
	w.do(walk.Command{Do: walk.Confirm}).done()
	wantList(t, "done", due(w, held.Add(11*time.Hour)), []string{"flange sealant cured 2025-03-02 21:00, in 1 h; no oil before"})
	wantList(t, "cured", due(w, held.Add(36*time.Hour)), []string{"flange sealant cured since 2025-03-02 21:00, 1 d ago"})
	wantList(t, "a month on", due(w, held.AddDate(0, 1, 0)), nil)
}
