package report

import (
	"fmt"
	"io"

	"evenpull/ui/fit"
	"evenpull/ui/markup"
)

// htmlPasses is how many passes stand beside each other in the appendix.
const htmlPasses = 6

// begin writes what stands before the body of a page: one file without scripts and
// without anything from elsewhere. A style of its own and </style> follow.
func begin(p *markup.Page, title, foot string, paper Paper, pictures bool) {
	p.Put(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'`)
	p.If(pictures, `; img-src data:`)
	p.Put(`">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{}</title>
`, title)
	p.Put(baseStyle, paper.Name, pageMargin, fit.Cut(foot, 70), paper.Width)
}

// WriteHTML writes the sheet as a page: first what decides and is signed, then an
// appendix with everything else.
func WriteHTML(w io.Writer, s Sheet, paper Paper) error {
	f, p := s.onFirstPage(paper), markup.New(w)
	begin(p, fmt.Sprintf("%s: %s, %s", s.Engine, s.Procedure, s.State), s.ID+", "+s.State, paper, len(s.Photos) > 0)
	p.Put(recordStyle, paper.Height-2, f.HeadWidth, f.Map.Width, paper.Width)
	p.Put(`</head>
<body>
<section class="front">
`)
	f.head(p)
	f.middle(p)
	f.sign(p)
	p.Put(`</section>
<section class="appendix">
<h1>Appendix: {}</h1>
`, f.Name)
	var matrices []Matrix
	if f.MatrixElsewhere {
		matrices = s.Matrix().chunks(htmlPasses)
	}
	s.appendix(p, matrices)
	p.Put(`
</section>
</body>
</html>
`)
	return p.Close()
}

// head of the first page: the engine and what it is, and whether it is done.
func (f front) head(p *markup.Page) {
	p.Put(`<header>
<div>
<p class="tag" style="font-size: {}mm">{}</p>
<h1>{}</h1>
`, f.TagSize, f.Tag, f.Name)
	p.If(f.BuiltFor != "", `<p class="one">Written for: {}</p>`, f.BuiltFor)
	p.Put(`
<p class="one">Figures from: `)
	p.If(f.FigureSource != "", `{}`, f.FigureSource)
	p.If(f.FigureSource == "", `<b>no source given: unsourced</b>`)
	p.Put(`</p>
</div>
<div class="verdict {}"><b>{}</b>{}</div>
</header>
`, f.State, f.Verdict, f.When)
	if f.Alarm != "" {
		p.Put(`<div class="alarm" role="alert">`)
		p.If(f.Trusted(), `Note on the file: `)
		p.If(!f.Trusted(), `DO NOT RELY ON THIS RECORD. `)
		p.Put(`{}</div>`, f.Alarm)
	}
}

// middle of the first page: the map, the matrix or the sum in its place, the lists.
func (f front) middle(p *markup.Page) {
	p.Put(`
<div class="main`)
	p.If(f.Beside, ` beside`)
	p.Put(`">
`)
	if len(f.Map.Bolts) > 0 {
		p.Put(`<figure>`)
		f.Map.write(p)
		p.Put(`
<figcaption>As seen at the stand. Number: the order in which each got its final figure`)
		p.If(f.Map.Figures, `, which stands under its name`)
		p.Put(`. Black: every stage confirmed. Thick arc: some. White: none. Second ring: hollow.</figcaption></figure>`)
	}
	p.Put(`
`)
	if len(f.Blocks) > 0 {
		p.Put(`<div class="blocks">`)
		for _, m := range f.Blocks {
			m.write(p)
		}
		p.Put(`</div>`)
	}
	p.Put(`
`)
	if f.Summary != nil {
		f.Summary.write(p)
	}
	p.Put(`
</div>
`)
	p.If(len(f.Blocks) > 0, legend)
	p.Put(`
`)
	lists(p, f.Left, f.Right)
}

const legend = `<p class="legend"><b>Bold: read off the tool.</b> Plain: confirmed at the figure, no reading given. ! a reading was refused first.</p>`

// lists stand beside each other.
func lists(p *markup.Page, left, right []panel) {
	p.Put(`<div class="lists"><div>`)
	for _, l := range left {
		l.write(p)
	}
	p.Put(`</div><div>`)
	for _, r := range right {
		r.write(p)
	}
	p.Put(`</div></div>
`)
}

// sign is the foot of the first page, with its place to sign.
func (f front) sign(p *markup.Page) {
	p.Put(`<div class="sign">
<p><b>Record {}</b>, {} of {} stages confirmed, chain {}. Closing hash:<br><span class="hash">{}</span><br>{}</p>
<p><b>{}</b></p>
`, f.ID, f.Stages.Confirmed, f.Stages.Of, f.Chain, f.ClosingHash, f.ClosingNote, f.Declaration())
	p.Put(signHere)
}

const signHere = `<div class="lines"><span>Mechanic, in block letters</span><span>Signature</span><span>Date</span></div>
</div>
`

func (l panel) write(p *markup.Page) {
	p.Put(`<h2>{}</h2>
<ul>`, l.Title)
	for _, r := range l.Rows {
		p.Put(`<li>`)
		p.If(r.Lead != "", `<b>{}</b> `, r.Lead)
		p.Put(`{}</li>
`, r.Text)
	}
	p.If(l.More > 0, `<li><i>and {} more: in the appendix</i></li>`, l.More)
	p.Put(`</ul>`)
}

func (m Matrix) write(p *markup.Page) {
	p.Put(`<table class="matrix">
<thead><tr><th scope="col">No.</th><th scope="col">Bolt</th>`)
	for _, pass := range m.Passes {
		p.Put(`<th scope="col">{}</th>`, pass)
	}
	p.Put(`<th scope="col"></th></tr></thead>
<tbody>`)
	for _, r := range m.Rows {
		p.Put(`<tr><td>`)
		p.If(r.Order > 0, `{}`, r.Order)
		p.Put(`</td><th scope="row">{}</th>`, r.ID)
		for _, c := range r.Cells {
			c.write(p)
		}
		p.Put(`<td>{}</td></tr>
`, r.Notes)
	}
	p.Put(`</tbody></table>`)
}

func (c Cell) write(p *markup.Page) {
	switch {
	case c.Stages.Of == 0:
		p.Put(`<td class="none"></td>`)
		return
	case c.Confirmed():
		p.Put(`<td class="done">`)
		for i, took := range c.Took {
			p.If(i > 0, ` + `)
			p.If(took.Read, `<b>{}</b>`, took.Text)
			p.If(!took.Read, `{}`, took.Text)
		}
	default:
		p.Put(`<td class="open"><span class="box"></span> {}`, c.Text)
	}
	p.If(c.Refused > 0, ` !`)
	p.Put(`</td>`)
}

// Trusted reports whether nothing in the file speaks against the record.
func (s Sheet) Trusted() bool { return s.Chain == "whole" && len(s.Findings) == 0 }
