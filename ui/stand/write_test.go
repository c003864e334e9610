package stand

import (
	"fmt"
	"testing"

	"evenpull/procedures/walk"
)

func TestAFailedWriteMovesNothingAndCanBeTriedAgain(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1")
	n := len(r.events)
	r.fails = errDiskFull
	r.press("enter").count(n).shows("NOT SAVED", "no space left on device", "Nothing has moved on", "enter try again")
	r.press("r", "d", "u").count(n).shows("NOT SAVED")
	r.press("enter").count(n).shows("NOT SAVED")
	r.fails = nil
	r.press("enter").count(n + 1).wrote(walk.Confirmed).hides("NOT SAVED")
	if e := r.events[n]; e.Item != "Draw down/M1" || e.Seq != n+1 {
		t.Errorf("tried again, event %d is %s", e.Seq, e.Item)
	}
	r.fails = errDiskFull
	r.press("enter", "esc").hides("NOT SAVED").shows("not recorded")
	if at := r.model.facts.item.Key().String(); at != "Draw down/M3" {
		t.Errorf("in hand is %s, want Draw down/M3", at)
	}
}

// Where nothing more can be written, trying again is not offered, and no key does.
func TestAWriterThatIsLostIsNotTriedAgain(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1")
	n := len(r.events)
	r.fails = fmt.Errorf("could not be made safe on disk; quit and open the walk again: %w", walk.ErrLost)
	r.press("enter").count(n).shows("NOT SAVED", "Nothing has moved on", "evenpull walk crankcase-close --engine A12", "q leave   esc look on").hides("try again")
	r.fails = nil
	r.press("enter", "space", "y").count(n).shows("NOT SAVED")
	r.press("esc").shows("nothing more can be").count(n)
	r.fails = walk.ErrLost
	r.press("enter", "enter").shows("NOT SAVED").press("q")
	if !r.quit {
		t.Error("q does not leave")
	}
}

// What was pressed while a write was under way that then failed was meant for what did not
// come about: it is forgotten, and not done after the next write.
func TestKeysOfAFailedWriteAreForgotten(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1")
	n := len(r.events)
	r.fails, r.late = errDiskFull, true
	r.press("enter", "u", "1")
	r.release()
	r.count(n).shows("NOT SAVED")
	r.fails = nil
	r.press("enter").count(n + 1).wrote(walk.Confirmed).hides("Take back")
}

// Somebody leaning on a key while a write is under way fills no memory.
func TestKeysKeptDuringAWriteAreFew(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1")
	r.late = true
	r.press("enter")
	for range 10 * maxHeld {
		r.press("w")
	}
	if n := len(r.model.held); n != maxHeld {
		t.Errorf("%d keys are kept, want %d", n, maxHeld)
	}
	r.release()
}

func TestNoKeyConfirmsWhileAWriteIsUnderWay(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Draw down/M1")
	n := len(r.events)
	r.late = true
	r.press("enter", "enter", "space", "c").count(n).shows("Draw down", "writing")
	if at := r.model.facts.item.Key().String(); at != "Draw down/M1" {
		t.Errorf("the screen went on to %s before the event was on disk", at)
	}
	r.release()
	r.count(n+1).shows("Convert", "esc back") // c was held back, the confirmations were not
	r.press("esc")
	if at := r.model.facts.item.Key().String(); at != "Draw down/M3" {
		t.Errorf("in hand is %s, want Draw down/M3", at)
	}
}
