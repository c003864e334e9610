package read

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A good sheet spoiled in one place at a time. Every mistake has the error it
// gives written below it ("!"), a misspelt heading two: its table has
// lost its name, and another its table. Advice on figures is left out: this is about
// what keeps a sheet from being walked.
func TestOneMistakeOneError(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "bad", "mistakes")
	good, err := os.ReadFile(filepath.Join(dir, "good.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if _, problems := Procedure("good.toml", good); len(problems) > 0 {
		t.Fatalf("the good sheet: %v", problems)
	}
	file := filepath.Join(dir, "mistakes.txt")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, entry := range strings.Split(string(text), "\n\n") {
		m, err := readMistake(entry)
		if err != nil {
			t.Fatal(err)
		}
		spoiled, err := m.spoil(strings.Split(string(good), "\n"))
		if err != nil {
			t.Fatal(err)
		}
		p, problems := Procedure("", []byte(spoiled))
		for _, problem := range problems.Errors() {
			m.errors = append(m.errors, strings.TrimPrefix(problem.Error(), ":"))
		}
		if len(m.errors) == 0 || p != nil {
			t.Errorf("%s: taken", m.why)
		}
		if most := 1 + strings.Count(strings.Join(m.in, "\n"), "["); len(m.errors) > min(most, 2) {
			t.Errorf("%s: %d errors for one mistake", m.why, len(m.errors))
		}
		got = append(got, m.text())
	}
	if len(got) < 200 {
		t.Errorf("%d mistakes are too few", len(got))
	}
	compare(t, file, strings.Join(got, "\n"))
}

// mistake is one place of the good sheet, and what stands there instead.
type mistake struct {
	why     string
	line    int // 1 is the first
	out, in []string
	errors  []string
}

func readMistake(entry string) (m mistake, err error) {
	for _, line := range strings.Split(strings.TrimSpace(entry), "\n") {
		mark, rest, _ := strings.Cut(line, " ")
		switch mark {
		case "==":
			m.why = rest
		case "@":
			m.line, err = strconv.Atoi(rest)
		case "-":
			m.out = append(m.out, rest)
		case "+":
			m.in = append(m.in, rest)
		case "!": // written anew
		default:
			err = fmt.Errorf("%s: no such mark: %q", m.why, line)
		}
		if err != nil {
			return m, err
		}
	}
	return m, nil
}

func (m mistake) spoil(good []string) (string, error) {
	from := m.line - 1
	if from < 0 || from+len(m.out) > len(good) || !slices.Equal(good[from:from+len(m.out)], m.out) {
		return "", fmt.Errorf("%s: the good sheet does not say so on line %d", m.why, m.line)
	}
	return strings.Join(slices.Concat(good[:from], m.in, good[from+len(m.out):]), "\n"), nil
}

func (m mistake) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "== %s\n@ %d\n", m.why, m.line)
	for mark, lines := range [][]string{m.out, m.in, m.errors} {
		for _, line := range lines {
			fmt.Fprintf(&b, "%c %s\n", "-+!"[mark], line)
		}
	}
	return b.String()
}
