package words

import (
	"reflect"
	"strings"
	"testing"
)

func TestFactsIn(t *testing.T) {
	tests := []struct {
		text   string
		facts  map[string]string
		reason string
		wrong  string
	}{
		{"scored", map[string]string{"condition": "scored"}, "", ""},
		{"Scored, box 2, bag 7, measured 0.8 mm", map[string]string{"condition": "scored", "box": "2", "bag": "7", "measured": "0.8 mm"}, "", ""},
		{"worn, because it was the left one", map[string]string{"condition": "worn"}, "it was the left one", ""},
		{"", map[string]string{}, "", ""},
		{"measured 0,8 mm, where left end, by the pin, face chamfer in", map[string]string{"measured": "0,8 mm", "where": "left end, by the pin", "face": "chamfer in"}, "", ""},
		{"good, goes back, because wiped, it was only oil", map[string]string{"condition": "good", "goes": "back"}, "wiped, it was only oil", ""},
		{"good, worn", nil, "", "condition is said twice, good and worn"},
		{"shiny", nil, "", `"shiny" is neither`},
		{"box", nil, "", `"box" is neither`},
	}
	for _, tt := range tests {
		facts, reason, err := FactsIn(tt.text)
		if (err != nil) != (tt.wrong != "") || err != nil && !strings.Contains(err.Error(), tt.wrong) {
			t.Errorf("FactsIn(%q) gave error %v, want %q", tt.text, err, tt.wrong)
		}
		if !reflect.DeepEqual(facts, tt.facts) || reason != tt.reason {
			t.Errorf("FactsIn(%q) = %v, %q, want %v, %q", tt.text, facts, reason, tt.facts, tt.reason)
		}
	}
}

// Whatever is typed after found, it is understood or refused; what is understood
// can be kept, and comes out of its own words again.
func FuzzFactsIn(f *testing.F) {
	for _, text := range []string{"scored, box 2, bag 7", "measured 0,8 mm", "where a, b, because c, d", ",,,", "box", "goes back, goes back", "good,,box 1"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		facts, because, err := FactsIn(text)
		if err != nil {
			if err.Error() == "" {
				t.Error("refused without a word")
			}
			return
		}
		for key, value := range facts {
			if strings.TrimSpace(value) == "" || strings.TrimSpace(key) == "" {
				t.Errorf("%q: %q is %q", text, key, value)
			}
		}
		if because != "" && !strings.Contains(text, strings.Split(because, ",")[0]) {
			t.Errorf("%q: because %q was never said", text, because)
		}
	})
}
