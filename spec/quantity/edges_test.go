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
	for _, text := range []string{"25 mN", "25 m·N", "25 cm·N", "25 cmN", "2.5 m·daN", "25 m·dN", "25 m·cN", "2 m·kN", "500 m·mN", "500 m·millinewton", "5 metre kilonewton"} {
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

func TestEveryWayToWriteAPart(t *testing.T) {
	for text, want := range map[string]float64{
		"½": 180, "¼": 90, "¾": 270, "⅓": 120, "⅔": 240, "⅙": 60, "⅚": 300, "⅛": 45, "⅜": 135, "⅝": 225, "⅞": 315, "1⅓": 480,
		"three quarters of a": 270, "three quarter": 270, "half a": 180, "a half": 180, "half": 180, "a quarter": 90, "quarter of a": 90, "quarter": 90,
		"one": 360, "two": 720, "three": 1080, "A Half": 180,
	} {
		if a, err := ParseAngle(text + " turn"); err != nil || a.Degrees() != want {
			t.Errorf("%q turn: %v°, %v; want %v°", text, a.Degrees(), err, want)
		}
	}
}

func TestRefusalsListTheUnitsThereAre(t *testing.T) {
	all := symbols(0)
	for u := Unit(1); u < endOfUnits; u++ {
		if !strings.Contains(", "+all+",", ", "+u.Symbol()+",") {
			t.Errorf("%s is not among %s", u, all)
		}
		if of := symbols(u.Dimension()); len(strings.Split(of, ", ")) != len(Units(u.Dimension())) {
			t.Errorf("units of %s: %s", u.Dimension(), of)
		}
	}
	for _, text := range []string{"bananas", "", " "} {
		_, err := ParseUnit(text)
		wantRefusal(t, text, "write one of "+all, err)
	}
	_, err := ParseUnit("")
	wantRefusal(t, "", "it is empty", err)
	_, err = ParseLength("5 bananas")
	wantRefusal(t, "5 bananas", "write one of "+symbols(LengthKind), err)
}

func TestTheLongestInput(t *testing.T) {
	figure := "22." + strings.Repeat("0", 57) + "1 mm"
	if _, err := ParseAny(figure); len(figure) != 64 || err != nil {
		t.Errorf("%d bytes: %v", len(figure), err)
	}
	_, err := ParseAny(figure + " ")
	wantRefusal(t, "65 bytes", "it is 65 bytes long; write a figure of at most 64 bytes", err)
}

func TestWhatIsNoFigureIsNoneBeforeADigitToo(t *testing.T) {
	for _, text := range []string{"N2·m", "x5 N·m", ".N·m", ", N·m", ". 5 N·m", "/2 N·m", "·5 N·m", "m8"} {
		_, err := ParseAny(text)
		wantRefusal(t, text, "it does not start with a figure", err)
	}
}

func TestAMarkWithNothingBehindItIsNone(t *testing.T) {
	for _, text := range []string{"1 234, N·m", "22, N·m"} {
		if q, err := ParseAny(text); err == nil {
			t.Errorf("%q is read as %s", text, q)
		}
	}
}
