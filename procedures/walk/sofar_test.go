package walk

import (
	"math/rand/v2"
	"reflect"
	"testing"
	"time"
)

func TestTheLatestTimeSinceAnEventIsFoundWithoutTheEvents(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 200 {
		var f soFar
		var times []time.Time
		for range r.IntN(40) {
			at := start.Add(time.Duration(r.IntN(20)) * time.Second) // forth, back, and often the same
			times = append(times, at)
			f.count(Event{At: at})
			for after := range len(times) + 1 {
				var want time.Time
				for _, at := range times[after:] {
					if at.After(want) {
						want = at
					}
				}
				if got, any := f.latestAfter(after); any != (after < len(times)) || !got.Equal(want) {
					t.Fatalf("of %v after %d: %v, %v", times, after, got, any)
				}
			}
		}
		if n := len(times); f.events != n || n > 0 && (!f.first.Equal(times[0]) || !f.last.Equal(times[n-1])) {
			t.Fatalf("of %v: %+v", times, f)
		}
	}
}

// Whole sequences, and such with events out of place, out of time or of another kind.
func TestAStateThatForgetsJudgesAsOneThatRemembers(t *testing.T) {
	refused, undone := 0, 0
	for n := range uint64(150) {
		d := plainDice{rand.New(rand.NewPCG(11, n))}
		p := planOf(t, drawProcedure(d))
		walked := CourseOf(p, drawRules(d)).Start()
		sequence(t, d, p, walked, int(n))
		events := append([]Event(nil), walked.Events...)
		if len(events) == 0 {
			continue
		}
		for range d.roll(4) {
			a, b := d.roll(len(events)), d.roll(len(events))
			switch d.roll(3) {
			case 0:
				events[a], events[b] = events[b], events[a]
				events[a].Seq, events[b].Seq = a+1, b+1
			case 1:
				events[a].At = events[b].At
			default:
				events[a].Kind = events[b].Kind
			}
		}
		remembers, forgets := walked.Anew(), walked.Anew()
		forgets.Forget()
		want := Replay(remembers, events)
		var got []Finding
		for _, e := range events {
			if r := forgets.Follow(e); r != nil {
				got = append(got, Finding{e, r})
			}
			if e.Kind == Undone {
				undone++
			}
		}
		refused += len(got)
		if len(forgets.Events) > 0 || len(forgets.said) > 0 {
			t.Fatalf("sheet %d: it holds %d events", n, len(forgets.Events))
		}
		for _, pair := range [][2]any{{got, want}, {forgets.Phase, remembers.Phase}, {forgets.next, remembers.next}, {forgets.marks, remembers.marks}, {forgets.pieces, remembers.pieces}, {forgets.Deviations, remembers.Deviations}, {forgets.crests, remembers.crests}} {
			if !reflect.DeepEqual(pair[0], pair[1]) {
				t.Fatalf("sheet %d:\n%v\nremembering\n%v", n, pair[0], pair[1])
			}
		}
	}
	if refused == 0 || undone == 0 {
		t.Errorf("%d events refused, %d undone", refused, undone)
	}
}
