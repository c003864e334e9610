package report

import (
	"evenpull/procedures/walk"
	"evenpull/spec/ident"
)

// found lists how things came off, in the order of the sheet: what of them was
// said, and what of single ones where there are several.
func (b *builder) found() {
	for _, f := range b.proc.Fasteners {
		b.foundOf(ident.Fastener(f.ID, f.Group.Thread.Name), f.ID, false)
	}
	for _, it := range b.s.Items {
		if it.Kind == walk.PartItem {
			b.foundOf(it.Thing(), walk.PartText(it.Part), it.Unforeseen)
		}
	}
}

func (b *builder) foundOf(t ident.Thing, name string, onNoSheet bool) {
	facts := b.s.FoundOf(t)
	if c, ok := b.s.CarriedOf(t); ok && onNoSheet && len(facts) == 0 {
		facts = c.Facts // of an earlier walk, or said between walks
	}
	if text := facts.Text(); text != "" || onNoSheet {
		b.sheet.Found = append(b.sheet.Found, Found{Of: clean(name), Text: clean(text), Measured: clean(facts[walk.Size]), Condemned: facts.Condemned(), OnNoSheet: onNoSheet})
	}
	for _, p := range b.s.PiecesFound(t) {
		b.sheet.Found = append(b.sheet.Found, Found{Of: clean(name + ", " + p.Piece), Text: clean(p.Facts.Text()), Measured: clean(p.Facts[walk.Size]), Condemned: p.Facts.Condemned()})
	}
}

// Line tells it in one line: "H3: bent, box 2".
func (f Found) Line() string {
	of := f.Of
	if f.OnNoSheet {
		of += ", on no sheet"
	}
	if f.Text == "" {
		return of
	}
	return of + ": " + f.Text
}

func (s Sheet) foundBlock() block {
	b := block{title: "How it was found"}
	for _, f := range s.Found {
		mark := "    "
		if f.Condemned {
			mark = "!   "
		}
		b.item(mark, f.Line())
	}
	return b
}
