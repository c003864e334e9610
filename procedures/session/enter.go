package session

import (
	"errors"
	"fmt"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
)

// Enter appends events to the ledger of an engine. aside is a torn last line
// that was put aside, or nil.
func (d Desk) Enter(tag string, events []walk.Event) (aside *record.Aside, err error) {
	w, before, err := d.openLedger(tag)
	if err != nil {
		return nil, err
	}
	defer w.Close()
	seq := 0
	if len(before) > 0 {
		seq = before[len(before)-1].Seq
	}
	for _, ev := range events {
		seq++
		ev.Seq, ev.At = seq, d.Now()
		if err := w.Append(ev); err != nil {
			return w.Aside, err
		}
	}
	return w.Aside, nil
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
