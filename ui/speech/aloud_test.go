package speech

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"evenpull/spec/quantity"
)

func TestAloudSaysUnitsAndSignsInWords(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"20 N·m", "20 newton metres"},
		{"1 N·m", "1 newton metre"},
		{"0.5 N·m", "0.5 newton metres"},
		{"21 N·m", "21 newton metres"},
		{"18.4 lbf·ft.", "18.4 pound feet."},
		{"22,1 N·m", "22,1 newton metres"},
		{"27 ± 2 N·m", "27 plus or minus 2 newton metres"},
		{"27 N·m ± 5 %", "27 newton metres plus or minus 5 percent"},
		{"90° to 94°", "90 degrees to 94 degrees"},
		{"37–43 N·m", "37 to 43 newton metres"},
		{"at least 122 N·m", "at least 122 newton metres"},
		{"0.05 mm to 0.2 mm", "0.05 millimetres to 0.2 millimetres"},
		{"1/4 turn", "1/4 turn"},
		{"1 1/2 turns", "1 1/2 turns"},
		{"2 thou", "2 thou"},
		{"0.005 in", "0.005 inches"},
		{"0.005 in is over", "0.005 inches is over"},
		{"2 in the bag", "2 in the bag"},
		{"1 h 30 min", "1 hour 30 minutes"},
		{"2 d 3 h", "2 days 3 hours"},
		{"the gauge sends N·m here", "the gauge sends newton metres here"},
		{"M8x1.25, class 8.8", "M8x1.25, class 8.8"},
		{"kN·m is not N·m", "kilonewton metres is not newton metres"},
		{"12 mm hex", "12 millimetres hex"},
		{"12 mmx", "12 mmx"},
		{"2 bar at most, 120 °C", "2 bar at most, 120 degrees Celsius"},
		{"7 kgf/cm²", "7 kilograms per square centimetre"},
		{"two\nlines\tof \x1b[2J text", "two lines of 2J text"},
		{"-w /tmp/x", "w /tmp/x"},
		{"[[rate 500]] `id` $(id) {} | ; rm", "rate 500 id id; rm"},
		{"", ""},
	} {
		if got := Aloud(tt.text); got != tt.want {
			t.Errorf("Aloud(%q) = %q, want %q", tt.text, got, tt.want)
		}
	}
}

func TestEveryUnitIsSaidInWords(t *testing.T) {
	seen := 0
	for d := range quantity.Dimension(100) {
		for _, u := range quantity.Units(d) {
			said := units[u]
			if said.one == "" || said.many == "" || strings.ContainsAny(said.one+said.many, "·°µ/²") {
				t.Errorf("%s is said as %+v", u, said)
			}
			seen++
			if got, want := Aloud("7 "+u.Symbol()), "7 "+said.many; got != want {
				t.Errorf("Aloud(7 %s) = %q, want %q", u, got, want)
			}
		}
	}
	if seen < len(units) {
		t.Errorf("%d units were said of %d", seen, len(units))
	}
}

func TestALongTextIsCutAtAWord(t *testing.T) {
	got := Aloud(strings.Repeat("washer, ", 100))
	if n := utf8.RuneCountInString(got); n > longest || n < longest-10 || !strings.HasSuffix(got, " washer") {
		t.Errorf("%d characters, ending in %q", n, got[len(got)-12:])
	}
	if got := Aloud("M3 " + strings.Repeat("x", 2*longest)); utf8.RuneCountInString(got) != longest {
		t.Errorf("a word and a long one came to %d characters", len(got))
	}
	if got := Aloud(strings.Repeat("x", 2*longest)); got != strings.Repeat("x", longest) {
		t.Errorf("one long word came to %d characters", len(got))
	}
}

var digits = regexp.MustCompile(`[0-9]+`)

// Whatever a sheet says, what is spoken is one line without anything a speech
// program or a command line may obey, and every digit of it is there in its order.
func FuzzAloud(f *testing.F) {
	for _, text := range []string{"M3: 37 to 43 N·m", "1/4 turn, 90°", "--help", "[[x]]", "5 × M6", "0.005 in", "٣ N·m", "1..2,/3 N·m"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got := Aloud(text)
		for _, r := range got {
			if !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r) && !strings.ContainsRune(" .,:;?!'-/", r) {
				t.Errorf("%q: %q holds %q", text, got, r)
			}
		}
		if strings.HasPrefix(got, "-") || utf8.RuneCountInString(got) > longest {
			t.Errorf("%q: %q", text, got)
		}
		in, out := digits.FindAllString(text, -1), digits.FindAllString(uncut(text), -1)
		if !slices.Equal(in, out) {
			t.Errorf("%q: the figures %v became %v in %q", text, in, out, uncut(text))
		}
	})
}
