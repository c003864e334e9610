package bolt

import (
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
	for text, want := range map[string]string{"8.8": "is the class of a bolt; a nut that goes with it is 8", "10.9": "goes with it is 10", "4.6": "goes with it is 5", "9.8": "goes with it is 9", "A2-70": "is the class of a bolt", "7": "no class of nut", "": "no class of nut", "big": "no class of nut"} {
		if _, err := ParseNut(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}
