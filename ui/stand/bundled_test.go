package stand

import (
	"os"
	"path/filepath"
	"testing"

	"evenpull/procedures/walk"
)

// Every bundled procedure is walked to an earned done by keys alone, and every
// screen on the way fits.
func TestWalksEveryBundledProcedureToDone(t *testing.T) {
	paths, err := filepath.Glob("../../procedures/*.toml")
	if err != nil || len(paths) < 6 {
		t.Fatalf("%d bundled procedures found, want at least 6 (%v)", len(paths), err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			r := newRig(t, string(text))
			for steps := 0; r.model.facts.item != nil; steps++ {
				if steps > 1000 {
					t.Fatalf("stuck at %s:\n%s", r.model.facts.item.Key().String(), r.screen())
				}
				for _, size := range sizes {
					r.size(size.w, size.h)
					mustFit(t, r.model.facts.item.Key().String(), r.model.View(), size.w, size.h)
				}
				r.size(0, 0) // not drawn for the keys to the next
				r.onward()
			}
			r.size(80, 24)
			r.press("d").wrote(walk.Done).shows("CLOSED", "confirmed.")
		})
	}
}
