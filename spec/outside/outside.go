// Package outside is for tests: it hands them what other people's programs
// answered. Answers are kept under testdata/outside, each with the command, the
// version of the program, the date and the hash of what it was given, so that
// go test needs nothing but Go. With the build tag outside the programs are
// asked again, and with -update as well their answers are kept anew:
//
//	go test -tags outside ./...
//	go test -tags outside ./spec/quantity ./spec/clamp/... ./ui/report -update
package outside

import (
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// Update asks for kept files to be written anew. It is the one flag of that
// name, so that a test binary may keep both golden files and answers.
var Update = flag.Bool("update", false, "write what is kept for tests anew")

// Question is one thing asked of a program.
type Question struct {
	Name    string                 // of the file in testdata/outside, without .txt
	Command string                 // how the program is run, for a reader
	Version []string               // the command that tells the version of the program
	Install string                 // the Debian package that has it
	Input   string                 // all that the program is given; its hash is kept
	Ask     func() (string, error) // runs the program
}

// Answer is what the program says to the question: what it said when it was
// last asked, or with the build tag outside what it says now.
func Answer(t testing.TB, q Question) string {
	t.Helper()
	path, err := file(q.Name)
	if err != nil {
		t.Fatal(err)
	}
	if !Asking {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatalf("%v; %s", err, remedy(t, q))
		}
		k, err := parse(string(text))
		if err == nil {
			err = k.answers(q)
		}
		if err != nil {
			t.Fatalf("%s: %v; %s", path, err, remedy(t, q))
		}
		t.Logf("outside %s: as kept, %s, %s", q.Name, k.version, k.date)
		return k.answer
	}
	k, err := ask(q)
	if err != nil {
		t.Fatalf("%s: %v; it comes with the package %s", q.Name, err, q.Install)
	}
	if *Update {
		if err := os.WriteFile(path, []byte(k.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("outside %s: asked now, %s", q.Name, k.version)
	return k.answer
}

func remedy(t testing.TB, q Question) string {
	return fmt.Sprintf("ask again, in this folder, with the package %s installed: go test -tags outside -run '^%s$' -update", q.Install, t.Name())
}

// kept is an answer with all that says where it comes from.
type kept struct{ command, version, date, input, answer string }

const end = "-- the answer --\n"

func (k kept) String() string {
	return fmt.Sprintf("command: %s\nversion: %s\ndate: %s\ninput: sha256 %s\n%s%s", k.command, k.version, k.date, k.input, end, k.answer)
}

func parse(text string) (k kept, err error) {
	head, answer, found := strings.Cut(text, end)
	lines := strings.Split(head, "\n")
	if !found || len(lines) != 5 {
		return k, errors.New("not four lines of heading and then the answer")
	}
	for i, field := range []struct {
		name string
		to   *string
	}{{"command: ", &k.command}, {"version: ", &k.version}, {"date: ", &k.date}, {"input: sha256 ", &k.input}} {
		value, ok := strings.CutPrefix(lines[i], field.name)
		if !ok || value == "" {
			return k, fmt.Errorf("line %d does not begin with %q", i+1, field.name)
		}
		*field.to = value
	}
	k.answer = answer
	return k, nil
}

// answers reports why an answer is not one to this question.
func (k kept) answers(q Question) error {
	switch {
	case k.command != q.Command:
		return fmt.Errorf("kept of the command %q, the question is now put with %q", k.command, q.Command)
	case k.input != hash(q.Input):
		return errors.New("kept of another input: the question has changed since")
	}
	return nil
}

func ask(q Question) (kept, error) {
	said, err := exec.Command(q.Version[0], q.Version[1:]...).Output()
	version, _, _ := strings.Cut(strings.TrimSpace(string(said)), "\n")
	if version == "" { // ccx -v tells its version and exits with 201
		return kept{}, fmt.Errorf("no version from %q: %w", q.Version, err)
	}
	answer, err := q.Ask()
	return kept{q.Command, q.Install + ": " + version, time.Now().Format(time.DateOnly), hash(q.Input), answer}, err
}

func hash(text string) string { return fmt.Sprintf("%x", sha256.Sum256([]byte(text))) }

// file is where the answer to the question of this name is kept: tests run in
// the folder of their package, somewhere below go.mod.
func file(name string) (string, error) {
	dir, err := os.Getwd()
	for err == nil {
		if _, missing := os.Stat(filepath.Join(dir, "go.mod")); missing == nil {
			return filepath.Join(dir, "testdata", "outside", name+".txt"), nil
		}
		above := filepath.Dir(dir)
		if above == dir {
			err = errors.New("no go.mod in any folder above")
		}
		dir = above
	}
	return "", err
}

// Times is how often a test tries what it draws: a few times, so that go test takes
// seconds, and many times where programs are asked anyway.
func Times(few, many int) int {
	if Asking {
		return many
	}
	return few
}

// Tries has rapid try the properties of a test so many times.
func Tries(t testing.TB, few, many int) {
	t.Helper()
	checks := flag.Lookup("rapid.checks").Value
	usual := checks.String()
	t.Cleanup(func() { _ = checks.Set(usual) })
	if err := checks.Set(strconv.Itoa(Times(few, many))); err != nil {
		t.Fatal(err)
	}
}
