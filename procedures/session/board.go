package session

import (
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"evenpull/procedures"
	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/spec"
	"evenpull/spec/read"
)

// Board is what there is to choose from at the desk.
type Board struct {
	Open    []OpenWalk       // last touched first
	Over    []record.Summary // done, stopped or broken, newest first
	Engines []engine.Brief
	Sheets  []Sheet // the person's own first
}

// OpenWalk is one left open.
type OpenWalk struct {
	record.Summary
	Sheet  string // of those on the board: begun on its engine, it goes on with this one; or none
	Next   string // what it asks for now; nothing when it is at its end, or cannot be read
	HeldBy string // who has it open, if anybody
}

// Sheet is a procedure that can be walked, or why not. A file that goes both ways is two.
type Sheet struct {
	Ref       string // bundled name or file: what to ask for
	Own       bool   // the person's, not bundled
	Procedure *spec.Procedure
	Problems  read.Problems // of one without a Procedure
	Err       error         // why it cannot be opened at all

	wanted wanted // what asking for it on no engine comes to
}

// Board reads what there is to choose from.
func (d Desk) Board() (Board, error) {
	records, err := d.Store.Recall(d.Cache, record.Filter{})
	if err != nil {
		return Board{}, err
	}
	ledgers, _, err := d.Store.Ledgers() // what is wrong with one is said on its engine's page
	if err != nil {
		return Board{}, err
	}
	b := Board{Engines: engine.Overview(records, ledgers), Sheets: d.sheets()}
	for _, sum := range records {
		if sum.State != record.StateOpen {
			b.Over = append(b.Over, sum)
			continue
		}
		b.Open = append(b.Open, OpenWalk{Summary: sum, Sheet: sheetOf(sum, b.Sheets), Next: nextOf(sum.Path), HeldBy: d.HeldBy(sum.ID)})
	}
	slices.SortStableFunc(b.Open, func(x, y OpenWalk) int { return y.Touched().Compare(x.Touched()) })
	return b, nil
}

// HeldBy says who has a walk open, or nothing.
func (d Desk) HeldBy(id string) string {
	if h, held := d.Store.HeldBy(id); held {
		return h.String()
	}
	return ""
}

func (d Desk) sheets() []Sheet {
	var list []Sheet
	for _, s := range d.loaded() {
		both := []Sheet{s}
		if p := s.Procedure; p != nil && p.Other != nil {
			both = []Sheet{{Ref: s.Ref + ":" + string(p.Other.Direction), Own: s.Own, Procedure: p.Other}, {Ref: s.Ref + ":" + string(p.Direction), Own: s.Own, Procedure: p}}
		}
		for _, s := range both {
			if s.Procedure != nil {
				s.wanted = d.wanted(Request{Procedure: s.Ref}, s.Procedure)
			}
			list = append(list, s)
		}
	}
	return list
}

// loaded reads every sheet there is, one's own first, several at a time: the first screen
// waits for them.
func (d Desk) loaded() []Sheet {
	names, bundled := d.Library.Names(), len(procedures.Bundled())
	list := make([]Sheet, len(names))
	var next atomic.Int64
	var all sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(list); i = int(next.Add(1)) - 1 {
				name := names[(i+bundled)%len(names)]
				s := &list[i]
				s.Ref, s.Own = name, i < len(names)-bundled
				s.Procedure, s.Problems, s.Err = d.Library.Load(name)
			}
		})
	}
	all.Wait()
	return list
}

// sheetOf gives the sheet that goes on with an open walk when it is asked for on its
// engine, as Open would.
func sheetOf(sum record.Summary, sheets []Sheet) string {
	for _, s := range sheets {
		w := s.wanted
		if w.tag = sum.Engine; s.Procedure != nil && w.choose(false, []record.Summary{sum}).goOn != "" {
			return s.Ref
		}
	}
	return ""
}

// nextOf says what an open walk asks for, or nothing if it cannot be read.
func nextOf(path string) string {
	f, err := record.Read(path)
	if err != nil {
		return ""
	}
	state, _, err := f.Replay()
	if err != nil || state.CurrentItem() == nil {
		return ""
	}
	return state.CurrentItem().Text()
}
