package report

import (
	"math"

	"evenpull/ui/fit"
)

// label is a fastener's id, with its final figure below where there is room.
type label struct {
	ID, Figure string
	X, Y, Y2   float64 // of the two baselines
	Anchor     string  // start, middle or end
}

// box is a place on the drawing that is taken.
type box struct{ left, top, right, bottom float64 }

func (b box) meets(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom
}

// label writes ids and final figures where they cover nothing: below the bolt,
// above, or at a side. Where only some have room for a figure none carries one,
// so that nobody takes a bolt without one for a bolt that has none.
func (d *drawing) label(fasteners []Fastener) {
	figures := make([]string, len(fasteners))
	for i, f := range fasteners {
		figures[i] = f.Final()
	}
	if d.Figures = d.place(figures); !d.Figures {
		d.place(make([]string, len(fasteners)))
	}
}

// place gives each bolt a label that has room, and reports whether all have one.
func (d *drawing) place(figures []string) bool {
	var taken []box
	for _, b := range d.Bolts {
		r := max(b.R, b.Outer) + 0.2
		taken = append(taken, box{b.X - r, b.Y - r, b.X + r, b.Y + r})
	}
	all := true
	for i := range d.Bolts {
		l, at, found := d.free(d.Bolts[i], figures[i], taken)
		if !found {
			d.Bolts[i].Label, all = nil, false
			continue
		}
		d.Bolts[i].Label, taken = &l, append(taken, at)
	}
	return all
}

// free tries the places around a bolt in turn.
func (d *drawing) free(b drawnBolt, figure string, taken []box) (label, box, bool) {
	w, h := wide(b.ID, idSize), idSize
	if figure != "" {
		w, h = max(w, wide(figure, figureSize)), idSize+figureSize
	}
	r := max(b.R, b.Outer) + 0.4
	for _, p := range []struct {
		left, top float64
		anchor    string
	}{{b.X - w/2, b.Y + r, "middle"}, {b.X - w/2, b.Y - r - h, "middle"}, {b.X + r, b.Y - h/2, "start"}, {b.X - r - w, b.Y - h/2, "end"}} {
		at := box{p.left, p.top, p.left + w, p.top + h}
		if at.left < 0 || at.top < 0 || at.right > d.Width || at.bottom > d.Height || meetsAny(at, taken) {
			continue
		}
		l := label{ID: b.ID, Figure: figure, X: round(b.X), Y: round(p.top + 0.82*idSize), Y2: round(p.top + idSize + 0.82*figureSize), Anchor: p.anchor}
		switch p.anchor {
		case "start":
			l.X = round(p.left)
		case "end":
			l.X = round(p.left + w)
		}
		return l, at, true
	}
	return label{}, box{}, false
}

func meetsAny(at box, taken []box) bool {
	for _, t := range taken {
		if at.meets(t) {
			return true
		}
	}
	return false
}

// wide is how wide a text is, about, in the unit of size.
func wide(text string, size float64) float64 {
	return math.Ceil(letterWide*size*float64(fit.Width(text))*10) / 10
}
