//go:build unix && outside

package cli

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
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
// that nothing has, a word that one record in four has (those are replayed), and
// the whole list, every record of it replayed.
func BenchmarkManyRecords(b *testing.B) {
	rg, err := exec.LookPath("rg")
	if err != nil {
		b.Fatal(err)
	}
	ours := shipped(b, "evenpull")
	env := plainEnv(b)
	for _, n := range []int{1_000, 10_000} {
		dir := manyRecords(b, ours, n)
		word := []string{rg, "-c", "zinc", dir}
		for name, args := range map[string][]string{
			"Filter": {"--engine", "nobody"}, "Newest": {"--newest", "20"}, "NoSuchWord": {"--search", "zinc"}, "Word": {"--search", "balancing"}, "WholeList": nil,
		} {
			b.Run(fmt.Sprintf("%s/%d", name, n), func(b *testing.B) {
				var took, theirs []time.Duration
				most := 0.0
				for b.Loop() {
					cmd := exec.Command(word[0], word[1:]...)
					cmd.Env = env
					start := time.Now()
					if err := cmd.Run(); err == nil || !strings.Contains(err.Error(), "exit status 1") {
						b.Fatalf("rg: %v", err) // 1: the word is nowhere
					}
					theirs = append(theirs, time.Since(start))
					t, memory := process(b, env, nil, ours, append([]string{"records", "--records", dir}, args...)...)
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
