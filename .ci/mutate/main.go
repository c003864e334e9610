// Mutate asks whether the tests would notice: it spoils the code of packages in
// one place at a time, runs their tests on it, and tells which spoiled places no
// test minded. Sources stay as they are; go test is given an overlay.
//
//	go run ./.ci/mutate -n 50 ./procedures/walk
//	go run ./.ci/mutate -also ./procedures/walk,./ui/plain ./procedures/plan
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

// options are what the command line asks for.
type options struct {
	sample int
	draw   uint64
	file   string
	tests  string
	also   string
	limit  time.Duration
	list   bool
}

func run(args []string, out io.Writer) error {
	var o options
	flags := flag.NewFlagSet("mutate", flag.ContinueOnError)
	flags.IntVar(&o.sample, "n", 0, "try a sample of so many; 0 is all")
	flags.Uint64Var(&o.draw, "draw", 1, "which sample")
	flags.StringVar(&o.file, "file", "", "spoil only files whose name matches this expression")
	flags.StringVar(&o.tests, "run", "", "run only these tests, as go test -run")
	flags.StringVar(&o.also, "also", "", "more packages whose tests are run, with commas between")
	flags.DurationVar(&o.limit, "limit", 0, "how long a run of the tests may take; 0 is ten times what it takes unspoiled, and 20 s")
	flags.BoolVar(&o.list, "list", false, "list what would be tried, and stop")
	if err := flags.Parse(args); err != nil {
		return err
	}
	packages, err := load(flags.Args())
	if err != nil {
		return err
	}
	for _, p := range packages {
		if err := o.one(p, out); err != nil {
			return fmt.Errorf("%s: %w", p.ImportPath, err)
		}
	}
	return nil
}

// pkg is what go list tells of a package.
type pkg struct {
	ImportPath, Dir string
	GoFiles         []string
}

func load(patterns []string) (packages []pkg, err error) {
	if len(patterns) == 0 {
		return nil, fmt.Errorf("name the packages to spoil, as ./procedures/walk")
	}
	text, err := exec.Command("go", append([]string{"list", "-json=ImportPath,Dir,GoFiles"}, patterns...)...).Output()
	if err != nil {
		return nil, fmt.Errorf("go list %s: %w", strings.Join(patterns, " "), err)
	}
	for d := json.NewDecoder(bytes.NewReader(text)); ; {
		var p pkg
		if err := d.Decode(&p); err == io.EOF {
			return packages, nil
		} else if err != nil {
			return nil, err
		}
		packages = append(packages, p)
	}
}

// mutants are those of a package that are to be tried, in the order of its files.
func (o options) mutants(p pkg) ([]mutant, error) {
	match, err := regexp.Compile(o.file)
	if err != nil {
		return nil, err
	}
	var all []mutant
	for _, name := range p.GoFiles {
		if !match.MatchString(name) {
			continue
		}
		path := shortest(filepath.Join(p.Dir, name))
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		found, err := spoil(path, text)
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	if o.sample > 0 && o.sample < len(all) {
		chosen := rand.New(rand.NewPCG(o.draw, 0)).Perm(len(all))[:o.sample]
		slices.Sort(chosen)
		for i, n := range chosen {
			all[i] = all[n] // n is never before i: they are sorted
		}
		all = all[:o.sample]
	}
	return all, nil
}

// shortest is a path as seen from here, where that is shorter.
func shortest(path string) string {
	if here, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(here, path); err == nil && len(rel) < len(path) {
			return rel
		}
	}
	return path
}

// one spoils one package, place by place.
func (o options) one(p pkg, out io.Writer) error {
	mutants, err := o.mutants(p)
	if err != nil {
		return err
	}
	if o.list {
		for _, m := range mutants {
			fmt.Fprint(out, m)
		}
		return nil
	}
	t := tester{packages: []string{p.ImportPath}, run: o.tests, limit: 10 * time.Minute}
	if o.also != "" {
		t.packages = append(t.packages, strings.Split(o.also, ",")...)
	}
	began := time.Now()
	if verdict, said, err := t.try(nil); err != nil || verdict != survived {
		return fmt.Errorf("the tests fail unspoiled, %v\n%s", err, said)
	}
	if t.limit = o.limit; t.limit == 0 {
		t.limit = 20*time.Second + 10*time.Since(began)
	}
	count := map[verdict]int{}
	for _, m := range mutants {
		verdict, _, err := t.try(&m)
		if err != nil {
			return err
		}
		if count[verdict]++; verdict == survived {
			fmt.Fprint(out, "survived ", m)
		}
	}
	fmt.Fprintf(out, "%s: %d tried, %d killed (%d of them by the time limit of %v), %d survived, %d did not compile\n", p.ImportPath, len(mutants),
		count[killed]+count[overtime], count[overtime], t.limit.Round(time.Second), count[survived], count[broken])
	return nil
}
