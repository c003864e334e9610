package fit

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	_ "evenpull/ui/internal/golden" // the flag -update
)

func TestCutMarksWhatIsLost(t *testing.T) {
	tests := []struct {
		text string
		w    int
		want string
	}{
		{"22 N·m", 6, "22 N·m"}, {"22 N·m", 5, "22 N…"}, {"22 N·m", 3, "22 "}, {"22 N·m", 0, ""}, {"日本語", 5, "日本…"},
	}
	for _, tt := range tests {
		if got := Cut(tt.text, tt.w); got != tt.want {
			t.Errorf("Cut(%q, %d) = %q, want %q", tt.text, tt.w, got, tt.want)
		}
	}
}

func TestKeepCutsTheLastTextLast(t *testing.T) {
	tests := []struct {
		first, last string
		w           int
		want        string
	}{
		{"Close the case", ", engine 7", 24, "Close the case, engine 7"}, {"Close the case", ", engine 7", 23, "Close the ca…, engine 7"},
		{"Close the case", ", engine 7", 14, "Clo…, engine 7"}, {"Close the case", ", engine 7", 13, "engine 7"}, {"Close the case", ", engine 7", 6, "engin…"},
		{"Close the case", "", 6, "Close…"}, {"", ", 7", 9, ", 7"}, {"Close", ", 7", 0, ""},
	}
	for _, tt := range tests {
		if got := Keep(tt.first, tt.last, tt.w); got != tt.want {
			t.Errorf("Keep(%q, %q, %d) = %q, want %q", tt.first, tt.last, tt.w, got, tt.want)
		}
	}
}

func TestBarIsFullOnlyWhenAllIsDone(t *testing.T) {
	tests := []struct {
		done, total, w int
		want           string
	}{
		{0, 9, 4, "░░░░"}, {1, 900, 4, "█░░░"}, {899, 900, 4, "███░"}, {900, 900, 4, "████"}, {0, 0, 2, "░░"}, {-5, 9, 2, "░░"}, {5, 9, 0, ""},
	}
	for _, tt := range tests {
		if got := Bar(tt.done, tt.total, tt.w); got != tt.want {
			t.Errorf("Bar(%d, %d, %d) = %q, want %q", tt.done, tt.total, tt.w, got, tt.want)
		}
	}
}

func TestHintsNeverSplitAPair(t *testing.T) {
	var got []string
	for _, l := range Hints(20, "enter", "it is fitted", "n", "number", "esc", "later") {
		got = append(got, ansi.Strip(l))
	}
	want := []string{"enter it is fitted", "n number   esc later"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestNothingIsEverTooWide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-z0-9·°±日 ]{0,60}`).Draw(t, "text")
		w := rapid.IntRange(0, 50).Draw(t, "w")
		lines := append(Wrap(text, w), Cut(text, w), Ends(text, "12 of 13", w), Bar(3, 7, w))
		lines = append(lines, Box([]string{text, text}, w, 3)...)
		lines = append(lines, Hints(w, text, "does", "q", text)...)
		if w >= 10 {
			lines = append(lines, Beside([]string{text}, w-5, 1, []string{"1234"})...)
		}
		for _, l := range lines {
			if Width(l) > w {
				t.Fatalf("%q is %d cells wide in %d", l, Width(l), w)
			}
		}
		if w > 1 && strings.ReplaceAll(strings.Join(Wrap(text, w), ""), " ", "") != strings.ReplaceAll(text, " ", "") {
			t.Fatalf("wrapping %q at %d lost letters: %q", text, w, Wrap(text, w))
		}
	})
}
