package fit

import (
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

// Whatever is counted here is counted as by who asks how characters join.
func TestWidthIsTheNumberOfCells(t *testing.T) {
	for r := range rune(0x3000) {
		if !alone(r) {
			continue // then it is asked anyway
		}
		for _, s := range []string{string(r), "a" + string(r) + "b", string(r) + string(r), string(r) + "\u0301", string(r) + "\ufe0f", "│" + string(r) + "…"} {
			if got, want := Width(s), ansi.StringWidth(s); got != want {
				t.Fatalf("%q is %d cells wide, want %d", s, got, want)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		piece := rapid.SampledFrom([]string{"M3", " ", "·", "é", "e\u0301", "日", "│", "✓", "\x1b[1;38;5;117m", "\x1b[0m", "\x1b[m", "\x1b[2K", "\x1b[1", "\x1b", "\x1b]8;;a\x07", "\t", "\u00ad", "\x9b1m", "\xff", "🔧", "🇩", "\u200d", "☎\ufe0f"})
		s := ""
		for _, p := range rapid.SliceOfN(piece, 0, 9).Draw(t, "pieces") {
			s += p
		}
		if got, want := Width(s), ansi.StringWidth(s); got != want {
			t.Fatalf("%q is %d cells wide, want %d", s, got, want)
		}
	})
}
