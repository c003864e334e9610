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
