// Package golden is for tests: it compares what is drawn with files a person
// has looked at and kept, under testdata/golden of the package under test.
//
// To draw them all anew: go test ./ui/... -run Golden -update, then look at
// what git says has changed. Tests that compare have Golden in their names.
// With the build tag outside, -update is for what outside programs say alone.
package golden

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenpull/spec/outside"
)

// Screens compares each drawing with testdata/golden/NAME.txt, which ends in a
// newline of its own. The map must hold every golden file of the package.
func Screens(t *testing.T, drawn map[string]string) {
	t.Helper()
	files := map[string]string{}
	for name, text := range drawn {
		files[name+".txt"] = text + "\n"
	}
	Files(t, files)
}

// Files compares each text with testdata/golden/NAME, byte by byte. The map
// must hold every golden file of the package: one that goes unused fails.
func Files(t *testing.T, texts map[string]string) {
	t.Helper()
	In(t, filepath.Join("testdata", "golden"), texts)
}

// In is Files for a folder of another name.
func In(t *testing.T, dir string, texts map[string]string) {
	t.Helper()
	for _, problem := range check(dir, texts, *outside.Update && !outside.Asking) {
		t.Error(problem)
	}
}

// check returns, in words, each text that differs from its file in dir, each
// file no text belongs to, and what could not be read or written. With anew
// the texts are written first.
func check(dir string, texts map[string]string, anew bool) (problems []string) {
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		path := filepath.Join(dir, name)
		if anew {
			if err := write(path, texts[name]); err != nil {
				problems = append(problems, err.Error())
			}
		}
		want, err := os.ReadFile(path)
		switch {
		case err != nil:
			problems = append(problems, fmt.Sprintf("%v; run with -update, then look at the file", err))
		case texts[name] != string(want):
			problems = append(problems, differ(path, texts[name], string(want)))
		}
	}
	have, err := os.ReadDir(dir)
	if err != nil {
		problems = append(problems, err.Error())
	}
	for _, f := range have {
		if _, known := texts[f.Name()]; !known {
			problems = append(problems, fmt.Sprintf("%s belongs to no case: remove it, or add the case", filepath.Join(dir, f.Name())))
		}
	}
	return problems
}

func write(path, text string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return os.WriteFile(path, []byte(text), 0o644)
}

// differ names the first line that differs and shows both texts from there on,
// a screen of each.
func differ(path, got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	n := 0
	for n < min(len(g), len(w)) && g[n] == w[n] {
		n++
	}
	from := func(lines []string) string { return strings.Join(lines[n:min(len(lines), n+30)], "\n") }
	return fmt.Sprintf("%s has changed from line %d on; if it should, run with -update.\ngot:\n%s\nwant:\n%s", path, n+1, from(g), from(w))
}
