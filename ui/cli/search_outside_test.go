//go:build unix && outside

package cli

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// manyRecords fills a folder with so many records, copies of the demo's walks.
func manyRecords(b *testing.B, program string, n int) string {
	b.Helper()
	demo, dir := filepath.Join(b.TempDir(), "demo"), b.TempDir()
	if out, err := exec.Command(program, "demo", demo).CombinedOutput(); err != nil {
		b.Fatalf("%v: %s", err, out)
	}
	files, err := filepath.Glob(filepath.Join(demo, "*.jsonl"))
	if err != nil || len(files) == 0 {
		b.Fatal(files, err)
	}
	var walks [][]byte
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			b.Fatal(err)
		}
		walks = append(walks, data)
	}
	for i := range n {
		name := fmt.Sprintf("2026-%02d-%02d-%d-walk-%d.jsonl", 1+i%12, 1+i%28, i/20, i)
		if err := os.WriteFile(filepath.Join(dir, name), walks[i%len(walks)], 0o600); err != nil {
			b.Fatal(err)
		}
	}
	return dir
}

// BenchmarkManyRecords asks a folder of records as a process, turn and turn about
// with rg, which looks for a word in the same files: a filter, the newest, a word
// that nothing has, the first list of all, every record of it replayed, and what
// comes after such a list: the next one, and a word that one record in four has.
func BenchmarkManyRecords(b *testing.B) {
	rg, err := exec.LookPath("rg")
	if err != nil {
		b.Fatal(err)
	}
	ours := shipped(b, "evenpull")
	for _, n := range []int{1_000, 10_000} {
		dir, cache := manyRecords(b, ours, n), filepath.Join(b.TempDir(), "cache")
		env := append(plainEnv(b), "EVENPULL_CACHE="+cache)
		list := []string{ours, "records", "--records", dir}
		for _, c := range []struct {
			name   string
			args   []string
			before func()
		}{
			{"Filter", []string{"--engine", "nobody"}, nil},
			{"Newest", []string{"--newest", "20"}, nil},
			{"NoSuchWord", []string{"--search", "zinc"}, nil},
			{"FirstList", nil, func() { os.RemoveAll(cache) }},
			{"WholeList", nil, func() { warm(b, env, cache, list) }},
			{"Word", []string{"--search", "balancing"}, func() { warm(b, env, cache, list) }},
		} {
			b.Run(fmt.Sprintf("%s/%d", c.name, n), func(b *testing.B) {
				var took, theirs []time.Duration
				most := 0.0
				for b.Loop() {
					if c.before != nil {
						c.before()
					}
					cmd := exec.Command(rg, "-c", "zinc", dir)
					cmd.Env = env
					start := time.Now()
					if err := cmd.Run(); err == nil || !strings.Contains(err.Error(), "exit status 1") {
						b.Fatalf("rg: %v", err) // 1: the word is nowhere
					}
					theirs = append(theirs, time.Since(start))
					t, memory := process(b, env, nil, list[0], append(slices.Clone(list[1:]), c.args...)...)
					took, most = append(took, t), max(most, memory)
				}
				b.ReportMetric(middle(took), "ms")
				b.ReportMetric(middle(took)/middle(theirs), "×rg")
				b.ReportMetric(most, "MiB-peak")
				b.ReportMetric(0, "ns/op")
			})
		}
	}
}

// warm lists until the list is remembered: records written a moment ago are not.
func warm(b *testing.B, env []string, cache string, list []string) {
	b.Helper()
	for end := time.Now().Add(time.Minute); ; {
		if memos, err := filepath.Glob(filepath.Join(cache, "*")); err == nil && len(memos) == 1 {
			return
		}
		if time.Now().After(end) {
			b.Fatal("no list is remembered")
		}
		process(b, env, nil, list[0], list[1:]...)
	}
}
