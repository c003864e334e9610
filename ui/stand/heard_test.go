package stand

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/ui/voice"
)

// heard is everything that was heard, a line each: how often it rang, what was said.
type heard struct {
	rings int
	lines []string
}

func (h *heard) ear() voice.Ear {
	return voice.Ear{
		Ring: func(times int) { h.rings = times },
		Say: func(sentence string) {
			h.lines = append(h.lines, fmt.Sprint(h.rings, " ", sentence))
			h.rings = 0
		},
	}
}

// want compares what was heard since the last time.
func (h *heard) want(t *testing.T, what string, want ...string) {
	t.Helper()
	if !slices.Equal(h.lines, want) {
		t.Errorf("%s:\n got %s\nwant %s", what, strings.Join(h.lines, "\n     "), strings.Join(want, "\n     "))
	}
	h.lines = nil
}

func newHeardRig(t *testing.T, change ...func(*Config)) (*rig, *heard) {
	h := &heard{}
	r := newRig(t, caseText(t), append(change, func(c *Config) { c.Ear = h.ear() })...)
	r.run(r.model.Init())
	return r, h
}

const dowels = "Question: Both dowels in place?"

func TestEveryStepIsHeardOnce(t *testing.T) {
	r, h := newHeardRig(t)
	h.want(t, "at the start", "0 "+dowels)
	r.press("enter")
	h.want(t, "a yes", "1 Fit thrust washer under the clutch basket, chamfer towards the case.")
	r.toStage("Draw down/M1")
	h.lines = nil
	m1 := r.model.step()
	if !strings.Contains(m1, "M1, ") || !strings.Contains(m1, ": tighten to 8.8 newton metres.") {
		t.Errorf("M1 is said as %s", m1)
	}
	r.press("?", "esc")
	h.want(t, "back from the keys", "0 "+m1)
	r.press("enter").press("enter")
	m3 := r.model.step()
	h.want(t, "a dismissal, then a confirmation", "0 "+m1, "1 "+m3)
	if m3 == m1 {
		t.Error("the step said is the one before")
	}
	r.late = true
	r.press("enter", "enter", "space")
	h.want(t, "while it is being written")
	r.release()
	h.want(t, "and once it is written", "1 "+r.model.step())
	r.press("u", "1", "enter")
	h.want(t, "taken back", "1 Taken back. "+m3)
	r.press("m").write("cold").press("enter")
	h.want(t, "a note", "1 Noted. "+m3)
}

func TestReadingsAreAnsweredByVoice(t *testing.T) {
	r, h := newHeardRig(t)
	r.toStage("Final/M1")
	h.lines = nil
	r.press("2", "1", "enter")
	h.want(t, "without a unit", "2 Refused: it has no unit; tab adds newton metres, tab again the next unit.")
	r.press("tab", "enter")
	h.want(t, "short", "2 Refused: M1 at 21 newton metres is short of 21.12 to 22.88 newton metres; go on until it is reached.")
	r.now = r.now.Add(time.Second)
	r.sends("22.1 N·m\r", 0)
	h.want(t, "in range, from a tool", "1 Read 22.1 newton metres. "+r.model.step())
	r.now = r.now.Add(time.Second)
	r.sends("25 N·m\r", 0)
	h.want(t, "beyond", "2 Refused: M3 at 25 newton metres is over 21.12 to 22.88 newton metres; slacken it and start it again from its first stage.")
	r.press("enter")
	h.want(t, "seen", "0 "+r.model.step())
	r.now = r.now.Add(time.Second)
	r.sends("22 N·m\r", 0)
	h.want(t, "where nothing takes one", "2 A figure came in and nothing here takes one: nothing was done.")
}

func TestWhatIsRefusedOrNotSavedIsHeard(t *testing.T) {
	r, h := newHeardRig(t)
	h.lines = nil
	r.press("d")
	h.want(t, "an early done", "2 Not done: 19 outstanding.")
	r.press("esc")
	h.want(t, "back from the list", "0 "+dowels)
	r.fails = errDiskFull
	r.press("enter", "enter") // the first only dismisses
	h.want(t, "not saved", "0 "+dowels, "2 Not saved: write the record: no space left on device; nothing has moved on.")
	r.press("esc")
	h.want(t, "given up", "0 Given up; it was not recorded. "+dowels)
	r.fails = nil
	r.press("n", "enter")
	h.want(t, "no words", "2 Refused: a few words are needed, or esc.")
	r.press("1", "enter")
	h.want(t, "a no", "1 Noted as no; put it right, then answer yes. "+dowels)
	r.press("s", "1", "enter", "n")
	h.want(t, "not stopped", "0 Not stopped; the walk goes on. "+dowels)
	r.press("s", "1", "enter", "y")
	h.want(t, "stopped", "1 Ended unfinished, with 19 outstanding.")
}

