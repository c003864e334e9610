package main

import (
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const sample = `package p

import "errors"

func f(a, b int, name string) (n int, err error) {
	if a < b && name != "x" {
		return 0, errors.New("a" + name)
	}
	for i := 0; i < 3; i++ {
		n += i
	}
	ok := true
	if ok {
		println(n)
	}
	return n - 1, nil
}
`

// Every kind of place is found, each spoiled file parses, and it differs from
// the file in that place alone.
func TestPlacesThatCanBeSpoiled(t *testing.T) {
	found, err := spoil("p.go", []byte(sample))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range found {
		spoiled := string(m.spoiled())
		if _, err := parser.ParseFile(token.NewFileSet(), "p.go", spoiled, 0); err != nil {
			t.Errorf("%v: %v", m, err)
		}
		if !strings.HasPrefix(spoiled, sample[:m.from]+m.with) || !strings.HasSuffix(spoiled, sample[m.to:]) || strings.Count(sample[:m.from], "\n")+1 != m.line {
			t.Errorf("spoiled elsewhere: %v", m)
		}
		got = append(got, strings.TrimSpace(strings.Split(m.String(), "\n")[2]))
	}
	want := []string{
		`+ if !(a < b && name != "x") {`, `+ if a <= b && name != "x" {`, `+ if a < b || name != "x" {`, `+ if a < b && name == "x" {`,
		`+ if false { return 0, errors.New("a" + name) }`, `+ return (0 + 1), errors.New("a" + name)`,
		`+ for i := (0 + 1); i < 3; i++ {`, `+ for i := 0; !(i < 3); i++ {`, `+ for i := 0; i <= 3; i++ {`, `+ for i := 0; i < (3 + 1); i++ {`,
		`+ if false { n += i }`, `+ ok := !true`, `+ if !(ok) {`, `+ if false { println(n) }`,
		`+ if false { return n - 1, nil }`, `+ return n + 1, nil`, `+ return n - (1 + 1), nil`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A package of its own with one test: what it minds is killed, what it does not
// survives, what takes too long is stopped, and the file on disk stays as it is.
func TestWhatBecomesOfAMutant(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	const code = "package p\n\nfunc add(a, b int) int {\n\tfor i := 0; i < b; i++ {\n\t\ta++\n\t}\n\tif a > 99 {\n\t\treturn 99\n\t}\n\treturn a\n}\n"
	write("go.mod", "module p\n\ngo 1.26\n")
	path := write("p.go", code)
	write("p_test.go", "package p\n\nimport \"testing\"\n\nfunc TestAdd(t *testing.T) {\n\tif add(2, 3) != 5 {\n\t\tt.Fail()\n\t}\n}\n")
	t.Chdir(dir)
	if out, err := exec.Command("go", "vet", ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var out strings.Builder
	if err := run([]string{"-limit", "10m", "."}, &out); err != nil {
		t.Fatal(err)
	}
	said := out.String()
	for _, want := range []string{"+ if a >= 99 {", "+ return (99 + 1)", "10 tried, 5 killed (0 of them by the time limit of 10m0s), 4 survived, 1 did not compile"} {
		if !strings.Contains(said, want) {
			t.Errorf("lacks %q:\n%s", want, said)
		}
	}
	if got, _, err := (tester{packages: []string{"."}, limit: 1}).try(nil); got != overtime || err != nil {
		t.Errorf("in no time at all: verdict %d, %v", got, err)
	}
	if now, err := os.ReadFile(path); err != nil || string(now) != code {
		t.Errorf("the source has changed: %v\n%s", err, now)
	}
}
