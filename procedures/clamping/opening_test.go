package clamping

import (
	"math"
	"strings"
	"testing"

	"evenpull/spec"
	"evenpull/spec/clamp/neighbours"
	"evenpull/spec/read"
)

// opened is an invented case half: four M8, two M6 and one hollow M8, close together on
// paper, so that each feels the next.
const opened = `format = 1
[procedure]
name = "Open the case"
direction = "open"
source = "invented"
[cover]
material = "cast aluminium"
thickness = "12 mm"
face = "paper"
[group.main]
thread = "M8x1.25"
class = "8.8"
grip = "12 mm"
torque = "20 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [26, 0]
M3 = [52, 0]
M4 = [78, 0]
[group.rim]
thread = "RIM"
class = "8.8"
grip = "12 mm"
torque = "8 N·m"
[group.rim.at]
R1 = [13, 26]
R2 = [39, 26]
[group.feed]
thread = "M8x1.25"
class = "8.8"
bore = "BORE"
grip = "12 mm"
torque = "12 N·m"
[group.feed.at]
F1 = [65, 26]
[[pass]]
name = "Take out"
groups = ["main", "rim", "feed"]
first = "weak"
order = [ORDER]
because = "invented"
remove = true
`

const lastIn = `"M1", "M3", "M2", "M4", "R1", "F1", "R2"`

