package boltmap

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/lipgloss"
	"pgregory.net/rapid"

	"evenpull/ui/internal/golden"
)

// caseHalf is an invented joint: two rows of main bolts, rim bolts either
// side, one hollow feed bolt.
func caseHalf() []Bolt {
	return []Bolt{
		{ID: "M1", X: 0, Y: 0, State: Done}, {ID: "M2", X: 70, Y: 0, State: Done}, {ID: "M3", X: 140, Y: 0, State: Done},
		{ID: "M4", X: 0, Y: 90, State: Current}, {ID: "M5", X: 70, Y: 90, State: Untouched}, {ID: "M6", X: 140, Y: 90, State: Part},
		{ID: "R1", X: -40, Y: 20, State: NotThisPass}, {ID: "R2", X: -40, Y: 70, State: NotThisPass},
		{ID: "R3", X: 180, Y: 20, State: Trouble}, {ID: "F1", X: 180, Y: 70, State: Untouched, Hollow: true},
	}
}

func circle(n, current int) []Bolt {
	bolts := make([]Bolt, n)
	for i := range bolts {
		a := 2 * math.Pi * float64(i) / float64(n)
		bolts[i] = Bolt{ID: fmt.Sprintf("H%d", i+1), X: 100 * math.Sin(a), Y: 100 * math.Cos(a), State: Untouched, Note: "1/3"}
		if i < current {
			bolts[i].State, bolts[i].Note = Done, "2/3"
		}
	}
	bolts[current].State = Current
	return bolts
}

func field(n int) []Bolt {
	bolts := make([]Bolt, n)
	for i := range bolts {
		bolts[i] = Bolt{ID: fmt.Sprint(i), X: float64(i % 50), Y: float64(i / 50), State: Untouched}
		if i < n/2 {
			bolts[i].State = Done
		}
	}
	bolts[n/2].State = Current
	return bolts
}

func TestGoldenMaps(t *testing.T) {
	row := []Bolt{{ID: "A", State: Current}, {ID: "B", X: 50, State: Untouched}, {ID: "C", X: 100, State: Untouched}, {ID: "D", X: 100, State: Untouched}}
	cases := []struct {
		file  string
		bolts []Bolt
		w, h  int
		ascii bool
	}{
		{"case-half", caseHalf(), 40, 11, false},
		{"case-half-ascii", caseHalf(), 40, 11, true},
		{"case-half-small", caseHalf(), 26, 6, false},
		{"case-half-least", caseHalf(), 12, 3, false},
		{"case-half-line", caseHalf(), 30, 1, false},
		{"circle", circle(10, 7), 40, 15, false},
		{"one", []Bolt{{ID: "nut", State: Current}}, 30, 5, false},
		{"row-with-two-in-one-place", row, 40, 5, false},
		{"two-thousand", field(2000), 60, 18, false},
		{"none-current", []Bolt{{ID: "A", State: Done}, {ID: "B", X: 9, State: Done, Hollow: true}}, 20, 3, false},
	}
	drawn := map[string]string{}
	for _, c := range cases {
		drawn[c.file] = draw(c.bolts, c.w, c.h, c.ascii) + "\n" + legend(c.bolts, 60, 3, c.ascii)
	}
	golden.Screens(t, drawn)
}

func anyBolts() *rapid.Generator[[]Bolt] {
	place := rapid.OneOf(rapid.Float64Range(-200, 200), rapid.SampledFrom([]float64{0, 10, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300}))
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Bolt {
		return Bolt{
			ID: rapid.OneOf(rapid.StringMatching(`[A-Z][0-9]{1,2}`), rapid.String(), rapid.SampledFrom([]string{"漢字", "\u0903", "e\u0301", "\U0001f3fb", "👩\u200d🔧"})).Draw(t, "id"),
			X:  place.Draw(t, "x"), Y: place.Draw(t, "y"), Note: rapid.SampledFrom([]string{"", "2/3"}).Draw(t, "note"),
			State: State(rapid.IntRange(0, int(stateCount)-1).Draw(t, "state")), Hollow: rapid.Bool().Draw(t, "hollow"),
		}
	}), 0, 40)
}

func TestFillsExactlyTheRoomGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bolts := anyBolts().Draw(t, "bolts")
		w, h := rapid.IntRange(-1, 90).Draw(t, "w"), rapid.IntRange(-1, 30).Draw(t, "h")
		ascii := rapid.Bool().Draw(t, "ascii")
		got := draw(bolts, w, h, ascii)
		if w <= 0 || h <= 0 {
			if got != "" {
				t.Fatalf("draws %q in a room of %d×%d", got, w, h)
			}
			return
		}
		lines := strings.Split(got, "\n")
		if len(lines) != h {
			t.Fatalf("%d lines, want %d:\n%s", len(lines), h, got)
		}
		for _, l := range lines {
			if lipgloss.Width(l) != w {
				t.Fatalf("line %q is %d cells wide, want %d", l, lipgloss.Width(l), w)
			}
		}
		if keys := legend(bolts, w, h, ascii); keys != "" && (lipgloss.Width(keys) > w || lipgloss.Height(keys) > h) {
			t.Fatalf("legend %q doesn't fit %d×%d", keys, w, h)
		}
	})
}

// Whatever else is on the map, the current fastener and an arrowhead show.
func TestCurrentAlwaysShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bolts := anyBolts().Filter(func(b []Bolt) bool { return len(b) > 0 }).Draw(t, "bolts")
		for i := range bolts {
			bolts[i].ID = "x" // so that no id looks like a glyph
			if bolts[i].State == Current {
				bolts[i].State = Done
			}
		}
		bolts[rapid.IntRange(0, len(bolts)-1).Draw(t, "current")].State = Current
		got := draw(bolts, rapid.IntRange(leastWidth, 80).Draw(t, "w"), rapid.IntRange(leastHeight, 24).Draw(t, "h"), false)
		if strings.Count(got, "◆")+strings.Count(got, "◈") != 1 || !strings.ContainsAny(got, "▶◀▼▲") {
			t.Fatalf("the current fastener doesn't stand out:\n%s", got)
		}
	})
}

// Sixteen fasteners side by side leave no gap for an arrowhead.
func TestArrowheadsTakeThePlaceOfNeighboursInACrowd(t *testing.T) {
	if got := draw(field(2500), 52, 26, false); !strings.Contains(got, "▶◆") && !strings.Contains(got, "◆◀") {
		t.Errorf("no arrowhead in a crowd:\n%s", got)
	}
}

// A square joint comes out square on cells twice as high as wide.
func TestKeepsProportions(t *testing.T) {
	square := []Bolt{{ID: "a"}, {ID: "b", X: 50}, {ID: "c", Y: 50}, {ID: "d", X: 50, Y: 50}}
	for i := range square {
		square[i].State = Done
	}
	lines := strings.Split(draw(square, 70, 11, false), "\n")
	first, last := strings.Index(lines[0], "●"), strings.LastIndex(lines[0], "●")
	columns := lipgloss.Width(lines[0][first:last])
	if columns != 2*10 {
		t.Errorf("10 rows high and %d columns wide, want 20:\n%s", columns, strings.Join(lines, "\n"))
	}
	if !strings.Contains(lines[0], "●") || !strings.Contains(lines[10], "●") {
		t.Errorf("doesn't use the full height:\n%s", strings.Join(lines, "\n"))
	}
}

func TestUpIsUpAndRightIsRight(t *testing.T) {
	lines := strings.Split(draw([]Bolt{{ID: "low", State: Done}, {ID: "high", X: 30, Y: 30, State: Done}}, 40, 9, false), "\n")
	if !strings.Contains(lines[0], "● high") || !strings.Contains(lines[8], "low ●") {
		t.Errorf("want high at the top right and low at the bottom left:\n%s", strings.Join(lines, "\n"))
	}
}

