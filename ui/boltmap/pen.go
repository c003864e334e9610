package boltmap

import (
	"slices"
	"strconv"

	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// pen draws one map. Spots are the cells that hold at least one bolt.
type pen struct {
	grid  *grid
	bolts []Bolt
	ascii bool

	spots []spot
	at    []int // for each cell 1 + its index in spots, 0 for none
	now   int   // index of the current spot, or -1
}

// spot is a cell with bolts in it; show is the one that is drawn.
type spot struct {
	x, y  int
	show  int // index in bolts
	count int
}

// glyphs draws every spot.
func (p *pen) glyphs() {
	for _, s := range p.spots {
		sign, role := glyph(p.bolts[s.show], p.ascii)
		p.grid.put(s.x, s.y, sign, role)
	}
}

// heads are the arrowheads at the current spot: on both sides, or above and below.
var heads = []struct {
	dx, dy          int
	sign, asciiSign string
}{{-1, 0, "▶", ">"}, {1, 0, "◀", "<"}, {0, -1, "▼", "v"}, {0, 1, "▲", "^"}}

// arrows draws the arrowheads of the current spot. In a crowd they stand further
// off, and take a neighbour's place only where nothing in line is free.
func (p *pen) arrows() {
	if p.now < 0 {
		return
	}
	s := p.spots[p.now]
	for far := 1; far < max(p.grid.w, p.grid.h); far++ {
		drawn := 0
		for _, head := range heads {
			if head.dy != 0 && drawn > 0 {
				break // above and below only where the sides are taken
			}
			if x, y := s.x+far*head.dx, s.y+far*head.dy; p.grid.free(x, y, 1) {
				p.grid.put(x, y, pick(p.ascii, head.asciiSign, head.sign), theme.Current)
				drawn++
			}
		}
		if drawn > 0 {
			return
		}
	}
	for _, head := range heads[:2] {
		if x := s.x + head.dx; x >= 0 && x < p.grid.w {
			p.grid.put(x, s.y, pick(p.ascii, head.asciiSign, head.sign), theme.Current)
		}
	}
}

func pick(ascii bool, a, u string) string {
	if ascii {
		return a
	}
	return u
}

// width is that of the label of a bolt that stands alone.
func (p *pen) width(i int) int { return fit.Width(clean(p.bolts[i].ID, p.ascii)) }

// label is the id of what a spot shows, and how many more are there.
func (p *pen) label(s spot) string {
	id := clean(p.bolts[s.show].ID, p.ascii)
	if s.count > 1 {
		id += "+" + strconv.Itoa(s.count-1)
	}
	return id
}

// side is where the ids stand, seen from their bolts: on one map always the same,
// so that none is read for its neighbour's.
type side int

const (
	right side = iota // a blank or an arrowhead between
	close             // right of it, touching
	under
	above
	sides
)

// at is where a label of n cells begins that belongs to a spot.
func (s spot) at(where side, n int) (x, y int) {
	switch where {
	case right:
		return s.x + 2, s.y
	case close:
		return s.x + 1, s.y
	case under:
		return s.x - n/2, s.y + 1
	}
	return s.x - n/2, s.y - 1
}

// labels writes the ids on that side where most of them fit, if that is half of them,
// and after them their notes. The current one, and those in trouble, get a place in any case.
func (p *pen) labels() {
	best, most := right, -1
	for where := range sides {
		if n := p.fitting(where); n > most {
			best, most = where, n
		}
	}
	placed := p.placed(best)
	if 2*most < len(p.spots) { // the few that fit would be read for their neighbours'
		placed = make([]bool, len(p.spots))
	}
	for i, s := range p.spots {
		if placed[i] {
			x, y := s.at(best, fit.Width(p.label(s)))
			p.grid.put(x, y, p.label(s), p.labelRole(i))
		}
	}
	for i, s := range p.spots {
		if b := p.bolts[s.show]; !placed[i] && (b.State == Current || b.State == Trouble) {
			p.anywhere(s, p.labelRole(i))
		}
	}
	for i, s := range p.spots {
		if note := p.bolts[s.show].Note; placed[i] && s.count == 1 && note != "" {
			note = " " + clean(note, p.ascii)
			x, y := s.at(best, fit.Width(p.label(s)))
			if x += fit.Width(p.label(s)); p.grid.free(x, y, fit.Width(note)+1) || x+fit.Width(note) == p.grid.w && p.grid.free(x, y, fit.Width(note)) {
				p.grid.put(x, y, note, p.labelRole(i))
			}
		}
	}
}

func (p *pen) labelRole(i int) theme.Role {
	switch b := p.bolts[p.spots[i].show]; {
	case i == p.now:
		return theme.Current
	case b.State == Trouble:
		return theme.Warning
	case b.State == NotThisPass, b.State == Done:
		return theme.Quiet
	}
	return theme.Plain
}

func (p *pen) fitting(where side) (n int) {
	for _, ok := range p.placed(where) {
		if ok {
			n++
		}
	}
	return n
}

// placed tells which labels fit on a side: clear of all marks, of the places of
// their arrowheads, whichever is current, and of each other.
func (p *pen) placed(where side) []bool {
	taken := make([]bool, len(p.grid.cells))
	for _, s := range p.spots {
		taken[s.y*p.grid.w+s.x] = true
		if s.x > 0 && where < under {
			taken[s.y*p.grid.w+s.x-1] = true
		}
	}
	clear := func(x, y, n int) bool {
		if x < 0 || y < 0 || y >= p.grid.h || x+n > p.grid.w {
			return false
		}
		return !slices.Contains(taken[y*p.grid.w+x:y*p.grid.w+x+n], true)
	}
	list := make([]bool, len(p.spots))
	for i, s := range p.spots {
		n := fit.Width(p.label(s))
		x, y := s.at(where, n)
		from, to := x, x+n
		if where >= under { // a blank to the next one
			from, to = max(0, x-1), min(p.grid.w, x+n+1)
		}
		if n > 0 && x >= 0 && x+n <= p.grid.w && clear(from, y, to-from) {
			list[i] = true
			for k := x; k < x+n; k++ {
				taken[y*p.grid.w+k] = true
			}
		}
	}
	return list
}

// anywhere writes the label of a spot on the first side that has room.
func (p *pen) anywhere(s spot, role theme.Role) {
	n := fit.Width(p.label(s))
	for _, at := range [][2]int{{s.x + 2, s.y}, {s.x - 1 - n, s.y}, {s.x - n/2, s.y + 1}, {s.x - n/2, s.y - 1}} {
		if n > 0 && (p.grid.free(at[0]-1, at[1], n+2) || p.edge(at[0], at[1], n)) {
			p.grid.put(at[0], at[1], p.label(s), role)
			return
		}
	}
}

// edge reports whether n cells fit against the left or right edge, where only
// one side has a neighbour to keep clear of.
func (p *pen) edge(x, y, n int) bool {
	return x == 0 && p.grid.free(x, y, n+1) || x+n == p.grid.w && p.grid.free(x-1, y, n+1)
}

// crosshair draws lines from the edges to the current spot through what is
// still empty.
func (p *pen) crosshair() {
	if p.now < 0 {
		return
	}
	s := p.spots[p.now]
	for x := range p.grid.w {
		if p.grid.free(x, s.y, 1) {
			p.grid.put(x, s.y, pick(p.ascii, "-", "┈"), theme.Quiet)
		}
	}
	for y := range p.grid.h {
		if p.grid.free(s.x, y, 1) {
			p.grid.put(s.x, y, pick(p.ascii, "|", "┊"), theme.Quiet)
		}
	}
}
