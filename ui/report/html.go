package report

import (
	_ "embed"
	"html/template"
	"io"
	"sync"
)

//go:embed page.html
var pageText string

// page escapes everything that is put into it by where it stands. Parsed when
// first printed, so that no other command pays for it.
var page = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page").Funcs(template.FuncMap{
		"stamp": Stamp, "short": shortened, "at": stampOr, "said": said,
	}).Parse(pageText))
})

// htmlPasses is how many passes stand beside each other on A4.
const htmlPasses = 7

// WriteHTML writes the sheet as one file without scripts and without anything
// from elsewhere: for a browser, light or dark, and for A4.
func WriteHTML(w io.Writer, s Sheet) error {
	return page().Execute(w, struct {
		Sheet
		Map      drawing
		Matrices []Matrix
		Governs  string
	}{s, s.draw(), s.Matrix().chunks(htmlPasses), Governs})
}

// Trusted reports whether nothing in the file speaks against the record.
func (s Sheet) Trusted() bool { return s.Chain == "whole" && len(s.Findings) == 0 }

// GroupLabel names a group by its id.
func (s Sheet) GroupLabel(id string) string { return s.groupTitle(id) }
