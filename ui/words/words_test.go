package words

import (
	"testing"

	"evenpull/spec"
	"evenpull/spec/quantity"
	_ "evenpull/ui/internal/golden" // the flag -update
)

// What is drawn large is parted from its unit, however the sheet wrote it.
func TestFigureOfPartsDigitsFromUnit(t *testing.T) {
	parts := func(text string) quantity.Parts {
		if s, err := quantity.ParseTorqueSpan(text); err == nil {
			return s.Parts(s.Unit())
		}
		if s, err := quantity.ParseAngleSpan(text); err == nil {
			return s.Parts(s.Unit())
		}
		s, err := quantity.ParseLengthSpan(text)
		if err != nil {
			t.Fatal(err)
		}
		return s.Parts(s.Unit())
	}
	for text, want := range map[string]Figure{
		"22 N·m":            {Value: "22", Unit: "N·m"},
		"37 to 43 N·m":      {Value: "37–43", Unit: "N·m"},
		"37 N·m to 43 N·m":  {Value: "37–43", Unit: "N·m"},
		"27 ± 2 N·m":        {Value: "27", Unit: "N·m", Within: "27 ± 2 N·m"},
		"27 N·m ± 5 %":      {Value: "27", Unit: "N·m ± 5 %"},
		"at least 122 N·m":  {Lead: "at least", Value: "122", Unit: "N·m"},
		"at least 90 lb·ft": {Lead: "at least", Value: "90", Unit: "lbf·ft"},
		"at most 0.2 mm":    {Lead: "at most", Value: "0.2", Unit: "mm"},
		"90°":               {Value: "90°"},
		"90° to 94°":        {Value: "90–94°"},
		"90° ± 2°":          {Value: "90°", Within: "90° ± 2°"},
		"90° ± 5 %":         {Value: "90°", Unit: "± 5 %"},
		"0.05 mm to 0.2 mm": {Value: "0.05–0.2", Unit: "mm"},
		"16.2 lbf·ft":       {Value: "16.2", Unit: "lbf·ft"},
		"1 1/2 turns":       {Value: "1 1/2", Unit: "turns"},
		"1/4 turn":          {Value: "1/4", Unit: "turn"},
		"3 flats":           {Value: "3", Unit: "flats"},
	} {
		if got := FigureOf(parts(text)); got != want {
			t.Errorf("%s is drawn as %+v, want %+v", text, got, want)
		}
	}
	if got := FigureOf(quantity.Parts{}); got != (Figure{}) {
		t.Errorf("nothing is drawn as %+v", got)
	}
}

// The limits of a measurement have their unit once, unless each has its own.
func TestLimitsOfAMeasurement(t *testing.T) {
	limit := func(text string) *quantity.Quantity {
		if text == "" {
			return nil
		}
		q, err := quantity.ParseAny(text)
		if err != nil {
			t.Fatal(err)
		}
		return &q
	}
	for _, c := range []struct {
		low, high string
		want      Figure
		told      string
	}{
		{"0.05 mm", "0.2 mm", Figure{Value: "0.05–0.2", Unit: "mm"}, "0.05 mm to 0.2 mm"},
		{"2 thou", "0.2 mm", Figure{Value: "2 thou–0.2", Unit: "mm"}, "2 thou to 0.2 mm"},
		{"0.05 mm", "", Figure{Lead: "at least", Value: "0.05", Unit: "mm"}, "at least 0.05 mm"},
		{"", "0.2 mm", Figure{Lead: "at most", Value: "0.2", Unit: "mm"}, "at most 0.2 mm"},
		{"80 °C", "90 °C", Figure{Value: "80–90", Unit: "°C"}, "80 °C to 90 °C"},
		{"1°", "2°", Figure{Value: "1–2°"}, "1° to 2°"},
		{"", "", Figure{}, ""},
	} {
		if got := LimitsOf(&spec.Check{Min: limit(c.low), Max: limit(c.high)}); got != c.want {
			t.Errorf("%s to %s is drawn as %+v, want %+v", c.low, c.high, got, c.want)
		}
		if got := Limits(&spec.Check{Min: limit(c.low), Max: limit(c.high)}); got != c.told {
			t.Errorf("%s to %s is told as %q, want %q", c.low, c.high, got, c.told)
		}
	}
}
