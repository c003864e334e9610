package neighbours

import (
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/spec/outside"
)

// finitePlate is a square cover meshed with one layer of 20-node bricks on a soft
// layer that resists only being pressed (a Winkler face), for CalculiX. It knows
// nothing of Kelvin functions, of an endless plate or of thin-plate theory.
type finitePlate struct {
	plate   Plate
	face    Face
	lines   []float64     // mesh lines, mm, the same in x and y
	springs []pointSpring // springs to ground, as bolts that are in
	pull    [2]float64    // where 1 N pulls down
	probes  [][2]float64  // where sinking is wanted
}

type pointSpring struct {
	at         [2]float64
	rateNPerMM float64
}

// levels of the node grid, bottom to top: 0 to 2 the soft layer, 2 to 4 the cover.
const (
	plateMiddle = 3
	levels      = 5
)

// solve asks CalculiX how far the cover sinks at each probe, mm. The name is
// that of the kept answer.
func (f finitePlate) solve(t *testing.T, name string) []float64 {
	t.Helper()
	var deck strings.Builder
	f.writeDeck(t, &deck)
	answer := outside.Answer(t, outside.Question{
		Name: "calculix-" + name, Command: "OMP_NUM_THREADS=1 ccx cover", Version: []string{"ccx", "-v"}, Install: "calculix-ccx", Input: deck.String(),
		Ask: func() (string, error) {
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, "cover.inp"), []byte(deck.String()), 0o600); err != nil {
				return "", err
			}
			run := exec.Command("ccx", "cover")
			run.Dir = dir
			run.Env = append(os.Environ(), "OMP_NUM_THREADS=1")
			if text, err := run.CombinedOutput(); err != nil {
				return "", fmt.Errorf("%w\n%s", err, text)
			}
			dat, err := os.ReadFile(filepath.Join(dir, "cover.dat"))
			return string(dat), err
		},
	})
	return f.readSinking(t, answer)
}

// node numbers the half-spaced grid; only points with at most one odd index exist.
func (f finitePlate) node(i, j, k int) int {
	side := 2*len(f.lines) - 1
	return 1 + i + side*(j+side*k)
}

func (f finitePlate) nodeAt(t *testing.T, at [2]float64) int {
	t.Helper()
	index := [2]int{-1, -1}
	for i, v := range f.lines {
		for axis := range at {
			if math.Abs(v-at[axis]) < 1e-9 {
				index[axis] = 2 * i
			}
		}
	}
	if index[0] < 0 || index[1] < 0 {
		t.Fatalf("no mesh node at %v", at)
	}
	return f.node(index[0], index[1], plateMiddle)
}

func (f finitePlate) place(i int) float64 {
	if i%2 == 0 {
		return f.lines[i/2]
	}
	return (f.lines[i/2] + f.lines[i/2+1]) / 2
}

func (f finitePlate) writeDeck(t *testing.T, w io.Writer) {
	t.Helper()
	f.writeNodes(w)
	f.writeElements(w)
	f.writeMaterials(w)
	bricks := 2 * (len(f.lines) - 1) * (len(f.lines) - 1)
	for i, s := range f.springs {
		fmt.Fprintf(w, "*ELEMENT, TYPE=SPRING1, ELSET=S%d\n%d, %d\n", i, bricks+1+i, f.nodeAt(t, s.at))
		fmt.Fprintf(w, "*SPRING, ELSET=S%d\n3\n%.12e\n", i, s.rateNPerMM)
	}
	fmt.Fprintln(w, "*NSET, NSET=PROBE")
	for _, p := range f.probes {
		fmt.Fprintf(w, "%d,\n", f.nodeAt(t, p))
	}
	fmt.Fprintf(w, "*BOUNDARY\nFLOOR, 1, 3\nMIDDLE, 1, 2\n*STEP\n*STATIC\n*CLOAD\n%d, 3, -1.\n", f.nodeAt(t, f.pull))
	fmt.Fprintln(w, "*NODE PRINT, NSET=PROBE\nU\n*END STEP")
}

func (f finitePlate) writeNodes(w io.Writer) {
	half := f.plate.ThicknessMM / 2
	height := [levels]float64{-2 * half, -1.5 * half, -half, 0, half}
	side := 2*len(f.lines) - 1
	sets := map[int]string{0: ", NSET=FLOOR", plateMiddle: ", NSET=MIDDLE"}
	for k, z := range height {
		fmt.Fprintf(w, "*NODE%s\n", sets[k])
		for j := range side {
			for i := range side {
				if i%2+j%2+k%2 <= 1 {
					fmt.Fprintf(w, "%d, %.9e, %.9e, %.9e\n", f.node(i, j, k), f.place(i), f.place(j), z)
				}
			}
		}
	}
}

