package record

import (
	"os"
	"runtime"
	"sort"
	"sync"
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
	Direction spec.Direction
	State     State
	Started   time.Time
	Last      time.Time // of the last event; Started when there is none
	Events    int
	Confirmed int    // stages
	Stages    int    // all stages of the procedure
	Torn      bool   // its last line was cut off and will be put aside
	Problem   string // of a broken one: what is wrong with it
}

// List sums up every record of the store, newest first. Broken ones are listed
// as broken. Chains are followed, so that only a whole record is listed as done;
// whether the done was earned is for Verify.
func (s *Store) List() ([]Summary, error) {
	ids, err := s.ids()
	if err != nil {
		return nil, err
	}
	list := make([]Summary, len(ids))
	var agendas agendaCache
	var buffers sync.Pool
	inParallel(len(ids), func(i int) {
		buf, _ := buffers.Get().(*[]byte)
		if buf == nil {
			buf = new([]byte)
		}
		list[i], *buf = summarise(s.Path(ids[i]), *buf, &agendas)
		buffers.Put(buf)
	})
	sort.SliceStable(list, func(i, j int) bool { return list[i].Started.After(list[j].Started) })
	return list, nil
}

// inParallel does something for each of n files, on as many processors as there
// are, up to eight.
func inParallel(n int, do func(i int)) {
	var wg sync.WaitGroup
	workers := min(8, runtime.GOMAXPROCS(0), n)
	for worker := range workers {
		wg.Go(func() {
			for i := worker; i < n; i += workers {
				do(i)
			}
		})
	}
	wg.Wait()
}

// summarise reads one record into buf, which it hands back for the next.
func summarise(path string, buf []byte, agendas *agendaCache) (Summary, []byte) {
	sum := Summary{ID: idOf(path), Path: path, State: StateBroken}
	data, err := readWhole(path, buf)
	if err != nil {
		if e, ok := err.(*Error); ok {
			err = &Error{What: e.What, Remedy: e.Remedy} // the list names it already
		}
		sum.Problem = err.Error()
		if info, err := os.Lstat(path); err == nil {
			sum.Started = info.ModTime() // so that it is found near its time
		}
		return sum, buf
	}
	sum.fill(split(data), agendas)
	return sum, data
}

func (sum *Summary) fill(l lines, agendas *agendaCache) {
	if l.header == nil {
		sum.Problem = l.chain.Problem
		return
	}
	h, rawText, err := decodeHeaderHead(l.header)
	if err != nil {
		sum.Problem = err.Error()
		return
	}
	sum.Procedure, sum.Source, sum.Engine, sum.Direction, sum.SHA256 = h.Procedure, h.Source, h.Engine, h.Direction, h.SHA256
	sum.From = h.From
	sum.Started, sum.Last, sum.Torn = h.Started, h.Started, l.chain.Torn
	trusted := l.events[:l.trusted]
	sum.Events = len(trusted)
	a := agendas.get(h.Source, rawText, l.header)
	if a != nil {
		sum.Stages = a.stages
	}
	last, err := lastEvent(trusted)
	switch {
	case !l.chain.Whole() && !l.chain.Torn:
		sum.Problem = l.chain.String()
		return
	case a == nil:
		sum.Problem = "the procedure in its first line cannot be read"
		return
	case err != nil:
		sum.Problem = "its last line is not an event"
		return
	}
	if last != nil {
		sum.Last = last.At
	}
	sum.State, sum.Confirmed = standing(last, trusted, a)
}

// standing gives the state the last event says, and how many stages stand
// confirmed: all when done, or else counted.
func standing(last *walk.Event, events [][]byte, a *agenda) (State, int) {
	switch {
	case last == nil:
		return StateOpen, 0
	case last.Kind == walk.Done:
		return StateDone, a.stages
	case last.Kind == walk.Stopped:
		return StateStopped, a.count(events)
	}
	return StateOpen, a.count(events)
}

func lastEvent(events [][]byte) (*walk.Event, error) {
	if len(events) == 0 {
		return nil, nil
	}
	e, err := decodeEvent(events[len(events)-1])
	return &e, err
}
