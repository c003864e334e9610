package spec

import "testing"

// A hexagon has flats and a twelve-point has points; nothing else is counted.
func TestCornersThatCanBeCounted(t *testing.T) {
	for drive, want := range map[string]int{
		"12 mm hex": 6, "17 mm hexagon": 6, "6 mm hex key": 6, "8 mm Allen": 6, "3/4 in six-point socket": 6, "19 mm AF": 6, "1/2 in A/F spanner": 6, "13 mm across flats": 6,
		"10 mm twelve-point": 12, "12-point 14 mm": 12, "12 point": 12, "11 mm bi-hex": 12, "bihexagon": 12, "double hexagon 1/2 in": 12, "12pt": 12,
		"": 0, "24 mm socket": 0, "T45": 0, "hexalobular T45": 0, "E12 splined": 0, "12 mm square": 0, "slotted": 0, "pin spanner": 0, "AFTER market": 0,
	} {
		if got := (&Group{Drive: drive}).Corners(); got != want {
			t.Errorf("%q has %d corners, want %d", drive, got, want)
		}
	}
}
