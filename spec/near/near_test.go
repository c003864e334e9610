package near

import (
	"strings"
	"testing"
)

func TestDistanceCountsLetters(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"torque", "torque", 0}, {"Torque", "tORQUE", 0}, {"tork", "torque", 3}, {"wahser", "washer", 2}, {"", "abc", 3}, {"µm", "mm", 1},
	} {
		if got := Distance(c.a, c.b); got != c.want || Distance(c.b, c.a) != got {
			t.Errorf("%q to %q is %d, want %d both ways", c.a, c.b, got, c.want)
		}
	}
}

func TestBestNamesOnlyWhatIsClose(t *testing.T) {
	names := []string{"torque", "turn", "loosen", "remove"}
	for word, want := range map[string]string{"Torque": "torque", "tirn": "turn", "looosen": "loosen", "xyz": "", "": "", "q": "", strings.Repeat("torque", 1000): ""} {
		if got := Best(word, names); got != want {
			t.Errorf("%.20q gives %q, want %q", word, got, want)
		}
	}
}

func TestRankedKeepsTheOrderOfEquals(t *testing.T) {
	if got := Ranked("8.7", []string{"10.9", "8.8", "9.7", "4.6"}, 2); strings.Join(got, " ") != "8.8 9.7" {
		t.Errorf("got %v", got)
	}
}
