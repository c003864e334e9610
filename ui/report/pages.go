package report

import (
	"fmt"
	"io"
	"strings"

	"evenpull/ui/fit"
)

// pageLines is a page of a line printer at six lines an inch with a margin:
// common practice, no source.
const pageLines = 60

// WritePages writes the sheet for an 80-column printer: pages of 60 lines with
// a form feed between them, headings again on each page, no row torn apart.
func WritePages(w io.Writer, s Sheet) error {
	p := &pager{}
	for _, b := range append(s.blocks(), s.signBlock()) {
		p.block(b)
	}
	p.flush()
	var out strings.Builder
	for i, page := range p.pages {
		if i > 0 {
			out.WriteByte('\f')
		}
		for _, line := range page {
			out.WriteString(line + "\n")
		}
		foot := fmt.Sprintf("page %d of %d", i+1, len(p.pages))
		out.WriteString(strings.Repeat("\n", pageLines-2-len(page)) + "\n" + fit.Ends(s.ID+"  "+s.State, foot, paperWidth) + "\n")
	}
	_, err := io.WriteString(w, out.String())
	return err
}

type pager struct {
	pages [][]string
	page  []string
}

func (p *pager) room() int { return pageLines - 2 - len(p.page) }

func (p *pager) flush() {
	if len(p.page) > 0 {
		p.pages, p.page = append(p.pages, p.page), nil
	}
}

func (p *pager) block(b block) {
	opening := b.opening()
	gap := min(len(p.page), 1)
	if p.room() < gap+len(opening)+len(b.rows[0]) {
		p.flush() // a heading never stands alone at the foot
		gap = 0
	}
	p.page = append(p.page, make([]string, gap)...)
	p.page = append(p.page, opening...)
	for _, row := range b.rows {
		if p.room() < len(row) {
			p.flush()
			p.page = append(p.page, b.again()...)
		}
		p.row(row)
	}
}

// row puts lines on the page; one longer than a whole page has to be torn.
func (p *pager) row(lines []string) {
	for len(lines) > p.room() {
		n := p.room()
		p.page = append(p.page, lines[:n]...)
		lines = lines[n:]
		p.flush()
	}
	p.page = append(p.page, lines...)
}

// again is the heading of a block on the pages after its first.
func (b block) again() []string {
	if b.title == "" {
		return b.head
	}
	return append([]string{strings.ToUpper(b.title) + ", CONTINUED"}, b.head...)
}
