package engine

import (
	"strings"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Key tells things apart: a part by its id, a fastener by id and thread, since
// ids of fasteners repeat from joint to joint.
type Key struct {
	ID     string `json:"id"`
	Thread string `json:"thread,omitempty"` // empty for a part
}

// Fastener reports whether the key is a fastener's.
func (k Key) Fastener() bool { return k.Thread != "" }

// String gives "crank-shim", or "B3 M8x1.25" for a fastener.
func (k Key) String() string { return strings.TrimSpace(k.ID + " " + k.Thread) }

// walkKey is what walks call the thing.
func (k Key) walkKey() string {
	if k.Fastener() {
		return k.ID
	}
	return "part:" + k.ID
}

func fastenerKey(f *spec.Fastener) Key { return Key{f.ID, f.Group.Thread.Name} }

// Thing is one that came off and is not back.
type Thing struct {
	Key
	Name      string       `json:"name"`
	Count     int          `json:"count"`
	Facts     walk.Facts   `json:"facts,omitempty"`
	Number    string       `json:"number,omitempty"` // part number
	OneUse    bool         `json:"one_use,omitempty"`
	Work      string       `json:"work,omitempty"` // it is to go out for, or is out for
	To        string       `json:"to,omitempty"`   // to whom it was sent
	Sent      *time.Time   `json:"sent,omitempty"`
	Unclean   string       `json:"unclean,omitempty"` // the work it came back from, not yet cleaned after
	Record    string       `json:"record"`            // where it came off
	Procedure string       `json:"procedure"`
	Engine    string       `json:"-"` // the procedure's words for the engine
	with      []spec.Piece // what goes with a fastener
	At        time.Time    `json:"at"`
}

// Condemned reports whether a new one is needed because of how it was found.
func (t Thing) Condemned() bool { return t.Facts.Condemned() }

// Text names a thing as a person would: "B3, M8x1.25 rim bolt: stretched, box 2".
func (t Thing) Text() string {
	c := walk.Carried{Name: t.Name, Count: t.Count}
	if t.Fastener() {
		c.Name = t.ID + ", " + t.Name
	}
	text := c.Text()
	if f := t.Facts.Text(); f != "" {
		text += ": " + f
	}
	return text
}

func (t Thing) carried(arrived bool) walk.Carried {
	return walk.Carried{ID: t.ID, Fastener: t.Fastener(), Name: t.Name, Count: t.Count, Facts: t.Facts, Away: t.Work, Unclean: t.Unclean,
		Arrived: arrived, Record: t.Record, At: t.At}
}

// fastenerName is how a fastener is called on a list to order.
func fastenerName(g *spec.Group) string {
	title := g.Title
	if title == "" {
		title = g.ID
	}
	return title + " " + g.Thread.Name
}

// Reading is a measured figure as it was taken.
type Reading struct {
	What      string    `json:"what"`
	Text      string    `json:"text"` // with its unit
	At        time.Time `json:"at"`
	Record    string    `json:"record"`
	Procedure string    `json:"procedure"`
}

// lastOfThing is where Engine.Last keeps what was measured on a thing itself.
func lastOfThing(k Key) string {
	if k.Fastener() {
		return k.String()
	}
	return "part:" + k.ID
}
