package boltmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// inCircle answers for a bolt circle by the clock, with or without a bolt in its
// middle.
func (f face) inCircle() []string {
	all := byValue(f.x)
	if cx, cy, ok := f.circle(all); ok {
		return f.clock(all, cx, cy)
	}
	// Without the one nearest to the middle of all.
	var mx, my float64
	for i := range f.x {
		mx, my = mx+f.x[i]/float64(len(f.x)), my+f.y[i]/float64(len(f.x))
	}
	inner := slices.MinFunc(all, func(a, b int) int {
		return cmp.Compare(math.Hypot(f.x[a]-mx, f.y[a]-my), math.Hypot(f.x[b]-mx, f.y[b]-my))
	})
	rest := slices.DeleteFunc(all, func(i int) bool { return i == inner })
	cx, cy, ok := f.circle(rest)
	if !ok || math.Hypot(f.x[inner]-cx, f.y[inner]-cy) > 2*alike {
		return nil
	}
	words := f.clock(rest, cx, cy)
	words[inner] = "centre"
	return words
}

// circle is the middle of the circle that some bolts stand on, all round it: least
// squares over the squared distances.
func (f face) circle(of []int) (cx, cy float64, ok bool) {
	const fewest = 5 // four stand in two rows
	if len(of) < fewest {
		return 0, 0, false
	}
	var mx, my float64
	for _, i := range of {
		mx, my = mx+f.x[i]/float64(len(of)), my+f.y[i]/float64(len(of))
	}
	var uu, vv, uv, uz, vz float64
	for _, i := range of {
		u, v := f.x[i]-mx, f.y[i]-my
		z := (u*u + v*v) / 2
		uu, vv, uv, uz, vz = uu+u*u, vv+v*v, uv+u*v, uz+u*z, vz+v*z
	}
	det := uu*vv - uv*uv
	if det < 1e-9 {
		return 0, 0, false
	}
	cx, cy = mx+(uz*vv-vz*uv)/det, my+(vz*uu-uz*uv)/det
	least, most := math.Inf(1), 0.0
	for _, i := range of {
		r := math.Hypot(f.x[i]-cx, f.y[i]-cy)
		least, most = min(least, r), max(most, r)
	}
	return cx, cy, most-least <= alike && f.widestGap(of, cx, cy) < math.Pi
}

// widestGap is the greatest angle between neighbours seen from the middle, rad.
func (f face) widestGap(of []int, cx, cy float64) float64 {
	angles := make([]float64, len(of))
	for k, i := range of {
		angles[k] = math.Atan2(f.x[i]-cx, f.y[i]-cy)
	}
	slices.Sort(angles)
	widest := angles[0] + 2*math.Pi - angles[len(angles)-1]
	for k := 1; k < len(angles); k++ {
		widest = max(widest, angles[k]-angles[k-1])
	}
	return widest
}

// clock says by the hours where bolts stand around a middle.
func (f face) clock(of []int, cx, cy float64) []string {
	words := make([]string, len(f.x))
	hour := func(h int) int { return (h+11)%12 + 1 }
	for _, i := range of {
		// Half hours clockwise from the top; 24 make a round.
		half := int(math.Round(math.Atan2(f.x[i]-cx, f.y[i]-cy)/(2*math.Pi)*24)+24) % 24
		words[i] = fmt.Sprintf("%d o'clock", hour(half/2))
		if half%2 != 0 {
			words[i] = fmt.Sprintf("between %d and %d o'clock", hour(half/2), hour(half/2+1))
		}
	}
	return words
}

// inRing answers for bolts along an outline that is no circle, by the clock, as long
// as that tells them all apart.
func (f face) inRing() []string {
	cx, cy := f.width/2, f.height/2
	all := byValue(f.x)
	if len(all) < 5 || f.widestGap(all, cx, cy) >= 2*math.Pi/3 {
		return nil
	}
	for i := range f.x { // none is far inside
		if math.Abs(f.x[i]-cx) < f.width/4 && math.Abs(f.y[i]-cy) < f.height/4 {
			return nil
		}
	}
	return toldApart(f.clock(all, cx, cy))
}

// toldApart gives words back if no two are alike.
func toldApart(words []string) []string {
	if len(slices.Compact(slices.Sorted(slices.Values(words)))) < len(words) {
		return nil
	}
	return words
}

// inParts answers for any other joint, by thirds each way.
func (f face) inParts() []string {
	words := make([]string, len(f.x))
	for i := range f.x {
		words[i] = f.inNinths(i)
	}
	return words
}

// inNinths says in which third each way a bolt stands.
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
