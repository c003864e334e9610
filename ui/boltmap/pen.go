package boltmap

import (
	"math"
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

// place gives every bolt its cell: scaled alike both ways, centred.
func (p *pen) place() {
	minX, maxX := math.Inf(1), math.Inf(-1)
	minY, maxY := minX, maxX
	for _, b := range p.bolts {
		x, y := coordinate(b.X), coordinate(b.Y)
		minX, maxX = min(minX, x), max(maxX, x)
		minY, maxY = min(minY, y), max(maxY, y)
	}
	cols, rows := p.grid.w-1-2*p.margin(), p.grid.h-1
	// mm to a column; a row is two columns high.
	scale := max((maxX-minX)/float64(cols), (maxY-minY)/float64(2*rows))
	if scale == 0 {
		scale = 1 // all in one place
	}
	p.at, p.now = make([]int, p.grid.w*p.grid.h), -1
	middleX, middleY := float64(p.grid.w-1)/2, float64(p.grid.h-1)/2
	for i, b := range p.bolts {
		x := math.Round(middleX + (coordinate(b.X)-(minX+maxX)/2)/scale)
		y := math.Round(middleY - (coordinate(b.Y)-(minY+maxY)/2)/(2*scale))
		p.add(i, clamp(x, p.grid.w), clamp(y, p.grid.h))
	}
}

func clamp(v float64, size int) int { return max(0, min(size-1, int(v))) }

// margin is the columns kept free on either side: for the arrowheads, and for
// the longest label where that leaves most of the room to the drawing.
func (p *pen) margin() int {
	longest := 0
	for i := range p.bolts {
		longest = max(longest, fit.Width(p.label(spot{show: i, count: 1})))
	}
	if m := longest + 2; 3*m <= p.grid.w {
		return m
	}
	return 1
}

func (p *pen) add(i, x, y int) {
	k := &p.at[y*p.grid.w+x]
	if *k == 0 {
		p.spots = append(p.spots, spot{x: x, y: y, show: i})
		*k = len(p.spots)
	}
	s := &p.spots[*k-1]
	s.count++
	if p.bolts[i].State > p.bolts[s.show].State {
		s.show = i
	}
	if p.bolts[i].State == Current && p.now < 0 {
		p.now = *k - 1
	}
}

// glyphs draws every spot, then the arrowheads of the current one.
func (p *pen) glyphs() {
	for _, s := range p.spots {
		sign, role := glyph(p.bolts[s.show], p.ascii)
		p.grid.put(s.x, s.y, sign, role)
	}
	if p.now < 0 {
		return
	}
	s := p.spots[p.now]
	heads := []struct {
		dx, dy          int
		sign, asciiSign string
	}{{-1, 0, "▶", ">"}, {1, 0, "◀", "<"}, {0, -1, "▼", "v"}, {0, 1, "▲", "^"}}
	drawn := 0
	for _, head := range heads {
		if head.dy != 0 && drawn > 0 {
			break // above and below only where the sides are taken
		}
		if p.grid.free(s.x+head.dx, s.y+head.dy, 1) {
			p.grid.put(s.x+head.dx, s.y+head.dy, pick(p.ascii, head.asciiSign, head.sign), theme.Current)
			drawn++
		}
	}
	for _, head := range heads[:2] {
		// In a crowd the current one is worth more than a neighbour.
		if x := s.x + head.dx; drawn == 0 && x >= 0 && x < p.grid.w {
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

// label is the id of what a spot shows, and how many more are there.
func (p *pen) label(s spot) string {
	id := clean(p.bolts[s.show].ID, p.ascii)
	if s.count > 1 {
		id += "+" + strconv.Itoa(s.count-1)
	}
	return id
}

// labels writes ids where they touch nothing: the current one first, then
// those in trouble, then the others.
func (p *pen) labels() {
	if p.now >= 0 {
		p.write(p.spots[p.now], theme.Current)
	}
	for _, urgent := range []bool{true, false} {
		for i, s := range p.spots {
			if b := p.bolts[s.show]; i != p.now && (b.State == Trouble) == urgent {
				role := theme.Plain
				if urgent {
					role = theme.Warning
				} else if b.State == NotThisPass || b.State == Done {
					role = theme.Quiet
				}
				p.write(s, role)
			}
		}
	}
}

// write tries the outer side first, then the inner, below and above; with the
// note first, then without.
func (p *pen) write(s spot, role theme.Role) {
	id := p.label(s)
	texts := []string{id}
	if note := p.bolts[s.show].Note; note != "" && s.count == 1 {
		texts = []string{id + " " + clean(note, p.ascii), id}
	}
	gap := 2 // a space between
	if p.bolts[s.show].State == Current {
		gap = 3 // and the arrowhead
	}
	for _, text := range texts {
		n := fit.Width(text)
		right, left := [2]int{s.x + gap, s.y}, [2]int{s.x - gap + 1 - n, s.y}
		places := [][2]int{right, left, {s.x - n/2, s.y + 1}, {s.x - n/2, s.y - 1}}
		if 2*s.x < p.grid.w-1 {
			places[0], places[1] = left, right
		}
		for _, at := range places {
			if n > 0 && p.grid.free(at[0]-1, at[1], n+2) || n > 0 && p.edge(at[0], at[1], n) {
				p.grid.put(at[0], at[1], text, role)
				return
			}
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