func openedWith(t *testing.T, rim, bore, order string) *Study {
	t.Helper()
	text := strings.NewReplacer("RIM", rim, "BORE", bore, "ORDER", order).Replace(opened)
	p, problems := read.Procedure("case.toml", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	return of(t, p)
}

// The hollow and the weakest bolts are each told of at their own worst moment, as shares
// of proof stress × (tensile stress area − bore area): M6 8.8 580 MPa × 20.1 mm²,
// M8 8.8 with a 4 mm bore 580 MPa × (36.6 − 12.57) mm² (ISO 898-1).
func TestWorstMomentsOfHollowAndWeakBolts(t *testing.T) {
	s := openedWith(t, "M6x1", "4 mm", lastIn)
	proof := map[string]float64{"R1": 580 * 20.1, "R2": 580 * 20.1, "F1": 580 * (36.6 - 12.566)}
	want := map[string]Moment{}
	for kind, ids := range map[string][]string{"weakest": {"R1", "R2"}, "hollow": {"F1"}} {
		var worst Moment
		for _, id := range ids {
			for _, st := range s.history[middle].Passes[0].Stages {
				if f := st.ForcesN[s.index[id].place]; f > worst.ForceN {
					worst = Moment{What: kind, ID: id, ForceN: f, OfProof: f / proof[id], Moved: st.Step.BoltID, PassName: "Take out", OfStart: f / s.StartN[s.index[id].place]}
				}
			}
		}
		if worst.OfStart < 1.02 {
			t.Fatalf("%s: carries %v of its start at most: too little to prove anything", kind, worst.OfStart)
		}
		want[kind] = worst
	}
	got := s.Moments()
	if len(got) != 2 || got[0].OfProof < got[1].OfProof {
		t.Fatalf("got %+v", got)
	}
	for _, g := range got {
		w := want[g.What]
		if g.ID != w.ID || g.Moved != w.Moved || g.PassName != w.PassName || g.ForceN != w.ForceN || g.OfStart != w.OfStart || math.Abs(g.OfProof-w.OfProof) > 0.002 {
			t.Errorf("got %+v, want %+v", g, w)
		}
		start := g.OfProof / g.OfStart
		var shares []float64
		for _, h := range s.history {
			shares = append(shares, h.Peaks()[s.index[g.ID].place].ForceN/s.StartN[s.index[g.ID].place])
		}
		low, high := neighbours.Band(shares...)
		if math.Abs(g.Band.Low-max(1, low)*start) > 1e-12 || math.Abs(g.Band.High-high*start) > 1e-12 || g.Band.High < g.OfProof+0.02*start {
			t.Errorf("%s: may be %v, from shares %v of %v", g.ID, g.Band, shares, start)
		}
	}
}

func TestKindsOfBoltsThatAreTheSameAreToldOnce(t *testing.T) {
	for _, c := range []struct {
		rim, bore string
		want      []string
	}{
		{"M8x1.25", "4 mm", []string{"hollow and weakest"}},
		{"M6x1", "0 mm", []string{"weakest"}},
		{"M8x1.25", "0 mm", []string{"most loaded"}},
	} {
		var got []string
		for _, m := range openedWith(t, c.rim, c.bore, lastIn).Moments() {
			got = append(got, m.What)
		}
		if strings.Join(got, ", ") != strings.Join(c.want, ", ") {
			t.Errorf("rim %s, bore %s: %q, want %q", c.rim, c.bore, got, c.want)
		}
	}
}

// A bolt that goes first is at its worst before the first stage.
func TestABoltLetGoFirstIsAtItsWorstBefore(t *testing.T) {
	s := openedWith(t, "M6x1", "4 mm", `"F1", "M1", "M3", "M2", "M4", "R1", "R2"`)
	for _, m := range s.Moments() {
		if m.What == "hollow" && (m.Moved != "" || m.PassName != "" || m.OfStart != 1 || m.Band.Low != m.OfProof || m.ForceN != s.StartN[s.index["F1"].place]) {
			t.Errorf("got %+v", m)
		}
	}
	if closing := of(t, sheetOf(t, "close", "paper", ring, twoPass)); closing.Moments() != nil || closing.Overload() != (Overload{}) {
		t.Error("a closing has moments of an opening")
	}
}

// Outside of what was compared with solids the bands say nothing and no way is told apart.
func TestBandsSayNothingBeyondTheGrid(t *testing.T) {
	tight := strings.NewReplacer("20", "15", "40", "30").Replace(ring)
	s := of(t, sheetOf(t, "close", "metal", tight, twoPass))
	ways, err := s.Compare()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range ways {
		if w.Told || w.Band.Low != 0 || w.Band.High < 1 {
			t.Errorf("%+v", w)
		}
	}
	if said := strings.Join(s.Assumptions(), "\n"); !strings.Contains(said, "apart: under 3 diameters, where no model was compared with solids") {
		t.Errorf("says %s", said)
	}
	near := of(t, sheetOf(t, "open", "rubber", tight, takenOut)).Moments()[0]
	b := s.Bolts[0]
	if near.Band.High != b.YieldN/b.Group.ProofLoadN {
		t.Errorf("opening, a bolt may carry up to %v of its proof load, want its yield", near.Band.High)
	}
	if inside := strings.Join(of(t, sheetOf(t, "close", "paper", ring, twoPass)).Assumptions(), "\n"); strings.Contains(inside, "compared with solids") {
		t.Errorf("inside the grid says %s", inside)
	}
}

// Twenty passes on rubber against one: that, the estimate can tell. Twice the same can't be.
func TestWaysAreToldApartByMoreThanTheirBand(t *testing.T) {
	var passes strings.Builder
	for range 20 {
		passes.WriteString(onePass)
	}
	names := strings.Split(passes.String(), `"Final"`)
	text := names[0]
	for i, rest := range names[1:] {
		text += `"P` + string(rune('a'+i)) + `"` + rest
	}
	line := "M1 = [0, 0]\nM2 = [18, 0]\nM3 = [36, 0]\n"
	s := of(t, sheetOf(t, "close", "rubber", line, text))
	ways, err := s.Compare()
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	for _, w := range ways {
		if w.Told {
			told++
		}
		off := math.Abs(w.Kept.Lowest - ways[0].Kept.Lowest)
		width := max(w.Band.High-w.Band.Low, ways[0].Band.High-ways[0].Band.Low)
		t.Logf("%s: keeps %.3f, may be %.3f", w.Name, w.Kept.Lowest, w.Band)
		if w.Told != (off > width) {
			t.Errorf("%s: told %v, %v off, bands up to %v wide", w.Name, w.Told, off, width)
		}
	}
	if told == 0 || told == len(ways) {
		t.Errorf("%d of %d ways told: the case proves nothing", told, len(ways))
	}
}

// The wider band of the two decides, in either direction, at a hair over and under it.
func TestTellsApartByTheWiderBand(t *testing.T) {
	closing, opening := &Study{Procedure: &spec.Procedure{Direction: spec.Close}}, &Study{Procedure: &spec.Procedure{Direction: spec.Open}}
	at := func(share, width float64) Outcome {
		b := Band{share - width/2, share + width/2}
		return Outcome{Kept: Kept{Lowest: share}, Band: b, Moment: Moment{OfProof: share, Band: b}}
	}
	for _, c := range []struct {
		one, other Outcome
		want       bool
	}{
		{at(0.5, 0.1), at(0.61, 0.05), true},
		{at(0.5, 0.1), at(0.59, 0.05), false},
		{at(0.61, 0.05), at(0.5, 0.1), true},
		{at(0.59, 0.05), at(0.5, 0.1), false},
		{at(0.5, 0.05), at(0.39, 0.1), true},
		{at(0.5, 0.05), at(0.41, 0.1), false},
	} {
		blank := Outcome{}
		for name, s := range map[string]*Study{"closing": closing, "opening": opening} {
			one, other := c.one, c.other
			if name == "opening" {
				one.Kept, one.Band, other.Kept, other.Band = blank.Kept, blank.Band, blank.Kept, blank.Band
			} else {
				one.Moment, other.Moment = blank.Moment, blank.Moment
			}
			if got := s.tells(one, other); got != c.want {
				t.Errorf("%s: %+v against %+v: told %v", name, one, other, got)
			}
		}
	}
}

// Another order's worst moment is its own: the listed one lets F1 go last of all.
func TestEveryWayHasItsOwnWorstMoment(t *testing.T) {
	s := openedWith(t, "M6x1", "4 mm", `"F1", "M1", "M3", "M2", "M4", "R1", "R2"`)
	ways, err := s.Compare()
	if err != nil {
		t.Fatal(err)
	}
	moments := map[float64]bool{}
	for _, w := range ways {
		moments[w.Moment.OfProof] = true
	}
	if ways[0].Moment != s.Moments()[0] || len(moments) < 2 {
		t.Errorf("the sheet's way has %+v, want %+v; %d different among %d ways", ways[0].Moment, s.Moments()[0], len(moments), len(ways))
	}
}
