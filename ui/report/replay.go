package report

import (
	"time"

	"evenpull/procedures/walk"
)

// Frame is one event of a walk, with what it changed on the map.
type Frame struct {
	Seq      int
	At       time.Time
	Text     string
	Fastener int  // index in Sheet.Fasteners of the one it is about; -1: none
	Setback  bool // it went other than straight: a reading refused, an angle lost …
	Changes  []Change
}

// Change is a fastener whose confirmed stages are no longer as many as before.
type Change struct {
	Fastener int // index in Sheet.Fasteners
	From, To int
}

// Frames replays a walk event by event. A confirmation changes its own
// fastener; after anything else all are counted anew.
func Frames(s *walk.State, findings []walk.Finding) []Frame {
	b := &builder{in: Input{State: s, Findings: findings}, s: s, proc: s.Plan.Procedure}
	b.gather()
	index, counts := map[string]int{}, make([]int, len(b.proc.Fasteners))
	for i, f := range b.proc.Fasteners {
		index[f.ID] = i
	}
	everyone := make([]int, len(counts))
	for i := range everyone {
		everyone[i] = i
	}
	again := s.Anew()
	frames := make([]Frame, 0, len(s.Events))
	for _, e := range s.Events {
		f := Frame{Seq: e.Seq, At: e.At, Text: Entry{Text: clean(b.words(e)), Counts: b.unearn[e.Seq] == nil, Paper: walk.FromPaper(e.Facts)}.Said(), Fastener: -1}
		if i, known := index[fastenerOf(again, e)]; known {
			f.Fastener = i
		}
		switch e.Kind {
		case walk.Rejected, walk.Lost, walk.Trouble, walk.Undone, walk.Resealed, walk.Resheeted:
			f.Setback = true
		}
		if b.unearn[e.Seq] == nil {
			again.Apply(e)
			touched := everyone
			if e.Kind == walk.Confirmed {
				touched = everyone[max(f.Fastener, 0) : f.Fastener+1]
			}
			for _, i := range touched {
				if n := closedStages(again, b.proc.Fasteners[i].ID); n != counts[i] {
					f.Changes = append(f.Changes, Change{i, counts[i], n})
					counts[i] = n
				}
			}
		}
		frames = append(frames, f)
	}
	return frames
}

// fastenerOf is the id of the fastener an event is about, or "".
func fastenerOf(s *walk.State, e walk.Event) string {
	if e.Fastener != "" {
		return e.Fastener
	}
	if i, ok := s.Find(e.Item); ok {
		switch it := s.Items[i]; {
		case it.Kind == walk.StageItem:
			return it.Stage.Fastener.ID
		case it.Fastener != nil:
			return it.Fastener.ID
		}
	}
	return ""
}

func closedStages(s *walk.State, fastener string) int {
	n := 0
	for _, i := range s.StagesOf(fastener) {
		if s.Mark(i).Closed {
			n++
		}
	}
	return n
}