// Several new pieces are recorded one after the other, and heard as one.
func TestWhatIsRecordedTogetherIsHeardOnce(t *testing.T) {
	two := strings.Replace(caseText(t), "one_use  = true", "one_use  = true\nwith = [{ part = \"tab washer\", one_use = true }]", 1)
	h := &heard{}
	r := newRig(t, two, func(c *Config) { c.Ear = h.ear() }).toStage("Primary nut/P1/1")
	for r.model.cfg.State.DueNow() == nil {
		t.Fatal("nothing is due")
	}
	h.lines = nil
	n := len(r.events)
	r.press("enter", "a").count(n + 2)
	if len(h.lines) != 1 || !strings.HasPrefix(h.lines[0], "1 Noted as new. ") || strings.Contains(h.lines[0], "first a new") {
		t.Errorf("heard %q", h.lines)
	}
}

func TestClocksAreHeardAsTheyRunOut(t *testing.T) {
	r, h := newHeardRig(t)
	m1 := r.toStage("Draw down/M1").model.step()
	h.lines = nil
	for _, tt := range []struct {
		after time.Duration
		want  string
	}{
		{0, ""},
		{14 * time.Minute, ""},
		{time.Minute, "3 Sealant: 5 minutes left. " + m1},
		{time.Minute, ""},
		{3*time.Minute + 30*time.Second, "3 Sealant: 1 minute left. " + m1}, // of two that were missed the last
		{30 * time.Second, "3 Sealant past its work time: open it, clean it, seal it afresh. " + m1},
		{time.Hour, ""},
	} {
		r.now = r.now.Add(tt.after)
		r.send(tickMsg{})
		if tt.want == "" {
			h.want(t, fmt.Sprint("after ", tt.after))
		} else {
			h.want(t, fmt.Sprint("after ", tt.after), tt.want)
		}
	}
}

func TestOpeningSaysTheClockThatRunsAndWhatHasToBeRead(t *testing.T) {
	r, _ := newHeardRig(t)
	state := r.toStage("Draw down/M3").model.cfg.State
	r.now = r.now.Add(4 * time.Minute)
	_, h := newHeardRig(t, func(c *Config) { c.State, c.Now = state, func() time.Time { return r.now } })
	if len(h.lines) != 1 || !strings.HasPrefix(h.lines[0], "0 Sealant: 15 minutes left. M3,") {
		t.Errorf("heard %q", h.lines)
	}
	_, h = newHeardRig(t, func(c *Config) { c.Heed = []string{"the clock is behind"} })
	h.want(t, "with a page to read", "0 Read the screen first.")
}

func TestTroubleWithTheSpeechProgramIsShownOnce(t *testing.T) {
	trouble := make(chan string, 1)
	trouble <- "speech: talk\x1b[2J: there is no such program here"
	r := newRig(t, caseText(t), func(c *Config) {
		c.Notices = []string{"goes on with yesterday's"}
		c.Ear.Trouble = trouble
	})
	r.run(r.model.Init())
	r.shows("speech: talk", "there is no such program here; goes on with yesterday's").count(0)
	if strings.Contains(r.model.View(), "\x1b[2J") {
		t.Error("an escape sequence got through")
	}
	r.press("enter").wrote(walk.Answered).hides("there is no such program")
}

// What speaks is told of a step and nothing waits for it: no message of the program
// comes of it, and no key is behind one.
func TestNothingComesOfBeingHeard(t *testing.T) {
	count := func(ear voice.Ear) (messages int) {
		r := newRig(t, caseText(t), func(c *Config) { c.Ear = ear })
		for _, name := range []string{"enter", "enter", "d", "esc", "enter", "enter"} {
			r.now = r.now.Add(time.Second)
			next, cmd := r.model.Update(keyMsg(name))
			r.model = next.(Model)
			if cmd != nil {
				messages++
				if msg, ok := cmd().(wroteMsg); ok {
					var m tea.Model
					m, _ = r.model.Update(msg)
					r.model = m.(Model)
				}
			}
		}
		return messages
	}
	if with, without := count((&heard{}).ear()), count(voice.Ear{}); with != without || with == 0 {
		t.Errorf("%d commands with an ear, %d without", with, without)
	}
}
