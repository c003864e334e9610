package neighbours

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// solidJoint is a cover on a base as solid bricks, for CalculiX: square clearance
// holes and seats of the area of an M8's (9 mm, 13 mm across flats), the thread's pull
// spread along 12 mm of the hole in the base, a layer 1 mm thick between them that
// closes by the face's modulus and shears as metal of ν 0.25 would (the parts stick).
// The base is held at its bottom. Nothing of plates or half-spaces is in it.
type solidJoint struct {
	cover, base Plate // the base's ThicknessMM is its depth
	face        Face
	bolts       [][2]float64
	outline     [4]float64 // x from, x to, y from, y to, mm; y from 0 is a plane of symmetry
	cavity      [4]float64 // the same of a hollow in the base that the cover bridges; zero: none
	slides      bool       // the parts slide on each other
	fine        int        // pieces that each mesh step is cut into, 1 or more
}

const (
	holeHalf = 4.0  // half the side of the holes, mm
	seatHalf = 5.75 // half the side of the head's seat, mm
	threadMM = 12.0 // depth of the thread that pulls
	drillMM  = 16.0 // depth of the hole in the base
	layerMM  = 1.0
)

// bricks is the mesh of a solidJoint: lines along each axis, z down from the seat.
type bricks struct {
	joint   solidJoint
	lines   [3][]float64
	weights []map[int]float64 // by bolt, 1 N downwards on seat nodes, upwards on thread nodes
}

func newBricks(j solidJoint) *bricks {
	b := &bricks{joint: j}
	for axis := range 2 {
		var stops []float64
		for _, at := range j.bolts {
			for _, d := range []float64{-seatHalf, -holeHalf, 0, holeHalf, seatHalf} {
				stops = append(stops, at[axis]+d)
			}
		}
		from, to := j.outline[2*axis], j.outline[2*axis+1]
		stops = append(stops, from, to)
		if j.cavity != [4]float64{} {
			stops = append(stops, j.cavity[2*axis], j.cavity[2*axis+1])
		}
		b.lines[axis] = meshed(within(stops, from, to), 2.5, 8, j.fine)
	}
	t := j.cover.ThicknessMM
	layers := min(8, max(3, math.Round(t/4)))
	var z []float64
	for i := range int(layers) {
		z = append(z, t*float64(i)/layers)
	}
	for _, depth := range []float64{0, 3, 6, 9, threadMM, drillMM, 22, 32, 50, j.base.ThicknessMM} {
		z = append(z, t+layerMM+depth)
	}
	b.lines[2] = cut(append(z, t), j.fine)
	b.weigh()
	return b
}

// within sorts stops, drops those outside and those met twice.
func within(stops []float64, from, to float64) []float64 {
	slices.Sort(stops)
	var kept []float64
	for _, s := range stops {
		if s >= from && s <= to && (len(kept) == 0 || s-kept[len(kept)-1] > 1e-6) {
			kept = append(kept, s)
		}
	}
	return kept
}

// meshed fills the gaps between stops with steps that grow from first by half each
// towards the middle of the gap, or its far end at the outline, up to most.
func meshed(stops []float64, first, most float64, fine int) []float64 {
	lines := stops[:1:1]
	for i := 1; i < len(stops); i++ {
		gap := stops[i] - stops[i-1]
		steps := []float64{gap}
		if gap > 1.6*first {
			steps = growing(gap, first, most, i > 1, i < len(stops)-1)
		}
		at := stops[i-1]
		for _, s := range steps[:len(steps)-1] {
			at += s
			lines = append(lines, at)
		}
		lines = append(lines, stops[i])
	}
	return cut(lines, fine)
}

// growing gives steps over a gap: fine at the ends asked for.
func growing(gap, first, most float64, left, right bool) []float64 {
	var head, tail []float64
	l, r, rest := most, most, gap
	if left {
		l = first
	}
	if right {
		r = first
	}
	for rest > 1e-9 {
		if l <= r {
			s := min(l, rest)
			head, l = append(head, s), min(1.5*l, most)
			rest -= s
		} else {
			s := min(r, rest)
			tail, r = append(tail, s), min(1.5*r, most)
			rest -= s
		}
	}
	slices.Reverse(tail)
	steps := append(head, tail...)
	for i := 1; i < len(steps); i++ { // a sliver is joined to its neighbour
		if k := len(head) - 1; i == k && steps[k] < first/2 {
			steps[k-1] += steps[k]
			return slices.Delete(steps, k, k+1)
		}
	}
	return steps
}

func cut(lines []float64, fine int) []float64 {
	slices.Sort(lines)
	var out []float64
	for i, v := range lines[:len(lines)-1] {
		for k := range fine {
			out = append(out, v+(lines[i+1]-v)*float64(k)/float64(fine))
		}
	}
	return append(out, lines[len(lines)-1])
}

func (b *bricks) node(i, j, k int) int {
	return 1 + i + len(b.lines[0])*(j+len(b.lines[1])*k)
}

