package report

import (
	"fmt"
	"io"

	"evenpull/ui/markup"
)

// mapAlone is the width of a map that stands alone, in mm.
const mapAlone = 180

// WriteSVG writes the bolt map alone, in millimetres.
func WriteSVG(w io.Writer, s Sheet) error {
	d, p := s.draw(mapAlone, mapAlone), markup.New(w)
	d.About = fmt.Sprintf("Engine %s: %s. %s. Record %s, chain %s, closing hash %s. %s %s %s", s.Engine, s.Procedure, s.Standing(), s.ID, s.Chain, s.ClosingHash, s.ClosingNote, Governs, s.PaperNote)
	d.write(p)
	p.Put("\n")
	return p.Close()
}

func (d drawing) write(p *markup.Page) {
	p.Put(`<svg`)
	p.If(d.About != "", ` xmlns="http://www.w3.org/2000/svg"`)
	p.Put(` viewBox="0 0 {} {}" width="{}mm" height="{}mm" role="img" color="#000" font-family="Liberation Sans, Arial, Helvetica, sans-serif" text-anchor="middle">
<title>Fasteners at their places, as seen at the stand</title>`, d.Width, d.Height, d.Width, d.Height)
	p.If(d.About != "", `
<desc>{}</desc>`, d.About)
	p.Put("\n")
	for _, b := range d.Bolts {
		b.write(p)
		if l := b.Label; l != nil {
			p.Put(`<text class="id" x="{}" y="{}" text-anchor="{}" font-size="{}" font-weight="bold" fill="currentColor">{}</text>`, l.X, l.Y, l.Anchor, d.IDSize, l.ID)
			p.If(l.Figure != "", `<text class="figure" x="{}" y="{}" text-anchor="{}" font-size="{}" fill="currentColor">{}</text>`, l.X, l.Y2, l.Anchor, d.FigureSize, l.Figure)
		}
		p.Put("</g>\n")
	}
	p.Put(`</svg>`)
}

func (b drawnBolt) write(p *markup.Page) {
	p.Put(`<g><title>{}</title>`, b.Title)
	p.If(b.Outer > 0, `<circle class="paper" cx="{}" cy="{}" r="{}" fill="#fff" stroke="currentColor" stroke-width="0.3"/>`, b.X, b.Y, b.Outer)
	disc, ink := "#fff", "currentColor"
	if b.State == "done" {
		disc, ink = ink, disc
	}
	p.Put(`<circle class="ring {}" cx="{}" cy="{}" r="{}" fill="{}" stroke="currentColor" stroke-width="0.3"`, b.State, b.X, b.Y, b.R, disc)
	p.If(b.State == "unused", ` stroke-dasharray="0.8 0.8"`)
	p.Put(`/>`)
	if a := b.Arc; a != nil {
		p.Put(`<path class="arc" d="M{} {}A{} {} 0 {} 1 {} {}" fill="none" stroke="currentColor" stroke-width="1"/>`, b.X, a.Top, b.R, b.R, a.Large, a.ToX, a.ToY)
	}
	p.If(b.Number > 0, `<text class="number {}" x="{}" y="{}" dy="0.36em" font-size="{}" font-weight="bold" fill="{}">{}</text>`, b.State, b.X, b.Y, b.NumberSize, ink, b.Number)
}
