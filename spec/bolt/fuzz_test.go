package bolt

import (
	"strings"
	"testing"
	"unicode"
)

// Whatever a file holds, reading a name doesn't panic, an accepted thread reads back from
// its own name, and an error carries no control character.
func FuzzParse(f *testing.F) {
	for _, example := range []string{"M8x1.25", "m10×1", "3/8-16 UNC", "#10-32", "No. 10-24", "1 1/4-12", "8.8", "A2-70", "grade 5", "M", "#", "1/0", "\x1b[2J", "M8x1.25 LH", "No.№#"} {
		f.Add(example)
	}
	f.Fuzz(func(t *testing.T, text string) {
		th, err := ParseThread(text)
		clean(t, err)
		if err == nil {
			if again, err := ParseThread(th.Name); err != nil || again != th {
				t.Errorf("%q reads as %+v, which reads back as %+v (%v)", text, th, again, err)
			}
			if th.check() != nil {
				t.Errorf("%q reads as a thread with no core: %+v", text, th)
			}
		}
		class, err := ParseClass(text)
		clean(t, err)
		if again, err2 := ParseClass(class.Name); err == nil && (err2 != nil || again != class) {
			t.Errorf("%q reads as %+v, which reads back as %+v (%v)", text, class, again, err2)
		}
		_, err = ParseMaterial(text)
		clean(t, err)
	})
}

func clean(t *testing.T, err error) {
	if err != nil && (strings.ContainsFunc(err.Error(), unicode.IsControl) || len(err.Error()) > 2000) {
		t.Errorf("error with control characters or out of bounds: %q", err)
	}
}
