package stand

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
)

// Once a walk is over nothing is left that Enter could confirm: it leaves, also after
// something lay over the screen.
func TestEnterLeavesAWalkThatIsOver(t *testing.T) {
	for _, before := range [][]string{nil, {"c", "esc"}, {"?", "esc"}} {
		r := newRig(t, caseText(t)).press("s", "1", "enter", "y").wrote(walk.Stopped).press(before...).press("enter")
		if !r.quit {
			t.Errorf("after %v Enter does not leave:\n%s", before, r.screen())
		}
	}
}

// Of a walk that is over nothing more is asked, and no key of what was in hand is left.
func TestNoKeyOfWhatWasInHandIsLeftAfterTheEnd(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1").press("m").write("thread is tender").press("enter").wrote(walk.Noted)
	r.press("h").shows("Said of").press("esc").press("s", "1", "enter", "y").wrote(walk.Stopped)
	n := len(r.events)
	for _, key := range strings.Fields("h w o i u l p N r y n d s m") {
		r.press(key).count(n).shows("ENDED UNFINISHED").hides("Said of")
		if r.quit || len(r.model.over) > 0 {
			t.Fatalf("%s still does something:\n%s", key, r.screen())
		}
	}
}

// A walk that is over has no clock on its screen, whatever was running.
func TestNoClockTicksAfterTheEnd(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1").press("s", "1", "enter", "y").wrote(walk.Stopped)
	r.send(tickMsg{}) // the one that was asked for before
	ticks := 0
	r.model.every = func(time.Duration, func(time.Time) tea.Msg) tea.Cmd { ticks++; return nil }
	r.send(tickMsg{})
	if ticks > 0 {
		t.Errorf("%d more ticks are asked for", ticks)
	}
}

// Where all is confirmed, Enter confirms nothing more and says which key closes the walk.
func TestEnterAtTheEndSaysWhatClosesTheWalk(t *testing.T) {
	for _, key := range []string{"enter", "space", "pgdown"} {
		r := newRig(t, caseText(t)).toStage("").shows("EVERY STAGE IS CONFIRMED")
		n := len(r.events)
		r.press(key).count(n).shows("everything is confirmed: d closes the walk")
	}
}
