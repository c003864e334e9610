package anysize

import (
	"strings"
	"testing"

	"evenpull/spec/outside"
	_ "evenpull/ui/internal/golden" // the flag -update
)

func TestWhatIsWrongWithAFrameIsFound(t *testing.T) {
	for _, tt := range []struct{ view, want string }{
		{"22 N·m\n\x1b[1mM3\x1b[0m", ""},
		{"漢字é", ""},
		{"漢字字字字", ""},
		{"漢字字字字x", "line 1 is 11 cells wide"},
		{"01234567890", "line 1 is 11 cells wide"},
		{"a\nb\nc\n", "it has 4 lines"},
		{" \n\x1b[1m \x1b[0m", "nothing"},
		{"a\tb", "control character"},
		{"a\rb", "control character"},
	} {
		if got := Problem(tt.view, Least); (got == "") != (tt.want == "") || !strings.Contains(got, tt.want) {
			t.Errorf("%q: %q, want %q", tt.view, got, tt.want)
		}
	}
}

func TestBetweenHasEveryWidthAndEveryHeight(t *testing.T) {
	widths, heights, n := map[int]bool{}, map[int]bool{}, 0
	for s := range Between(Size{20, 2}, Size{59, 21}) {
		widths[s.W], heights[s.H], n = true, true, n+1
	}
	if want := outside.Times(160, 800); n != want || len(widths) != 40 || len(heights) != 20 {
		t.Errorf("%d sizes of %d widths and %d heights, want %d of 40 and 20", n, len(widths), len(heights), want)
	}
}
