package walk

import (
	"strings"
	"testing"
	"time"
)

const hotSeat = `format = 1
[procedure]
name = "Bearings in"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Final"
groups = ["main"]
torque = "22 N·m"
order = "listed"
[[part]]
name = "dowel"
before = "Final"
[[callout]]
before = "Final"
kind = "heat"
say = "Seat hot"
to = "120 °C"
within = "30s"
[[check]]
before = "Final"
ask = "Square above the seat?"
[[part]]
name = "bearing"
before = "Final"
[[callout]]
before = "Final"
kind = "heat"
say = "Stud hot"
within = "1m"
`

// hot is a walk whose seat has just been confirmed hot, at start.
func hot(t *testing.T) *State {
	t.Helper()
	s := New(planOf(t, hotSeat))
	must(t, s, Command{Do: Confirm}, start.Add(-time.Hour)) // the dowel
	if _, _, running := s.HeatFor(start); running {
		t.Fatal("it runs before it is hot")
	}
	must(t, s, Command{Do: Confirm}, start)
	return s
}

func after(seconds int) time.Time { return start.Add(time.Duration(seconds) * time.Second) }

func lastDeviation(s *State) string {
	if len(s.Deviations) == 0 {
		return ""
	}
	return s.Deviations[len(s.Deviations)-1].Text
}

// The time runs from hot to the part that goes in, whatever is asked between; late is
// kept and said, and holds nothing up.
func TestHeatRunsUntilThePartIsIn(t *testing.T) {
	for _, c := range []struct {
		at         int
		late, kept string
	}{
		{30, "", ""},
		{31, "too late: 31 s after it was hot, 30 s at most", "part: bearing: too late: 31 s after it was hot, 30 s at most (Seat hot: to 120 °C, then within 30 s)"},
		{7200, "too late: 2 h after it was hot, 30 s at most", "part: bearing: too late: 2 h after it was hot, 30 s at most (Seat hot: to 120 °C, then within 30 s)"},
	} {
		s := hot(t)
		if left, heat, running := s.HeatFor(after(12)); !running || left != 18*time.Second || heat.Say != "Seat hot" {
			t.Fatalf("after 12 s: %v, %v", left, running)
		}
		must(t, s, Command{Do: Yes}, after(5))
		if left, _, running := s.HeatFor(after(40)); !running || left != -10*time.Second {
			t.Errorf("after 40 s: %v, %v", left, running)
		}
		must(t, s, Command{Do: Confirm}, after(c.at))
		if s.Late() != c.late || lastDeviation(s) != c.kept {
			t.Errorf("after %d s: %q, kept %q", c.at, s.Late(), lastDeviation(s))
		}
		if _, _, running := s.HeatFor(after(c.at)); running {
			t.Error("it is in, and still it runs")
		}
		must(t, s, Command{Do: Note, Text: "in"}, after(c.at))
		if s.Late() != "" {
			t.Errorf("said again: %q", s.Late())
		}
	}
}

// Where no part follows, the time runs until the first bolt, and only that.
func TestHeatRunsUntilTheFirstBolt(t *testing.T) {
	s := hot(t)
	must(t, s, Command{Do: Yes}, after(1))
	must(t, s, Command{Do: Confirm}, after(20))
	must(t, s, Command{Do: Confirm}, after(100)) // the stud is hot
	must(t, s, Command{Do: Confirm}, after(170))
	if s.Late() != "too late: 1 min 10 s after it was hot, 1 min at most" {
		t.Errorf("the first bolt 70 s later: %q", s.Late())
	}
	must(t, s, Command{Do: Confirm}, after(400))
	if s.Late() != "" {
		t.Errorf("the second bolt: %q", s.Late())
	}
}

// A clock that is set back gives no time away: behind the heat nobody can tell, and
// before that the latest time that was met counts.
func TestHeatAndAClockSetBack(t *testing.T) {
	s := hot(t)
	must(t, s, Command{Do: Yes}, start)
	must(t, s, Command{Do: Confirm}, start)
	if s.Late() != "" {
		t.Errorf("in the very second of the heat: %q", s.Late())
	}
	s = hot(t)
	must(t, s, Command{Do: Yes}, after(5))
	for now, want := range map[time.Time]time.Duration{after(-60): -time.Minute, start.Add(-time.Millisecond): -time.Second} { // never "0 s left"
		if left, _, running := s.HeatFor(now); !running || left != want {
			t.Errorf("behind the heat %v is left, want %v", left, want)
		}
	}
	must(t, s, Command{Do: Confirm}, after(-60))
	if want := "the clock was set back behind the heat: nobody can tell whether it was within 30 s"; s.Late() != want || !strings.Contains(lastDeviation(s), want) {
		t.Errorf("behind the heat: %q, %q", s.Late(), lastDeviation(s))
	}
	s = hot(t)
	must(t, s, Command{Do: Note, Text: "waiting"}, after(300))
	must(t, s, Command{Do: Yes}, after(5))
	if left, _, _ := s.HeatFor(after(10)); left != -270*time.Second {
		t.Errorf("set back after five minutes: %v left", left)
	}
	must(t, s, Command{Do: Confirm}, after(10))
	if !strings.HasPrefix(s.Late(), "too late: 5 min") {
		t.Errorf("set back after five minutes: %q", s.Late())
	}
}

