package walk

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/procedures/shell"
	"evenpull/spec"
)

// Facts is what is known of a thing that came off, by the keys below.
type Facts map[string]string

// Keys of Facts. Values are the person's own words, but for the condition.
const (
	Condition = "condition" // one of Conditions
	Where     = "where"     // where it sat
	Face      = "face"      // which face out, which way up
	Box       = "box"
	Bag       = "bag"
	Size      = "measured" // a measured value, with its unit
	Goes      = "goes"     // back, replace, or the work it goes out for
)

// FactKeys in the order they are shown.
var FactKeys = []string{Condition, Size, Where, Face, Box, Bag, Goes}

// Conditions something can be found in; the ones from Pitted on condemn it
// unless the person says that it goes back all the same.
var Conditions = []string{"good", "worn", "pitted", "rounded", "stretched", "scored", "burnt", "stripped", "missing"}

// Condemned reports whether a condition means that a new one is needed.
func (f Facts) Condemned() bool {
	switch {
	case f[Condition] == "missing" || f[Goes] == "replace":
		return true
	case f[Goes] != "":
		return false
	}
	return f[Condition] != "" && f[Condition] != "good" && f[Condition] != "worn"
}

// Work names the work a thing goes out for, or "".
func (f Facts) Work() string {
	if g := f[Goes]; g != "back" && g != "replace" {
		return g
	}
	return ""
}

// Text gives the facts in one line: "scored, 0.8 mm, box 2, bag 7".
func (f Facts) Text() string {
	var words []string
	for _, key := range FactKeys {
		switch v := f[key]; {
		case v == "":
		case key == Box, key == Bag, key == Goes:
			words = append(words, key+" "+v)
		default:
			words = append(words, v)
		}
	}
	return strings.Join(words, ", ")
}

// Carried is one thing that came off this engine in an earlier walk and is not
// back on it, as it stands when this walk is opened.
type Carried struct {
	ID       string    `json:"id"`                 // a part's id, or a fastener's
	Fastener bool      `json:"fastener,omitempty"` // which of the two
	Name     string    `json:"name"`
	Count    int       `json:"count"`
	Facts    Facts     `json:"facts,omitempty"`
	Away     string    `json:"away,omitempty"`    // the work it is out for, and not back from
	Unclean  string    `json:"unclean,omitempty"` // the work it came back from, not yet cleaned after
	Arrived  bool      `json:"arrived,omitempty"` // a new one is on the shelf
	Record   string    `json:"record"`            // where it came off
	At       time.Time `json:"at"`
}

func (c Carried) key() string {
	if c.Fastener {
		return c.ID
	}
	return "part:" + c.ID
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
	return text
}

// thing is a carried one with what became of it in this walk.
type thing struct {
	Carried
	settled string // refitted, or why it will not go back
	cleaned bool
}

// draftThing names what found, refit, account and clean are about.
func (s *State) draftThing(c Command, e Event) (Event, *Refusal) {
	e.Kind = map[Verb]Kind{Find: Found, Refit: Refitted, Account: Accounted, Clean: Cleaned}[c.Do]
	key, refusal := s.thingCalled(c.Target)
	if strings.HasPrefix(key, "part:") {
		e.Item = key
	} else {
		e.Fastener = key
	}
	return e, refusal
}

// thingCalled finds a fastener, a part, or something the engine brought.
func (s *State) thingCalled(name string) (string, *Refusal) {
	if key, ok := s.carriedCalled(name); ok {
		return key, nil
	}
	return s.owner(name)
}

func (s *State) carriedCalled(name string) (string, bool) {
	for _, key := range s.order {
		if c := s.carried[key]; strings.EqualFold(c.ID, name) || strings.EqualFold(c.Name, name) {
			return key, true
		}
	}
	return "", false
}

func keyOf(e Event) string {
	if e.Fastener != "" {
		return e.Fastener
	}
	return e.Item
}

