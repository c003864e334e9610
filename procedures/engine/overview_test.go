package engine

import (
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// inList is a walk in a list of records, some hours after the first day began.
func inList(id, tag, procedure string, direction spec.Direction, state record.State, hours int) record.Summary {
	at := day.Add(time.Duration(hours) * time.Hour)
	return record.Summary{ID: id, Engine: tag, Procedure: procedure, Direction: direction, State: state, Started: at, Last: at, Confirmed: 3, Stages: 9}
}

// What is said of an engine in the list: the last thing done, and what comes next. An open
// walk is gone on with before anything; what was only said of the engine is not work on it.
func TestWhatAnEngineInTheListSays(t *testing.T) {
	opened := inList("a", "7", "Open the cover", spec.Open, record.StateDone, 1)
	for _, c := range []struct {
		name    string
		walks   []record.Summary
		ledgers []*record.File
		want    string
	}{
		{"apart", []record.Summary{opened}, nil, "7: last: Open the cover done, 2025-03-02 (a day ago); next: it is apart: see evenpull engine 7"},
		{"closing since", []record.Summary{opened, inList("b", "7", "Close the cover", spec.Close, record.StateOpen, 2)}, nil,
			"7: last: Close the cover left at 3 of 9 stages, 2025-03-02 (a day ago); next: go on with Close the cover"},
		{"an older walk is open", []record.Summary{inList("c", "7", "Close the lid", spec.Close, record.StateOpen, 0), opened}, nil,
			"7: last: Open the cover done, 2025-03-02 (a day ago); next: go on with Close the lid"},
		{"of two open ones that left last", []record.Summary{inList("c", "7", "Close the lid", spec.Close, record.StateOpen, 3), inList("d", "7", "Close the head", spec.Close, record.StateOpen, 2)}, nil,
			"7: last: Close the lid left at 3 of 9 stages, 2025-03-02 (23 hours ago); next: go on with Close the lid"},
		{"together", []record.Summary{opened, inList("b", "7", "Close the cover", spec.Close, record.StateDone, 2)}, nil, "7: last: Close the cover done, 2025-03-02 (a day ago); next: see evenpull engine 7"},
		{"stopped", []record.Summary{opened, inList("b", "7", "Close the cover", spec.Close, record.StateStopped, 2)}, nil, "7: last: Close the cover stopped, 2025-03-02 (a day ago); next: see evenpull engine 7"},
		{"one cannot be read", []record.Summary{opened, inList("b", "7", "Close the cover", spec.Close, record.StateBroken, 0)}, nil,
			"7: last: Open the cover done, 2025-03-02 (a day ago); next: it is apart: see evenpull engine 7; 1 broken"},
		{"named after it", []record.Summary{opened}, []*record.File{ledger("l", day.Add(5*time.Hour), walk.Event{Kind: record.Named, Text: "Blue"})},
			"7 (Blue): last: Open the cover done, 2025-03-02 (a day ago); next: it is apart: see evenpull engine 7"},
		{"sent away after it", []record.Summary{opened}, []*record.File{ledger("l", day.Add(5*time.Hour), walk.Event{Kind: record.Sent, Item: "part:rotor", Text: "balancing"})},
			"7: last: rotor sent for balancing, 2025-03-02 (21 hours ago); next: it is apart: see evenpull engine 7"},
		{"named twice, the later counts", nil, []*record.File{ledger("l", day, walk.Event{Kind: record.Named, Text: "Blue"}, walk.Event{Kind: record.Named, Text: "Red"})},
			"7 (Red): last: named Blue, 2025-03-02 (a day ago); next: no walk yet"},
		{"written with a clock that was behind", []record.Summary{opened, {ID: "b", Engine: "7", Procedure: "Close the cover", Direction: spec.Close, State: record.StateDone, Started: day.AddDate(0, -1, 0), Last: day.AddDate(0, -1, 0), After: day.Add(4 * time.Hour)}}, nil,
			"7: last: Close the cover done, 2025-02-02 (29 days ago); next: see evenpull engine 7"},
	} {
		for range 2 { // in whatever order they are found
			list := Overview(c.walks, c.ledgers)
			if len(list) != 1 || list[0].Line(day.Add(26*time.Hour)) != c.want {
				t.Errorf("%s:\nis   %s\nwant %s", c.name, list[0].Line(day.Add(26*time.Hour)), c.want)
			}
			slices.Reverse(c.walks)
		}
	}
}

// Engines are listed by what was worked on last; a tag is one however it is spelt, and a
// walk without one is nobody's.
func TestEnginesAreListedByWhatWasWorkedOnLast(t *testing.T) {
	list := Overview([]record.Summary{
		inList("a", "7", "Open the cover", spec.Open, record.StateDone, 1), inList("b", " stand 2 ", "Open the cover", spec.Open, record.StateDone, 3),
		inList("c", "Stand 2", "Close the cover", spec.Close, record.StateOpen, 2), inList("d", " ", "Open the cover", spec.Open, record.StateDone, 9),
	}, []*record.File{ledger("l", day, walk.Event{Kind: walk.Noted, Text: "smokes"})})
	var got []string
	for _, b := range list {
		got = append(got, b.Tag)
	}
	if !slices.Equal(got, []string{"stand 2", "7"}) || list[0].Records != 2 || list[0].Open != 1 || list[1].Records != 1 {
		t.Errorf("listed %q: %+v", got, list)
	}
	if line := (Brief{Tag: "9", Next: "no walk yet"}).Line(day); line != "9: nothing done yet; next: no walk yet" {
		t.Errorf("of an engine with an empty ledger: %s", line)
	}
}

// What goes in and is on no sheet of a strip-down is told, unless some other strip-down of
// the engine has it; each line with the sheet that closes.
func TestDifferencesAreToldWithTheirSheet(t *testing.T) {
	w, closers := apart(t)
	if got := fold("7", []Walk{w}, nil, closers).AllDifferences(); len(got) > 0 {
		t.Errorf("sheets that agree: %q", got)
	}
	more := sheet(t, strings.Replace(closeSheet, "[[part]]\nname = \"rotor\"", "[[part]]\nname = \"lamp\"\n[[part]]\nname = \"rotor\"", 1))
	if got := strings.Join(fold("7", []Walk{w}, nil, []*spec.Procedure{more}).AllDifferences(), "\n"); got != more.File+": lamp (lamp) goes in here and is on no sheet it was taken apart by" {
		t.Errorf("a lamp from nowhere: %q", got)
	}
	const fromNowhere = "goes in here and is on no sheet"
	// It went in by a sheet before, and a strip-down of which only the record's name is left has no sheet at all.
	up := begin(t, "up", more, day.Add(-time.Hour)).walk()
	if got := strings.Join(fold("7", []Walk{up, {ID: "lost", Direction: spec.Open}, w}, nil, []*spec.Procedure{more}).AllDifferences(), "\n"); !strings.Contains(got, fromNowhere) {
		t.Errorf("the lamp is on no sheet of a strip-down: %q", got)
	}
	for _, engine := range []string{"Osier 125 single", "Osier 150 twin"} { // of the same engine by its tag, whatever the sheet calls it
		lamp := sheet(t, "format = 1\n[procedure]\nname = \"Off with the lamp\"\nengine = \""+engine+"\"\ndirection = \"open\"\nsource = \"invented\"\n[[part]]\nname = \"lamp\"\n")
		other := begin(t, "lamp", lamp, day.Add(-time.Hour)).do(walk.Command{Do: walk.Confirm}).done().walk()
		if got := strings.Join(fold("7", []Walk{other, w}, nil, []*spec.Procedure{more}).AllDifferences(), "\n"); strings.Contains(got, fromNowhere) {
			t.Errorf("the lamp came off in another strip-down, and still: %q", got)
		}
	}
}
