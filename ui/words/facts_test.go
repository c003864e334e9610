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
		{"shiny", map[string]string{"condition": "shiny"}, "", ""},
		{"blued at the tip, chipped, box 2", map[string]string{"condition": "blued at the tip, chipped", "box": "2"}, "", ""},
		{"scored, blued at one end", map[string]string{"condition": "scored, blued at one end"}, "", ""},
		{"bent, not to be used again", map[string]string{"condition": "bent", "again": "no"}, "", ""},
		{"bent, To be used again, because it only rubbed", map[string]string{"condition": "bent", "again": "yes"}, "it only rubbed", ""},
		{"bent, again no", map[string]string{"condition": "bent", "again": "no"}, "", ""},
		{"bent because it was dropped, twice", map[string]string{"condition": "bent"}, "it was dropped, twice", ""},
		{`"box worn, bag torn", box 2`, map[string]string{"condition": "box worn, bag torn", "box": "2"}, "", ""},
		{`scored, because "box 2 was wet, good luck"`, map[string]string{"condition": "scored"}, "box 2 was wet, good luck", ""},
		{"box", nil, "", "box what?"},
		{"because", nil, "", "because what?"},
		{"scored box 2", nil, "", `is "box 2" a fact of its own?`},
		{"bxo 2", nil, "", "did you mean box 2?"},
		{"bxo 9", nil, "", "did you mean box 9?"},
		{"bxo 0", nil, "", "did you mean box 0?"},
		{"bad thread", map[string]string{"condition": "bad thread"}, "", ""},
		{"scored, because it fell, box 2", nil, "", `"box 2" stands in the reason`},
		{"scored, because box 2", nil, "", `"box 2" stands in the reason`},
		{"scored, because it was wet, good", nil, "", `"good" stands in the reason`},
		{"scored, because renew the seal", nil, "", `"renew the seal" stands in the reason`},
		{"scored, because it fell out of box 2", map[string]string{"condition": "scored"}, "it fell out of box 2", ""},
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

func TestWordsThatMayBeMoreThanAReasonAreAskedBack(t *testing.T) {
	for _, c := range []struct{ text, want, wrong string }{
		{"the phone rang", "the phone rang", ""}, {"missing", "missing", ""}, {"measured once it is in", "measured once it is in", ""}, {"good one was in box 2", "good one was in box 2", ""},
		{"box 3", "", `"box 3" stands in the reason`}, {"it leaks, renew the seal", "", `"renew the seal" stands in the reason`},
		{`"box 3 is empty"`, "box 3 is empty", ""}, {"measured 0.3 mm", "", `"measured 0.3 mm" stands in the reason`},
	} {
		got, err := Reason(c.text)
		if (err != nil) != (c.wrong != "") || err != nil && !strings.Contains(err.Error(), c.wrong) || got != c.want {
			t.Errorf("%q: %q, %v", c.text, got, err)
		}
	}
}

// Whatever is typed after found, it is understood or refused; what is understood
// can be kept, and comes out of its own words again.
func FuzzFactsIn(f *testing.F) {
	for _, text := range []string{"scored, box 2, bag 7", "measured 0,8 mm", "where a, b, because c, d", ",,,", "box", "goes back, goes back", "good,,box 1", `" "`, `"", because ""`} {
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
