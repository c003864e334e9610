package report

import "evenpull/ui/markup"

// appendix is everything that is on record, behind the first page or of one walk of a
// build sheet.
func (s Sheet) appendix(p *markup.Page, matrices []Matrix) {
	if alarms := s.Alarms(); len(alarms) > 0 {
		p.If(s.Trusted(), `<h2>Notes on the file</h2>`)
		p.If(!s.Trusted(), `<h2>Do not rely on this record</h2>`)
		p.Put(`<ul>`)
		p.Each(alarms, `<li>{}</li>`)
		p.Put(`</ul>`)
	}
	p.Put("\n")
	if n := len(s.Outstanding); n > 0 {
		p.Put(`<h2>Still to do: {}</h2><ul>`, n)
		p.Each(s.Outstanding, `<li><span class="box"></span> {}</li>`)
		p.Put(`</ul>`)
	}
	p.Put("\n")
	if len(matrices) > 0 {
		p.Put(`<h2>Fasteners by pass</h2>`)
		for _, m := range matrices {
			m.write(p)
		}
		p.Put("\n" + legend)
	}
	s.figuresOn(p)
	p.Put(`<div class="two">
`)
	s.foundOn(p)
	s.doneOn(p)
	s.cautionsOn(p)
	p.Put(`</div>
`)
	s.deviationsOn(p)
	s.timelineOn(p)
	p.Put(`<h2>Record</h2>
<dl>`)
	for _, fact := range s.Facts() {
		p.Put(`<dt>{}</dt><dd>{}</dd>`, fact[0], fact[1])
	}
	p.Put(`</dl>`)
}

// figuresOn is the table of what each pass asks of each group.
func (s Sheet) figuresOn(p *markup.Page) {
	p.Put(`
<h2>Passes and their figures</h2>
<table><thead><tr><th scope="col">Pass</th><th scope="col">Figure</th><th scope="col">Source</th><th scope="col">Stages</th></tr></thead><tbody>
`)
	for _, pass := range s.Passes {
		if pass.Wait != "" {
			p.Put(`<tr><th scope="row">{}</th><td>wait {}</td><td></td><td></td></tr>
`, pass.Name, pass.Wait)
			continue
		}
		for i, f := range pass.Figures {
			p.Put(`<tr><th scope="row">`)
			p.If(i == 0, `{}`, pass.Name)
			p.Put(`</th><td>{}: <b>{}</b></td><td>`, s.groupTitle(f.Group), f.Text)
			p.If(f.Source != "", `{}`, f.Source)
			p.If(f.Source == "", `<b>unsourced</b>`)
			p.Put(`</td><td class="tight">`)
			p.If(i == 0, `{} of {}`, pass.Stages.Confirmed, pass.Stages.Of)
			p.Put(`</td></tr>
`)
		}
	}
	p.Put(`</tbody></table>
`)
}

// foundOn is how things were found, and what was wrong.
func (s Sheet) foundOn(p *markup.Page) {
	if len(s.Found) > 0 {
		p.Put(`<h2>How it was found</h2>
<ul>`)
		for _, f := range s.Found {
			p.Put(`<li>`)
			p.If(f.Condemned, `<b>!</b> `)
			p.Put(`{}</li>
`, f.Line())
		}
		p.Put(`</ul>
`)
	}
	if len(s.Faults) > 0 {
		p.Put(`<h2>{}</h2>
<ul>`, s.FaultTitle())
		for _, f := range s.Faults {
			p.Put(`<li>{}</li>
`, f.Text())
		}
		p.Put(`</ul>
`)
	}
}

