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
// o'clock", "lower right". No two of a group are said to sit alike. It is "" for
// an id that isn't there.
func Where(bolts []Bolt, id string) string {
	i := slices.IndexFunc(bolts, func(b Bolt) bool { return b.ID == id })
	switch {
	case i < 0:
		return ""
	case len(bolts) == 1:
		return "the only one"
	}
	var group []int
	for k, b := range bolts {
		if b.Group == bolts[i].Group {
			group = append(group, k)
		}
	}
	if len(group) == 1 { // no row to count along: where on the whole joint
		return newFace(bolts).inNinths(i)
	}
	of := make([]Bolt, len(group))
	for k, at := range group {
		of[k] = bolts[at]
	}
	f, at := newFace(of), slices.Index(group, i)
	for _, say := range []func() []string{f.inCircle, f.inRows, f.inRing, f.inManyRows, func() []string { return toldApart(f.inParts()) }, f.inSteps, f.inParts} {
		if words := say(); words != nil {
			return words[at] + f.sharing(words, at) + f.samePlace(of, at)
		}
	}
	return ""
}

// sharing tells apart the bolts that are said to sit alike, from the left.
func (f face) sharing(words []string, at int) string {
	var alike []int
	for i, said := range words {
		if said == words[at] {
			alike = append(alike, i)
		}
	}
	if len(alike) == 1 {
		return ""
	}
	f.fromLeft(alike)
	return fmt.Sprintf(", %s of %d there", ordinal(slices.Index(alike, at)+1), len(alike))
}

// samePlace names another bolt on the very same place.
func (f face) samePlace(of []Bolt, at int) string {
	for i, b := range of {
		if i != at && f.x[i] == f.x[at] && f.y[i] == f.y[at] {
			return ", same place as " + b.ID
		}
	}
	return ""
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
