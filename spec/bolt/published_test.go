package bolt

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// published reads one of the tables of printed figures, keyed by column.
func published(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, column := range lines[0] {
			row[column] = line[i]
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		t.Fatalf("%s has no rows", name)
	}
	return rows
}

func float(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// digit is one unit of the last printed digit: 0.001 for "0.106", 1 for "115".
func digit(printed string) float64 {
	_, decimals, found := strings.Cut(strings.TrimSpace(printed), ".")
	if !found {
		return 1
	}
	return math.Pow10(-len(decimals))
}

// printedSizes are the rows of testdata/published/sizes.csv of one kind that no other print contradicts.
func printedSizes(t *testing.T, what string, least int) (rows []map[string]string) {
	t.Helper()
	for _, row := range published(t, "sizes.csv") {
		if row["what"] == what && !strings.HasPrefix(row["note"], "DISAGREEMENT") {
			rows = append(rows, row)
		}
	}
	if len(rows) != least {
		t.Fatalf("%d rows of %s, want %d", len(rows), what, least)
	}
	return rows
}

func thread(t *testing.T, name string) Thread {
	t.Helper()
	th, err := ParseThread(name)
	if err != nil {
		t.Fatal(err)
	}
	return th
}

// inchThreadOf is some thread of a printed size in inches.
func inchThreadOf(t *testing.T, size string) Thread {
	t.Helper()
	i := slices.IndexFunc(inchThreads(), func(in inchThread) bool { return in.size == size })
	if i < 0 {
		t.Fatalf("no thread of %s in", size)
	}
	return inchThreads()[i].thread()
}

// misprints are the published areas that disagree with the standards' own formula and with
// the other prints (reference notes, section 11). Nothing is held against them.
var misprints = map[string]string{"M18x1.5": "232", "M20x1.5": "290", "M20x2": "272", "7/16-14 UNC": "0.0163"}

// cut are the areas printed with their last digit dropped rather than rounded.
var cut = map[string]string{"1/2-20 UNF": "0.1599"}

func TestThreadsMatchPublishedTables(t *testing.T) {
	const hair = 1e-9
	seen, cutSeen, skipped := 0, 0, 0
	for _, row := range published(t, "metric_threads.csv") {
		name := row["size"]
		th, err := ParseThread(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, c := range []struct {
			what    string
			got     float64
			printed string
		}{{"pitch", th.PitchMM, row["pitch_mm"]}, {"d2", th.PitchDiameterMM(), row["d2"]}, {"d3", th.RootDiameterMM(), row["d3"]}, {"formula area", th.StressAreaMM2(), row["As_mm2"]}} {
			if want := float(t, c.printed); math.Abs(c.got-want) > max(digit(c.printed)/2+hair, 5e-7) {
				t.Errorf("%s %s = %.6f, table has %s", name, c.what, c.got, c.printed)
			}
		}
		area := th.StressAreaMM2()
		if th.Inch {
			area /= inchMM * inchMM
		}
		for _, printed := range strings.Split(row["published_As"], ";") {
			printed = strings.TrimSpace(printed)
			off := math.Abs(area - float(t, printed))
			switch {
			case misprints[name] == printed:
				skipped++
			case cut[name] == printed && area > float(t, printed) && off < digit(printed):
				cutSeen++
			case off > digit(printed)/2+hair:
				t.Errorf("%s area %.6f, printed %s (%s)", name, area, printed, row["published_As_source"])
			default:
				seen++
			}
		}
	}
	t.Logf("%d printed areas within half a printed digit, %d printed with the last digit cut off, %d misprints left out", seen, cutSeen, skipped)
	if seen < 40 || skipped != len(misprints) {
		t.Errorf("%d areas compared and %d of %d misprints met: the table or this test is not what it was", seen, skipped, len(misprints))
	}
}

func TestClassesMatchPublishedTables(t *testing.T) {
	compared := 0
	for _, row := range published(t, "property_classes.csv") {
		size, unit := 10.0, 1.0 // any size of the first row
		switch {
		case strings.HasPrefix(row["size_range"], "d>16"):
			size = 16.5
		case strings.HasPrefix(row["size_range"], "over 3/4"):
			size = 0.875 * inchMM
		case strings.HasPrefix(row["size_range"], "over 1 "):
			size = 1.125 * inchMM
		}
		if row["unit"] == "ksi" {
			unit = ksiMPa
		}
		for _, name := range strings.Split(row["class"], " / ") {
			class, err := ParseClass(name)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			th := Thread{DiameterMM: size, PitchMM: 1.5}
			proof, yield, tensile, assumption := class.Strength(th)
			if class.Standard != row["standard"] {
				t.Errorf("%s is of %s, want %s", name, class.Standard, row["standard"])
			}
			wantProof := row["proof_stress_Sp"]
			if wantProof == "" {
				wantProof = row["yield_min"]
				if !strings.Contains(assumption, "no proof stress is defined") {
					t.Errorf("%s: assumption %q hides that Rp0.2 stands in for the proof stress", name, assumption)
				}
			}
			for _, c := range []struct {
				what    string
				got     float64
				printed string
			}{{"proof", proof, wantProof}, {"yield", yield, row["yield_min"]}, {"tensile", tensile, row["Rm_min"]}} {
				if math.Abs(c.got/unit-float(t, c.printed)) > 1e-9 {
					t.Errorf("%s (%s) %s = %v %s, printed %s", name, row["size_range"], c.what, c.got/unit, row["unit"], c.printed)
				}
				compared++
			}
			if nominal := row["yield_nominal"]; nominal != "" && class.NominalYieldMPa(th) != float(t, nominal) {
				t.Errorf("%s nominal yield = %v, printed %s", name, class.NominalYieldMPa(th), nominal)
			}
		}
	}
	t.Logf("%d class figures compared", compared)
}

func TestSizeLimitsOfClasses(t *testing.T) {
	for _, c := range []struct {
		name, class, thread string
		yield               float64
		said                string
	}{
		{"8.8 at exactly 16 mm is the smaller row", "8.8", "M16", 640, ""},
		{"8.8 at 18 mm is the larger row", "8.8", "M18", 660, ""},
		{"grade 5 at exactly 1 in is the stronger row", "grade 5", "1-8 UNC", 92 * ksiMPa, ""},
		{"grade 5 over 1 in is the weaker row", "grade 5", "1-1/8-7 UNC", 81 * ksiMPa, ""},
		{"grade 2 at 3/4 in is the stronger row", "grade 2", "3/4-10", 57 * ksiMPa, ""},
		{"grade 2 at 7/8 in is the weaker row", "grade 2", "7/8-9", 36 * ksiMPa, ""},
		{"grade 2 over 1-1/2 in is not defined", "grade 2", "1-3/4-5 UNC", 36 * ksiMPa, "not defined over 38.1 mm"},
		{"grade 5 over 1-1/2 in is not defined", "grade 5", "1-3/4-5 UNC", 81 * ksiMPa, "not defined over 38.1 mm"},
		{"a numbered size is under SAE J429", "grade 5", "#10-32", 92 * ksiMPa, "starts at"},
		{"A2-70 over 24 mm is by agreement", "A2-70", "M27", 450, "by agreement"},
		{"9.8 over 16 mm is not defined", "9.8", "M20", 720, "not defined over 16 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			th, err := ParseThread(c.thread)
			if err != nil {
				t.Fatal(err)
			}
			class, err := ParseClass(c.class)
			if err != nil {
				t.Fatal(err)
			}
			_, yield, _, said := class.Strength(th)
			if math.Abs(yield-c.yield) > 1e-9 || !strings.Contains(said, c.said) {
				t.Errorf("%s on %s: yield %v, %q; want %v, …%q…", c.class, c.thread, yield, said, c.yield, c.said)
			}
		})
	}
}

// The sizes and pitches are those of ISO 261 as printed, neither more nor less.
func TestThreadSizesMatchPublishedTables(t *testing.T) {
	var got, want []string
	var pitches []float64
	for _, m := range metricSizes {
		line := fmt.Sprintf("M%v %v", m.diameter, m.coarse)
		for _, p := range m.fine {
			line += fmt.Sprintf(" %v", p)
		}
		pitches = append(append(pitches, m.coarsest()), m.fine...)
		got = append(got, strings.Replace(line, " 0 ", " - ", 1))
	}
	for _, row := range printedSizes(t, "pitches", len(metricSizes)) {
		want = append(want, row["size"]+" "+row["printed"])
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nprinted\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	slices.Sort(pitches)
	if pitches = slices.Compact(pitches); !slices.Equal(pitches, metricPitches) {
		t.Errorf("the pitches are %v, those of the sizes %v", metricPitches, pitches)
	}
	for _, row := range printedSizes(t, "threads per inch", 26) {
		for i, n := range strings.Fields(row["printed"]) {
			name := row["size"] + "-" + n + " " + []string{"UNC", "UNF"}[i]
			if n == "-" {
				continue
			}
			if th, err := ParseThread(name); err != nil || th.Name != name || math.Abs(th.PitchMM*float(t, n)-inchMM) > 1e-9 {
				t.Errorf("%s is read as %+v, %v", name, th, err)
			}
		}
	}
}
