package report

import (
	"fmt"
	"strings"
	"testing"

	"evenpull/procedures/walk"
)

// Played to its end, a replay shows what the sheet says; played back from
// there, an untouched joint.
func TestAReplayEndsWhereTheSheetStands(t *testing.T) {
	undone, resealed := eventful(t), eventful(t)
	undone.upTo("Again/R3/2")
	undone.must(walk.Command{Do: walk.Undo, Text: "wrong one"})
	resealed.must(walk.Command{Do: walk.Reseal, Text: "film broke"})
	edited := eventful(t)
	text := string(edited.live.State.Plan.Procedure.Text)
	group := strings.Index(text, ".at]\n") + len(".at]\n")
	edited.must(walk.Command{Do: walk.Resheet, Sheet: text[:group] + "Z9 = [11, 13]\n" + text[group:], Text: "one was missing"})
	for name, b := range map[string]*bench{"edited": edited, "undone": undone, "resealed": resealed, "eventful": eventful(t), "finished": finished(t), "crankcase": crankcase(t)} {
		s, frames := b.sheet("7"), Frames(b.live.State, nil)
		if len(frames) != len(s.Timeline) {
			t.Errorf("%s: %d frames, %d events", name, len(frames), len(s.Timeline))
		}
		counts := make([]int, len(s.Fasteners))
		for _, f := range frames {
			for _, c := range f.Changes {
				if counts[c.Fastener] != c.From {
					t.Fatalf("%s, event %d: %s goes from %d, it stands at %d", name, f.Seq, s.Fasteners[c.Fastener].ID, c.From, counts[c.Fastener])
				}
				counts[c.Fastener] = c.To
			}
		}
		for i, f := range s.Fasteners {
			if want := f.Count().Confirmed; counts[i] != want {
				t.Errorf("%s: %s ends at %d confirmed stages, the sheet says %d", name, f.ID, counts[i], want)
			}
		}
	}
}

func TestAReplayShowsWhatSentAFastenerBack(t *testing.T) {
	b := eventful(t)
	seen := map[string]bool{}
	for _, f := range Frames(b.live.State, nil) {
		if f.Setback && f.Fastener >= 0 {
			seen[fmt.Sprintf("%s %v", b.live.State.Plan.Procedure.Fasteners[f.Fastener].ID, len(f.Changes) > 0)] = true
		}
	}
	if !seen["R1 true"] || !seen["R2 true"] { // pulled over; its angle lost
		t.Errorf("setbacks that changed the map: %v", seen)
	}
}

func TestWhatWasNotEarnedMovesNothingInAReplay(t *testing.T) {
	b := coverBench(t)
	at := b.live.State.Items[len(b.live.State.Items)-1].Key().String()
	findings := walk.Replay(b.live.State, []walk.Event{{Seq: 1, At: start, Kind: walk.Confirmed, Item: at}})
	frames := Frames(b.live.State, findings)
	if len(findings) != 1 || len(frames) != 1 || len(frames[0].Changes) > 0 {
		t.Errorf("%d findings, frames %+v", len(findings), frames)
	}
}
