package words

import (
	"testing"

	"evenpull/spec/quantity"
	_ "evenpull/ui/internal/golden" // the flag -update
)

func TestFigureOfPartsDigitsFromUnit(t *testing.T) {
	tests := []struct {
		text string
		want Figure
	}{
		{"22 N·m", Figure{"", "22", "N·m"}},
		{"37 to 43 N·m", Figure{"", "37–43", "N·m"}},
		{"27 ± 2 N·m", Figure{"", "27±2", "N·m"}},
		{"27 N·m ± 5 %", Figure{"", "27", "N·m ± 5 %"}},
		{"at least 122 N·m", Figure{"at least", "122", "N·m"}},
		{"at most 0.2 mm", Figure{"at most", "0.2", "mm"}},
		{"90°", Figure{"", "90°", ""}},
		{"90° to 94°", Figure{"", "90–94°", ""}},
		{"0.05 mm to 0.2 mm", Figure{"", "0.05–0.2", "mm"}},
		{"2 thou to 0.2 mm", Figure{"", "2 thou–0.2", "mm"}},
		{"16.2 lbf·ft", Figure{"", "16.2", "lbf·ft"}},
		{"1 1/2 turns", Figure{"", "1 1/2", "turns"}},
		{"fully", Figure{"", "fully", ""}},
	}
	for _, tt := range tests {
		if got := FigureOf(tt.text); got != tt.want {
			t.Errorf("FigureOf(%q) = %+v, want %+v", tt.text, got, tt.want)
		}
	}
}

// What a span prints is what FigureOf has to take apart.
func TestFigureOfWhatSpansPrint(t *testing.T) {
	for text, want := range map[string]Figure{
		"37 N·m to 43 N·m": {"", "37–43", "N·m"}, "27 ± 2 N·m": {"", "27±2", "N·m"}, "at least 90 lb·ft": {"at least", "90", "lbf·ft"},
	} {
		span, err := quantity.ParseTorqueSpan(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := FigureOf(span.Text()); got != want {
			t.Errorf("FigureOf(%q) = %+v, want %+v", span.Text(), got, want)
		}
	}
}
