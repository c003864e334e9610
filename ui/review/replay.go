package review

import (
	"fmt"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/boltmap"
	"evenpull/ui/fit"
	"evenpull/ui/report"
	"evenpull/ui/theme"
)

// stepTime is between two steps of a replay that plays: long enough to see
// which bolt it was.
const stepTime = 600 * time.Millisecond

// replay is the walk once more, event by event, on the map.
type replay struct {
	frames  []report.Frame
	at      int   // frames shown; 0 is before the first
	counts  []int // confirmed stages of each fastener there
	playing bool
	run     int // which playing this is: a step of an earlier one is late
}

// stepMsg is the time for the next step of a replay.
type stepMsg struct{ run int }

// newReplay stands at the end, where the record stands.
func newReplay(s report.Sheet, frames []report.Frame) replay {
	r := replay{frames: frames, counts: make([]int, len(s.Fasteners))}
	return r.moved(len(frames))
}

// moved stands at another frame.
func (r replay) moved(to int) replay {
	to = max(0, min(to, len(r.frames)))
	r.counts = append([]int{}, r.counts...)
	for ; r.at < to; r.at++ {
		for _, c := range r.frames[r.at].Changes {
			r.counts[c.Fastener] = c.To
		}
	}
	for ; r.at > to; r.at-- {
		for _, c := range r.frames[r.at-1].Changes {
			r.counts[c.Fastener] = c.From
		}
	}
	return r
}

// press does what a key means on this page, and reports whether it means anything.
func (r replay) press(msg tea.KeyMsg, k keymap) (replay, tea.Cmd, bool) {
	switch {
	case key.Matches(msg, k.PageDown):
		return r.toggled()
	case key.Matches(msg, k.Right):
		r = r.moved(r.at + 1)
	case key.Matches(msg, k.Left):
		r = r.moved(r.at - 1)
	case key.Matches(msg, k.Top):
		r = r.moved(0)
	case key.Matches(msg, k.Bottom):
		r = r.moved(len(r.frames))
	default:
		return r, nil, false
	}
	r.playing = false
	return r, nil, true
}

// toggled plays, from the start where it stands at the end, or pauses.
func (r replay) toggled() (replay, tea.Cmd, bool) {
	if r.playing = !r.playing; !r.playing {
		return r, nil, true
	}
	if r.at == len(r.frames) {
		r = r.moved(0)
	}
	r.run++
	return r, r.next(), true
}

func (r replay) playText() string {
	if r.playing {
		return "pause"
	}
	return "play"
}

// take moves on by one step, and reports whether there is another to come.
func (r *replay) take(msg stepMsg) bool {
	if !r.playing || msg.run != r.run {
		return false
	}
	*r = r.moved(r.at + 1)
	r.playing = r.at < len(r.frames)
	return r.playing
}

func (r replay) next() tea.Cmd {
	run := r.run
	return tea.Tick(stepTime, func(time.Time) tea.Msg { return stepMsg{run} })
}

func (r replay) place() string {
	if len(r.frames) == 0 {
		return ""
	}
	text := fmt.Sprintf("step %d of %d", r.at, len(r.frames))
	if r.playing {
		text += ", playing"
	}
	return text
}

// draw gives what happened in words, and the map as it stood then.
func (r replay) draw(s report.Sheet, w, h int) []string {
	if len(r.frames) == 0 {
		return []string{theme.Render(theme.Quiet, fit.Cut("Nothing to replay: no event can be read.", w))}
	}
	said := "Before the first step: everything is open."
	role := theme.Plain
	if r.at > 0 {
		f := r.frames[r.at-1]
		said = f.At.Format("2006-01-02 15:04:05  ") + f.Text
		if f.Setback {
			role = theme.Caution
			said = theme.Mark(theme.Caution) + " " + said
		}
	}
	const most = 3
	lines := fit.Wrap(theme.Text(said), w)
	if len(lines) > most {
		lines = append(lines[:most-1], fit.Cut(lines[most-1]+" "+lines[most], w))
	}
	for i := range lines {
		lines[i] = theme.Render(role, lines[i])
	}
	for len(lines) < min(most, h/4) {
		lines = append(lines, "") // the map stays where it is
	}
	bolts := r.bolts(s)
	legend := fit.Lines(boltmap.Legend(bolts, w, 2))
	if h < len(lines)+len(legend)+6 {
		legend = nil
	}
	drawn := fit.Lines(boltmap.Draw(bolts, w, max(0, h-len(lines)-len(legend))))
	return append(append(lines, drawn...), legend...)
}

func (r replay) bolts(s report.Sheet) []boltmap.Bolt {
	bolts := make([]boltmap.Bolt, len(s.Fasteners))
	for i, f := range s.Fasteners {
		b := boltmap.Bolt{ID: f.ID, X: f.X, Y: f.Y, Hollow: f.Hollow, State: boltmap.Untouched}
		switch n := r.counts[i]; {
		case len(f.Stages) == 0:
			b.State = boltmap.NotThisPass
		case n >= len(f.Stages):
			b.State = boltmap.Done
		case n > 0:
			b.State, b.Note = boltmap.Part, fmt.Sprintf("%d/%d", n, len(f.Stages))
		}
		bolts[i] = b
	}
	if r.at > 0 {
		if f := r.frames[r.at-1]; f.Fastener >= 0 {
			bolts[f.Fastener].State = boltmap.Current
			if f.Setback {
				bolts[f.Fastener].State = boltmap.Trouble
			}
		}
	}
	return bolts
}
