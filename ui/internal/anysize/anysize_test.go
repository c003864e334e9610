package anysize

import (
	"strings"
	"testing"

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