func (f finitePlate) writeElements(w io.Writer) {
	corners := [4][2]int{{0, 0}, {2, 0}, {2, 2}, {0, 2}}
	middles := [4][2]int{{1, 0}, {2, 1}, {1, 2}, {0, 1}}
	number := 0
	for layer, kind := range []string{"TYPE=C3D20, ELSET=FACE", "TYPE=C3D20R, ELSET=COVER"} {
		fmt.Fprintf(w, "*ELEMENT, %s\n", kind)
		for j := 0; j < 2*len(f.lines)-2; j += 2 {
			for i := 0; i < 2*len(f.lines)-2; i += 2 {
				number++
				fmt.Fprintf(w, "%d", number)
				count := 0
				for _, ring := range []struct {
					at [4][2]int
					k  int
				}{{corners, 0}, {corners, 2}, {middles, 0}, {middles, 2}, {corners, 1}} {
					for _, c := range ring.at {
						if count++; count == 16 {
							fmt.Fprint(w, ",\n")
						} else {
							fmt.Fprint(w, ", ")
						}
						fmt.Fprintf(w, "%d", f.node(i+c[0], j+c[1], 2*layer+ring.k))
					}
				}
				fmt.Fprintln(w)
			}
		}
	}
}

func (f finitePlate) writeMaterials(w io.Writer) {
	fmt.Fprintf(w, "*MATERIAL, NAME=COVER\n*ELASTIC\n%.9e, %.9e\n*SOLID SECTION, ELSET=COVER, MATERIAL=COVER\n",
		f.plate.ElasticMPa, f.plate.Poisson)
	// The soft layer is half a cover thick; its sideways and shear moduli are as
	// good as nothing, so that its points answer each on its own.
	press := f.face.ModulusNPerMM3 * f.plate.ThicknessMM / 2
	idle := press * 1e-5
	fmt.Fprintf(w, "*MATERIAL, NAME=FACE\n*ELASTIC, TYPE=ENGINEERING CONSTANTS\n%.9e, %.9e, %.9e, 0., 0., 0., %.9e, %.9e,\n%.9e\n",
		idle, idle, press, idle, idle, idle)
	fmt.Fprintln(w, "*SOLID SECTION, ELSET=FACE, MATERIAL=FACE")
}

func (f finitePlate) readSinking(t *testing.T, text string) []float64 {
	t.Helper()
	sinking := map[int]float64{}
	for line := range strings.Lines(text) {
		var node int
		var x, y, z float64
		if n, _ := fmt.Sscan(line, &node, &x, &y, &z); n == 4 {
			sinking[node] = -z
		}
	}
	found := make([]float64, len(f.probes))
	for i, p := range f.probes {
		w, ok := sinking[f.nodeAt(t, p)]
		if !ok {
			t.Fatalf("ccx printed nothing for %v:\n%s", p, text)
		}
		found[i] = w
	}
	return found
}

// meshLines runs from −7ℓ to 7ℓ, evenly by step up to inner and wider beyond.
func meshLines(length, inner, step float64) []float64 {
	var positive []float64
	for i := 1; float64(i)*step <= inner+1e-9; i++ {
		positive = append(positive, float64(i)*step)
	}
	for at, d := inner, step; at < 7*length-1e-9; {
		d *= 1.35
		if at += d; at+d/2 > 7*length {
			at = 7 * length
		}
		positive = append(positive, at)
	}
	n := len(positive)
	lines := make([]float64, 2*n+1)
	for i, v := range positive {
		lines[n+1+i], lines[n-1-i] = v, -v
	}
	return lines
}

// coverOf makes a cover of invented figures and a face to match, with ℓ = feLength.
func coverOf(thicknessMM float64) (Plate, Face) {
	p := Plate{ElasticMPa: 70000, Poisson: 0.33, ThicknessMM: thicknessMM}
	return p, Face{ModulusNPerMM3: p.RigidityNMM() / math.Pow(feLength, 4)}
}

const feLength = 40.0 // ℓ in mm