// judgeFound holds what is said of a thing to the words a list can be made of.
func (s *State) judgeFound(e Event) *Refusal {
	key := keyOf(e)
	if s.byID[key] == nil && s.Plan.Procedure.Part(strings.TrimPrefix(key, "part:")) == nil {
		return unknown(key)
	}
	for k := range e.Facts {
		if !slices.Contains(FactKeys, k) {
			return &Refusal{What: fmt.Sprintf("%q is not kept of a thing", spec.Printable(k)), Remedy: "one of: " + strings.Join(FactKeys, ", ")}
		}
	}
	if c := e.Facts[Condition]; c != "" && !slices.Contains(Conditions, c) {
		return &Refusal{What: fmt.Sprintf("%q is not a condition", spec.Printable(c)), Remedy: "one of: " + strings.Join(Conditions, ", ")}
	}
	if len(e.Facts) == 0 {
		return &Refusal{What: "nothing is said of it", Remedy: "give a condition: " + strings.Join(Conditions, ", ")}
	}
	if _, again := s.found[key]; again && e.Text == "" {
		return &Refusal{What: ownerName(key) + " has been described before; that stays in the record", Remedy: "correct it with a reason: …, because REASON"}
	}
	return nil
}

func (s *State) judgeThing(e Event) *Refusal {
	key := keyOf(e)
	c := s.carried[key]
	switch {
	case c == nil:
		return &Refusal{What: fmt.Sprintf("%s did not come off in an earlier walk", ownerName(key)), Remedy: "confirm it at its place"}
	case e.Kind == Accounted:
		return needReason(e, "account "+c.ID)
	case e.Kind == Cleaned && c.Unclean == "":
		return &Refusal{What: c.Name + " does not wait to be cleaned"}
	case e.Kind == Cleaned && c.Away == "":
		return nil
	case e.Kind == Refitted && !s.stray(key):
		return &Refusal{What: c.Name + " has a place in this procedure", Remedy: "confirm it there"}
	}
	return s.judgeReady(c)
}

// judgePart lets a part go in only if it is here, clean, and all of it.
func (s *State) judgePart(p *spec.Part) *Refusal {
	c := s.carried["part:"+p.ID]
	if c == nil {
		return nil
	}
	if r := s.judgeReady(c); r != nil {
		return r
	}
	if c.Count < p.Count && !s.renewed("part:"+p.ID) {
		return &Refusal{What: fmt.Sprintf("%d × %s go in, %d came off", p.Count, p.Name, c.Count), Remedy: fmt.Sprintf("fit new ones: renew %s; or say why: account %s REASON", p.ID, p.ID)}
	}
	return nil
}

func (s *State) judgeReady(c *thing) *Refusal {
	switch {
	case c.Away != "":
		return &Refusal{What: fmt.Sprintf("%s is away for %s", c.Name, c.Away), Remedy: "mark it back first, then open this walk again: " + shell.Line("mark", []string{"TAG", c.ID, "back"})}
	case c.Unclean != "" && !c.cleaned:
		return &Refusal{What: fmt.Sprintf("%s came back from %s: no media in oilways, threads chased, faces bare where sealant or clamp goes?", c.Name, c.Unclean), Remedy: "clean it, then: clean " + c.ID}
	}
	return nil
}

func (s *State) renewed(owner string) bool {
	for _, i := range s.piecesOf[owner] {
		if s.pieces[i].Renewed {
			return true
		}
	}
	return false
}

// stray: the procedure has no place for it.
func (s *State) stray(key string) bool {
	if s.carried[key].Fastener {
		return s.byID[key] == nil
	}
	_, ok := s.at[key]
	return !ok
}

