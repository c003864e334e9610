package plan

import (
	"math"
	"slices"
	"sort"

	"evenpull/spec"
)

// clockwise numbers fasteners by angle about their centroid, clockwise as seen
// at the stand, starting from the one listed first. Equal angles keep the
// file's order, with the one farther out first.
func clockwise(fs []*spec.Fastener) []*spec.Fastener {
	cx, cy := centroid(fs)
	type ray struct {
		f      *spec.Fastener
		turn   float64 // clockwise from the first listed, 0 to 2π
		radius float64
	}
	start := math.Atan2(fs[0].Y-cy, fs[0].X-cx)
	rays := make([]ray, len(fs))
	for i, f := range fs {
		turn := math.Mod(start-math.Atan2(f.Y-cy, f.X-cx)+4*math.Pi, 2*math.Pi)
		if turn > 2*math.Pi-1e-9 {
			turn = 0 // rounding must not send the first one to the end
		}
		rays[i] = ray{f, turn, math.Hypot(f.X-cx, f.Y-cy)}
	}
	before := func(a, b ray) bool {
		if d := a.turn - b.turn; math.Abs(d) > 1e-9 {
			return d < 0
		}
		return a.f == fs[0] || b.f != fs[0] && a.radius > b.radius+1e-9
	}
	slices.SortStableFunc(rays, func(a, b ray) int {
		switch {
		case before(a, b):
			return -1
		case before(b, a):
			return 1
		}
		return 0
	})
	out := make([]*spec.Fastener, len(fs))
	for i, r := range rays {
		out[i] = r.f
	}
	return out
}

func centroid(fs []*spec.Fastener) (x, y float64) {
	for _, f := range fs {
		x += f.X
		y += f.Y
	}
	n := float64(len(fs))
	return x / n, y / n
}

// Cross gives the cross pattern of n positions round a circle, as indices from
// 0: the published quadrant groups when n is a multiple of 4, opposite pairs
// for other even n, the star for odd n.
//
// Source of the groups: ASME PCC-1 (2000 to 2019 editions), legacy
// cross-pattern table; testdata/published/sequences.csv.
func Cross(n int) []int {
	order := make([]int, 0, n)
	switch {
	case n%4 == 0:
		for _, k := range spread(n / 4) {
			order = append(order, k, k+n/2, k+n/4, k+3*n/4)
		}
	case n%2 == 0:
		for _, k := range spread(n / 2) {
			order = append(order, k, k+n/2)
		}
	default:
		step := (n - 1) / 2
		for i := range n {
			order = append(order, i*step%n)
		}
	}
	return order
}

// spread visits 0 … m−1 by halving: each time the middle of the widest gap
// left, and of several the one farthest round from the last visited; what is
// still level goes to the older gap. This is the rule that gives every row of
// the published table.
func spread(m int) []int {
	if m == 0 {
		return nil
	}
	order := []int{0}
	gaps := []gap{{0, m}}
	for len(order) < m {
		widest, rest := splitWidest(gaps)
		gaps = rest
		var born []gap
		for len(widest) > 0 {
			i, middle := farthest(widest, order[len(order)-1], m)
			g := widest[i]
			widest = slices.Delete(widest, i, i+1)
			order = append(order, middle)
			born = append(born, gap{g.from, middle}, gap{middle, g.to})
		}
		for _, g := range born {
			if g.to-g.from > 1 {
				gaps = append(gaps, g)
			}
		}
	}
	return order
}

// gap is an unvisited stretch between two visited places, from < x < to.
type gap struct{ from, to int }

func splitWidest(gaps []gap) (widest, rest []gap) {
	width := 0
	for _, g := range gaps {
		width = max(width, g.to-g.from)
	}
	for _, g := range gaps {
		if g.to-g.from == width {
			widest = append(widest, g)
		} else {
			rest = append(rest, g)
		}
	}
	return widest, rest
}

// farthest picks the gap, and the middle of it, farthest round the circle of m from last.
func farthest(gaps []gap, last, m int) (index, middle int) {
	best := -1
	for i, g := range gaps {
		low := (g.from + g.to) / 2
		for _, c := range []int{low, (g.from + g.to + 1) / 2} {
			d := (c - last + m) % m
			if d = min(d, m-d); d > best {
				best, index, middle = d, i, c
			}
		}
	}
	return index, middle
}

// ringWidth is how much farther out, as a share of the farthest, a fastener
// may lie and still count as the same ring.
const ringWidth = 0.1

// spiral goes from the centroid outwards, ring by ring, each time to the
// remaining fastener of the ring that lies farthest on the other side of the last.
func spiral(fs []*spec.Fastener) []*spec.Fastener {
	cx, cy := centroid(fs)
	left := append([]*spec.Fastener{}, fs...)
	radius := func(f *spec.Fastener) float64 { return math.Hypot(f.X-cx, f.Y-cy) }
	sort.SliceStable(left, func(i, j int) bool { return radius(left[i]) < radius(left[j])-1e-9 })
	step := radius(left[len(left)-1]) * ringWidth
	out := make([]*spec.Fastener, 0, len(fs))
	for len(left) > 0 {
		n := 1
		for n < len(left) && radius(left[n])-radius(left[0]) <= step {
			n++
		}
		out = append(out, acrossRing(left[:n], out)...)
		left = left[n:]
	}
	return out
}

// acrossRing orders one ring: the next is always the farthest from the last.
func acrossRing(ring, before []*spec.Fastener) []*spec.Fastener {
	left := append([]*spec.Fastener{}, ring...)
	var last *spec.Fastener
	if len(before) > 0 {
		last = before[len(before)-1]
	}
	out := make([]*spec.Fastener, 0, len(ring))
	for len(left) > 0 {
		pick := 0
		if last != nil {
			pick = farthestFrom(last, left)
		}
		last = left[pick]
		out = append(out, last)
		left = append(left[:pick], left[pick+1:]...)
	}
	return out
}

// farthestFrom gives the index of the farthest; of equals the first. The square
// alone rules most of them out: a ring of thousands is searched for each of them.
func farthestFrom(last *spec.Fastener, list []*spec.Fastener) int {
	pick, best, square := 0, -1.0, -1.0
	for i, f := range list {
		dx, dy := f.X-last.X, f.Y-last.Y
		if dx*dx+dy*dy <= square {
			continue
		}
		if d := math.Hypot(dx, dy); d > best+1e-9 {
			pick, best, square = i, d, dx*dx+dy*dy
		}
	}
	return pick
}

func reversed(fs []*spec.Fastener) []*spec.Fastener {
	out := make([]*spec.Fastener, len(fs))
	for i, f := range fs {
		out[len(fs)-1-i] = f
	}
	return out
}
