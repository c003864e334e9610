package walk

import (
	"fmt"
	"maps"
	"strings"
	"time"

	"evenpull/spec/ident"
)

// Carried is one thing that came off this engine in an earlier walk and is not
// back on it, as it stands when this walk is opened.
type Carried struct {
	ID       string       `json:"id"`                 // a part's id, or a fastener's
	Fastener bool         `json:"fastener,omitempty"` // which of the two
	Thread   string       `json:"thread,omitempty"`   // of a fastener
	Name     string       `json:"name"`
	Count    int          `json:"count"`
	Facts    Facts        `json:"facts,omitempty"`
	Pieces   []PieceFound `json:"pieces,omitempty"`  // of the single ones, where there are several
	Said     []Said       `json:"said,omitempty"`    // of it at strip-down and since, oldest first
	Away     string       `json:"away,omitempty"`    // the work it is out for, and not back from
	Unclean  string       `json:"unclean,omitempty"` // the work it came back from, not yet cleaned after
	Arrived  bool         `json:"arrived,omitempty"` // a new one is on the shelf
	Lots     Facts        `json:"lots,omitempty"`    // by the piece of it that has to be new: the number on the bag that arrived for it
	Seen     *time.Time   `json:"seen,omitempty"`    // when its condition was seen, where that was only after the strip-down
	Loose    bool         `json:"loose,omitempty"`   // it did not come off, but was let go and not tightened since
	Case     string       `json:"case,omitempty"`    // the record that found its thread in the case stripped, and not repaired since
	New      bool         `json:"new,omitempty"`     // no sheet has it
	Before   string       `json:"before,omitempty"`  // new: what it goes in before: a fastener's id, or a part's step
	Record   string       `json:"record"`            // where it came off
	At       time.Time    `json:"at"`
}

// Thing is what it is called.
func (c Carried) Thing() ident.Thing {
	if c.Fastener {
		return ident.Fastener(c.ID, c.Thread)
	}
	return ident.Part(c.ID)
}

// Condemns says why a new one is needed.
func Condemns(facts Facts, seen *time.Time) string {
	switch c := facts[Condition]; {
	case seen != nil && c != "":
		return fmt.Sprintf("it was %s, seen %s", c, seen.Format(time.DateOnly))
	case seen != nil:
		return "condemned on " + seen.Format(time.DateOnly)
	case c != "":
		return "it was " + c + " at strip-down"
	}
	return "condemned at strip-down"
}

// NameCarried names what is carried as this sheet does: old records give a fastener
// no thread.
func (s *State) NameCarried(c Carried) ident.Thing {
	if c.Fastener && c.Thread == "" {
		return s.fastenerThing(c.ID)
	}
	return c.Thing()
}

// Text names a thing as a person would: "1 × shim, 0.8 mm, off the selector drum".
func (c Carried) Text() string {
	text := c.Name
	if c.Count > 1 {
		text = fmt.Sprintf("%d × %s", c.Count, c.Name)
	}
	if f := c.Facts.Text(); f != "" {
		text += ", " + f
	}
	for _, p := range c.Pieces {
		text += "; " + p.Text()
	}
	return text
}

// thing is a carried one with what became of it in this walk.
type thing struct {
	Carried
	settled string // refitted, or why it will not go back
	cleaned bool
	last    bool // new: put off to the end
}

// draftThing names what found, refit, account and clean are about.
func (s *State) draftThing(c Command, e Event) (Event, *Refusal) {
	if c.Do == Find && c.New != "" {
		return s.draftNew(c, e)
	}
	e.Kind = map[Verb]Kind{Find: Found, Refit: Refitted, Account: Accounted, Clean: Cleaned}[c.Do]
	t, refusal := s.thingCalled(c.Target)
	s.name(&e, t)
	if piece := c.Facts[OfPiece]; c.Do == Find && piece != "" {
		e.Piece, e.Facts = strings.TrimSpace(piece), maps.Clone(c.Facts)
		delete(e.Facts, OfPiece)
	}
	return e, refusal
}

// thingCalled finds a fastener, a part, or something the engine brought.
func (s *State) thingCalled(name string) (ident.Thing, *Refusal) {
	if t, ok := s.carriedCalled(name); ok {
		return t, nil
	}
	return s.owner(name)
}

func (s *State) carriedCalled(name string) (ident.Thing, bool) {
	for _, t := range s.order {
		if c := s.carried[t]; strings.EqualFold(c.ID, name) || strings.EqualFold(c.Name, name) || strings.EqualFold(t.String(), name) {
			return t, true
		}
	}
	return ident.Thing{}, false
}

// eventThing is what an event is about; what the engine brought is known by
// its thread even where the event is not.
func (s *State) eventThing(e Event) ident.Thing {
	t := s.ThingOf(e)
	if t.Thread != ident.UnknownThread {
		return t
	}
	for _, other := range s.order {
		if other.IsFastener() && other.ID == t.ID {
			return other
		}
	}
	return t
}

// FoundOf is what was said of how a thing came off.
func (s *State) FoundOf(t ident.Thing) Facts { return s.found[t] }

// CarriedOf is what an earlier walk knows of a thing, and whether there is such
// a thing.
func (s *State) CarriedOf(t ident.Thing) (Carried, bool) {
	if c := s.carried[t]; c != nil {
		return c.now(), true
	}
	return Carried{}, false
}

// now is the thing as it stands: once cleaned there is nothing to clean.
func (t *thing) now() Carried {
	c := t.Carried
	if t.cleaned {
		c.Unclean = ""
	}
	return c
}

// LeftOver lists what the engine brought and nothing has been said of: things
// the procedure has no place for, and more of a thing than go in.
func (s *State) LeftOver() []Carried {
	var list []Carried
	for _, t := range s.order {
		c := s.carried[t]
		if c.settled != "" {
			continue
		}
		if !s.hasPlace(t) {
			if !s.renewed(t) {
				list = append(list, c.now())
			}
			continue
		}
		if part := s.Part(t.ID); !t.IsFastener() && part != nil && c.Count > part.Count {
			rest := c.now()
			rest.Count -= part.Count
			list = append(list, rest)
		}
	}
	return list
}

// RepairOf is what was recorded of the repaired thread a fastener goes into.
func (s *State) RepairOf(fastener string) Facts {
	if l := s.liesOf(fastener); l != nil && l.repair >= 0 {
		return s.marks[l.repair].Facts
	}
	return nil
}
