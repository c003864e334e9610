package report

import (
	"cmp"
	"fmt"
	"io"
	"time"

	"evenpull/ui/markup"
)

// Room of the fixed parts of the first page of a build sheet, in mm.
const (
	buildHeadRoom = 27
	jointsRoom    = 10 // of their heading
	jointRow      = 4.4
	buildSignRoom = 36
)

// WriteBuildHTML writes the build sheet as a page of essentials with a place to sign,
// then walk by walk.
func WriteBuildHTML(w io.Writer, b Build, paper Paper) error {
	p := markup.New(w)
	begin(p, b.title()+": build sheet", b.title()+", build sheet of "+b.At.Format(time.DateOnly), paper, true)
	p.Put(buildStyle, paper.Height-2, paper.Width)
	p.Put(`</head>
<body>
`)
	b.front(p, paper)
	p.Put(`<section class="appendix all">
<h1>{}: all of it</h1>
<div class="two">`, b.title())
	for _, l := range b.panels() {
		l.write(p)
	}
	p.Put(`</div>
`)
	if len(b.Photos) > 0 {
		p.Put(`<h2>Photos taken between the walks</h2>
`)
		photosOn(p, b.Photos)
	}
	p.Put(`</section>
`)
	for _, s := range b.Sheets {
		s.asWalk(p, paper)
	}
	p.Put(`</body>
</html>
`)
	return p.Close()
}

// front is the first page, with as much as there is room for.
func (b Build) front(p *markup.Page, paper Paper) {
	joints := b.joints()
	more := max(0, len(joints)-mostJoints)
	room := paper.Height - buildHeadRoom - jointsRoom - jointRow*float64(min(mostJoints, len(joints))) - buildSignRoom
	left, right := columns(b.panels(), room, (paper.Width-8)/2)
	p.Put(`<section class="front">
<header>
<div><b>{}</b>
<p>{}`, b.Tag, cmp.Or(b.Name, "engine"))
	p.If(b.Meter != "", `, {}`, b.Meter)
	p.Put(`</p>
<p>Build sheet of {}</p></div>
<div class="verdict">{}</div>
</header>
<h2>Walks`, b.At.Format(time.DateOnly), b.Verdict())
	p.If(more > 0, `, the last {}; {} before them stand below`, len(joints)-more, more)
	p.Put(`</h2>
<table class="joints"><thead><tr><th scope="col">Last</th><th scope="col">Walk</th><th scope="col">State</th><th scope="col">Stages</th><th scope="col">Closing hash</th></tr></thead><tbody>
`)
	for _, j := range joints[more:] {
		j.write(p)
	}
	p.Put(`</tbody></table>
`)
	lists(p, left, right)
	p.Put(`<div class="sign">
<p><b>{}</b> Hold a closing hash on paper against the file: it shows what was cut off or written anew.</p>
`+signHere+`</section>
`, Responsible)
}

// write is a walk in one row.
func (j joint) write(p *markup.Page) {
	p.Put(`<tr><td class="time">{}</td><td class="one">{}`, j.When, j.What)
	p.If(j.Signed != "", `; {}`, j.Signed)
	p.Put(`</td><td>`)
	p.If(j.State == "done", `done`)
	p.If(j.State != "done", `<b>{}</b>`, j.State)
	p.Put(`</td><td class="tight">{}</td><td class="tight">{}…</td></tr>
`, j.Stages, fmt.Sprintf("%.16s", j.Hash))
}

// asWalk is one walk of a build sheet, in full.
func (s Sheet) asWalk(p *markup.Page, paper Paper) {
	last := s.Started
	if s.Last != nil {
		last = *s.Last
	}
	p.Put(`<section class="appendix walk">
<h1>{}: {}`, last.Format(time.DateOnly), s.Procedure)
	p.If(s.Place != "", `, {}`, s.Place)
	p.Put(`, {}</h1>
`, s.State)
	if d := s.draw(paper.Width, leastMap+20); len(d.Bolts) > 0 {
		p.Put(`<figure>`)
		d.write(p)
		p.Put(`
<figcaption>As seen at the stand. Number: the order of the final figures. Black: every stage confirmed. White: none.</figcaption></figure>`)
	}
	p.Put("\n")
	s.appendix(p, s.Matrix().chunks(htmlPasses))
	p.Put(`
</section>
`)
}
