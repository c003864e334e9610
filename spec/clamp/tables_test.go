package clamp

import (
	"math"
	"strings"
	"testing"

	"evenpull/spec/bolt"
)

// isTable reports whether a row is of the VDI or stainless tables.
func (e example) isTable() bool {
	return strings.Contains(e.kind, "VDI") || strings.Contains(e.kind, "stainless")
}

// computed is a table row by the same front doors that the program uses: preload at 90 % of yield
// in kN, or the torque for it in N·m.
func (e example) computed(t *testing.T) float64 {
	t.Helper()
	j := e.joint(t)
	at90, err := j.PreloadAt(0.9)
	if err != nil {
		t.Fatalf("%s: %v", e.id, err)
	}
	if !strings.HasSuffix(e.kind, "torque") {
		return at90 / 1000
	}
	nm, err := j.Torque(at90)
	if err != nil {
		t.Fatalf("%s: %v", e.id, err)
	}
	return nm
}

const notReached = "../../testdata/published/not_reached.csv"

// TestPublishedTables holds every row of the VDI and stainless tables to half its printed digit.
// The rows that are not reached are listed, each with what comes out, in a file
// of their own; a row that falls out or comes in is a failure.
func TestPublishedTables(t *testing.T) {
	listed := map[string]string{}
	for _, line := range csvOf(t, notReached)[1:] {
		listed[line[0]] = line[4]
	}
	type tally struct{ rows, reached int }
	counts, rows := map[string]*tally{}, 0
	for _, e := range examples(t) {
		if !e.isTable() {
			continue
		}
		rows++
		name, _, _ := strings.Cut(e.kind+", "+e.source, " preload/torque table")
		if counts[name] == nil {
			counts[name] = &tally{}
		}
		counts[name].rows++
		got, want := e.computed(t), number(t, e.printed)
		shown, missed := listed[e.id]
		if math.Abs(got-want) <= halfDigit(e.printed)+1e-9 {
			counts[name].reached++
			if missed {
				t.Errorf("%s is reached: %.5g, printed %s; take it off %s", e.id, got, e.printed, notReached)
			}
			continue
		}
		if now := Digits(got, 5); shown != now {
			t.Errorf("%s %s (%s): %s %s, printed %s, not within half a digit; %s has %q", e.id, e.kind, e.inputs, now, e.unit, e.printed, notReached, shown)
		}
		delete(listed, e.id)
	}
	for id := range listed {
		t.Errorf("%s has a row %s that is of no table", notReached, id)
	}
	for name, c := range counts {
		t.Logf("%2d of %2d rows within half a printed digit: %s", c.reached, c.rows, name)
	}
	if rows != 271 {
		t.Errorf("%d rows of these tables were compared, there are 271", rows)
	}
}

// What the fine-thread table was reckoned with, taken from its own figures: d2 and d3 as ISO 724 tables
// them, to 0.001 mm, and 1.155 for 1/cos 30°, as VDI 2230 prints it. So reckoned, all 81 preloads
// come out to the printed digit, and all torques but those of M14x1.5, whose nine want a head
// that bears on a mean diameter from 17.39 to 17.44 mm. ISO 4014 and ISO 273 give 17.57 (grade A, 19.64
// and 15.5 mm), 17.33 (grade B, 19.15 mm) or, with the 22 mm flats of the older DIN 931, 18.0. A
// print of ISO 4014 has 19.37 (testdata/published/sizes.csv: the flats less IT16, the rule for heads under
// 21 mm), and with that the table's come out too.
func TestTheFineTableIsReckonedFromTabledDiameters(t *testing.T) {
	type interval struct{ low, high float64 }
	rings := map[string]*interval{}
	preloads, torques := 0, 0
	micron := func(mm float64) float64 { return math.Round(1000*mm) / 1000 }
	for _, e := range examples(t) {
		if !strings.HasPrefix(e.kind, "VDI fine") {
			continue
		}
		j := e.joint(t)
		d, p, mu := j.Thread.DiameterMM, j.Thread.PitchMM, j.Friction.Nominal
		_, yield, _, _ := j.Class.Strength(j.Thread)
		d2, d3 := micron(d-0.649519*p), micron(d-1.226869*p)
		d0 := (d2 + d3) / 2
		lever := d2 / 2 * math.Tan(math.Atan(p/(math.Pi*d2))+math.Atan(1.155*mu))
		area, w := math.Pi/4*d0*d0, math.Pi/12*d0*d0*d0
		kN := 0.9 * yield * area / math.Sqrt(1+3*math.Pow(lever*area/w, 2)) / 1000
		printed, half := number(t, e.printed), halfDigit(e.printed)
		if strings.HasSuffix(e.kind, "preload") {
			preloads++
			if math.Abs(kN-printed) > half+1e-9 {
				t.Errorf("%s (%s): %.4f kN, printed %s", e.id, e.inputs, kN, e.printed)
			}
			continue
		}
		torques++
		ring := rings[j.Thread.Name]
		if ring == nil {
			ring = &interval{0, math.Inf(1)}
			rings[j.Thread.Name] = ring
		}
		ring.low = max(ring.low, 2*((printed-half)/kN-lever)/mu)
		ring.high = min(ring.high, 2*((printed+half)/kN-lever)/mu)
	}
	if preloads != 81 || torques != 81 || len(rings) != 9 {
		t.Errorf("%d preloads and %d torques of %d threads, want 81, 81 and 9", preloads, torques, len(rings))
	}
	for name, ring := range rings {
		th, _ := bolt.ParseThread(name)
		outer, _ := bolt.Hexagon.BearingMM(th)
		hole, _ := bolt.Medium.ClearanceMM(th)
		mean := (outer + hole) / 2
		t.Logf("%-9s mean bearing diameter %.3f to %.3f mm by the table, %.3f by ISO 4014 and ISO 273", name, ring.low, ring.high, mean)
		if within := ring.low <= mean && mean <= ring.high; ring.low > ring.high || within == (name == "M14x1.5") {
			t.Errorf("%s: the table's torques want a mean diameter from %.3f to %.3f mm, the standards give %.3f", name, ring.low, ring.high, mean)
		}
		if printed := (19.37 + hole) / 2; name == "M14x1.5" && (printed < ring.low || printed > ring.high) {
			t.Errorf("%s: the table's torques want a mean diameter from %.3f to %.3f mm, the print of 19.37 gives %.3f", name, ring.low, ring.high, printed)
		}
	}
}
