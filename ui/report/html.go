package report

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"evenpull/ui/fit"
)

//go:embed page.html
var pageText string

//go:embed build.html
var buildText string

//go:embed card.html
var cardText string

//go:embed page.css
var styleText string

//go:embed map.svg
var mapText string

// pages escapes everything that is put into a page by where it stands. Parsed
// when first printed, so that no other command pays for it.
var pages = sync.OnceValue(func() *template.Template {
	t := template.New("").Funcs(template.FuncMap{"stamp": Stamp, "short": shortened, "at": stampOr, "said": said})
	for _, text := range []string{mapText, styleText, pageText, cardText, buildText} {
		t = template.Must(t.Parse(text))
	}
	return t
})

// htmlPasses is how many passes stand beside each other in the appendix.
const htmlPasses = 6

// WriteHTML writes the sheet as one file without scripts and without anything
// from elsewhere: the first page has what decides and is signed, the appendix
// everything else.
func WriteHTML(w io.Writer, s Sheet, p Paper) error {
	f := s.onFirstPage(p)
	var matrices []Matrix
	if f.MatrixElsewhere {
		matrices = s.Matrix().chunks(htmlPasses)
	}
	return pages().ExecuteTemplate(w, "page", struct {
		front
		Paper       Paper
		Margin      int
		FrontHeight float64
		Foot        string
		Matrices    []Matrix
	}{f, p, pageMargin, p.Height - 2, footText(s.ID + ", " + s.State), matrices})
}

// footText is for the foot of every page. What stands before a colon would be
// taken for the scheme of an address, and refused.
func footText(text string) string { return fit.Cut(strings.ReplaceAll(text, ":", ","), 70) }

// WriteSVG writes the bolt map alone, in millimetres.
func WriteSVG(w io.Writer, s Sheet) error {
	d := s.draw(mapAlone, mapAlone)
	d.About = fmt.Sprintf("Engine %s: %s. %s. Record %s, chain %s, closing hash %s. %s %s %s", s.Engine, s.Procedure, s.Standing(), s.ID, s.Chain, s.ClosingHash, s.ClosingNote, Governs, s.PaperNote)
	return pages().ExecuteTemplate(w, "mapfile", d)
}

// mapAlone is the width of a map that stands alone, in mm.
const mapAlone = 180

// Trusted reports whether nothing in the file speaks against the record.
func (s Sheet) Trusted() bool { return s.Chain == "whole" && len(s.Findings) == 0 }

// GroupLabel names a group by its id.
func (s Sheet) GroupLabel(id string) string { return s.groupTitle(id) }
