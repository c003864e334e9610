package read

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/spec/outside"
)

// Every bad file of testdata/bad gives exactly the problems written beside it,
// each with its line and column, and a caret under the right character.
func TestReadReportsEveryProblemWhereItStands(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "bad")
	files, err := filepath.Glob(filepath.Join(dir, "*.toml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no files in %s: %v", dir, err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			_, problems := Procedure(name+".toml", text)
			var b strings.Builder
			for _, p := range problems {
				b.WriteString(p.Error() + "\n" + shown(p, text) + "\n\n")
			}
			compare(t, filepath.Join(dir, name+".want"), b.String())
		})
	}
	wants, _ := filepath.Glob(filepath.Join(dir, "*.want"))
	for _, want := range wants {
		if _, err := os.Stat(strings.TrimSuffix(want, ".want") + ".toml"); err != nil {
			t.Errorf("%s belongs to no file", want)
		}
	}
}

func compare(t *testing.T, file, got string) {
	t.Helper()
	if *outside.Update && !outside.Asking {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
