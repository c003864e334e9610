package walk

import (
	"strings"
	"testing"
)

func TestWhatHasToBeCleanIsWordedForTheWork(t *testing.T) {
	for work, want := range map[string]string{
		"coating": "no media", "vapour blasting": "no media", "Grinding the seats": "swarf", "hard chrome": "gauged", "reboring": "swarf", "balancing": "swarf", "": "no media", "ultrasonic bath": "no residue",
	} {
		if got := CleanQuestion(work); !strings.Contains(got, want) || !strings.Contains(got, "oilways") && want != "swarf" {
			t.Errorf("%q: %q, want %q", work, got, want)
		}
	}
}
