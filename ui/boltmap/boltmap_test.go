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
	if !strings.Contains(lines[0], "● high") || !strings.Contains(lines[8], "● low") {
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
	dice := at([2]float64{0, 0}, [2]float64{100, 0}, [2]float64{50, 50}, [2]float64{0, 100}, [2]float64{100, 100})
	odd := at([2]float64{0, 0}, [2]float64{50, 0}, [2]float64{100, 0}, [2]float64{30, 50}, [2]float64{0, 100}, [2]float64{100, 100})
	hub := append(circle(8, 0), Bolt{ID: "hub"})
	// Four rows of a slanting cover, left and right edge.
	many := at([2]float64{0, 0}, [2]float64{100, 0}, [2]float64{50, 20}, [2]float64{0, 40}, [2]float64{50, 42}, [2]float64{100, 40}, [2]float64{40, 60}, [2]float64{60, 60}, [2]float64{0, 80}, [2]float64{100, 80})
	mixed := append(caseHalf(), Bolt{ID: "nut", X: 70, Y: 45, Group: "nut"})
	arc := circle(12, 0) // four side by side are missing
	arc = append(arc[:2:2], arc[6:]...)
	fine := make([]Bolt, 12) // rises less from one to the next than rows lie apart
	for i := range fine {
		fine[i] = Bolt{ID: fmt.Sprint("b", i), X: float64(i * 10), Y: float64(i * 4)}
	}
	column := at([2]float64{5, 0}, [2]float64{5, 10}, [2]float64{5, 20})
	cases := []struct {
		name, id string
		bolts    []Bolt
		want     string
	}{
		{"two rows", "b1", six, "bottom row, 2nd of 3"},
		{"two rows, corner", "b5", six, "top row, 3rd of 3"},
		{"one row, counted from the left", "b1", five, "2nd of 5 from the left"},
		{"one row, end", "b4", five, "5th of 5 from the left"},
		{"two in a row", "b1", five[:2], "right one"},
		{"a column", "b2", column, "1st of 3 from the top"},
		{"two in a column", "b0", column[:2], "bottom one"},
		{"alone", "b0", at([2]float64{3, 3}), "the only one"},
		{"not there", "zz", six, ""},
		{"odd one in the centre", "b2", dice, "centre"},
		{"round an odd one", "b4", dice, "top row, right one"},
		{"odd one off the centre", "b3", odd, "middle row"},
		{"beside an odd one", "b1", odd, "bottom row, 2nd of 3"},
		{"circle, at the top", "H1", circle(10, 7), "12 o'clock"},
		{"circle, on an hour", "H2", circle(12, 7), "1 o'clock"},
		{"circle, between hours", "H2", circle(8, 7), "between 1 and 2 o'clock"},
		{"circle, over the top", "H24", circle(24, 7), "between 11 and 12 o'clock"},
		{"circle with a gap", "H1", arc, "12 o'clock"},
		{"circle with a gap, opposite", "H10", arc, "9 o'clock"},
		{"circle with a gap, at its end", "H7", arc, "6 o'clock"},
		{"a fine slope", "b1", fine, "lower left, 2nd of 4 there"},
		{"circle of five", "H3", circle(5, 0), "5 o'clock"},
		{"circle round a hub", "H3", hub, "3 o'clock"},
		{"hub of a circle", "hub", hub, "centre"},
		{"half a circle is none", "H4", circle(12, 0)[:6], "right"},
		{"a slope", "b1", at([2]float64{0, 0}, [2]float64{11, 10}, [2]float64{25, 20}, [2]float64{34, 30}), "3rd of 4 from the top"},
		{"an outline", "M4", caseHalf(), "10 o'clock"},
		{"many rows", "b4", many, "3rd row from the top, 2nd of 3"},
		{"many rows, end", "b1", many, "bottom row, right one"},
		{"alone in its group", "nut", mixed, "centre"},
		{"among its group", "M4", mixed, "10 o'clock"},
		{"no rows", "b0", at([2]float64{0, 0}, [2]float64{40, 30}, [2]float64{90, 100}, [2]float64{100, 55}), "lower left"},
		{"two in one place", "b1", at([2]float64{0, 0}, [2]float64{9, 0}, [2]float64{9, 0}), "2nd of 3 from the left, same place as b2"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := Where(c.bolts, c.id); got != c.want {
				t.Errorf("Where(%s) = %q, want %q", c.id, got, c.want)
			}
		})
	}
}

// No two bolts of a group are said to sit in one place, wherever they are.
func TestNoTwoSitAlikeInWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bolts := anyBolts().Draw(t, "bolts")
		said := map[string]int{}
		for i := range bolts {
			bolts[i].ID, bolts[i].Group = fmt.Sprint("b", i), fmt.Sprint(i%2)
		}
		for i, b := range bolts {
			words := b.Group + " " + Where(bolts, b.ID)
			if other, twice := said[words]; twice {
				t.Fatalf("b%d and b%d are both %q", other, i, words)
			}
			said[words] = i
		}
	})
}

// However close they stand, each bolt has a mark of its own while a row can hold them.
func TestEveryBoltHasItsOwnMark(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bolts := anyBolts().Draw(t, "bolts")
		for i := range bolts {
			bolts[i].State = Done
		}
		p := pen{grid: newGrid(rapid.IntRange(max(leastWidth, len(bolts)), 90).Draw(t, "w"), rapid.IntRange(leastHeight, 24).Draw(t, "h")), bolts: bolts}
		p.place()
		if len(p.spots) != len(bolts) {
			t.Fatalf("%d marks for %d bolts", len(p.spots), len(bolts))
		}
	})
}

