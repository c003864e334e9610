package walk

import (
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/spec/ident"
)

// Photo names a picture that is kept beside the records.
type Photo struct {
	Name   string `json:"name"`   // of the file it was copied from
	SHA256 string `json:"sha256"` // of its bytes, hex
	Type   string `json:"type"`   // one of PictureTypes
}

// PictureTypes are the kinds of picture there are, by the ending of their files.
var PictureTypes = []string{"png", "jpg", "gif", "webp"}

// Whole, as the target of a note or a photo: it is of no single thing.
const Whole = "whole"

// longestName bounds the name a picture is known by; a record may come from a stranger.
const longestName = 255

// Facts of a photo, besides the time and the caption.
const (
	photoName = "name"
	photoSum  = "sha256"
	photoType = "type"
)

// Facts are what an event keeps of a picture.
func (p Photo) Facts() map[string]string {
	return map[string]string{photoName: p.Name, photoSum: p.SHA256, photoType: p.Type}
}

// File is what a picture is called where it is kept: by its bytes.
func (p Photo) File() string { return p.SHA256 + "." + p.Type }

// PhotoOf gives the picture an event names; false when it names none that could be kept.
func PhotoOf(e Event) (Photo, bool) {
	p := Photo{e.Facts[photoName], e.Facts[photoSum], e.Facts[photoType]}
	return p, e.Kind == Pictured && p.couldBeKept()
}

// couldBeKept: a record may come from a stranger, and File becomes part of a path.
func (p Photo) couldBeKept() bool {
	sum, err := hex.DecodeString(p.SHA256)
	return err == nil && len(sum) == 32 && p.SHA256 == strings.ToLower(p.SHA256) && slices.Contains(PictureTypes, p.Type) && p.Name != "" && len(p.Name) <= longestName
}

// Told is a picture that was taken before this walk of what it was brought.
type Told struct {
	Photo
	At      time.Time
	Caption string
	Of      string // the thing or the finding
}

// PhotosTold are the pictures that an event brings: of things, as they came off and
// since, and of what was found wrong.
func PhotosTold(e Event) (list []Told) {
	take := func(of string, said []Said) {
		for _, s := range said {
			if s.Photo != nil && s.Photo.couldBeKept() {
				list = append(list, Told{*s.Photo, s.At, s.Text, of})
			}
		}
	}
	for _, c := range e.Brought {
		of := c.Name
		if c.Fastener {
			of = c.ID
		}
		take(of, c.Said)
	}
	for _, f := range e.Faults {
		take(f.What, f.Said)
	}
	return list
}

// PhotosNamed are all pictures that an event names.
func PhotosNamed(e Event) (list []Photo) {
	if p, ok := PhotoOf(e); ok {
		list = append(list, p)
	}
	for _, t := range PhotosTold(e) {
		list = append(list, t.Photo)
	}
	return list
}

// Said is one thing said of a thing, and when.
type Said struct {
	At    time.Time `json:"at"`
	Text  string    `json:"text"`            // of a photo its caption
	Photo *Photo    `json:"photo,omitempty"` // nil: words only
}

// topic is what something is said of: a thing, or a line of the agenda that has none.
type topic struct {
	thing ident.Thing
	item  string
}

// draftAbout is a note or a photo: of the thing named, or of what is in hand.
func (s *State) draftAbout(c Command, e Event) (Event, *Refusal) {
	switch it := s.CurrentItem(); {
	case c.Target == Whole:
	case c.Target != "":
		t, refusal := s.thingCalled(c.Target)
		s.name(&e, t)
		return e, refusal
	case it == nil:
	case !it.Thing().IsZero():
		s.name(&e, it.Thing())
	case it.Check != nil || it.Kind == FaultItem:
		e.Item = it.Key().String()
	}
	return e, nil
}

// Knows reports whether something goes by a name here: a fastener, a part, or what
// the engine brought.
func (s *State) Knows(name string) bool {
	if name == "" {
		return false
	}
	_, refusal := s.thingCalled(name)
	return refusal == nil
}

