package record

import (
	"bytes"
	"sync"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// agenda is what a list has to know of a procedure to count the stages that
// stand confirmed. It is shared by all records of the same text and never
// changed.
type agenda struct {
	plan   *plan.Plan
	fresh  *walk.State // before the first event; only asked, never folded into
	stages int
}

// agendaCache reads each procedure text once, however many records hold it.
type agendaCache struct {
	mu    sync.Mutex
	known map[string]*agenda // by the text as it stands in the header
}

// get gives the agenda of a header, or nil when its procedure cannot be read.
func (c *agendaCache) get(source string, rawText, header []byte) *agenda {
	c.mu.Lock()
	defer c.mu.Unlock()
	if a, ok := c.known[string(rawText)]; ok {
		return a
	}
	if c.known == nil {
		c.known = map[string]*agenda{}
	}
	a := readAgenda(header)
	c.known[string(rawText)] = a
	return a
}

func readAgenda(header []byte) *agenda {
	h, err := decodeHeader(header)
	if err != nil {
		return nil
	}
	p, _ := spec.ReadRecorded(h.Source, []byte(h.Text))
	if p == nil {
		return nil
	}
	a := &agenda{plan: plan.Of(p)}
	a.fresh = walk.New(a.plan)
	for _, it := range a.fresh.Items {
		if it.Kind == walk.StageItem {
			a.stages++
		}
	}
	return a
}

// count gives the stages that stand confirmed after these events.
//
// A walk that only ever went forward is counted from the bytes, without
// decoding: items close in the order of the agenda, so each one either is the
// next or calls for a closer look. Everything else is replayed.
func (a *agenda) count(events [][]byte) int {
	next, stages := 0, 0
	for _, line := range events {
		kind, item, ok := peek(line)
		switch {
		case !ok:
			return a.replayed(events)
		case kind == walk.Noted || kind == walk.Resumed || kind == walk.Refused || kind == walk.Stopped:
		case kind == walk.Found || kind == walk.Brought || kind == walk.Cleaned || kind == walk.Refitted: // of things: no stage opens or closes
		case kind == walk.Renewed && item == nil: // of a fastener: no stage opens or closes
		case kind == walk.Answered && bytes.Contains(line, []byte(`,"answer":"no"`)):
		case kind == walk.Confirmed || kind == walk.Measured || kind == walk.Answered:
			i, known := a.fresh.Find(string(item))
			if !known || i != next {
				return a.replayed(events)
			}
			if next++; a.fresh.Items[i].Kind == walk.StageItem {
				stages++
			}
		default:
			return a.replayed(events)
		}
	}
	return stages
}

// replayed is count done the long way, through the walk itself.
func (a *agenda) replayed(lines [][]byte) int {
	var events []walk.Event
	for _, line := range lines {
		e, err := decodeEvent(line)
		if err != nil {
			break
		}
		events = append(events, e)
	}
	s := walk.New(a.plan)
	walk.Replay(s, events)
	return Confirmed(s)
}

// Confirmed counts the stages of a walk that stand confirmed.
func Confirmed(s *walk.State) int {
	n := 0
	for i, it := range s.Items {
		if it.Kind == walk.StageItem && s.Mark(i).Closed {
			n++
		}
	}
	return n
}

// peek takes kind and item from a line as Append writes it; ok is false for any
// other line, or one with an escape in the item.
func peek(line []byte) (kind walk.Kind, item []byte, ok bool) {
	const kindKey, itemKey = `,"kind":"`, `,"item":"`
	const seqAndTime = 80 // the most that {"seq":…,"at":"…" takes
	if !bytes.HasPrefix(line, []byte(`{"seq":`)) {
		return "", nil, false
	}
	at := bytes.Index(line[:min(len(line), seqAndTime+len(kindKey))], []byte(kindKey))
	if at < 0 {
		return "", nil, false
	}
	word, rest, ok := bytes.Cut(line[at+len(kindKey):], []byte(`"`))
	if !ok {
		return "", nil, false
	}
	if bytes.HasPrefix(rest, []byte(itemKey)) {
		item, _, ok = bytes.Cut(rest[len(itemKey):], []byte(`"`))
		ok = ok && !bytes.ContainsRune(item, '\\')
	}
	return walk.Kind(word), item, ok
}
