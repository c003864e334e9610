package report

import (
	"evenpull/ui/markup"
)

// write lays the card out as a page, whose boxes are ticked with a pen.
func (c card) write(p *markup.Page) {
	begin(p, "Work card: "+c.Procedure, "work card, "+c.Procedure, c.Paper, false)
	p.Put(cardStyle, c.Map.Width, c.Paper.Width)
	p.Put(`</head>
<body>
<header>
<h1>{}</h1>
<p>`, c.Procedure)
	p.If(c.BuiltFor != "", `Written for: {}. `, c.BuiltFor)
	p.Put(`Figures from: `)
	p.If(c.FigureSource != "", `{}`, c.FigureSource)
	p.If(c.FigureSource == "", `<b>no source given: unsourced</b>`)
	p.Put(`</p>
<div class="fill"><span>Engine (tag)</span><span>Mechanic</span><span>Date</span></div>
</header>
<div class="top">
`)
	if len(c.Map.Bolts) > 0 {
		p.Put(`<figure>`)
		c.Map.write(p)
		p.Put(`
<figcaption>As seen at the stand. Number: the order in which each gets its final figure`)
		p.If(c.Map.Figures, `, which stands under its name`)
		p.Put(`. Second ring: hollow.</figcaption></figure>`)
	}
	c.how(p)
	for _, pass := range c.Passes {
		pass.write(p)
	}
	p.Put(`
<div class="sign">
<p><b>{}</b></p>
<div class="fill"><span>Mechanic, in block letters</span><span>Signature</span><span>Date</span></div>
<p>Procedure text SHA-256 {}</p>
</div>
</body>
</html>
`, cardSigned, c.SHA256)
}

// how is what to know before the first tick, and what to do after the last.
func (c card) how(p *markup.Page) {
	p.Put(`
<div>
<p><b>Tick each box when it is done, in this order, pass by pass.</b> Write down what you read. A bolt that goes wrong: do not tick, write on the back what happened.</p>
`)
	if len(c.Cautions) > 0 || len(c.Groups) > 0 {
		p.Put(`<ul>`)
		p.Each(c.Cautions, `<li><b>!</b> {}</li>`)
		for _, g := range c.Groups {
			p.If(g.Caution != "", `<li><b>!</b> {}: {}</li>`, g.Name(), g.Caution)
		}
		p.Put(`</ul>`)
	}
	p.Put("\n")
	if a := c.Sealant; a != nil {
		p.Put(`<p><b>{}: work time {}</b> from the first smear to the last bolt.</p>`, a.Name, a.WorkTime)
	}
	p.Put(`
<p>Afterwards the ticks are entered with:<br><b>{}</b><br>They are marked as coming from paper; their times are unknown.</p>
</div>
</div>
`, c.Enter)
}

func (c cardPass) write(p *markup.Page) {
	p.Put(`<h2>{}</h2>
`, c.Name)
	p.If(c.Because != "", `<p>Because {}.</p>`, c.Because)
	p.If(c.Prepare != "", `<p>{}</p>`, c.Prepare)
	p.If(c.Caution != "", `<p><b>! {}</b></p>`, c.Caution)
	p.Each(c.Unsourced, `<p><b>! {}: unsourced figure, check the service manual</b></p>`)
	p.Put("\n")
	steps(p, c.Before)
	if len(c.Rows) > 0 {
		p.Put(`<ul class="rows`)
		p.If(c.Wide, ` wide`)
		p.Put(`">`)
		for _, r := range c.Rows {
			r.write(p)
		}
		p.Put(`</ul>`)
	}
	p.Put("\n")
	steps(p, c.After)
}

func steps(p *markup.Page, list []cardLine) {
	if len(list) > 0 {
		p.Put(`<ul class="steps">`)
		for _, l := range list {
			l.write(p)
		}
		p.Put(`</ul>`)
	}
	p.Put("\n")
}

func (r cardRow) write(p *markup.Page) {
	p.Put(`<li>`)
	p.Each(r.First, `<span class="first"><span class="box"></span>{}</span>`)
	p.Each(r.Mind, `<span class="mind">! {}</span>`)
	p.Put(`<span class="no">{}</span><span class="id">{}</span>`, r.Number, r.ID)
	p.Each(r.Figures, `<span class="figure"><span class="box"></span>{}</span>`)
	p.If(r.Read, `<span class="line"></span>`)
	p.Each(r.New, `<span class="new"><span class="box"></span>new: {}, number <span class="line"></span></span>`)
	p.Put(`</li>
`)
}

func (l cardLine) write(p *markup.Page) {
	p.Put(`<li><span class="box"></span>`)
	switch l.Kind {
	case "ask":
		p.Put(`yes &nbsp; <b>{}</b>`, l.Text)
	case "measure":
		p.Put(`<b>{}</b>`, l.Text)
		p.If(l.Extra != "", ` ({})`, l.Extra)
		p.Put(` <span class="line"></span>`)
	case "wait":
		p.Put(`<b>{}</b>, from <span class="line short"></span> to <span class="line short"></span>`, l.Text)
	default:
		p.Put(`{}`, l.Text)
		p.If(l.New, `, new, number <span class="line"></span>`)
	}
	p.If(l.Extra != "" && l.Kind != "measure", ` <i>{}</i>`, l.Extra)
	p.If(l.Caution != "", ` <b>! {}</b>`, l.Caution)
	p.Put(`</li>
`)
}
