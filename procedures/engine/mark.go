package engine

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// Marking is what a person says of a thing between walks.
type Marking struct {
	Place   string // which of two of a kind; empty: wherever there is one alone
	New     bool   // Thing is the name of one that no sheet has, and nobody named before
	Thing   string // an id, a name, a part number, or "B3 M8x1.25"
	Kind    walk.Kind
	Work    string            // sent
	To      string            // sent: to whom
	Number  string            // arrived: batch
	Count   int               // wanted, ordered, arrived: how many; 0: all that are missing
	From    string            // ordered, arrived: from whom
	Price   string            // ordered, arrived: "12.50 EUR", "12.50 EUR each", "50 EUR in all"; back: what the work cost
	Facts   walk.Facts        // corrected
	Because string            // wanted, cancelled, gone, corrected, found: why
	Note    string            // noted: what
	Photo   map[string]string // what an event keeps of a picture
	Caption string            // of the photo
}

// Marks are the kinds of marking there are, as a person types them.
var Marks = []walk.Kind{record.Wanted, record.Ordered, record.Arrived, record.Cancelled, record.Sent, record.Back, walk.Cleaned, record.Gone, record.Corrected, walk.Noted, walk.Pictured}

// Marked gives the events of a marking for the ledger, or says why it cannot be
// and what can. It leaves Seq and At to the caller.
func (e Engine) Marked(m Marking) ([]walk.Event, error) {
	var events []walk.Event
	if m.New && isBuying(m.Kind) {
		return e.markedNew(m)
	}
	if m.New {
		if m.Kind != walk.Found && m.Kind != record.Sent {
			return nil, fmt.Errorf("a new thing is found or sent, wanted, ordered or has arrived; write: sent WORK, or: found good, box 3, or: wanted")
		}
		if m.Facts.AsksAgain() {
			return nil, askAgain(m.Facts[walk.Condition])
		}
		ev, err := e.NewThing(m.Thing, m.Place, m.Facts)
		if err != nil {
			return nil, err
		}
		ev.Text = m.Because
		events = append(events, ev)
		id, _ := ident.PartOf(ev.Item)
		e.Off = append(slices.Clip(e.Off), Thing{Thing: ident.Part(id).At(record.PlaceKey(m.Place)), Name: m.Thing, Count: 1, New: true})
		m.Thing = id
	}
	if m.Kind != walk.Found {
		ev, err := e.Mark(m)
		if err != nil {
			return nil, err
		}
		events = append(events, ev)
	}
	if m.Photo == nil || m.Kind == walk.Pictured {
		return events, nil
	}
	ev, err := e.Picture(m)
	return append(events, ev), err
}

// Mark turns a marking of a thing that is known into an event for the ledger.
func (e Engine) Mark(m Marking) (walk.Event, error) {
	if isBuying(m.Kind) {
		return e.markBuying(m)
	}
	if m.Kind == walk.Pictured {
		return e.Picture(m)
	}
	if m.Kind == walk.Noted && m.Note == "" {
		return walk.Event{}, fmt.Errorf("nothing is noted; write: noted TEXT")
	}
	if m.Kind == walk.Noted && strings.EqualFold(m.Thing, walk.Whole) {
		return walk.Event{Kind: walk.Noted, Text: m.Note}, nil
	}
	t, err := e.thing(m.Thing, m.Place, m.fits)
	if err != nil {
		return walk.Event{}, err
	}
	ev := eventOn(t, m.Kind)
	switch m.Kind {
	case record.Sent:
		return markSent(t, m, ev)
	case record.Back:
		if t.Work == "" {
			return ev, fmt.Errorf("%s is not out for work; send it first: %s", t.Name, shell.Line("mark", []string{e.Tag, t.ID, "sent", "WORK"}))
		}
		return ev, priced(Buy{Name: t.Name}, Marking{Kind: m.Kind, Price: m.Price, Count: 1}, ev)
	case walk.Cleaned:
		if t.Work != "" {
			return ev, fmt.Errorf("%s is still out for %s; mark it back first", t.Name, t.Work)
		}
		if t.Unclean == "" {
			return ev, fmt.Errorf("%s does not wait to be cleaned", t.Name)
		}
	case record.Gone:
		if ev.Text = m.Because; ev.Text == "" {
			return ev, fmt.Errorf("a thing that will not go back needs a reason; add --because REASON")
		}
	case record.Corrected:
		return markCorrected(m, ev)
	case walk.Noted:
		ev.Text = m.Note
	default:
		return ev, fmt.Errorf("%q is no mark; write wanted, ordered, arrived, cancelled, sent, back, cleaned, gone, corrected, noted or photo", spec.Printable(string(m.Kind)))
	}
	return ev, nil
}

// eventOn is an event of the ledger about a thing.
func eventOn(t Thing, kind walk.Kind) walk.Event {
	ev := walk.Event{Kind: kind, Facts: map[string]string{}}
	if t.IsFastener() {
		ev.Fastener, ev.Facts[threadFact] = t.ID, t.Thread
	} else {
		ev.Item = t.Thing.Text()
	}
	if t.Place != "" {
		ev.Facts[record.Place] = t.Place
	}
	return ev
}

// Picture is the event that keeps the picture of a marking: of what is off, of the
// whole engine, or of what has arrived.
func (e Engine) Picture(m Marking) (walk.Event, error) {
	ev := walk.Event{Kind: walk.Pictured, Facts: map[string]string{}}
	t, err := e.thing(m.Thing, m.Place, m.fits)
	switch b, unknown := e.row(m.Thing, m.Place); {
	case strings.EqualFold(m.Thing, walk.Whole):
	case err == nil:
		ev = eventOn(t, walk.Pictured)
	case unknown == nil:
		ev.Piece = b.Name
	default:
		return ev, err
	}
	maps.Copy(ev.Facts, m.Photo)
	ev.Text = m.Caption
	return ev, nil
}

