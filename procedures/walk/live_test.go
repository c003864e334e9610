package walk

import (
	"errors"
	"strings"
	"testing"
	"time"
)

// live is a walk that keeps what is written.
func live(t *testing.T, text string) (*Live, *[]Event) {
	t.Helper()
	var written []Event
	now := start
	return &Live{State: New(planOf(t, text)), Now: func() time.Time { now = now.Add(time.Minute); return now },
		Append: func(e Event) error { written = append(written, e); return nil }}, &written
}

func TestARenewalThatNamesNoPieceIsOfAllThatIsDue(t *testing.T) {
	l, written := live(t, strings.Replace(twoBolts, "count = 1 }", "count = 1, one_use = true }", 1))
	if r, err := l.Do(Command{Do: Renew, Number: "lot 1"}); r != nil || err != nil {
		t.Fatal(r, err)
	}
	if len(*written) != 2 || (*written)[0].Piece != Itself || (*written)[1].Piece != "plain washer" || len(l.State.Due(m1)) != 0 {
		t.Errorf("written: %+v", *written)
	}
	if r, _ := l.Do(Command{Do: Renew, Piece: "plain", Number: "lot 2"}); r != nil || len(*written) != 3 {
		t.Errorf("one piece by name: %v, %d written", r, len(*written))
	}
	if r, _ := l.Do(Command{Do: Renew, Target: "nobody"}); r == nil || len(*written) != 3 {
		t.Errorf("of nobody: %v, %d written", r, len(*written))
	}
	if r, _ := l.Do(ok()); r != nil || len(*written) != 4 {
		t.Errorf("then the stage: %v", r)
	}
}

func TestNothingMovesOnThatCannotBeWritten(t *testing.T) {
	l, _ := live(t, twoBolts)
	full := errors.New("the disk is full")
	l.Append = func(Event) error { return full }
	if r, err := l.Do(Command{Do: Renew}); r != nil || err != full || len(l.State.Events) != 0 || len(l.State.Due(m1)) != 1 {
		t.Errorf("got %v, %v after %d events", r, err, len(l.State.Events))
	}
}

// A refused done and a refused reading are written; what was only not meant is not.
func TestRefusalsWorthKeepingAreWritten(t *testing.T) {
	l, written := live(t, twoBolts)
	for _, c := range []Command{{Do: FinishUp}, ok(), {Do: No, Text: "x"}} {
		if r, _ := l.Do(c); r == nil {
			t.Fatalf("%v was accepted", c)
		}
	}
	if len(*written) != 1 || (*written)[0].Kind != Refused || len((*written)[0].Outstanding) == 0 {
		t.Errorf("written: %+v", *written)
	}
}

func TestPiecesListsWhatMustBeNewAndWhatIs(t *testing.T) {
	s, now := walked(t, strings.Replace(twoBolts, "one_use = true", "", 1), Command{Do: Renew, Number: "lot 1"})
	if p := s.Pieces(); len(p) != 1 || p[0].Fastener != "M1" || p[0].Needed {
		t.Errorf("a new bolt nobody asked for: %+v", p)
	}
	must(t, s, Command{Do: Renew}, now) // of another bag, before it was tightened: nothing is asked
	must(t, s, ok(), now)
	must(t, s, ok(), now)
	must(t, s, Command{Do: Undo, Text: "not yet"}, now)
	must(t, s, Command{Do: Renew, Target: "M2"}, now) // M1's number is no number of M2's
}

func TestWhatIsUnearnedStaysInTheLogAndTheRestCounts(t *testing.T) {
	s, now := walked(t, twoBolts, fit())
	events := append([]Event{}, s.Events...)
	events = append(events, Event{Seq: 2, At: now, Kind: Done}, Event{Seq: 3, At: now, Kind: Confirmed, Item: "Snug/M1"})
	read := New(s.Plan)
	if findings := Replay(read, events); len(findings) != 1 || len(read.Events) != 3 || !closed(read, "Snug/M1") {
		t.Errorf("findings %v, %d events kept, Snug/M1 %v", findings, len(read.Events), closed(read, "Snug/M1"))
	}
	if d := read.Deviations; len(d) != 1 || !strings.Contains(d[0].Text, "done does not count") {
		t.Errorf("deviations: %+v", d)
	}
}

// On the way apart a stripped thread is asked about too, and kept for the
// close-up; under the first rules it was one word.
func TestWhichThreadIsAskedOnTheWayApartToo(t *testing.T) {
	apart := `format = 1
[procedure]
name = "Off"
direction = "open"
source = "invented"
[group.g]
thread = "M8x1.25"
[group.g.at]
A = [0, 0]
[[pass]]
name = "Out"
groups = ["g"]
remove = true
`
	s, now := walked(t, apart)
	refuse(t, s, Command{Do: Problem, Text: "stripped"}, now)
	must(t, s, Command{Do: Problem, Text: "stripped", Facts: Facts{StrippedAt: InCase}}, now)
	if !s.CaseStripped("A") {
		t.Error("the stripped thread is forgotten")
	}
	must(t, s, Command{Do: Undo, Text: "it was the tap"}, now)
	if s.CaseStripped("A") {
		t.Error("undone, and still stripped")
	}
	old := CourseOf(planOf(t, twoBolts), FirstRules).Start()
	if findings := Replay(old, []Event{{Seq: 1, At: start, Kind: Trouble, Fastener: "M1", Text: "stripped"}}); len(findings) > 0 {
		t.Errorf("an old record's stripped bolt: %v", findings[0].Refusal)
	}
}
