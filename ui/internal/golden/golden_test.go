package golden

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestDifferencesAndStrayFilesAreFound(t *testing.T) {
	kept := map[string]string{"a.txt": "one\ntwo\n", "b.txt": "b\n"}
	tests := []struct {
		name  string
		texts map[string]string
		want  []string
	}{
		{"all as kept", kept, nil},
		{"a line differs", map[string]string{"a.txt": "one\n2\n", "b.txt": "b\n"}, []string{"a.txt has changed from line 2 on"}},
		{"a line is missing", map[string]string{"a.txt": "one\n", "b.txt": "b\n"}, []string{"a.txt has changed from line 2 on"}},
		{"only the last newline differs", map[string]string{"a.txt": "one\ntwo", "b.txt": "b\n"}, []string{"a.txt has changed from line 3 on"}},
		{"a file goes unused", map[string]string{"a.txt": "one\ntwo\n"}, []string{"b.txt belongs to no case"}},
		{"a file is missing", map[string]string{"a.txt": "one\ntwo\n", "b.txt": "b\n", "c.txt": ""}, []string{"c.txt: no such file or directory; run with -update"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "golden")
			if got := check(dir, kept, true); got != nil {
				t.Fatalf("writing them anew: %q", got)
			}
			got := check(dir, tt.texts, false)
			if len(got) != len(tt.want) {
				t.Fatalf("problems %q, want %q", got, tt.want)
			}
			for i := range got {
				if !strings.Contains(got[i], tt.want[i]) {
					t.Errorf("problem %q, want it to say %q", got[i], tt.want[i])
				}
			}
		})
	}
}

// One run over all of ui with -update needs every test binary to know the
// flag, so tests with nothing drawn import this package for it alone.
func TestEveryTestedPackageOfUIKnowsTheFlag(t *testing.T) {
	tests, err := filepath.Glob("../../*/*_test.go")
	more, err2 := filepath.Glob("../../internal/*/*_test.go")
	if err != nil || err2 != nil || len(tests) < 20 {
		t.Fatalf("%d tests found (%v, %v), want all of ui", len(tests), err, err2)
	}
	knows := map[string]bool{}
	for _, path := range append(tests, more...) {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		dir := filepath.Dir(path)
		knows[dir] = knows[dir] || filepath.Base(dir) == "golden" || strings.Contains(string(text), `"evenpull/ui/internal/golden"`)
	}
	for dir, yes := range knows {
		if !yes {
			t.Errorf(`%s has tests that don't know -update: import _ "evenpull/ui/internal/golden" in one`, strings.TrimPrefix(dir, "../../"))
		}
	}
}
