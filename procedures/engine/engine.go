// Package engine is the memory between strip-down and close-up: what came off
// an engine, in what state, where it is now, what has to be bought, and what
// was measured last time.
//
// Nothing is stored here. An engine is the fold of its walks and its ledgers,
//
//	engine = Fold(tag, walks, ledgers, closers)
//
// in the order of time, whatever the order of the files, so that folders of two
// machines can be merged and no cache can go stale. A thing is off from the
// moment an open walk confirmed it out until a close walk confirms it in its
// place, renews it or accounts for it. Where clocks disagree, a close walk that
// names the strip-down its things came from counts before the clock.
package engine

import (
	"slices"
	"strings"
	"sync"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// Walk is one record of the engine, replayed.
type Walk struct {
	ID        string          `json:"id"`
	Tag       string          `json:"-"`
	Place     string          `json:"place,omitempty"` // which of two of a kind on the engine
	Procedure string          `json:"procedure"`
	Source    string          `json:"source"` // as the person would type it again
	Direction spec.Direction  `json:"direction"`
	Started   time.Time       `json:"started"`
	After     time.Time       `json:"-"` // what it was known to come after, when its clock was behind
	Last      time.Time       `json:"last"`
	Phase     walk.Phase      `json:"state"`
	Confirmed int             `json:"confirmed"`
	Stages    int             `json:"stages"`
	Meter     string          `json:"meter,omitempty"`   // hours or distance run, as last given in it
	Problem   string          `json:"problem,omitempty"` // why it cannot be relied on as a whole
	Broken    bool            `json:"-"`                 // and cannot be gone on with
	State     *walk.State     `json:"-"`                 // nil when it cannot be replayed
	Proc      *spec.Procedure `json:"-"`

	order time.Time // of its last event
}

// WalkOf replays a record. One that is broken counts up to its break, and says so.
func WalkOf(f *record.File) Walk {
	w := Walk{ID: f.ID(), Tag: f.Header.Engine, Place: record.PlaceKey(f.Header.Place), Procedure: f.Header.Procedure, Source: f.Header.Source,
		Direction: f.Header.Direction, Started: f.Header.Started, After: f.Header.After, Last: f.Header.Started, Phase: walk.IsOpen}
	if !f.Chain.Whole() && !f.Chain.Torn {
		w.Problem, w.Broken = "the record is "+f.Chain.String(), true
	}
	s, findings, err := f.Replay()
	if err != nil {
		w.Problem = err.Error()
		return w
	}
	if len(findings) > 0 && w.Problem == "" {
		w.Problem = "something in it was not earned: see " + shell.Line("verify", []string{w.ID})
	}
	w.State, w.Proc, w.Phase = s, s.Plan.Procedure, s.Phase
	if at := s.LastAt(); !at.IsZero() {
		w.Last = at
	}
	w.Confirmed, w.Stages = record.Confirmed(s), len(s.Plan.Stages)
	return w
}

// Engine is where an engine stands. Lists are in a fixed order.
type Engine struct {
	Tag      string             `json:"engine"`
	Name     string             `json:"name,omitempty"`
	Meter    string             `json:"meter,omitempty"`  // hours or distance run, as last given
	Notes    []Remark           `json:"notes,omitempty"`  // of no single thing, from walks and between them
	Photos   []Picture          `json:"photos,omitempty"` // oldest first
	Walks    []Walk             `json:"walks"`            // oldest first
	Off      []Thing            `json:"off"`              // in the order it came off
	Faults   []Fault            `json:"faults,omitempty"` // found wrong at strip-down and not answered, oldest first
	Buy      []Buy              `json:"buy"`
	Costs    []Cost             `json:"costs,omitempty"`       // of what was ordered, bought and done outside, oldest first
	Totals   []string           `json:"totals,omitempty"`      // of the costs, one for each currency
	ToClose  []string           `json:"to_close"`              // close procedures with something off, in the order of the work
	Closings []Closing          `json:"to_close_at,omitempty"` // the same with their places, when there are two of a kind
	Last     map[string]Reading `json:"last"`                  // newest by check:ID, part:ID, or a fastener's id and thread
	Renewals []Renewal          `json:"renewed"`
	Problems []string           `json:"problems,omitempty"` // what a person has to know or sort out
	Clock    Clock              `json:"-"`                  // the newest on record

	place    string // it is seen from; see At
	closings []Closing
	names    []naming
	inside   []Fault                   // said in a ledger to be perhaps in the engine
	also     []string                  // other names sheets have for it
	events   []happening               // of ledgers, oldest first
	closers  func() []*spec.Procedure  // read when something is off, or was found: reading them takes longer than all else
	loose    map[ident.Thing]loosening // let go by a walk, and not tightened since
	cased    map[ident.Thing]string    // thread in the case found stripped, and not repaired since: by which record
}

// loosening says which record let a fastener go, and when.
type loosening struct {
	record string
	at     time.Time
}

// Remark is something said at a time.
type Remark struct {
	At   time.Time `json:"at"`
	Text string    `json:"text"`
}

// happening is an event of a ledger in words.
type happening struct {
	Remark
	record string // ledger
	order  time.Time
	aside  bool // said of the engine, not work done on it
}

// Happened is something that was said between walks.
type Happened struct {
	Remark
	Record string // the ledger that has it
}

// Between lists what was said between walks, oldest first.
func (e Engine) Between() []Happened {
	list := make([]Happened, len(e.events))
	for i, h := range e.events {
		list[i] = Happened{h.Remark, h.record}
	}
	return list
}

// aside tells what is only said of an engine from work done on it.
func aside(k walk.Kind) bool {
	return k == record.Named || k == record.Also || k == record.Metered || k == walk.Noted || k == walk.Pictured
}

// Renewal is a new piece fitted in a close walk.
type Renewal struct {
	At     time.Time `json:"at"`
	Piece  string    `json:"piece"`
	Place  string    `json:"place,omitempty"`
	Number string    `json:"number,omitempty"` // part or batch number
	Record string    `json:"record"`
	order  time.Time
}

// Fold gives where an engine stands. Walks and ledgers of other tags are left
// out. closers gives the close procedures there are to walk, in the order of the
// work, if it comes to that; those the engine's own close walks were walked by are added.
func Fold(tag string, walks []Walk, ledgers []*record.File, closers func() []*spec.Procedure) Engine {
	e := Engine{Tag: spec.Printable(strings.TrimSpace(tag)), Last: map[string]Reading{}, loose: map[ident.Thing]loosening{}, cased: map[ident.Thing]string{}}
	for _, w := range walks {
		if record.SameTag(w.Tag, tag) {
			e.Walks = append(e.Walks, w)
			if w.Problem != "" {
				e.Problems = append(e.Problems, w.ID+": "+w.Problem)
			}
		}
	}
	slices.SortFunc(e.Walks, func(a, b Walk) int {
		if c := record.Order(a.Started, a.After).Compare(record.Order(b.Started, b.After)); c != 0 {
			return c
		}
		return strings.Compare(a.ID, b.ID)
	})
	slices.Sort(e.Problems)
	own := e.Walks
	e.closers = sync.OnceValue(func() []*spec.Procedure { return withWalked(closers(), own) })
	f := newFolder(&e)
	for i := range e.Walks {
		f.walk(&e.Walks[i])
	}
	for _, l := range ledgers {
		if record.SameTag(l.Header.Engine, tag) {
			f.ledger(l)
		}
	}
	f.run()
	e.Off = f.things()
	e.findings()
	e.nameProblem()
	e.modelProblem()
	e.toClose()
	e.toBuy(f)
	f.lots()
	e.sortPhotos()
	return e
}

// withWalked adds the close procedures an engine was walked by that are not
// known by name: a person's own sheet counts as much as a bundled one.
func withWalked(closers []*spec.Procedure, walks []Walk) []*spec.Procedure {
	all := slices.Clone(closers)
	for _, w := range slices.Backward(walks) { // the newest text of each
		if w.Proc == nil || w.Direction != spec.Close {
			continue
		}
		if !slices.ContainsFunc(all, func(p *spec.Procedure) bool { return p.Name == w.Procedure }) {
			all = append(all, w.Proc)
		}
	}
	return all
}

// Empty reports whether nothing is on record of the tag.
func (e Engine) Empty() bool { return len(e.Walks) == 0 && len(e.events) == 0 }
