package bolt

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func TestHeadsMatchPublishedTables(t *testing.T) {
	for head, least := range map[Head]int{Hexagon: 15, Socket: 20, Flange: 8} {
		for _, row := range printedSizes(t, string(head)+" bearing", least) {
			got, source := head.BearingMM(thread(t, row["size"]))
			if got != float(t, row["printed"]) || strings.HasPrefix(source, "assumed") {
				t.Errorf("%s %s bears on %v mm (%s), printed %s", head, row["size"], got, source, row["printed"])
			}
		}
	}
	for _, row := range printedSizes(t, "inch flats", 14) {
		flats, listed := inchDiameter(row["printed"])
		got, source := Hexagon.BearingMM(inchThreadOf(t, row["size"]))
		if got /= 0.95 * inchMM; !listed || math.Abs(got-flats) > 0.0006 || strings.HasPrefix(source, "assumed") {
			t.Errorf("%s: %v in across flats (%s), printed %s", row["size"], got, source, row["printed"])
		}
	}
	if len(socketBearing) != 20 || len(flangeBearing) != 8 || len(inchFlats) != 14 {
		t.Error("a size of a head is in no print")
	}
}

// dw of ISO 4014 by the rule of ISO 4759-1 (from memory): the least width across flats, less its tolerance IT16 under
// 21 mm and × 0.95 from there; to M24 grade A, h13 to 32 mm and h14 above, then grade B, h15 to 60 mm and h16
// above. Widths of ISO 272 (to M42 read in print), tolerances of ISO 286-1 (from memory), in mm.
func TestHexagonsKeepTheRuleOfTheirStandard(t *testing.T) {
	tolerance := func(width float64, grade int) float64 {
		for _, row := range []struct {
			upTo float64
			it   map[int]float64
		}{
			{3, map[int]float64{13: 0.14, 16: 0.6}}, {6, map[int]float64{13: 0.18, 16: 0.75}}, {10, map[int]float64{13: 0.22, 16: 0.9}}, {18, map[int]float64{13: 0.27, 16: 1.1}},
			{30, map[int]float64{13: 0.33}}, {50, map[int]float64{14: 0.62, 15: 1}}, {80, map[int]float64{15: 1.2, 16: 1.9}}, {120, map[int]float64{16: 2.2}},
		} {
			if it, ok := row.it[grade]; ok && width <= row.upTo {
				return it
			}
		}
		t.Fatalf("no IT%d of %v mm", grade, width)
		return 0
	}
	widths := bySize[float64]{
		{1.6, 3.2}, {2, 4}, {2.5, 5}, {3, 5.5}, {3.5, 6}, {4, 7}, {5, 8}, {6, 10}, {8, 13}, {10, 16}, {12, 18}, {14, 21}, {16, 24}, {18, 27}, {20, 30}, {22, 34}, {24, 36}, {27, 41}, {30, 46},
		{33, 50}, {36, 55}, {39, 60}, {42, 65}, {45, 70}, {48, 75}, {52, 80}, {56, 85}, {60, 90}, {64, 95},
	}
	for _, row := range hexagonBearing {
		width, ok := widths.at(row.size)
		if !ok {
			t.Errorf("M%v: no width across flats", row.size)
			continue
		}
		grade := 13
		switch {
		case row.size > 24 && width > 60:
			grade = 16
		case row.size > 24:
			grade = 15
		case width > 32:
			grade = 14
		}
		least := width - tolerance(width, grade)
		want := 0.95 * least
		if width < 21 {
			want = least - tolerance(width, 16)
		}
		if math.Abs(row.value-want) > 0.0051 {
			t.Errorf("M%v bears on %v mm, by the rule %.3f", row.size, row.value, want)
		}
	}
	if len(hexagonBearing) != len(widths) {
		t.Errorf("%d sizes of hexagons, want %d", len(hexagonBearing), len(widths))
	}
}

func TestHolesMatchPublishedTables(t *testing.T) {
	rows := printedSizes(t, "clearance holes", len(metricHoles))
	for _, row := range rows {
		for i, printed := range strings.Fields(row["printed"]) {
			fit := []Fit{Fine, Medium, Coarse}[i]
			got, source := fit.ClearanceMM(thread(t, row["size"]))
			if got != float(t, printed) || source != "ISO 273 "+string(fit)+", read in print" {
				t.Errorf("%s %s hole: %v mm (%s), printed %s", row["size"], fit, got, source, printed)
			}
		}
	}
	inches := func(kind string, least int, unit, within float64) {
		for _, row := range printedSizes(t, kind, least) {
			printed, err := 0.0, false
			if printed, err = inchDiameter(row["printed"]); !err {
				t.Fatal(row["printed"])
			}
			got, source := Medium.ClearanceMM(inchThreadOf(t, row["size"]))
			if math.Abs(got-printed*unit) > within || source != "ASME B18.2.8 normal, read in print" {
				t.Errorf("%s: hole of %v mm (%s), printed %s", row["size"], got, source, row["printed"])
			}
		}
	}
	inches("inch hole", 4, inchMM, 1e-9)
	inches("inch hole mm", len(inchHoles)-4, 1, 0.3) // the nearest metric drill; a 32nd is 0.79 mm
}