// Left of another stays left of it, and above stays above, however they are moved
// apart.
func TestMovingApartKeepsTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bolts := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Bolt {
			return Bolt{X: float64(rapid.IntRange(-50, 50).Draw(t, "x")), Y: float64(rapid.IntRange(-9, 9).Draw(t, "y")), State: Done}
		}), 1, 40).Draw(t, "bolts")
		p := pen{grid: newGrid(80, 24), bolts: bolts}
		p.place()
		spotOf := make([]spot, len(bolts))
		for _, s := range p.spots {
			spotOf[s.show] = s
		}
		for i, a := range bolts {
			for j, b := range bolts {
				if a.Y > b.Y && spotOf[i].y > spotOf[j].y {
					t.Fatalf("bolt %d is above %d and drawn below it", i, j)
				}
				if spotOf[i].y == spotOf[j].y && a.X < b.X && spotOf[i].x > spotOf[j].x {
					t.Fatalf("bolt %d is left of %d and drawn right of it", i, j)
				}
			}
		}
	})
}

// Whichever is current, an id stands at the same place, always on the same side of
// its bolt.
func TestLabelsStayWhereTheyAre(t *testing.T) {
	for name, bolts := range map[string][]Bolt{"case": caseHalf(), "circle": circle(10, 0)} {
		for _, size := range [][2]int{{60, 20}, {40, 11}, {26, 6}, {32, 14}} {
			at := map[string][2]int{}
			for now := range bolts {
				for i := range bolts {
					bolts[i].State, bolts[i].Note = Done, ""
				}
				bolts[now].State = Current
				for y, line := range strings.Split(draw(bolts, size[0], size[1], true), "\n") {
					for i, b := range bolts {
						x := strings.Index(line+" ", b.ID+" ")
						if x < 0 {
							x = strings.Index(line, b.ID+"-")
						}
						if x < 0 || i == now {
							continue
						}
						if before, seen := at[b.ID]; seen && before != [2]int{x, y} {
							t.Errorf("%s at %v: %s stood at %v and stands at %d,%d with %s current", name, size, b.ID, before, x, y, bolts[now].ID)
						}
						at[b.ID] = [2]int{x, y}
					}
				}
			}
			if size[1] > 6 && len(at) < len(bolts) {
				t.Errorf("%s at %v: only %d of %d ids are ever written", name, size, len(at), len(bolts))
			}
		}
	}
}

func TestStrips(t *testing.T) {
	row := func(n, current int, y float64) []Bolt {
		list := make([]Bolt, n)
		for i := range list {
			list[i] = Bolt{ID: fmt.Sprintf("r%v%d", y, i), X: float64(i * 10), Y: y, State: Untouched}
		}
		if current >= 0 {
			list[current].State = Current
		}
		return list
	}
	two := append(row(5, 2, 0), row(3, -1, 30)...)
	tall := []Bolt{{ID: "low", State: Current}, {ID: "mid", Y: 10, State: Done}, {ID: "high", Y: 20, State: Untouched}}
	alone := append(row(4, -1, 0), Bolt{ID: "nut", Group: "nut", X: 50, State: Current, Hollow: true})
	for _, c := range []struct {
		name, id string
		bolts    []Bolt
		w        int
		want     string
	}{
		{"a row", "r02", two, 40, "○ ○ ◆ ○ ○"},
		{"the other row", "r300", two, 40, "○ ○ ○"},
		{"close together", "r02", two, 8, "○○◆○○"},
		{"no room", "r02", two, 4, ""},
		{"a column from the top", "low", tall, 40, "○ ● ◆"},
		{"alone of its group, beside the others", "nut", alone, 40, "○ ○ ○ ○ ◈"},
		{"a circle has no row", "H1", circle(8, 0), 40, ""},
		{"nor has an outline", "M4", caseHalf(), 40, ""},
		{"alone in its row", "c", []Bolt{{ID: "a"}, {ID: "b", X: 50}, {ID: "c", X: 25, Y: 40}}, 40, ""},
		{"not there", "zz", two, 40, ""},
	} {
		if got := strip(c.bolts, c.id, c.w, false); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	if got := strip(two, "r02", 40, true); got != "o o # o o" {
		t.Errorf("in seven bits: %q", got)
	}
}

// Where there are more bolts than cells, the most important shows.
func TestTheMostImportantOfACellShows(t *testing.T) {
	bolts := make([]Bolt, 30)
	for i := range bolts {
		bolts[i].State = []State{Done, Untouched, NotThisPass}[i%3]
	}
	for _, now := range []int{-1, 0, 17, 29} {
		if now >= 0 {
			bolts[now].State = Current
		}
		p := pen{grid: newGrid(12, 3), bolts: bolts}
		p.place()
		if len(p.spots) != 1 || p.spots[0].count != 30 {
			t.Fatalf("30 bolts in one place make the spots %+v", p.spots)
		}
		want := Current
		if now < 0 {
			want = Untouched
		}
		if got := bolts[p.spots[0].show].State; got != want || (now >= 0) != (p.now == 0) {
			t.Errorf("with %d current state %d shows, want %d; current spot %d", now, got, want, p.now)
		}
		if now >= 0 {
			bolts[now].State = Done
		}
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
