package boltmap

import (
	"cmp"
	"math"
	"slices"

	"evenpull/ui/fit"
)

// place gives every bolt its cell: scaled alike both ways, in the middle, and no
// two in one cell unless there are more of them than a row has cells.
func (p *pen) place() {
	minX, maxX := math.Inf(1), math.Inf(-1)
	minY, maxY := minX, maxX
	for _, b := range p.bolts {
		x, y := coordinate(b.X), coordinate(b.Y)
		minX, maxX = min(minX, x), max(maxX, x)
		minY, maxY = min(minY, y), max(maxY, y)
	}
	left, right := p.margins()
	cols, rows := max(1, p.grid.w-1-left-right), p.grid.h-1
	// mm to a column; a row is two columns high.
	scale := max((maxX-minX)/float64(cols), (maxY-minY)/float64(2*rows))
	if scale == 0 {
		scale = 1 // all in one place
	}
	middleX, middleY := float64(left)+float64(cols)/2, float64(p.grid.h-1)/2
	x, y := make([]float64, len(p.bolts)), make([]float64, len(p.bolts))
	for i, b := range p.bolts {
		x[i] = middleX + (coordinate(b.X)-(minX+maxX)/2)/scale
		y[i] = middleY - (coordinate(b.Y)-(minY+maxY)/2)/(2*scale)
	}
	p.at, p.now = make([]int, p.grid.w*p.grid.h), -1
	row := p.rows(y)
	for _, line := range inLines(row, p.grid.h) {
		slices.SortStableFunc(line, func(a, b int) int { return cmp.Compare(x[a], x[b]) })
		for k, at := range apart(x, line, p.grid.w, 2) {
			p.add(line[k], at, row[line[k]])
		}
	}
}

// rows gives each bolt its row: a row of the joint one of its own, if there are
// enough of them.
func (p *pen) rows(y []float64) []int {
	row := make([]int, len(y))
	for i := range y {
		row[i] = clamp(math.Round(y[i]), p.grid.h)
	}
	if len(y) > len(p.at) {
		return row
	}
	order := byValue(y)
	var lead []int // the first bolt of each row of the joint
	of := make([]int, len(y))
	for k, i := range order {
		if k == 0 || y[i]-y[lead[len(lead)-1]] > 0.5 {
			lead = append(lead, i)
		}
		of[i] = len(lead) - 1
	}
	if len(lead) > p.grid.h {
		return row
	}
	own := apart(y, lead, p.grid.h, 1)
	for i := range row {
		row[i] = own[of[i]]
	}
	return row
}

func byValue(values []float64) []int {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	return order
}

// inLines sorts bolts by their row.
func inLines(row []int, h int) [][]int {
	lines := make([][]int, h)
	for i, y := range row {
		lines[y] = append(lines[y], i)
	}
	return lines
}

// apart rounds ascending places to cells of 0 to size-1 of their own: gap cells
// from each other where there is room for that, else side by side, and together
// in one where there are more places than cells.
func apart(place []float64, order []int, size, gap int) []int {
	cells := make([]int, len(order))
	if gap*(len(order)-1) >= size {
		gap = 1
	}
	for k, i := range order {
		cells[k] = clamp(math.Round(place[i]), size)
		if k > 0 && len(order) <= size {
			cells[k] = max(cells[k], cells[k-1]+gap)
		}
	}
	for k, last := len(order)-1, size-1; k >= 0 && cells[k] > last; k, last = k-1, last-gap {
		cells[k] = last
	}
	return cells
}

func clamp(v float64, size int) int { return max(0, min(size-1, int(v))) }

// margins is the columns kept free on either side: for the arrowheads, and to the
// right for the longest label, with its note if possible, where that leaves most
// of the room to the drawing.
func (p *pen) margins() (left, right int) {
	id, noted := 0, 0
	for i, b := range p.bolts {
		id = max(id, p.width(i))
		if b.Note != "" {
			noted = max(noted, p.width(i)+1+fit.Width(clean(b.Note, p.ascii)))
		}
	}
	for _, longest := range []int{max(id, noted), id} {
		if m := longest + 2; 2*m <= p.grid.w {
			return 1, m
		}
	}
	return 1, 1
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
