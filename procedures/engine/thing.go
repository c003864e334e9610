package engine

import (
	"slices"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

func fastenerThing(f *spec.Fastener) ident.Thing { return ident.Fastener(f.ID, f.Group.Thread.Name) }

// Thing is one that came off and is not back.
type Thing struct {
	ident.Thing
	Name      string            `json:"name"`
	Count     int               `json:"count"`
	Facts     walk.Facts        `json:"facts,omitempty"`
	Pieces    []walk.PieceFound `json:"pieces,omitempty"` // how the single ones were found, where there are several
	Said      []walk.Said       `json:"said,omitempty"`   // of it at strip-down and since, oldest first
	Number    string            `json:"number,omitempty"` // part number
	OneUse    bool              `json:"one_use,omitempty"`
	Work      string            `json:"work,omitempty"` // it is to go out for, or is out for
	To        string            `json:"to,omitempty"`   // to whom it was sent
	Sent      *time.Time        `json:"sent,omitempty"`
	Unclean   string            `json:"unclean,omitempty"` // the work it came back from, not yet cleaned after
	New       bool              `json:"new,omitempty"`     // no sheet has it: found on the way, or named between walks
	Record    string            `json:"record"`            // where it came off
	Procedure string            `json:"procedure"`
	Engine    string            `json:"-"` // the procedure's words for the engine
	with      []spec.Piece      // what goes with a fastener
	At        time.Time         `json:"at"`
	near      []ident.Thing     // new: what it came off with, the likeliest first
	order     time.Time         // in which it came off
	seen      *time.Time        // when its condition was said, where that was not at strip-down
	work      []workDone        // outside, oldest first
}

// workDone is what a thing was away for and is back from.
type workDone struct {
	what, by string
	at       time.Time
}

// Condemned reports whether new ones are needed, of all of it, because of how it was found.
func (t Thing) Condemned() bool { return t.Facts.Condemned() }

// AnyCondemned reports whether a new one is needed of it or of one of several.
func (t Thing) AnyCondemned() bool {
	return t.Condemned() || slices.ContainsFunc(t.Pieces, func(p walk.PieceFound) bool { return p.Facts.Condemned() })
}

// Called is the shortest a person calls it by: "M3", "rear head: cylinder head".
func (t Thing) Called() string {
	if t.IsFastener() {
		return placedText(t.ID, t.Place)
	}
	return placedText(t.Name, t.Place)
}

// Text names a thing as a person would: "B3, M8x1.25 rim bolt: stretched, box 2".
func (t Thing) Text() string {
	c := walk.Carried{Name: t.Name, Count: t.Count}
	if t.IsFastener() {
		c.Name = t.ID + ", " + t.Name
	}
	text := c.Text()
	if t.Place != "" {
		text = t.Place + ": " + text
	}
	if f := t.Facts.Text(); f != "" {
		text += ": " + f
	}
	for _, p := range t.Pieces {
		text += "; " + p.Text()
	}
	return text
}

func (t Thing) carried(arrived bool) walk.Carried {
	return walk.Carried{ID: t.ID, Fastener: t.IsFastener(), Thread: t.Thread, Name: t.Name, Count: t.Count, Facts: t.Facts, Pieces: t.Pieces, Said: t.Said, Away: t.Work, Unclean: t.Unclean,
		Arrived: arrived, New: t.New, Seen: t.seen, Record: t.Record, At: t.At}
}

// fastenerName is how a fastener is called on a list to order.
func fastenerName(g *spec.Group) string { return g.Title + " " + g.Thread.Name }

// Reading is a measured figure as it was taken.
type Reading struct {
	What      string    `json:"what"`
	Text      string    `json:"text"` // with its unit
	At        time.Time `json:"at"`
	Record    string    `json:"record"`
	Procedure string    `json:"procedure"`
	Place     string    `json:"place,omitempty"`
}

// lastOfThing is where Engine.Last keeps what was measured on a thing itself.
func lastOfThing(t ident.Thing) string {
	at := lastAt(t.Place)
	if t.Place = ""; t.IsFastener() {
		return t.String() + at
	}
	return t.Text() + at
}