// middle is where the brick with its first corner at (i, j, k) is.
func (b *bricks) middle(i, j, k int) (x, y, z float64) {
	return (b.lines[0][i] + b.lines[0][i+1]) / 2, (b.lines[1][j] + b.lines[1][j+1]) / 2, (b.lines[2][k] + b.lines[2][k+1]) / 2
}

// part says what a brick is of: "" for nothing.
func (b *bricks) part(i, j, k int) string {
	x, y, z := b.middle(i, j, k)
	t, c := b.joint.cover.ThicknessMM, b.joint.cavity
	for _, at := range b.joint.bolts {
		if math.Abs(x-at[0]) < holeHalf && math.Abs(y-at[1]) < holeHalf && z < t+layerMM+drillMM {
			return ""
		}
	}
	if z < t {
		return "COVER"
	}
	if x > c[0] && x < c[1] && y > c[2] && y < c[3] {
		return ""
	}
	if z < t+layerMM {
		return "LAYER"
	}
	return "BASE"
}

// each goes over all bricks.
func (b *bricks) each(do func(i, j, k int, part string)) {
	for k := range len(b.lines[2]) - 1 {
		for j := range len(b.lines[1]) - 1 {
			for i := range len(b.lines[0]) - 1 {
				if part := b.part(i, j, k); part != "" {
					do(i, j, k, part)
				}
			}
		}
	}
}

// weigh spreads each bolt's 1 N evenly over its seat and its thread, half of each with
// half a bolt.
func (b *bricks) weigh() {
	top := b.joint.cover.ThicknessMM + layerMM
	for _, at := range b.joint.bolts {
		seat, thread := map[int]float64{}, map[int]float64{}
		b.each(func(i, j, k int, part string) {
			x, y, z := b.middle(i, j, k)
			dx, dy := math.Abs(x-at[0]), math.Abs(y-at[1])
			if k == 0 && dx < seatHalf && dy < seatHalf {
				b.face(seat, [4][3]int{{i, j, k}, {i + 1, j, k}, {i, j + 1, k}, {i + 1, j + 1, k}})
			}
			if part != "BASE" || z > top+threadMM {
				return
			}
			for _, side := range []int{0, 1} { // the wall of the hole, on this brick's near side
				if dy < holeHalf && math.Abs(math.Abs(b.lines[0][i+side]-at[0])-holeHalf) < 1e-9 && dx > holeHalf {
					b.face(thread, [4][3]int{{i + side, j, k}, {i + side, j + 1, k}, {i + side, j, k + 1}, {i + side, j + 1, k + 1}})
				}
				if dx < holeHalf && math.Abs(math.Abs(b.lines[1][j+side]-at[1])-holeHalf) < 1e-9 && dy > holeHalf {
					b.face(thread, [4][3]int{{i, j + side, k}, {i + 1, j + side, k}, {i, j + side, k + 1}, {i + 1, j + side, k + 1}})
				}
			}
		})
		all := map[int]float64{}
		for sign, nodes := range map[float64]map[int]float64{1: seat, -1: thread} {
			sum := 0.0
			for _, node := range keys(nodes) {
				sum += nodes[node]
			}
			for node, w := range nodes {
				all[node] += sign * w / sum
			}
		}
		b.weights = append(b.weights, all)
	}
}

// face shares the area of a brick's face among its four nodes.
func (b *bricks) face(nodes map[int]float64, corners [4][3]int) {
	area := 1.0
	for axis := range 3 {
		if d := b.lines[axis][corners[3][axis]] - b.lines[axis][corners[0][axis]]; d > 0 {
			area *= d
		}
	}
	for _, c := range corners {
		nodes[b.node(c[0], c[1], c[2])] += area / 4
	}
}

func keys(m map[int]float64) []int {
	list := make([]int, 0, len(m))
	for k := range m {
		list = append(list, k)
	}
	slices.Sort(list)
	return list
}

// share is the part of each bolt that is modelled.
func (b *bricks) share() float64 {
	if b.joint.outline[2] == 0 {
		return 0.5
	}
	return 1
}

// pulled are the bolts to pull in turn; the rest follow by symmetry of a row.
func (j solidJoint) pulled() int { return (len(j.bolts) + 1) / 2 }