// pullDifference compares one pull at the origin and returns the worst difference
// near it (under ℓ away) and far from it, as shares of the sinking at the pull.
func pullDifference(t *testing.T, thicknessMM, step float64) (near, far float64) {
	t.Helper()
	p, f := coverOf(thicknessMM)
	model, err := New(Joint{p, f, []Bolt{{"B", 0, 0, 300}}})
	if err != nil {
		t.Fatal(err)
	}
	probes := [][2]float64{{0, 0}, {20, 0}, {40, 0}, {40, 40}, {-60, 0}, {0, 80}, {80, 80}}
	fe := finitePlate{plate: p, face: f, lines: meshLines(feLength, 80, step), probes: probes}
	atPull := model.Influence()[0][0]
	for i, got := range fe.solve(t, fmt.Sprintf("pull-%g-%g", thicknessMM, step)) {
		want, err := model.SinkMM(probes[i][0], probes[i][1], []float64{1})
		if err != nil {
			t.Fatal(err)
		}
		off, r := math.Abs(got-want)/atPull, math.Hypot(probes[i][0], probes[i][1])
		t.Logf("t/ℓ 1/%g, mesh ℓ/%g, r %.2f ℓ: kei %.6e mm/N, finite elements %.6e, differ by %.3f %% of the pull point",
			feLength/thicknessMM, feLength/step, r/feLength, want, got, 100*off)
		if r < feLength {
			near = max(near, off)
		} else {
			far = max(far, off)
		}
	}
	return near, far
}

// Shear, which thin-plate theory leaves out, adds some (t/ℓ)² at the pull itself:
// 0.25 % for the thicker cover here. Away from it only the mesh is left to differ.
func TestSinkingUnderOnePullAgreesWithFiniteElements(t *testing.T) {
	_, coarse := pullDifference(t, 2, 20)
	near, fine := pullDifference(t, 2, 10)
	nearThin, _ := pullDifference(t, 1, 10)
	if fine > 0.001 || near > 0.005 {
		t.Errorf("mesh ℓ/4 differs by %.3f %% near the pull (allowed 0.5 %%) and %.3f %% away from it (allowed 0.1 %%)", 100*near, 100*fine)
	}
	if fine > coarse/2 {
		t.Errorf("halving the mesh only takes the difference from %.3f %% to %.3f %%", 100*coarse, 100*fine)
	}
	if nearThin > near/2 {
		t.Errorf("halving the thickness only takes the difference at the pull from %.3f %% to %.3f %%", 100*near, 100*nearThin)
	}
}

// Four bolts drawn down one after another, each against those already in: the
// finite-element cover is held by springs where bolts are in and pulled with 1 N
// where the next one is drawn.
func TestNeighboursLoseWhatFiniteElementsSay(t *testing.T) {
	p, f := coverOf(2)
	bolts := []Bolt{{"A", -20, -20, 300}, {"B", 30, -20, 200}, {"C", 0, 40, 500}, {"D", -50, 30, 300}}
	model, err := New(Joint{p, f, bolts})
	if err != nil {
		t.Fatal(err)
	}
	const before, drawn = 1000.0, 400.0 // large enough that nothing falls slack
	for k := 1; k < len(bolts); k++ {
		fe := finitePlate{plate: p, face: f, lines: meshLines(feLength, 70, 10), pull: [2]float64{bolts[k].XMM, bolts[k].YMM}}
		start := make([]float64, len(bolts))
		for i, b := range bolts[:k] {
			at := [2]float64{b.XMM, b.YMM}
			fe.springs = append(fe.springs, pointSpring{at, b.StiffnessNPerMM})
			fe.probes = append(fe.probes, at)
			start[i] = before
		}
		h, err := model.Loosen(start, []Round{{"next", []Step{{BoltID: bolts[k].ID, ForceN: drawn}}}})
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range fe.solve(t, "drawing-"+bolts[k].ID) {
			loss, want := before-h.EndN()[i], w*bolts[i].StiffnessNPerMM*drawn
			t.Logf("drawing %s to %.0f N: %s loses %.3f N, finite elements %.3f N, %+.2f %%",
				bolts[k].ID, drawn, bolts[i].ID, loss, want, 100*(loss/want-1))
			if math.Abs(loss-want) > 0.001*drawn {
				t.Errorf("drawing %s: %s loses %.3f N, finite elements say %.3f N", bolts[k].ID, bolts[i].ID, loss, want)
			}
		}
	}
}