func TestEveryStateHasItsOwnGlyph(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		seen := map[string]State{}
		for s := range stateCount {
			for _, hollow := range []bool{false, true} {
				sign, _ := glyph(Bolt{State: s, Hollow: hollow}, ascii)
				if lipgloss.Width(sign) != 1 || (ascii && sign[0] > 0x7e) {
					t.Errorf("state %d: glyph %q, want one cell, 7-bit in ASCII", s, sign)
				}
				if other, twice := seen[sign]; twice && other != Trouble {
					t.Errorf("states %d and %d share the glyph %q", other, s, sign)
				}
				seen[sign] = s
			}
		}
	}
}

func TestWhere(t *testing.T) {
	at := func(places ...[2]float64) []Bolt {
		bolts := make([]Bolt, len(places))
		for i, p := range places {
			bolts[i] = Bolt{ID: fmt.Sprint("b", i), X: p[0], Y: p[1]}
		}
		return bolts
	}
	six := at([2]float64{0, 0}, [2]float64{70, 1}, [2]float64{140, 0}, [2]float64{0, 90}, [2]float64{70, 90}, [2]float64{140, 90})
	five := at([2]float64{0, 0}, [2]float64{10, 0}, [2]float64{20, 0}, [2]float64{30, 0}, [2]float64{40, 0})
	column := at([2]float64{5, 0}, [2]float64{5, 10}, [2]float64{5, 20})
	cases := []struct {
		name, id string
		bolts    []Bolt
		want     string
	}{
		{"two rows", "b1", six, "middle, bottom row"},
		{"two rows, corner", "b5", six, "right, top row"},
		{"one row, counted from the nearer end", "b1", five, "2nd from left"},
		{"one row, from the right", "b3", five, "2nd from right"},
		{"one row, end", "b4", five, "right"},
		{"a column", "b2", column, "top"},
		{"alone", "b0", at([2]float64{3, 3}), "the only one"},
		{"not there", "zz", six, ""},
		{"circle, at the top", "H1", circle(10, 7), "12 o'clock"},
		{"circle, on an hour", "H2", circle(12, 7), "1 o'clock"},
		{"circle, between hours", "H2", circle(8, 7), "between 1 and 2 o'clock"},
		{"circle, over the top", "H24", circle(24, 7), "between 11 and 12 o'clock"},
		{"no rows, one in that part", "b0", at([2]float64{0, 0}, [2]float64{40, 30}, [2]float64{90, 100}, [2]float64{100, 55}), "lower left"},
		{"no rows, two in that part", "M4", caseHalf(), "upper left, right of the 2 there"},
		{"two in one place", "b1", at([2]float64{0, 0}, [2]float64{9, 0}, [2]float64{9, 0}), "right, same place as b2"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := Where(c.bolts, c.id); got != c.want {
				t.Errorf("Where(%s) = %q, want %q", c.id, got, c.want)
			}
		})
	}
}

func TestOrdinals(t *testing.T) {
	for n, want := range map[int]string{1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 11: "11th", 12: "12th", 13: "13th", 21: "21st", 112: "112th"} {
		if got := ordinal(n); got != want {
			t.Errorf("ordinal(%d) = %q, want %q", n, got, want)
		}
	}
}

// Ten times the fasteners take about ten times as long, not a hundred: the
// ratio is about 1 when the cost is linear.
func BenchmarkDrawGrowth(b *testing.B) {
	fields := [][]Bolt{field(2000), field(20000)}
	var took [2]time.Duration
	for b.Loop() {
		for i, bolts := range fields {
			start := time.Now()
			draw(bolts, 80, 24, false)
			took[i] += time.Since(start)
		}
	}
	b.ReportMetric(float64(took[1])/float64(took[0])/10, "ratio-20k/2k")
	b.ReportMetric(0, "ns/op")
}

func BenchmarkDraw2000(b *testing.B) {
	bolts := field(2000)
	for b.Loop() {
		draw(bolts, 80, 24, false)
	}
}
