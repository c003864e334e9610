package plan

import (
	"encoding/csv"
	"math"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"evenpull/spec"
)

// The printed cross patterns of testdata/published/sequences.csv (ASME PCC-1
// legacy table, see its source and confidence columns) come out as printed.
func TestCrossGivesThePublishedSequences(t *testing.T) {
	f, err := os.Open("../../testdata/published/sequences.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := regexp.MustCompile(`\d+`)
	checked := 0
	for _, row := range rows[1:] {
		if row[1] != "circular cross pattern" {
			continue
		}
		var want []int
		for _, s := range number.FindAllString(row[3], -1) {
			n, _ := strconv.Atoi(s)
			want = append(want, n-1)
		}
		if got := Cross(len(want)); !reflect.DeepEqual(got, want) {
			t.Errorf("%s, %d bolts (%s): got %v, printed %v, counted from 0", row[0], len(want), row[5], got, want)
		}
		checked++
	}
	if checked != 5 {
		t.Errorf("checked %d published sequences, want the 5 in the table", checked)
	}
}

// The same table's longer rows, from memory: ASME PCC-1, 20, 28 and 32 bolts.
func TestCrossGivesTheLongerPatternsFromMemory(t *testing.T) {
	leads := map[int][]int{20: {1, 3, 5, 2, 4}, 28: {1, 4, 6, 2, 5, 7, 3}, 32: {1, 5, 3, 7, 2, 6, 4, 8}}
	for n, lead := range leads {
		var want []int
		for _, k := range lead {
			want = append(want, k-1, k-1+n/2, k-1+n/4, k-1+3*n/4)
		}
		if got := Cross(n); !reflect.DeepEqual(got, want) {
			t.Errorf("%d bolts: got %v, want %v", n, got, want)
		}
	}
}

// Whatever the number, a pattern names every position once, and consecutive
// bolts of a pair lie opposite.
func TestCrossVisitsEveryPositionOnce(t *testing.T) {
	for n := 1; n <= 300; n++ {
		order := Cross(n)
		seen := map[int]bool{}
		for _, k := range order {
			if k < 0 || k >= n || seen[k] {
				t.Fatalf("%d bolts: %d is out of place in %v", n, k, order)
			}
			seen[k] = true
		}
		if len(order) != n {
			t.Fatalf("%d bolts: %d named", n, len(order))
		}
		if n%2 == 0 {
			for i := 0; i < n; i += 2 {
				if d := order[i+1] - order[i]; d != n/2 {
					t.Fatalf("%d bolts: %d and %d are no opposite pair", n, order[i], order[i+1])
				}
			}
		}
	}
}

// Two in one direction stay together in whatever direction that is: rounding must not
// send the second all the way round.
func TestTwoInOneDirectionAreCountedTogether(t *testing.T) {
	for degree := range 3600 {
		sin, cos := math.Sincos(float64(degree) * math.Pi / 1800)
		at := func(r float64) *spec.Fastener { return &spec.Fastener{X: 512.3 + r*cos, Y: 431.7 + r*sin} }
		first, second := at(30), at(10)
		fs := []*spec.Fastener{first, at(-25), at(-15), second}
		if got := clockwise(fs); got[0] != first || got[1] != second {
			t.Fatalf("at %.1f° the second is counted last", float64(degree)/10)
		}
	}
}

// Two at one place are counted as the file has them.
func TestTwoAtOnePlaceKeepTheFilesOrder(t *testing.T) {
	first, second := &spec.Fastener{X: -30}, &spec.Fastener{X: -30}
	fs := []*spec.Fastener{{X: 30, Y: 40}, first, second, {X: 30, Y: -40}}
	if got := clockwise(fs); slices.Index(got, second) != slices.Index(got, first)+1 {
		t.Error("the second is counted before the first")
	}
}

// How wide a ring is is told from its nearest, not from whichever came last: with
// a tenth of 115 the ring of one at 100 ends before 115, though 108 lies between.
func TestARingIsCountedFromItsNearest(t *testing.T) {
	a, b, c, d := &spec.Fastener{X: 100}, &spec.Fastener{Y: 108}, &spec.Fastener{X: -114.85, Y: 6.05}, &spec.Fastener{X: 14.85, Y: -114.05}
	if got, want := spiral([]*spec.Fastener{c, b, d, a}), []*spec.Fastener{a, b, d, c}; !slices.Equal(got, want) {
		t.Errorf("from the middle: %v, want %v", got, want)
	}
}

// The farthest is found as plainly as by measuring each, however little is between them.
func TestTheFarthestIsTheFarthest(t *testing.T) {
	last := &spec.Fastener{}
	for _, c := range []struct {
		list []*spec.Fastener
		want int
	}{
		{[]*spec.Fastener{{X: 100, Y: 0.1}, {X: 100, Y: 0.5}}, 1},
		{[]*spec.Fastener{{X: 0.1, Y: 100}, {X: 0.5, Y: 100}}, 1},
		{[]*spec.Fastener{{X: 3, Y: 4}, {X: -5}, {Y: 5}}, 0}, // of equals the first
		{[]*spec.Fastener{{X: 3}, {Y: -7}, {X: 5}}, 1},
	} {
		if got := farthestFrom(last, c.list); got != c.want {
			t.Errorf("number %d, want %d", got, c.want)
		}
	}
}
