package bolt

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

func TestNutsAreForTheBoltsTheirNumberSays(t *testing.T) {
	for _, c := range []struct {
		nut, bolt    string
		holds, known bool
	}{
		{"8", "8.8", true, true}, {"8", "10.9", false, true}, {"10", "10.9", true, true}, {"10", "8.8", true, true}, {"12", "12.9", true, true}, {"10", "12.9", false, true},
		{"5", "4.6", true, true}, {"5", "5.8", true, true}, {"5", "6.8", false, true}, {"05", "4.6", false, true}, {"8", "A2-70", false, false}, {"8", "SAE 5", false, false}, {"9", "9.8", true, true},
	} {
		n, err := ParseNut(c.nut)
		if err != nil {
			t.Fatal(err)
		}
		class, err := ParseClass(c.bolt)
		if err != nil {
			t.Fatal(err)
		}
		if holds, known := n.For(class); holds != c.holds || known != c.known {
			t.Errorf("nut %s on %s: holds %v, known %v", c.nut, c.bolt, holds, known)
		}
	}
}

func TestNutsAreReadAsTheyStandOnThem(t *testing.T) {
	for text, want := range map[string]string{"8": "8", " class 10 ": "10", "|12|": "12", "ISO 898-2 class 8": "8", "nut 05": "05", "04": "04"} {
		if n, err := ParseNut(text); err != nil || n.Name != want || n.ProofMPa < 300 {
			t.Errorf("%q is %+v, %v", text, n, err)
		}
	}
	for text, want := range map[string]string{"8.8": "is the class of a bolt; a nut that goes with it is 8", "10.9": "goes with it is 10", "4.6": "goes with it is 5", "9.8": "goes with it is 9", "A2-70": "is the class of a bolt, not of a nut", "7": "no class of nut", "": "no class of nut", "big": "no class of nut", "04a": "no class of nut is called \"04a\"; the nearest is 04"} {
		if _, err := ParseNut(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// Proof stress times stress area is the proof load that DIN EN 20898-2 prints for M3, the least of the sizes, within the
// rounding of the area; thin nuts have the proof stress that ISO 898-6 prints. Class 9 is from memory.
func TestNutsMatchPublishedProofLoads(t *testing.T) {
	m3, met := thread(t, "M3"), 0
	for what, stress := range map[string]func(printed float64) float64{
		"nut proof load M3": func(n float64) float64 { return n / m3.StressAreaMM2() },
		"nut proof stress":  func(mpa float64) float64 { return mpa },
	} {
		for _, row := range printedSizes(t, what, map[string]int{"nut proof load M3": 5, "nut proof stress": 2}[what]) {
			n, err := ParseNut(row["size"])
			want := stress(float(t, row["printed"]))
			if met++; err != nil || math.Abs(n.ProofMPa/want-1) > 0.007 { // 50 N of 5200 or so, and 5.03 for 5.0308 mm²
				t.Errorf("nut %s: proof stress %v, printed %.4g (%v)", row["size"], n.ProofMPa, want, err)
			}
		}
	}
	for i, n := range nuts[1:] {
		if n.ProofMPa <= nuts[i].ProofMPa || n.Number < nuts[i].Number || n.Number > 0 && n.Name != strconv.Itoa(n.Number) {
			t.Errorf("nut %s comes after %s", n.Name, nuts[i].Name)
		}
	}
	if met != len(nuts)-1 {
		t.Errorf("%d of %d classes printed", met, len(nuts))
	}
}
