package quantity

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestStoredQuantitiesOfAnyKindReadBack(t *testing.T) {
	q, _ := ParseAny("1/3 turn")
	for text, want := range map[string]string{`"0"`: "0", `"22 N·m"`: "22 N·m", `"18.4 ft-lb"`: "18.4 lbf·ft", `"1/3 N·m"`: "0.3333 N·m", `"-2 mm"`: "-2 mm", `"1h30m"`: "90 min"} {
		got := q
		if err := json.Unmarshal([]byte(text), &got); err != nil || got.String() != want {
			t.Errorf("%s reads back as %s, %v; want %s", text, got, err, want)
		}
	}
	for _, bad := range []string{`"22"`, `"20/25 N·m x"`, `"25 kg"`, `""`} {
		got := q
		if err := json.Unmarshal([]byte(bad), &got); err == nil {
			t.Errorf("%s is read as %s", bad, got)
		}
	}
}

func TestNewtonMetresComeForceFirst(t *testing.T) {
	for _, text := range []string{"25 mN", "25 m·N", "25 cm·N", "25 cmN", "2.5 m·daN", "25 m·dN", "25 m·cN", "2 m·kN", "500 m·mN"} {
		if q, err := ParseAny(text); err == nil {
			t.Errorf("%q is read as %s", text, q)
		}
	}
}

func TestALongInputIsCutBetweenCharacters(t *testing.T) {
	for pad := 60; pad <= 66; pad++ {
		_, err := ParseAny(strings.Repeat("9", pad) + strings.Repeat("·€😀", 30))
		pe := err.(*ParseError)
		if !utf8.ValidString(pe.Input) || len(pe.Input) > maxInput || len(pe.Input) < maxInput-3 {
			t.Errorf("cut to %d bytes: %q", len(pe.Input), pe.Input)
		}
	}
}
