package record

import (
	"fmt"
	"os"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// State is where a record stands, for a list.
type State string

const (
	StateOpen    State = "open"
	StateDone    State = "done"
	StateStopped State = "stopped"
	StateBroken  State = "broken" // it cannot be read, or its chain is broken
)

// Summary is one line of a list of records.
type Summary struct {
	ID        string
	Path      string
	Procedure string
	Source    string // file name or bundled name it was started from
	From      string // where that lies, as in Header
	SHA256    string // of the procedure text
	Engine    string
	Place     string // which of two of a kind on the engine; mostly empty
	Direction spec.Direction
	State     State
	Started   time.Time
	After     time.Time // what it was known to come after, when the clock was behind; else zero
	Last      time.Time // of the last event; Started when there is none
	Events    int
	Confirmed int    // stages
	Stages    int    // all stages of the procedure
	FalseDone bool   // it says done, and its events do not earn it
	Torn      bool   // its last line was cut off and will be put aside
	Problem   string // of a broken one: what is wrong with it
	CopyOf    string // the record beside it that it was copied from; it is broken then

	began string // the id it was begun under
}

// List sums up every record of the store, newest first; where a clock was behind,
// by what came after what. Broken ones are listed as broken. Every record is
// replayed, as whoever opens it would: a done that its events do not earn is
// listed as open.
func (s *Store) List() ([]Summary, error) { return s.Search(Filter{}) }

// begun is where a record stands among others: by its date, unless its clock was
// behind what it came after.
func (s Summary) begun() time.Time { return Order(s.Started, s.After) }

// Order is where something written at a time, after something else, stands among
// others; after may be zero.
func Order(at, after time.Time) time.Time {
	if after.IsZero() || at.After(after) {
		return at
	}
	return after.Add(1)
}

// Touched is where its last event stands among those of other records.
func (s Summary) Touched() time.Time { return Order(s.Last, s.After) }

// inParallel does something for each of n files, on as many processors as there
// are, up to eight. Each of those asks for its own doer, which may keep a buffer.
func inParallel(n int, doer func() func(i int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(8, runtime.GOMAXPROCS(0), n) {
		all.Go(func() {
			do := doer()
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	all.Wait()
}

// lister sums up one record after another; what it needs room for it keeps.
type lister struct {
	store   *Store
	courses *courses
	memo    *memo // nil: none
	word    *word // nil: none

	data   []byte
	events []walk.Event
}

// summarise sums up one record. It is nil when there is a word and the record has
// it nowhere.
func (l *lister) summarise(id string) *Summary {
	path := l.store.Path(id)
	if l.word == nil && l.memo != nil {
		if is, err := glanceAt(path); err == nil { // it need not be opened
			if sum := l.memo.recall(path, id, is); sum != nil {
				return sum
			}
		}
		l.memo.readClock()
	}
	h, is, err := openRegular(path)
	if err != nil {
		return unreadable(path, err)
	}
	defer h.close()
	data, err := h.readAll(path, is, l.data)
	if err != nil {
		return unreadable(path, err)
	}
	l.data = data
	if l.word != nil {
		if !l.word.mayBeInRecord(data) {
			return nil
		}
		if sum := l.memo.recall(path, id, is); sum != nil {
			if whole, _ := cut(data); l.word.inRecord(sum, whole[min(1, len(whole)):]) {
				return sum
			}
			return nil
		}
	}
	sum := broken(path)
	if !l.fill(sum, split(data)) {
		return nil
	}
	if l.word == nil {
		l.memo.keep(id, is, sum)
	}
	return sum
}

// broken is a record before anything is known of it.
func broken(path string) *Summary {
	return &Summary{ID: idOf(path), Path: path, State: StateBroken}
}

// unreadable says why a record cannot be read.
func unreadable(path string, err error) *Summary {
	sum := broken(path)
	if e, ok := err.(*Error); ok {
		err = &Error{What: e.What, Remedy: e.Remedy} // the list names it already
	}
	sum.Problem = err.Error()
	if info, err := os.Lstat(path); err == nil {
		sum.Started = info.ModTime() // so that it is found near its time
	}
	return sum
}

// fill is false when there is a word and the record has it nowhere.
func (l *lister) fill(sum *Summary, in lines) bool {
	if in.header == nil {
		sum.Problem = in.chain.Problem
		return true
	}
	h, rawText, err := decodeHeaderHead(in.header)
	if err != nil {
		sum.Procedure, sum.Engine, sum.Problem = h.Procedure, h.Engine, err.Error()
		if !h.Started.IsZero() {
			sum.Started = h.Started
		}
		return true
	}
	trusted := in.events[:in.trusted]
	sum.began = h.ID
	sum.Procedure, sum.Source, sum.Engine, sum.Direction, sum.SHA256 = h.Procedure, h.Source, h.Engine, h.Direction, h.SHA256
	sum.From, sum.After, sum.Place = h.From, h.After, h.Place
	sum.Started, sum.Last, sum.Torn = h.Started, h.Started, in.chain.Torn
	sum.Events = len(trusted)
	if l.word != nil && !l.word.inRecord(sum, trusted) {
		return false
	}
	c := l.courses.get(courseKey{h.SHA256, h.Rules, h.Direction}, rawText, in.header)
	if c != nil {
		sum.Stages = c.StageCount()
	}
	switch {
	case !in.chain.Whole() && !in.chain.Torn:
		sum.Problem = in.chain.String()
		return true
	case c == nil:
		sum.Problem = "the procedure in its first line cannot be read"
		return true
	}
	l.replay(sum, c.Start(), trusted)
	return true
}

// replay folds the events as walk.Replay does. Nothing of the walk is kept, so
// that the next has the room of its events.
func (l *lister) replay(sum *Summary, s *walk.State, trusted [][]byte) {
	clear(l.events)
	events := l.events[:0]
	for i, line := range trusted {
		e, err := decodeEvent(line)
		if err != nil {
			sum.Problem = fmt.Sprintf("line %d is not an event", i+2)
			return
		}
		events = append(events, e)
	}
	l.events = events
	if n := len(events); n > 0 {
		sum.Last = events[n-1].At
	}
	unearned := walk.Replay(s, events)
	for _, f := range unearned {
		if f.Event.Kind == walk.Done && s.Phase != walk.IsDone {
			sum.FalseDone = true
		}
	}
	sum.State, sum.Confirmed = State(s.Phase), Confirmed(s)
	if text, edited := s.Sheet(); edited {
		sum.SHA256, sum.Stages = TextHash(text), s.StageCount()
	}
}
