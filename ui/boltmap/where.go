package boltmap

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// Where says in a few words where a fastener sits, as one would say it across
// the bench: "2nd from left, top row", "between 2 and 3 o'clock", "lower
// right". It is "" for an id that isn't there.
func Where(bolts []Bolt, id string) string {
	i := slices.IndexFunc(bolts, func(b Bolt) bool { return b.ID == id })
	switch {
	case i < 0:
		return ""
	case len(bolts) == 1:
		return "the only one"
	}
	f := newFace(bolts)
	where := f.inRows(i)
	if where == "" {
		where = f.onCircle(i)
	}
	if where == "" {
		where = f.inNinths(i) + f.among(i)
	}
	for j, b := range bolts {
		if j != i && f.x[j] == f.x[i] && f.y[j] == f.y[i] {
			return where + ", same place as " + b.ID
		}
	}
	return where
}

// face is the places of all bolts, from 0 at the left and bottom, with the
// larger extent of the joint as 1.
type face struct {
	x, y          []float64
	width, height float64
}

func newFace(bolts []Bolt) face {
	f := face{x: make([]float64, len(bolts)), y: make([]float64, len(bolts))}
	for i, b := range bolts {
		f.x[i], f.y[i] = coordinate(b.X), coordinate(b.Y)
	}
	left, bottom := slices.Min(f.x), slices.Min(f.y)
	f.width, f.height = slices.Max(f.x)-left, slices.Max(f.y)-bottom
	size := max(f.width, f.height)
	if size == 0 {
		size = 1
	}
	for i := range f.x {
		f.x[i], f.y[i] = (f.x[i]-left)/size, (f.y[i]-bottom)/size
	}
	f.width, f.height = f.width/size, f.height/size
	return f
}

// Fasteners within a twentieth of the joint's size stand in one row or column.
const alike = 0.05

// lanes groups the values into rows: indexes by rising value, or nil if there
// are more than three groups.
func lanes(values []float64) [][]int {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case values[a] < values[b]:
			return -1
		case values[a] > values[b]:
			return 1
		}
		return 0
	})
	var groups [][]int
	for k, i := range order {
		if k == 0 || values[i]-values[order[k-1]] > alike {
			if len(groups) == 3 {
				return nil
			}
			groups = append(groups, nil)
		}
		groups[len(groups)-1] = append(groups[len(groups)-1], i)
	}
	// A lane as wide as a gap is no lane: a slope, or a crowd.
	for _, g := range groups {
		if values[g[len(g)-1]]-values[g[0]] > 2*alike {
			return nil
		}
	}
	return groups
}

// inRows answers for joints of up to three rows, or of one column.
func (f face) inRows(i int) string {
	if f.width <= alike && f.height > alike {
		all := make([]int, len(f.y))
		for k := range all {
			all[k] = k
		}
		return countFrom(f.y, all, i, "bottom", "top")
	}
	rows := lanes(f.y)
	for k, row := range rows {
		if !slices.Contains(row, i) {
			continue
		}
		name := [][]string{nil, {""}, {"bottom row", "top row"}, {"bottom row", "middle row", "top row"}}[len(rows)][k]
		switch place := countFrom(f.x, row, i, "left", "right"); {
		case name == "":
			return place
		case place == "":
			return name
		default:
			return place + ", " + name
		}
	}
	return ""
}

// countFrom gives the place of bolt i among those of its lane, counted from
// the nearer end.
func countFrom(values []float64, lane []int, i int, low, high string) string {
	before, after := 0, 0
	for _, j := range lane {
		if values[j] < values[i] {
			before++
		} else if values[j] > values[i] {
			after++
		}
	}
	switch {
	case before == 0 && after == 0:
		return ""
	case before == 0:
		return low
	case after == 0:
		return high
	case before == after:
		return "middle"
	case before < after:
		return ordinal(before+1) + " from " + low
	}
	return ordinal(after+1) + " from " + high
}

func ordinal(n int) string {
	suffix := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			suffix = "st"
		case 2:
			suffix = "nd"
		case 3:
			suffix = "rd"
		}
	}
	return strconv.Itoa(n) + suffix
}

// onCircle answers for a bolt circle, by the clock.
func (f face) onCircle(i int) string {
	cx, cy := f.width/2, f.height/2
	least, most := math.Inf(1), 0.0
	for k := range f.x {
		r := math.Hypot(f.x[k]-cx, f.y[k]-cy)
		least, most = min(least, r), max(most, r)
	}
	if len(f.x) < 5 || most-least > alike {
		return ""
	}
	// Half hours clockwise from the top; 24 make a round.
	half := int(math.Round(math.Atan2(f.x[i]-cx, f.y[i]-cy)/(2*math.Pi)*24)+24) % 24
	hour := func(h int) int { return (h+11)%12 + 1 }
	if half%2 == 0 {
		return fmt.Sprintf("%d o'clock", hour(half/2))
	}
	return fmt.Sprintf("between %d and %d o'clock", hour(half/2), hour(half/2+1))
}

// inNinths answers for any other joint, by thirds each way.
func (f face) inNinths(i int) string {
	third := func(v, size float64) int {
		if size <= alike {
			return 1
		}
		return min(2, int(3*v/size))
	}
	return [][]string{
		{"lower left", "bottom", "lower right"},
		{"left", "centre", "right"},
		{"upper left", "top", "upper right"},
	}[third(f.y[i], f.height)][third(f.x[i], f.width)]
}

// among tells bolt i from the others in the same ninth, if they are few and
// stand apart.
func (f face) among(i int) string {
	var same []int
	for k := range f.x {
		if f.inNinths(k) == f.inNinths(i) {
			same = append(same, k)
		}
	}
	if len(same) < 2 || len(same) > 5 {
		return ""
	}
	spread := func(values []float64) float64 {
		least, most := math.Inf(1), math.Inf(-1)
		for _, k := range same {
			least, most = min(least, values[k]), max(most, values[k])
		}
		return most - least
	}
	place := countFrom(f.x, same, i, "left", "right")
	if spread(f.y) > spread(f.x) {
		place = countFrom(f.y, same, i, "bottom", "top")
	}
	if place == "" {
		return ""
	}
	return fmt.Sprintf(", %s of the %d there", place, len(same))
}
