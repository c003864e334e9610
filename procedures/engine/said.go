package engine

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// Picture is a picture on record of an engine.
type Picture struct {
	walk.Photo
	Caption string       `json:"caption,omitempty"`
	Of      string       `json:"of,omitempty"`    // the name of what it shows; empty: no single thing
	Thing   *ident.Thing `json:"thing,omitempty"` // where that is a fastener or a part
	Record  string       `json:"record"`          // the record or ledger that names it
	At      time.Time    `json:"at"`
	order   time.Time
}

// Text says in one line what it shows.
func (p Picture) Text() string {
	text := p.Photo.Text(p.Caption)
	if p.Of != "" {
		text += ", of " + p.Of
	}
	return text
}

// remarks gathers the notes of a walk that are of no single thing, and its photos.
func (f *folder) remarks(w *Walk) {
	for _, ev := range w.State.Events {
		order := f.moments.of(ev.Seq)
		if ev.Kind == walk.Noted && w.State.TopicText(ev) == "" && ev.Facts[MeterFact] == "" {
			f.add(order, w.ID, func() { f.e.Notes = append(f.e.Notes, Remark{ev.At, ev.Text}) })
		}
	}
	for _, ev := range w.State.Photos() {
		p, _ := walk.PhotoOf(ev)
		photo := Picture{Photo: p, Caption: ev.Text, Of: placedText(w.State.TopicText(ev), w.Place), Record: w.ID, At: ev.At, order: f.moments.of(ev.Seq)}
		if t := w.State.ThingOf(ev).At(w.Place); t.ID != "" {
			photo.Thing = &t
		}
		f.e.Photos = append(f.e.Photos, photo)
	}
}

// placedText is what something is called, and which of two of a kind it is of.
func placedText(of, place string) string {
	if place == "" {
		return of
	}
	return strings.TrimSuffix(place+": "+of, ": ")
}

// tell keeps what was said of a thing between its walks.
func (t *Thing) tell(ev walk.Event, text string) {
	said := walk.Said{At: ev.At, Text: text}
	if p, ok := walk.PhotoOf(ev); ok {
		said.Photo = &p
	}
	t.Said = append(t.Said, said)
}

// pictured folds a photo that stands in a ledger.
func (f *folder) pictured(ev walk.Event, ledger string) string {
	p, ok := walk.PhotoOf(ev)
	if !ok {
		return "a photo that is not told which"
	}
	photo := Picture{Photo: p, Caption: ev.Text, Of: ev.Piece, Record: ledger, At: ev.At, order: f.now}
	if key := ledgerThing(ev); key.ID != "" {
		photo.Thing, photo.Of = &key, key.String()
		if t := f.offOrBack(key); t != nil {
			photo.Of = placedText(t.Name, t.Place)
			t.tell(ev, ev.Text)
		}
	}
	f.e.Photos = append(f.e.Photos, photo)
	return photo.Text()
}

// offOrBack is a thing that is off, or was and has been had by a close walk since.
func (f *folder) offOrBack(key ident.Thing) *Thing {
	if t := f.off[key]; t != nil {
		return t
	}
	return f.back[key]
}

// fitted remembers under which number a piece of a thing was last fitted new.
func (f *folder) fitted(n need, p walk.Renewable, procedure string) {
	if p.Number == "" || p.Number == walk.NoNumber || p.Number == n.number { // the sheet gives a part number, a bag its lot
		return
	}
	text := fmt.Sprintf("fitted new, number %s (%s)", p.Number, procedure)
	if n.name != "" {
		text = n.name + " " + text
	}
	f.before[n.Thing] = append(f.before[n.Thing], walk.Said{At: p.At, Text: text})
}

// lots tells each thing of the new ones that have arrived for it.
func (f *folder) lots() {
	for _, b := range f.e.Buy {
		for _, lot := range f.lotsOf[rowKey(b.Number, b.Name)] {
			for i := range f.e.Off {
				if t := &f.e.Off[i]; slices.Contains(b.Things, label(t.Thing)) {
					t.Said = append(t.Said, walk.Said{At: lot.At, Text: lot.Text})
					slices.SortStableFunc(t.Said, func(a, b walk.Said) int { return a.At.Compare(b.At) })
				}
			}
		}
	}
}

// sortPhotos sets the photos in the order they were taken in.
func (e *Engine) sortPhotos() {
	slices.SortStableFunc(e.Photos, func(a, b Picture) int { return cmp.Or(a.order.Compare(b.order), cmp.Compare(a.Record, b.Record)) })
}

// Due is something that time runs out on, or that has to have passed.
type Due struct {
	What   string    `json:"what"`
	Over   time.Time `json:"over"` // when
	Past   bool      `json:"past"` // it is
	Record string    `json:"record"`
	text   string
}

// told is how long something that is over is still spoken of, where its walk is closed.
const told = 7 * 24 * time.Hour

// Due lists the sealants that cure, the waits and the work times of an engine's
// walks, by when they are over.
func (e Engine) Due(now time.Time) []Due {
	list := []Due{}
	add := func(w Walk, at time.Time, what, past, running string) {
		if w.Phase != walk.IsOpen && now.Sub(at) > told {
			return
		}
		d := Due{What: what, Over: at, Past: !now.Before(at), Record: w.ID}
		stamp := at.Format("2006-01-02 15:04")
		if d.Past {
			d.text = fmt.Sprintf(past, what, stamp, spec.Span(now.Sub(at)))
		} else {
			d.text = fmt.Sprintf(running, what, stamp, spec.Span(at.Sub(now)))
		}
		list = append(list, d)
	}
	for _, w := range e.Walks {
		if w.State == nil {
			continue
		}
		s := w.State
		if at, ok := s.CuredAt(); ok {
			add(w, at, s.Plan.Procedure.Sealant.Name, "%s cured since %s, %s ago", "%s cured %s, in %s; no oil before")
		}
		if w.Phase != walk.IsOpen {
			continue
		}
		if it := s.CurrentItem(); it != nil && it.Kind == walk.WaitItem {
			add(w, now.Add(s.WaitLeft(s.Current(), now)), it.Text(), "%s: over since %s, %s ago", "%s: over at %s, in %s")
		}
		if left, running := s.SealantLeft(now); running {
			add(w, now.Add(left), "work time of "+s.Plan.Procedure.Sealant.Name, "%s: over since %s, %s ago; open, clean and seal afresh", "%s: over at %s, in %s")
		}
	}
	slices.SortStableFunc(list, func(a, b Due) int { return cmp.Or(a.Over.Compare(b.Over), cmp.Compare(a.Record, b.Record)) })
	return list
}

// Text gives it in one line with when it is over.
func (d Due) Text() string { return d.text }
