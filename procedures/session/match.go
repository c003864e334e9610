package session

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// wanted is what a walk is asked for by.
type wanted struct {
	name      string // as typed
	tag       string
	place     string
	from      string // as in record.Header
	hash      string // of the procedure's text; empty when it cannot be read
	procedure string // its name; empty when it cannot be read
	way       spec.Direction
}

func (d Desk) wanted(r Request, p *spec.Procedure) wanted {
	w := wanted{name: r.Procedure, tag: r.Engine, place: r.Place, from: spec.Printable(d.Library.From(r.Procedure))}
	if p != nil {
		w.hash, w.procedure, w.way = record.TextHash(p.Text), spec.Printable(p.Name), p.Direction
	}
	return w
}

// Relation is how an open walk stands to the procedure that is asked for.
type Relation string

const (
	Unrelated Relation = ""
	Same      Relation = "same"
	Edited    Relation = "its procedure file has changed since"
	Moved     Relation = "the same procedure, from another file"
	Namesake  Relation = "another procedure of that name"
	Elsewhere Relation = "the same procedure, but only one of the two names a place"
	Gone      Relation = "its procedure file cannot be read any more"
)

// relation compares text and place, never the name alone: a name only makes it
// worth asking.
func (w wanted) relation(sum record.Summary) Relation {
	place, text := w.placeOf(sum), w.hash != "" && sum.SHA256 == w.hash && sum.Direction == w.way
	switch {
	case w.hash == "" && (place || w.typed(sum)):
		return Gone
	case w.hash == "":
		return Unrelated
	case place && text:
		return Same
	case place:
		return Edited
	case text:
		return Moved
	case sum.Procedure == w.procedure || w.typed(sum):
		return Namesake
	}
	return Unrelated
}

// placeOf reports whether a walk was begun from where the procedure lies now.
// Records from before that was kept have only what was typed. What was piped in
// lies nowhere: its name has to do.
func (w wanted) placeOf(sum record.Summary) bool {
	switch {
	case procedures.IsPiped(w.name):
		return sum.Source == w.name && sum.Procedure == w.procedure
	case sum.From == "" || w.from == procedures.Embedded:
		return w.typed(sum) && (sum.From == "" || sum.From == w.from)
	}
	return sum.From == w.from
}

func (w wanted) typed(sum record.Summary) bool {
	return !procedures.IsPiped(w.name) && sum.Source == spec.Printable(w.name)
}

// Candidate is an open walk that may be the one that is meant.
type Candidate struct {
	ID        string
	Procedure string
	Place     string // which of two of a kind on the engine; mostly empty
	Started   time.Time
	Confirmed int // stages
	Stages    int
	Relation  Relation
}

// Text says which walk it is, when it was begun, how far it is, and why it is asked about.
func (c Candidate) Text() string {
	what := c.Procedure
	if c.Place != "" {
		what += ", " + c.Place
	}
	return fmt.Sprintf("%s: %s, begun %s, %s; %s", c.ID, what, c.Started.Format("2006-01-02 15:04"), walk.StagesText(c.Confirmed, c.Stages), c.Relation)
}

// openWalks gives the open walks of the tag: those of this very procedure, and
// those that may be meant, both newest first.
func (w wanted) openWalks(list []record.Summary) (same, others []Candidate) {
	for _, sum := range list {
		if sum.State != record.StateOpen || !record.SameTag(sum.Engine, w.tag) {
			continue
		}
		c := Candidate{sum.ID, sum.Procedure, sum.Place, sum.Started, sum.Confirmed, sum.Stages, w.relation(sum)}
		switch here, there := record.PlaceKey(w.place), record.PlaceKey(sum.Place); {
		case here != "" && there != "" && here != there:
			continue // two of a kind
		case here != there && c.Relation == Same:
			c.Relation = Elsewhere
		}
		switch c.Relation {
		case Unrelated:
		case Same:
			same = append(same, c)
		default:
			others = append(others, c)
		}
	}
	return same, others
}

// choice is what a request comes to among the walks that are open. With nothing in it
// but what is passed over, a new one is begun.
type choice struct {
	goOn   string      // id of the one to go on with
	also   []Candidate // open too, of the same procedure
	ask    []Candidate // which of these, or a new one
	passed []Candidate // by a new one that was asked for
}

// choose decides by the list alone, newest first.
func (w wanted) choose(fresh bool, list []record.Summary) choice {
	same, others := w.openWalks(list)
	switch {
	case fresh:
		return choice{passed: append(same, others...)}
	case len(same) > 0:
		return choice{goOn: same[0].ID, also: same[1:]}
	}
	return choice{ask: others}
}

// WhichError asks which walk is meant: none that is open is of this very
// procedure, and some may be.
type WhichError struct {
	Request    Request
	Candidates []Candidate
	File       *FileError // why no new walk can be begun, or nil
}

// Error says why it is asked, and names the walks.
func (e *WhichError) Error() string {
	var list []string
	for _, c := range e.Candidates {
		list = append(list, c.Text())
	}
	return e.Why() + ": " + strings.Join(list, "; ")
}

// Why says why it is asked.
func (e *WhichError) Why() string {
	name := spec.Printable(e.Request.Procedure)
	switch {
	case e.File != nil:
		return "which walk? " + e.File.Error()
	case len(e.Candidates) > 1:
		return fmt.Sprintf("which walk? %d open ones may be meant, but none was begun from %s as it is now", len(e.Candidates), name)
	}
	return fmt.Sprintf("which walk? an open one may be meant, but it was not begun from %s as it is now", name)
}