// bring takes in what the engine brings; a later one replaces an earlier one,
// but what was settled in this walk stays so. It cannot be undone, nor anything before it.
func (s *State) bring(e Event) {
	s.history = nil
	for key, old := range s.carried {
		if !slices.ContainsFunc(e.Brought, func(c Carried) bool { return c.key() == key }) && old.settled == "" {
			delete(s.carried, key) // settled elsewhere since
			s.order = slices.DeleteFunc(s.order, func(k string) bool { return k == key })
		}
	}
	for _, c := range e.Brought {
		key := c.key()
		if old := s.carried[key]; old != nil {
			old.Carried = c
		} else {
			s.carried[key] = &thing{Carried: c}
			s.order = append(s.order, key)
		}
		if c.Facts.Condemned() {
			s.condemn(key, c)
		}
	}
}

// condemn asks for a new one of something that was condemned at strip-down.
func (s *State) condemn(key string, c Carried) {
	name := c.Name
	if c.Fastener {
		name = itself
	}
	why := "condemned at strip-down"
	if cond := c.Facts[Condition]; cond != "" {
		why = "it was " + cond + " at strip-down"
	}
	for _, i := range s.piecesOf[key] {
		if p := &s.pieces[i]; p.Name == name {
			if !p.Needed {
				p.Needed, p.Condemned, p.Why = true, true, why
			}
			return
		}
	}
	p := Piece{Name: name, Count: c.Count, Needed: true, Condemned: true, Why: why}
	if c.Fastener {
		p.Fastener = c.ID
	} else {
		p.Part = c.ID
	}
	s.addPiece(key, p)
}

// thing applies found, refitted, accounted and cleaned.
func (s *State) thing(c *change, e Event) {
	key := keyOf(e)
	if e.Kind == Found {
		old, had := s.found[key]
		c.restore = append(c.restore, func() {
			if delete(s.found, key); had {
				s.found[key] = old
			}
		})
		merged := Facts{}
		for _, from := range []Facts{old, e.Facts} {
			for k, v := range from {
				merged[k] = v
			}
		}
		s.found[key] = merged
		if had {
			s.deviate(e, fmt.Sprintf("%s: corrected to %s (%s)", ownerName(key), merged.Text(), e.Text))
		}
		return
	}
	t := s.carried[key]
	was := *t
	c.restore = append(c.restore, func() { t.settled, t.cleaned = was.settled, was.cleaned })
	switch e.Kind {
	case Cleaned:
		t.cleaned = true
	case Refitted:
		t.settled = "refitted"
	case Accounted:
		t.settled = e.Text
		s.deviate(e, fmt.Sprintf("%s does not go back: %s", t.Text(), e.Text))
		s.waive(c, key, e)
	}
}

// waive closes what was asked for only because a thing came off. What the
// procedure itself wants new stays wanted.
func (s *State) waive(c *change, key string, e Event) {
	if i, ok := s.at[key]; ok && s.Items[i].Kind == PartItem {
		s.setMark(c, i, Mark{Closed: true, At: e.At, Facts: map[string]string{"accounted": e.Text}})
	}
	for _, i := range s.piecesOf[key] {
		if p := s.pieces[i]; p.Needed && p.Condemned {
			p.Needed = false
			s.setPiece(c, i, p)
		}
	}
}

// FoundOf is what was said of a fastener, or of a part by "part:ID".
func (s *State) FoundOf(key string) Facts { return s.found[key] }

// CarriedOf is what an earlier walk knows of a fastener, or of a part by
// "part:ID", and whether there is such a thing.
func (s *State) CarriedOf(key string) (Carried, bool) {
	if t := s.carried[key]; t != nil {
		return t.now(), true
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
	for _, key := range s.order {
		t := s.carried[key]
		if t.settled != "" {
			continue
		}
		if s.stray(key) {
			if !s.renewed(key) {
				list = append(list, t.now())
			}
			continue
		}
		if part := s.Plan.Procedure.Part(t.ID); !t.Fastener && part != nil && t.Count > part.Count {
			rest := t.now()
			rest.Count -= part.Count
			list = append(list, rest)
		}
	}
	return list
}
