package plain

import (
	"strings"
	"time"

	"evenpull/ui/speech"
	"evenpull/ui/voice"
)

// What is printed is also heard: nothing here waits for it.

// step is what is in hand, as it is said.
func (w *walker) step() string {
	if w.Ear.Deaf() {
		return ""
	}
	set := w.scale()
	return strings.TrimSpace(speech.Change(w.live.State, set) + " " + speech.Step(w.live.State, set, w.where(), w.live.Now()))
}

func (w *walker) hear(rings int, sentences ...string) {
	w.Ear.Hear(rings, strings.TrimSpace(strings.Join(sentences, " ")))
}

func (w *walker) hearRefused(text string) { w.hear(voice.Refused, speech.Problem("refused: "+text)) }

// hearRecorded says the last event, then what comes.
func (w *walker) hearRecorded() {
	events := w.live.State.Events
	w.hear(voice.Recorded, speech.Event(w.live.State, events[len(events)-1]), w.step())
}

// hearClocks says what clocks come to while a line is waited for, until it is stopped.
func (w *walker) hearClocks() (stop func()) {
	if w.Ear.Deaf() {
		return func() {}
	}
	now, step := w.live.Now(), w.step()
	ahead := speech.Warnings(w.live.State, now)
	after := w.after
	if after == nil {
		after = time.After
	}
	over, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		for _, warning := range ahead {
			select {
			case <-after(warning.At.Sub(now)):
				w.hear(voice.Clock, warning.Text, step)
				now = warning.At
			case <-over:
				return
			}
		}
	}()
	return func() {
		close(over)
		<-stopped // what it says last is not heard after what comes now
	}
}

// trouble says what is wrong with what speaks, once it is known.
func (w *walker) trouble() {
	select {
	case text := <-w.Ear.Trouble:
		w.printf("notice: %s\n", text)
	default:
	}
}
