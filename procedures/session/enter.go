package session

import (
	"errors"
	"fmt"
	"maps"
	"time"

	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
)

// Enter folds an engine, asks decide what to write into its ledger, and writes
// it, all while nobody else can: of two that say the same at once, the second
// is decided by what the first has written. Nothing is written when decide
// refuses. pictures holds those that the events may name.
func (d Desk) Enter(tag string, pictures *record.Pictures, decide func(engine.Engine) ([]walk.Event, error)) (Entered, error) {
	if !d.Store.Exists() { // what is refused leaves no folder behind
		if _, _, err := d.decided(tag, decide); err != nil {
			return Entered{}, err
		}
	}
	release, err := d.Store.Hold(tag)
	if err != nil {
		return Entered{}, err
	}
	defer release()
	events, clock, err := d.decided(tag, decide)
	if err != nil {
		return Entered{}, err
	}
	return d.enter(tag, pictures, events, clock)
}

// Entered is what there is to say of an entry.
type Entered struct {
	Heed   []string // what has to be read
	Notice string
}

func (d Desk) decided(tag string, decide func(engine.Engine) ([]walk.Event, error)) ([]walk.Event, engine.Clock, error) {
	e, err := d.Engine(tag)
	if err != nil {
		return nil, e.Clock, err
	}
	events, err := decide(e)
	return events, e.Clock, err
}

// enter appends events to the ledger of an engine.
func (d Desk) enter(tag string, pictures *record.Pictures, events []walk.Event, clock engine.Clock) (said Entered, err error) {
	w, before, err := d.openLedger(tag)
	if err != nil {
		return said, err
	}
	defer w.Close()
	if a := w.Aside; a != nil {
		said.Notice = fmt.Sprintf("line %d of the ledger was cut off while it was being written; it is kept in %s", a.Line, a.Path)
	}
	after, heed := behind(clock, d.Now())
	if heed != "" {
		said.Heed = []string{heed}
	}
	write, seq := pictures.Before(w.Append), 0
	if len(before) > 0 {
		seq = before[len(before)-1].Seq
	}
	for _, ev := range events {
		seq++
		ev.Seq, ev.At = seq, d.Now()
		if fact := afterFact(after); fact != nil {
			maps.Copy(fact, ev.Facts)
			ev.Facts = fact
		}
		if err := write(ev); err != nil {
			return said, err
		}
	}
	return said, nil
}

// openLedger waits a little for another program to let go: a ledger is only
// ever held for the moment of an entry.
func (d Desk) openLedger(tag string) (*record.Writer, []walk.Event, error) {
	const tries, pause = 20, 50 * time.Millisecond
	for n := 1; ; n++ {
		w, events, err := d.Store.OpenLedger(tag, d.Program, d.Now())
		var held *record.LockedError
		if !errors.As(err, &held) {
			return w, events, err
		}
		if n == tries {
			return nil, nil, fmt.Errorf("the ledger of this engine is being written by %s; try again in a moment", held.Holder)
		}
		time.Sleep(pause)
	}
}
