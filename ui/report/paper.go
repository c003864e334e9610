package report

import (
	"fmt"
	"math"

	"evenpull/ui/fit"
)

// Paper is what a page is printed on.
type Paper struct {
	Name          string  // as a printer calls it
	Width, Height float64 // mm inside the margins
}

// pageMargin is kept free at every edge, in mm: room for a printer's grip.
const pageMargin = 11

// The papers that pages are laid out for: ISO 216 A4, 210 × 297 mm; ANSI
// Letter, 8.5 × 11 in.
var (
	A4     = Paper{"A4", 210 - 2*pageMargin, 297 - 2*pageMargin}
	Letter = Paper{"letter", 215.9 - 2*pageMargin, 279.4 - 2*pageMargin}
)

// PaperCalled finds a paper by its name on the command line.
func PaperCalled(name string) (Paper, error) {
	switch name {
	case "a4":
		return A4, nil
	case "letter":
		return Letter, nil
	}
	return Paper{}, fmt.Errorf("paper %q is not known; use one of: a4, letter", clean(name))
}

// Sizes of running text on the first page, in mm.
const (
	textSize   = 2.9 // letter height, 8.2 pt
	lineHeight = 3.7 // of running text
	rowHeight  = 4.3 // of a table's row
	titleRoom  = 6.2 // a heading with the space around it
)

// A letter is at most about 0.6 of its height wide on average, in the widest of
// the usual fonts (DejaVu Sans; measured on the words of the bundled files).

// linesOf is how many lines a text takes, about: never fewer than it needs.
func linesOf(text string, width, size float64) int {
	perLine := max(1, math.Floor(width/(0.6*size)))
	return max(1, int(math.Ceil(float64(fit.Width(text))/perLine)))
}

// within cuts a text to what fits in so many lines.
func within(text string, lines int, width, size float64) string {
	perLine := max(1, math.Floor(width/(0.6*size)))
	return fit.Cut(text, int(float64(lines)*perLine))
}