// Taken back and heated again, the time runs anew.
func TestHeatedAgainTheTimeRunsAnew(t *testing.T) {
	s := hot(t)
	must(t, s, Command{Do: Undo, Text: "it cooled"}, after(60))
	if _, _, running := s.HeatFor(after(61)); running {
		t.Error("taken back, and it runs")
	}
	must(t, s, Command{Do: Confirm}, after(600))
	must(t, s, Command{Do: Yes}, after(601))
	must(t, s, Command{Do: Confirm}, after(620))
	if s.Late() != "" {
		t.Errorf("20 s after the second heat: %q", s.Late())
	}
}

// From a work card nobody knows how soon it was.
func TestHeatFromAWorkCard(t *testing.T) {
	s := New(planOf(t, hotSeat))
	card := Command{Do: Confirm, Facts: map[string]string{Paper: "yes"}}
	must(t, s, card, start)
	must(t, s, card, start)
	must(t, s, Command{Do: Yes, Facts: card.Facts}, start)
	must(t, s, card, after(1))
	if want := "from a work card: nobody can tell whether it was within 30 s of the heat"; s.Late() != want {
		t.Errorf("%q", s.Late())
	}
}

// What goes in anew is heated for anew.
func TestWhatIsOpenAgainIsHeatedAgain(t *testing.T) {
	s := hot(t)
	must(t, s, Command{Do: Yes}, after(1))
	for range 4 {
		must(t, s, Command{Do: Confirm}, after(20))
	}
	open := func() string { return strings.Join(s.left(), " ") }
	if open() != "" {
		t.Fatal(open())
	}
	must(t, s, bring(Carried{ID: "bearing", Name: "bearing", Count: 1, Record: "r2"}), after(3600))
	if got := open(); got != "callout:callout-seat-hot part:bearing" {
		t.Errorf("taken out again, open: %s", got)
	}
	must(t, s, Command{Do: Confirm}, after(4000))
	must(t, s, Command{Do: Confirm}, after(4010))
	must(t, s, Command{Do: Problem, Target: "M2", Text: "bent"}, after(4020))
	if got := open(); strings.Contains(got, "callout:callout-stud-hot") {
		t.Errorf("M2 follows no heat, open: %s", got)
	}
	must(t, s, Command{Do: Problem, Target: "M1", Text: "bent"}, after(4030))
	if got := open(); !strings.Contains(got, "callout:callout-stud-hot") {
		t.Errorf("M1 follows the heat, open: %s", got)
	}
}

// By a sheet that heats otherwise what follows goes in anew, and what follows otherwise
// is heated for anew.
func TestHeatByAnEditedSheet(t *testing.T) {
	for _, c := range []struct{ was, now, want string }{
		{`to = "120 °C"`, `to = "110 °C"`, "Final/M1 Final/M2 callout:callout-seat-hot callout:callout-stud-hot check:square-above-the-seat part:bearing slacken:M1 slacken:M2"},
		{`name = "bearing"`, "name = \"bearing\"\nwhere = \"shield out\"", "Final/M1 Final/M2 callout:callout-seat-hot callout:callout-stud-hot check:square-above-the-seat part:bearing slacken:M1 slacken:M2"},
		{`within = "1m"`, `within = "2m"`, "Final/M1 Final/M2 callout:callout-stud-hot check:square-above-the-seat slacken:M1 slacken:M2"},
		{`name = "dowel"`, "name = \"dowel\"\nnumber = \"7\"", ""},
	} {
		s := hot(t)
		must(t, s, Command{Do: Yes}, after(1))
		for range 4 {
			must(t, s, Command{Do: Confirm}, after(20))
		}
		begun := s.Plan
		must(t, s, Command{Do: Resheet, Sheet: edited(t, hotSeat, c.was, c.now), Text: "misread"}, after(30))
		if got := strings.Join(s.left(), " "); got != c.want {
			t.Errorf("%s: open %s", c.now, got)
		}
		if differs := s.differs(begun); differs != "" {
			t.Error(differs)
		}
	}
}

// A sentence of the sheet goes on in the list of what is open without its full stop.
func TestASentenceIsListedWithoutItsFullStop(t *testing.T) {
	s := New(planOf(t, hotSeat+"[[callout]]\nbefore = \"Final\"\nkind = \"lift\"\nsay = \"A second pair of hands.\"\n"))
	if got := strings.Join(s.Outstanding(time.Time{}), "|"); !strings.Contains(got, "A second pair of hands: not confirmed") {
		t.Error(got)
	}
}