// write is the deck: one step for each bolt that is pulled.
func (b *bricks) write(w *bufio.Writer) {
	nx, ny, nz := len(b.lines[0]), len(b.lines[1]), len(b.lines[2])
	used := make([]bool, nx*ny*nz+1)
	b.each(func(i, j, k int, _ string) {
		for c := range 8 {
			used[b.node(i+c&1, j+c>>1&1, k+c>>2)] = true
		}
	})
	var at [3][]string // of each line of the mesh once: it has thousands of nodes
	for axis, sign := range []float64{1, 1, -1} {
		for _, mm := range b.lines[axis] {
			at[axis] = append(at[axis], fmt.Sprintf("%.7g", sign*mm))
		}
	}
	fmt.Fprintln(w, "*NODE, NSET=ALL")
	for node := 1; node < len(used); node++ {
		if n := node - 1; used[node] {
			row := strconv.AppendInt(w.AvailableBuffer(), int64(node), 10)
			for axis, which := range [3]int{n % nx, n / nx % ny, n / (nx * ny)} {
				row = append(append(row, ", "...), at[axis][which]...)
			}
			w.Write(append(row, '\n'))
		}
	}
	for _, part := range []string{"COVER", "LAYER", "BASE"} {
		fmt.Fprintf(w, "*ELEMENT, TYPE=C3D8I, ELSET=%s\n", part)
		b.each(func(i, j, k int, is string) {
			if is == part { // bottom face first, counted anticlockwise from above
				row := strconv.AppendInt(w.AvailableBuffer(), int64(b.node(i, j, k)), 10)
				for c := range 8 {
					row = strconv.AppendInt(append(row, ", "...), int64(b.node(i+(c+1)>>1&1, j+c>>1&1, k+1-c>>2)), 10)
				}
				w.Write(append(row, '\n'))
			}
		})
	}
	b.writeMaterials(w)
	b.writeSets(w, used)
	for p := range b.joint.pulled() {
		fmt.Fprintln(w, "*STEP\n*STATIC\n*CLOAD, OP=NEW")
		for _, node := range keys(b.weights[p]) {
			fmt.Fprintf(w, "%d, 3, %.9e\n", node, -b.weights[p][node]*b.share())
		}
		fmt.Fprintln(w, "*NODE PRINT, NSET=GAUGE\nU\n*END STEP")
	}
}

func (b *bricks) writeMaterials(w io.Writer) {
	for _, m := range []struct {
		name string
		p    Plate
	}{{"COVER", b.joint.cover}, {"BASE", b.joint.base}} {
		fmt.Fprintf(w, "*MATERIAL, NAME=%s\n*ELASTIC\n%g, %g\n*SOLID SECTION, ELSET=%s, MATERIAL=%s\n", m.name, m.p.ElasticMPa, m.p.Poisson, m.name, m.name)
	}
	press := b.joint.face.ModulusNPerMM3 * layerMM
	idle, shear := press*1e-5, 0.4*press
	if b.joint.slides {
		shear = idle
	}
	fmt.Fprintf(w, "*MATERIAL, NAME=LAYER\n*ELASTIC, TYPE=ENGINEERING CONSTANTS\n%g, %g, %g, 0., 0., 0., %g, %g,\n%g\n", idle, idle, press, idle, shear, shear)
	fmt.Fprintln(w, "*SOLID SECTION, ELSET=LAYER, MATERIAL=LAYER")
}

func (b *bricks) writeSets(w io.Writer, used []bool) {
	gauge := map[int]float64{}
	for _, nodes := range b.weights {
		for node := range nodes {
			gauge[node] = 1
		}
	}
	fmt.Fprintln(w, "*NSET, NSET=GAUGE")
	for _, node := range keys(gauge) {
		fmt.Fprintf(w, "%d,\n", node)
	}
	fmt.Fprintln(w, "*BOUNDARY")
	bottom := len(b.lines[2]) - 1
	for i := range b.lines[0] {
		for j := range b.lines[1] {
			if node := b.node(i, j, bottom); used[node] {
				fmt.Fprintf(w, "%d, 1, 3\n", node)
			}
			for k := range bottom {
				if node := b.node(i, j, k); used[node] && j == 0 && b.joint.outline[2] == 0 {
					fmt.Fprintf(w, "%d, 2\n", node)
				}
			}
		}
	}
}

// deck is the whole input of one joint.
func (b *bricks) deck() string {
	var text strings.Builder
	w := bufio.NewWriter(&text)
	b.write(w)
	w.Flush()
	return text.String()
}

// askCalculix runs a deck and gives what each pull closes each bolt by, mm/N: a row for
// each bolt that is pulled.
func (b *bricks) askCalculix(dir string) ([][]float64, error) {
	if err := os.WriteFile(filepath.Join(dir, "joint.inp"), []byte(b.deck()), 0o600); err != nil {
		return nil, err
	}
	run := exec.Command("ccx", "joint")
	run.Dir = dir
	run.Env = append(os.Environ(), "OMP_NUM_THREADS=1")
	if text, err := run.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("%w\n%s", err, text)
	}
	dat, err := os.ReadFile(filepath.Join(dir, "joint.dat"))
	if err != nil {
		return nil, err
	}
	var rows [][]float64
	for _, block := range strings.Split(string(dat), "displacements")[1:] {
		row := make([]float64, len(b.joint.bolts))
		for line := range strings.Lines(block) {
			var node int
			var x, y, z float64
			if n, _ := fmt.Sscan(line, &node, &x, &y, &z); n == 4 {
				for i, nodes := range b.weights {
					row[i] -= nodes[node] * z
				}
			}
		}
		rows = append(rows, row)
	}
	if len(rows) != b.joint.pulled() {
		return nil, fmt.Errorf("%d answers to %d pulls", len(rows), b.joint.pulled())
	}
	return rows, nil
}