func markSent(t Thing, m Marking, ev walk.Event) (walk.Event, error) {
	switch {
	case t.Sent != nil:
		return ev, fmt.Errorf("%s is out for %s already; mark it back first", t.Name, t.Work)
	case m.Work == "" && t.Work == "":
		return ev, fmt.Errorf("the work is not named; write: sent balancing")
	case m.Work == "back" || m.Work == "replace":
		return ev, fmt.Errorf("%q is no work; write: sent balancing", m.Work)
	}
	if ev.Text = m.Work; ev.Text == "" {
		ev.Text = t.Work
	}
	if m.To != "" {
		ev.Facts["to"] = m.To
	}
	return ev, nil
}

func askAgain(condition string) error {
	return fmt.Errorf("%s: is it to be used again? add: again yes, or: again no", spec.Printable(condition))
}

func markCorrected(m Marking, ev walk.Event) (walk.Event, error) {
	switch c := m.Facts[walk.Condition]; {
	case m.Because == "":
		return ev, fmt.Errorf("a correction needs a reason; add --because REASON: what was first written stays in the record")
	case m.Facts[walk.OfPiece] != "":
		return ev, fmt.Errorf("one of several is corrected in its strip-down, or in a note; here all of it: leave out piece")
	case len(m.Facts) == 0:
		return ev, fmt.Errorf("nothing is corrected; write: corrected worn, box 3")
	case m.Facts.AsksAgain():
		return ev, askAgain(c)
	}
	for k, v := range m.Facts {
		ev.Facts[k] = v
	}
	ev.Text = m.Because
	return ev, nil
}

// NameOf is what a person calls that which one of the events of a marking is about:
// "M3", "rear head: cylinder head".
func (e Engine) NameOf(ev walk.Event, events []walk.Event) string {
	key := ledgerThing(ev)
	switch {
	case ev.Piece != "":
		return ev.Piece
	case key.ID == "":
		return walk.Whole
	}
	for _, t := range e.Off {
		if t.Thing == key {
			return t.Called()
		}
	}
	for _, other := range events {
		if other.Kind == walk.Found && other.Item == ev.Item {
			return placedText(other.Facts[walk.NewName], key.Place)
		}
	}
	return key.String()
}

// fits reports whether a marking can be meant of a thing: of two cylinder heads the
// one comes back that is away.
func (m Marking) fits(t Thing) bool {
	switch m.Kind {
	case record.Back:
		return t.Work != ""
	case walk.Cleaned:
		return t.Unclean != ""
	}
	return true
}

// thing finds what is off by what a person calls it. Of several the one is meant
// that fits, if there is just one.
func (e Engine) thing(name, place string, fits func(Thing) bool) (Thing, error) {
	var found []Thing
	for _, t := range e.Off {
		if place != "" && t.Place != record.PlaceKey(place) {
			continue
		}
		if strings.EqualFold(t.Thing.String(), name) {
			return t, nil
		}
		if strings.EqualFold(t.ID, name) || strings.EqualFold(t.Name, name) || t.Number != "" && strings.EqualFold(t.Number, name) {
			found = append(found, t)
		}
	}
	fit := slices.DeleteFunc(slices.Clone(found), func(t Thing) bool { return !fits(t) })
	switch {
	case len(fit) == 1:
		return fit[0], nil
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		return Thing{}, fmt.Errorf("%q could be %s; write one of them", spec.Printable(name), listed(found))
	case len(e.Off) == 0:
		return Thing{}, fmt.Errorf("nothing is off engine %s, so nothing can be marked but what has arrived", e.Tag)
	}
	return Thing{}, fmt.Errorf("%q is not off engine %s; see what is: %s", spec.Printable(name), e.Tag, shell.Line("engine", []string{e.Tag}))
}

func listed(things []Thing) string {
	const few = 6
	var words []string
	for _, t := range things[:min(few, len(things))] {
		words = append(words, strconv.Quote(t.Thing.String()))
	}
	if len(things) > few {
		words = append(words, "…")
	}
	return strings.Join(words, ", ")
}

// row finds a row of the list to order by part number, name, or the one thing
// it is for.
func (e Engine) row(name, place string) (Buy, error) {
	var called, found []Buy
	for _, b := range e.Buy {
		named := strings.EqualFold(b.Name, name)
		if named && b.Number == "" || b.Number != "" && strings.EqualFold(b.Number, name) {
			return b, nil
		}
		if named {
			called = append(called, b)
		}
		if b.isFor(name, place) {
			found = append(found, b)
		}
	}
	if len(called) > 0 {
		found = called
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		var names []string
		for _, b := range found {
			if len(called) > 1 {
				b.Name = b.Number
			}
			names = append(names, strconv.Quote(b.Name))
		}
		return Buy{}, fmt.Errorf("%q could be %s; write one of them", spec.Printable(name), strings.Join(names, ", "))
	case len(e.Buy) == 0:
		return Buy{}, fmt.Errorf("nothing is to order for engine %s", e.Tag)
	}
	return Buy{}, fmt.Errorf("%q is not on the list to order of engine %s; see it with: %s", spec.Printable(name), e.Tag, shell.Line("parts", nil, "--engine", e.Tag))
}