// A size no table has is estimated, and said to be.
func TestHeadsAndHolesOfOtherSizesAreEstimates(t *testing.T) {
	m7, m9, nineSixteenths := thread(t, "M7"), thread(t, "M9"), thread(t, "9/16-12")
	for _, c := range []struct {
		what string
		get  func() (float64, string)
		want float64
		said string
	}{
		{"hexagon M7", func() (float64, string) { return Hexagon.BearingMM(m7) }, 1.42 * 7, "assumed 1.42 × the thread diameter"},
		{"socket M7", func() (float64, string) { return Socket.BearingMM(m7) }, 1.48 * 7, "assumed 1.48 × the thread diameter"},
		{"flange M7", func() (float64, string) { return Flange.BearingMM(m7) }, 1.97 * 7, "assumed 1.97 × the thread diameter"},
		{"socket 9/16", func() (float64, string) { return Socket.BearingMM(nineSixteenths) }, 1.48 * 0.5625 * inchMM, "no socket head of this size"},
		{"fine M9", func() (float64, string) { return Fine.ClearanceMM(m9) }, 1.06 * 9, "assumed 1.06 ×"},
		{"medium M9", func() (float64, string) { return Medium.ClearanceMM(m9) }, 1.1 * 9, "assumed 1.10 ×"},
		{"coarse M9", func() (float64, string) { return Coarse.ClearanceMM(m9) }, 1.18 * 9, "assumed 1.18 ×"},
		{"medium 9/16", func() (float64, string) { return Medium.ClearanceMM(nineSixteenths) }, 1.1 * 0.5625 * inchMM, "no clearance hole of this size is listed"},
		{"a fit of another name M9", func() (float64, string) { return Fit("").ClearanceMM(m9) }, 1.06 * 9, "assumed 1.06 ×"},
	} {
		if mm, source := c.get(); math.Abs(mm-c.want) > 1e-9 || !strings.Contains(source, c.said) {
			t.Errorf("%s: %v mm (%s), want %v, %s", c.what, mm, source, c.want, c.said)
		}
	}
	// The ratios are about those of the sizes that are listed.
	ratios := func(head Head, table bySize[float64]) {
		all := make([]float64, 0, len(table))
		for _, row := range table {
			all = append(all, row.value/row.size)
		}
		slices.Sort(all)
		if guess, _ := head.guess(Thread{DiameterMM: 1}); math.Abs(guess-all[len(all)/2]) > 0.05 {
			t.Errorf("%s: a ratio of %v is assumed, the middle one listed is %.3f", head, guess, all[len(all)/2])
		}
	}
	ratios(Hexagon, hexagonBearing)
	ratios(Socket, socketBearing)
	ratios(Flange, flangeBearing)
}

func TestHeadFormsAreRead(t *testing.T) {
	for text, want := range map[string]Head{
		"hexagon": Hexagon, " Hex ": Hexagon, "hex head": Hexagon, "socket": Socket, "socket head": Socket, "cap": Socket, "flange": Flange, "flanged": Flange, "hex  flange": Flange,
	} {
		if got, err := ParseHead(text); err != nil || got != want {
			t.Errorf("%q is a %s head, %v; want %s", text, got, err, want)
		}
	}
	if got, err := ParseHead("mushroom"); err == nil || !strings.Contains(err.Error(), "hexagon, socket or flange") {
		t.Errorf("mushroom is a %s head, %v", got, err)
	}
}

// Whatever the size, the hole is wider than the bolt and the head bears outside of it.
func TestHeadsBearOutsideTheirHoles(t *testing.T) {
	for _, m := range metricSizes {
		th := m.thread(m.coarsest())
		fine, _ := Fine.ClearanceMM(th)
		medium, _ := Medium.ClearanceMM(th)
		coarse, _ := Coarse.ClearanceMM(th)
		if !(th.DiameterMM < fine && fine < medium && medium < coarse) {
			t.Errorf("%s: holes %v, %v, %v don't grow past the thread", th.Name, fine, medium, coarse)
		}
		for _, h := range []Head{Hexagon, Socket, Flange} {
			if dw, source := h.BearingMM(th); dw <= medium {
				t.Errorf("%s %s bears on %v mm (%s), inside its %v mm hole", th.Name, h, dw, source, medium)
			}
		}
	}
	for _, in := range inchThreads() {
		hole, _ := Medium.ClearanceMM(in.thread())
		if dw, source := Hexagon.BearingMM(in.thread()); dw <= hole || hole <= in.thread().DiameterMM {
			t.Errorf("%s bears on %v mm (%s) about a %v mm hole", in.name(), dw, source, hole)
		}
	}
}
