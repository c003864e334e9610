//go:build unix

package cli

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

// shipped builds a program as it is shipped: stripped, without C, and written from front
// to back, as whoever unpacks it has it. The linker writes all over its file, which lies in
// small pieces in the system's memory afterwards and takes a fifth longer to start.
func shipped(b *testing.B, pkg string) string {
	b.Helper()
	out := filepath.Join(b.TempDir(), filepath.Base(pkg))
	cmd := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", out+"-linked", pkg)
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
	if message, err := cmd.CombinedOutput(); err != nil {
		b.Fatalf("go build %s: %v\n%s", pkg, err, message)
	}
	program, err := os.ReadFile(out + "-linked")
	if err == nil {
		err = os.WriteFile(out, program, 0o700)
	}
	if err != nil {
		b.Fatal(err)
	}
	return out
}

// plainEnv is a small environment with folders of its own.
func plainEnv(b *testing.B) []string {
	home := b.TempDir()
	return []string{"TERM=xterm-256color", "LANG=C.UTF-8", "PATH=" + os.Getenv("PATH"), "HOME=" + home, "XDG_DATA_HOME=" + home, "XDG_CACHE_HOME=" + filepath.Join(home, "cache")}
}

// process runs a program to its end and gives the time it took and the most
// memory it held, in MiB.
func process(b *testing.B, env []string, stdin io.Reader, program string, args ...string) (time.Duration, float64) {
	b.Helper()
	cmd := exec.Command(program, args...)
	cmd.Env, cmd.Stdin = env, stdin
	start := time.Now()
	err := cmd.Run()
	took := time.Since(start)
	if code := cmd.ProcessState.ExitCode(); code != ExitDone && code != ExitOutstanding {
		b.Fatalf("%s %q: %v", program, args, err)
	}
	return took, residentMiB(cmd)
}

// residentMiB is the peak of a process that has ended; Linux counts it in KiB.
func residentMiB(cmd *exec.Cmd) float64 {
	return float64(cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss) / 1024
}

// middle is the median: a busy machine must not decide.
func middle(d []time.Duration) float64 {
	slices.Sort(d)
	return d[len(d)/2].Seconds() * 1000
}

// rival is a program that the converter is measured turn and turn about with.
type rival struct {
	name    string
	command func(b *testing.B) []string
}

// rivals are those that Go builds; the build tag outside adds another.
var rivals = []rival{{"one-line", func(b *testing.B) []string { return []string{shipped(b, "./testdata/oneline")} }}}

// BenchmarkConvertProcess runs the converter as a process, turn and turn about
// with a Go program that prints one line and, with the build tag outside, with
// GNU units.
func BenchmarkConvertProcess(b *testing.B) {
	commands := [][]string{{shipped(b, "evenpull"), "convert", "22 N·m"}}
	for _, r := range rivals {
		commands = append(commands, r.command(b))
	}
	env := plainEnv(b)
	took := make([][]time.Duration, len(commands))
	for b.Loop() {
		for i, c := range commands {
			t, _ := process(b, env, nil, c[0], c[1:]...)
			took[i] = append(took[i], t)
		}
	}
	ours := middle(took[0])
	b.ReportMetric(ours, "ms")
	for i, r := range rivals {
		b.ReportMetric(ours/middle(took[i+1]), "×"+r.name)
	}
	b.ReportMetric(0, "ns/op")
}

// firstFrame starts a program on a terminal that answers nothing and gives the
// time until it has written the text, and the most memory it held by then, in MiB.
func firstFrame(b *testing.B, env []string, text, program string, args ...string) (time.Duration, float64) {
	b.Helper()
	cmd := exec.Command(program, args...)
	cmd.Env = env
	start := time.Now()
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		b.Fatal(err)
	}
	late := time.AfterFunc(20*time.Second, func() { _ = cmd.Process.Kill() })
	var all bytes.Buffer
	buf := make([]byte, 32*1024)
	for !strings.Contains(all.String(), text) {
		n, err := tty.Read(buf)
		if all.Write(buf[:n]); err != nil {
			b.Fatalf("%s %q ended without %q: %v\n%q", program, args, text, err, all.String())
		}
	}
	took := time.Since(start)
	late.Stop()
	_ = cmd.Process.Kill()
	_ = cmd.Wait()
	_ = tty.Close()
	return took, residentMiB(cmd)
}

// BenchmarkFirstFrame takes the time from the start of the program to its first
// frame, turn and turn about with a Bubble Tea program that shows two words.
func BenchmarkFirstFrame(b *testing.B) {
	ours, bare := shipped(b, "evenpull"), shipped(b, "evenpull/ui/theme/testdata/firstframe")
	for _, screen := range []struct {
		name, text string
		args       []string
	}{{"start", "all keys", nil}, {"stand", "0 of 46 stages", []string{"walk", "top-end-close"}}} {
		b.Run(screen.name, func(b *testing.B) {
			var took, plain []time.Duration
			most := 0.0
			for b.Loop() {
				env := plainEnv(b) // no record lies there yet
				t, _ := firstFrame(b, env, "first frame", bare)
				plain = append(plain, t)
				t, memory := firstFrame(b, env, screen.text, ours, screen.args...)
				took, most = append(took, t), max(most, memory)
			}
			b.ReportMetric(middle(took), "ms")
			b.ReportMetric(middle(took)/middle(plain), "×bare-Bubble-Tea")
			b.ReportMetric(most, "MiB-peak")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// BenchmarkSizeAndMemory gives the size of the program as shipped and the most
// memory that a plain walk through the longest bundled procedure holds.
func BenchmarkSizeAndMemory(b *testing.B) {
	ours := shipped(b, "evenpull")
	info, err := os.Stat(ours)
	if err != nil {
		b.Fatal(err)
	}
	env := plainEnv(b)
	most := 0.0
	for b.Loop() {
		_, memory := process(b, env, strings.NewReader(strings.Repeat("yes\nok\nrenew\n0.1 mm\n", 200)), ours, "walk", "top-end-close", "--plain", "--new")
		most = max(most, memory)
	}
	b.ReportMetric(float64(info.Size())/(1<<20), "MiB-program")
	b.ReportMetric(most, "MiB-peak-plain-walk")
	b.ReportMetric(0, "ns/op")
}