// doneOn is what was checked, accounted for and renewed, and with which wrenches.
func (s Sheet) doneOn(p *markup.Page) {
	if len(s.Checks) > 0 {
		p.Put(`<h2>Checks and measurements</h2>
<ul>`)
		for _, c := range s.Checks {
			p.Put(`<li>{} <b>{}</b> ({})`, c.Text(), c.Result(), c.When)
			for _, r := range c.Refused {
				p.Put(`<br>! {} refused: {}`, r.Reading, r.Why)
			}
			p.Put(`</li>
`)
		}
		p.Put(`</ul>`)
	}
	p.Put("\n")
	if len(s.Parts) > 0 {
		p.Put(`<h2>Parts</h2>
<ul>`)
		for _, part := range s.Parts {
			p.Put(`<li>{}: {}</li>
`, part.Text(), part.Result())
		}
		p.Put(`</ul>`)
	}
	p.Put("\n")
	if len(s.Renewals) > 0 {
		p.Put(`<h2>New pieces</h2>
<ul>`)
		for _, r := range s.Renewals {
			p.Put(`<li>{}</li>
`, r.Text())
		}
		p.Put(`</ul>`)
	}
	p.Put("\n")
	if wrenches := s.Wrenches(); len(wrenches) > 0 {
		p.Put(`<h2>Wrenches</h2><ul>`)
		for _, w := range wrenches {
			p.Put(`<li>{}: {} stages</li>`, w.Name, w.Stages)
		}
		p.Put(`</ul>`)
	}
	p.Put("\n")
}

func (s Sheet) cautionsOn(p *markup.Page) {
	p.Put(`<h2>Cautions</h2>
<ul>`)
	p.Each(s.Cautions, `<li>{}</li>`)
	p.If(len(s.Cautions) == 0, `<li>The procedure gives none of its own.</li>`)
	for _, g := range s.Groups {
		p.If(g.Caution != "", `<li>{}: {}</li>`, g.Name(), g.Caution)
	}
	for _, pass := range s.Passes {
		p.If(pass.Caution != "", `<li>{}: {}</li>`, pass.Name, pass.Caution)
	}
	p.Put(`</ul>
`)
}

// deviationsOn is what went other than straight.
func (s Sheet) deviationsOn(p *markup.Page) {
	p.Put(`<h2>Deviations</h2>
`)
	if len(s.Deviations) > 0 {
		p.Put(`<table><tbody>`)
		for _, d := range s.Deviations {
			p.Put(`<tr><td class="time">{}</td><td>{}</td></tr>
`, Stamp(d.At), d.Text)
		}
		p.Put(`</tbody></table>`)
	} else {
		p.Put(`<p>None: it went straight through.</p>`)
	}
	p.Put("\n")
	for _, r := range s.Refused {
		p.Put(`<p>{}: done was refused, {} outstanding</p><ul>`, Stamp(r.At), len(r.Outstanding))
		p.Each(shortened(r.Outstanding), `<li>{}</li>`)
		p.Put(`</ul>`)
	}
	p.Put("\n")
}

// timelineOn is all that happened, and the pictures of it.
func (s Sheet) timelineOn(p *markup.Page) {
	if len(s.Photos) > 0 {
		p.Put(`<h2>Photos</h2>
`)
		photosOn(p, s.Photos)
	}
	p.Put(`<h2>Timeline</h2>
<ul class="log">`)
	for _, day := range s.Days() {
		p.Put(`<li class="day">{}</li>`, day.Day)
		for _, e := range day.Entries {
			p.Put(`<li><time>{}</time>{}</li>
`, e.At.Format("15:04:05"), e.Said())
		}
	}
	p.Put(`</ul>
`)
}

func photosOn(p *markup.Page, photos []Photo) {
	p.Put(`<div style="display: flex; flex-wrap: wrap; gap: 4mm; align-items: flex-start">
`)
	for _, photo := range photos {
		p.Put(`<figure style="width: 88mm; break-inside: avoid">`)
		if picture, there := photo.picture(); there {
			p.Put(`<img src="{}" alt="" style="display: block; max-width: 88mm; max-height: 100mm; margin-bottom: .8mm">`, picture)
		} else {
			p.Put(`<p style="border: .3mm dashed #000; padding: 4mm">{}</p>`, photo.Absent())
		}
		p.Put(`
<figcaption><b>{}</b>, {}<br>SHA-256 {}</figcaption></figure>
`, photo.Text(), Stamp(photo.At), photo.SHA256)
	}
	p.Put(`</div>
`)
}
