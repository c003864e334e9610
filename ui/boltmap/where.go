package boltmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Where says in a few words where a fastener sits among those of its group, as
// one would say it across the bench: "bottom row, 3rd of 5", "between 2 and 3
// o'clock", "lower right". It is "" for an id that isn't there.
func Where(bolts []Bolt, id string) string {
	i := slices.IndexFunc(bolts, func(b Bolt) bool { return b.ID == id })
	if i < 0 {
		return ""
	}
	return Places(bolts)[i]
}

// Places says of each bolt where it sits. No two of a group are said to sit alike.
func Places(bolts []Bolt) []string {
	places := make([]string, len(bolts))
	if len(bolts) == 1 {
		return []string{"the only one"}
	}
	groups := map[string][]int{}
	for i, b := range bolts {
		groups[b.Group] = append(groups[b.Group], i)
	}
	for _, group := range groups {
		if len(group) == 1 { // no row to count along: where on the whole joint
			places[group[0]] = newFace(bolts).inNinths(group[0])
			continue
		}
		of := make([]Bolt, len(group))
		for k, at := range group {
			of[k] = bolts[at]
		}
		for k, words := range newFace(of).said(of) {
			places[group[k]] = words
		}
	}
	return places
}

// said is the words for the bolts of one group.
func (f face) said(of []Bolt) []string {
	var words []string
	for _, say := range []func() []string{f.inCircle, f.inRows, f.inRing, f.inManyRows, func() []string { return toldApart(f.inParts()) }, f.inSteps, f.inParts} {
		if words = say(); words != nil {
			break
		}
	}
	alike, same := map[string][]int{}, map[[2]float64][]int{}
	for i, said := range words {
		at := [2]float64{f.x[i], f.y[i]}
		alike[said], same[at] = append(alike[said], i), append(same[at], i)
	}
	for said, list := range alike { // those said to sit alike are told apart from the left
		if len(list) == 1 {
			continue
		}
		f.fromLeft(list)
		for k, i := range list {
			words[i] = fmt.Sprintf("%s, %s of %d there", said, ordinal(k+1), len(list))
		}
	}
	for _, list := range same {
		for k, i := range list {
			if len(list) > 1 { // the next one names it
				words[i] += ", same place as " + of[list[(k+1)%len(list)]].ID
			}
		}
	}
	return words
}

// face is the places of some bolts, from 0 at the left and bottom, with the
// larger extent as 1.
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

// Fasteners within a twentieth of the size stand in one row or column.
const alike = 0.05

// rows groups the bolts by height, the top row first, or gives nil where they
// stand on a slope or in a crowd: a row as deep as a gap is no row.
func (f face) rows() [][]int {
	var list [][]int
	order := byValue(f.y)
	slices.Reverse(order)
	for k, i := range order {
		if k == 0 || f.y[order[k-1]]-f.y[i] > alike {
			list = append(list, nil)
		}
		list[len(list)-1] = append(list[len(list)-1], i)
	}
	for _, row := range list {
		if f.y[row[0]]-f.y[row[len(row)-1]] > 2*alike {
			return nil
		}
		f.fromLeft(row)
	}
	return list
}

func (f face) fromLeft(row []int) {
	slices.SortFunc(row, func(a, b int) int {
		return cmp.Or(cmp.Compare(f.x[a], f.x[b]), cmp.Compare(f.y[b], f.y[a]), cmp.Compare(a, b))
	})
}

// inRows answers for a single column and for up to three rows.
func (f face) inRows() []string {
	words := make([]string, len(f.x))
	if f.width <= alike && f.height > alike {
		order := byValue(f.y)
		slices.Reverse(order)
		for k, i := range order {
			words[i] = counted(k, len(order), "top", "bottom", " from the top")
		}
		return words
	}
	rows := f.rows()
	if len(rows) == 0 || len(rows) > 3 {
		return nil
	}
	names := [][]string{{""}, {"top row, ", "bottom row, "}, {"top row, ", "middle row, ", "bottom row, "}}[len(rows)-1]
	for r, row := range rows {
		for k, i := range row {
			from := ""
			if len(rows) == 1 {
				from = " from the left"
			}
			switch {
			case len(row) > 1:
				words[i] = names[r] + counted(k, len(row), "left", "right", from)
			case f.central(i):
				words[i] = "centre"
			default:
				words[i] = strings.TrimSuffix(names[r], ", ")
			}
		}
	}
	return words
}

// central reports whether a bolt is in the middle of the others.
func (f face) central(i int) bool {
	return math.Abs(f.x[i]-f.width/2) <= alike && math.Abs(f.y[i]-f.height/2) <= alike
}

// counted says which of n it is.
func counted(k, n int, first, last, from string) string {
	if n == 2 {
		return []string{first, last}[k] + " one"
	}
	return fmt.Sprintf("%s of %d%s", ordinal(k+1), n, from)
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

// inSteps answers for bolts of which each has a row of its own.
func (f face) inSteps() []string {
	rows := f.rows()
	if len(rows) < len(f.x) {
		return nil
	}
	words := make([]string, len(f.x))
	for r, row := range rows {
		words[row[0]] = counted(r, len(rows), "top", "bottom", " from the top")
	}
	return words
}

// inManyRows answers for any number of rows.
func (f face) inManyRows() []string {
	rows := f.rows()
	if len(rows) < 2 || len(rows) == len(f.x) {
		return nil
	}
	words := make([]string, len(f.x))
	for r, row := range rows {
		name := fmt.Sprintf("%s row from the top", ordinal(r+1))
		switch r {
		case 0:
			name = "top row"
		case len(rows) - 1:
			name = "bottom row"
		}
		for k, i := range row {
			words[i] = name
			if len(row) > 1 {
				words[i] = name + ", " + counted(k, len(row), "left", "right", "")
			}
		}
	}
	return words
}
