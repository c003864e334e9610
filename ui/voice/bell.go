package voice

import (
	"io"
	"time"
)

// Bell rings the bell of a terminal.
type Bell struct{ rings newest[int] }

// How often it rings.
const (
	Recorded = 1 // what was asked for is recorded
	Refused  = 2 // or not saved
	Clock    = 3 // time runs out, or is over
)

// apartRings is the time between two rings, without which a terminal makes one of them.
const apartRings = 250 * time.Millisecond

// NewBell rings on a terminal that may be drawn on at the same time, as long as
// both write to the same *os.File: a frame is one write, and a ring is another,
// so that none falls into a sequence.
func NewBell(terminal io.Writer) *Bell {
	return newBell(terminal, func() { time.Sleep(apartRings) })
}

func newBell(terminal io.Writer, pause func()) *Bell {
	b := &Bell{newNewest[int]()}
	go func() {
		for times := range b.rings {
			for range times {
				if _, err := io.WriteString(terminal, "\a"); err != nil {
					return
				}
				pause()
			}
		}
	}()
	return b
}

// Ring rings so many times, after what is being rung. It never blocks.
func (b *Bell) Ring(times int) { b.rings.put(times) }