// judgeAbout: what something is said of has to be there.
func (s *State) judgeAbout(e Event) *Refusal {
	t := s.eventThing(e)
	switch _, known := s.Find(e.Item); {
	case e.Item == "" && e.Fastener == "":
	case t.IsZero() && !known:
		return unknown(e.Item)
	case !t.IsZero() && !s.hasPlace(t) && s.carried[t] == nil:
		return unknown(t.ID)
	}
	return nil
}

func (s *State) judgePhoto(e Event) *Refusal {
	if _, ok := PhotoOf(e); !ok {
		return &Refusal{What: "no picture is named", Remedy: "give the path of its file"}
	}
	return s.judgeAbout(e)
}

// topicOf is what an event says something of.
func (s *State) topicOf(e Event) topic {
	t := s.eventThing(e)
	if t.IsZero() {
		t = s.ItemThing(e.Item)
	}
	if t.IsZero() {
		return topic{item: e.Item}
	}
	return topic{thing: t}
}

// TopicText names what an event says something of; empty: no single thing.
func (s *State) TopicText(e Event) string {
	switch of := s.topicOf(e); {
	case of.thing.IsFastener():
		return of.thing.ID
	case !of.thing.IsZero():
		if c := s.carried[of.thing]; c != nil {
			return c.Name
		}
		if p := s.Plan.Procedure.Part(of.thing.ID); p != nil {
			return p.Name
		}
		return of.thing.ID
	case of.item != "":
		if i, ok := s.Find(of.item); ok {
			return s.Items[i].Text()
		}
		return of.item
	}
	return ""
}

// remember keeps where something was said of what.
func (s *State) remember(e Event) {
	if s.forgets || s.saidText(e) == "" && e.Kind != Pictured {
		return
	}
	if s.said == nil {
		s.said = map[topic][]int{}
	}
	of := s.topicOf(e)
	s.said[of] = append(s.said[of], s.events-1)
}

// saidText is what an event says of a thing beyond what is asked for: reasons,
// notes.
func (s *State) saidText(e Event) string {
	switch e.Kind {
	case Noted, Pictured:
		return e.Text
	case Found:
		if e.Text != "" {
			return fmt.Sprintf("corrected to %s: %s", Facts(e.Facts).Text(), e.Text)
		}
	case Trouble:
		return "problem: " + e.Text
	case Lost:
		return "angle lost: " + e.Text
	case Accounted:
		return "does not go back: " + e.Text
	case PutOff:
		return "put off: " + e.Text
	}
	return ""
}

// SaidOf is what was said of a thing in this walk and not taken back, oldest first.
func (s *State) SaidOf(t ident.Thing) []Said { return s.saidOf(topic{thing: t}) }

// SaidAt is what was said at a line of the agenda that is about no single thing.
func (s *State) SaidAt(step ident.Step) []Said { return s.saidOf(topic{item: step.String()}) }

// SaidWhole is what was said of no single thing.
func (s *State) SaidWhole() []Said { return s.saidOf(topic{}) }

func (s *State) saidOf(of topic) (list []Said) {
	for _, i := range s.said[of] {
		if e := s.Events[i]; !s.struck[i] {
			said := Said{At: e.At, Text: s.saidText(e)}
			if p, ok := PhotoOf(e); ok {
				said.Photo = &p
			}
			list = append(list, said)
		}
	}
	return list
}

// TakenBack reports whether an event was undone.
func (s *State) TakenBack(e Event) bool { return s.struck[e.Seq-1] }

// Photos are the events of this walk that keep a picture and were not taken back.
func (s *State) Photos() (list []Event) {
	for i, e := range s.Events {
		if e.Kind == Pictured && !s.struck[i] {
			list = append(list, e)
		}
	}
	return list
}

// Text says in one line what is known of a picture.
func (p Photo) Text(caption string) string {
	text := "photo " + p.Name
	if caption != "" {
		text += ": " + caption
	}
	return text
}

// Line is what was said with its day: "2026-03-02: photo lobe.jpg: scored".
func (s Said) Line() string {
	text := s.Text
	if s.Photo != nil {
		text = s.Photo.Text(s.Text)
	}
	return s.At.Format(time.DateOnly) + ": " + text
}
