package plain

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
	"evenpull/ui/voice"
)

const sealed = `format = 1
[procedure]
name      = "Close the cover"
direction = "close"
source    = "Osier sheet 3 (invented)"
[sealant]
name      = "flange sealant"
work_time = "20m"
[group.main]
thread = "M8x1.25"
class  = "8.8"
torque = "22 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name   = "Final"
groups = ["main"]
torque = "100 %"
order  = "listed"
`

// said writes down what is heard: how often it rang, what was said.
type said struct {
	rings int
	lines []string
}

func (s *said) ear() voice.Ear {
	return voice.Ear{Ring: func(n int) { s.rings = n }, Say: func(sentence string) {
		s.lines = append(s.lines, fmt.Sprint(s.rings, " ", sentence))
		s.rings = 0
	}}
}

// sealedWalk is a walk whose clock goes on ten seconds each time it is asked.
func sealedWalk(t *testing.T) *walk.Live {
	now := time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)
	return &walk.Live{State: state(t, sealed), Append: func(walk.Event) error { return nil }, Now: func() time.Time {
		now = now.Add(10 * time.Second)
		return now
	}}
}

// A plain walk is heard as one at the stand is.
func TestAPlainWalkIsHeard(t *testing.T) {
	dialogue := [][]string{
		{"", "0 Set the wrench to 22 newton metres. First smear of flange sealant: 20 minutes from now."},
		{"ok", "1 Set the wrench to 22 newton metres. M1, left one: tighten to 22 newton metres."},
		{"read 18", "2 Refused: it has no unit; write the unit too, such as 22 newton metres."},
		{"read 18 N·m", "2 Refused: M1 at 18 newton metres is short of 21.12 to 22.88 newton metres; go on until it is reached."},
		{"22.1 N·m", "1 Read 22.1 newton metres. M2, right one: tighten to 22 newton metres."},
		{"sing", "2 Refused: sing is not a command here; type help for the list."},
		{strings.Repeat("x", maxLine+1), "2 Refused: that line is too long."},
		{"done", "2 Not done: 1 outstanding."},
		{"undo slipped", "1 Taken back. M1, left one: tighten to 22 newton metres."},
		{"list"},
		{"ok", "1 M2, right one: tighten to 22 newton metres."},
		{"ok", "1 Every stage is confirmed: close the walk."},
		{"done", "1 Closed: everything is confirmed and accounted for."},
	}
	var lines, want []string
	for _, turn := range dialogue {
		lines = append(lines, turn[0])
		want = append(want, turn[1:]...)
	}
	heard := &said{}
	in := strings.NewReader(strings.Join(lines[1:], "\n"))
	if ended, err := Walk(sealedWalk(t), in, io.Discard, Options{Ear: heard.ear()}); err != nil || ended != Done {
		t.Fatal(ended, err)
	}
	if !slices.Equal(heard.lines, want) {
		t.Errorf("heard\n%s\nwant\n%s", strings.Join(heard.lines, "\n"), strings.Join(want, "\n"))
	}
}

// slow is somebody who answers only once the clocks have been heard.
type slow struct {
	lines []string
	until func()
}

func (s *slow) Read(p []byte) (int, error) {
	if len(s.lines) == 0 {
		s.until()
		return 0, io.EOF
	}
	n := copy(p, s.lines[0]+"\n")
	s.lines = s.lines[1:]
	return n, nil
}

func TestClocksAreHeardWhileALineIsWaitedFor(t *testing.T) {
	heard, waits := &said{}, make(chan time.Duration)
	over := make(chan time.Time)
	o := Options{Ear: heard.ear(), after: func(d time.Duration) <-chan time.Time {
		select {
		case waits <- d:
		case <-over:
		}
		return over
	}}
	begun := false
	person := &slow{lines: []string{"ok"}, until: func() {
		begun = true
		var asked []time.Duration
		for range 2 {
			asked = append(asked, <-waits)
			over <- time.Time{}
		}
		asked = append(asked, <-waits)
		if asked[0] < 14*time.Minute || asked[0] > 15*time.Minute || asked[1] != 3*time.Minute || asked[2] != time.Minute {
			t.Errorf("waited %v", asked)
		}
	}}
	if _, err := Walk(sealedWalk(t), person, io.Discard, o); err != nil || !begun {
		t.Fatal(begun, err)
	}
	m1 := "Set the wrench to 22 newton metres. M1, left one: tighten to 22 newton metres."
	want := []string{"1 " + m1, "3 Sealant: 5 minutes left. " + m1, "3 Sealant: 2 minutes left. " + m1}
	if got := heard.lines[1:]; !slices.Equal(got, want) {
		t.Errorf("heard\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestTroubleWithTheSpeechProgramIsSaidOnce(t *testing.T) {
	trouble := make(chan string, 1)
	trouble <- "speech: talk: there is no such program here"
	var out strings.Builder
	if _, err := Walk(sealedWalk(t), strings.NewReader("ok\nok\n"), &out, Options{Ear: voice.Ear{Trouble: trouble}}); err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(out.String(), "notice: speech: talk: there is no such program here\n"); got != 1 {
		t.Errorf("said %d times:\n%s", got, out.String())
	}
}
