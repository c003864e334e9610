//go:build unix

package cli

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/ui/internal/term"
	"evenpull/ui/keys"
)

// kills is how often the program is killed at a pipe and at a terminal; asked
// along with the outside programs, a thousand times in all.
var kills = struct{ pipe, terminal int }{30, 8}

// ring is a long walk with nothing but stages: twelve bolts, three passes.
const ring = `format = 1
[procedure]
name = "Close the cover"
engine = "Osier 380 parallel twin"
direction = "close"
source = "Osier sheet 1 (invented)"
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "22 N·m"
[group.main.at]
M1 = [0, 100]
M2 = [50, 87]
M3 = [87, 50]
M4 = [100, 0]
M5 = [87, -50]
M6 = [50, -87]
M7 = [0, -100]
M8 = [-50, -87]
M9 = [-87, -50]
M10 = [-100, 0]
M11 = [-87, 50]
M12 = [-50, 87]
[[pass]]
name = "Snug"
groups = ["main"]
torque = "40 %"
[[pass]]
name = "Draw"
groups = ["main"]
torque = "70 %"
[[pass]]
name = "Final"
groups = ["main"]
torque = "100 %"
`

// killing is a folder of records of one walk after the other, and the program.
type killing struct {
	t       *testing.T
	program string
	sheet   string
	records string
	random  *rand.Rand
	done    int // walks finished
}

func newKilling(t *testing.T) *killing {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	k := &killing{t: t, program: filepath.Join(dir, "evenpull"), sheet: filepath.Join(dir, "ring.toml"), records: filepath.Join(dir, "records")}
	if err := os.Symlink(self, k.program); err != nil { // by its name it knows what to be
		t.Fatal(err)
	}
	if err := os.WriteFile(k.sheet, []byte(ring), 0o600); err != nil {
		t.Fatal(err)
	}
	first, second := rand.Uint64(), rand.Uint64()
	t.Logf("random numbers from %d, %d", first, second)
	k.random = rand.New(rand.NewPCG(first, second))
	return k
}

func (k *killing) args() []string {
	return []string{"--records", k.records, "walk", k.sheet, "--engine", fmt.Sprint("bench ", k.done)}
}

// intact reads the record of the walk in hand after a kill. Everything the
// person was told is confirmed has to be in it, and nothing twice.
func (k *killing) intact(told []string) {
	k.t.Helper()
	s, err := record.Open(k.records, time.Now)
	if err != nil {
		k.t.Fatal(err)
	}
	list, err := s.Search(record.Filter{Engine: fmt.Sprint("bench ", k.done)})
	if err != nil {
		k.t.Fatal(err)
	}
	if len(list) == 0 && len(told) == 0 {
		return // killed before it began
	}
	if len(list) != 1 {
		k.t.Fatalf("%d records of one walk, told %v", len(list), told)
	}
	r := record.Verify(list[0].Path)
	if r.Header == nil || !r.Chain.Whole() && !r.Chain.Torn || r.FalseDone {
		k.t.Fatalf("chain %v, %v", r.Chain, r.Problems)
	}
	confirmed := map[string]int{}
	f, err := record.Read(list[0].Path)
	if err != nil {
		k.t.Fatal(err)
	}
	for _, e := range f.Events {
		if e.Kind == walk.Confirmed {
			confirmed[e.Item]++
		}
	}
	for item, n := range confirmed {
		if n > 1 {
			k.t.Fatalf("%s is confirmed %d times", item, n)
		}
	}
	for _, text := range told { // "Snug: M3, 8.8 N·m"
		pass, bolt, _ := strings.Cut(text, ": ")
		bolt, _, _ = strings.Cut(bolt, ",")
		if confirmed[pass+"/"+bolt] != 1 {
			k.t.Fatalf("told that %q is confirmed, the record has not: %v", text, confirmed)
		}
	}
	if r.State == walk.IsDone {
		k.done++
	}
}

// told are the confirmations in what was put out, each behind a mark.
func told(output, mark string) []string {
	var list []string
	for line := range strings.Lines(output) {
		if _, text, ok := strings.Cut(line, mark+"confirmed: "); ok {
			list = append(list, strings.TrimSpace(text))
		}
	}
	return list
}

func TestKilledAtAPipeNothingToldIsLost(t *testing.T) {
	t.Parallel()
	k := newKilling(t)
	heard := 0
	for range kills.pipe {
		cmd := exec.Command(k.program, append(k.args(), "--plain")...)
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		most := k.random.IntN(16)
		go func() {
			io.WriteString(in, strings.Repeat("ok\n", most+20))
			if most > 12 {
				io.WriteString(in, "done\n")
			}
			in.Close() // it may have nothing left to confirm, and would wait for more
		}()
		var said strings.Builder
		lines := bufio.NewReader(out)
		for n := 0; n < most; { // then it is killed, wherever it may be by then
			line, err := lines.ReadString('\n')
			said.WriteString(line)
			if err != nil {
				break
			}
			if strings.Contains(line, "> confirmed: ") {
				n++
			}
		}
		for range k.random.IntN(2000) { // some microseconds later
			_ = k.random.Uint64()
		}
		_ = cmd.Process.Kill()
		rest, _ := io.ReadAll(lines)
		said.Write(rest)
		_ = cmd.Wait()
		list := told(said.String(), "> ")
		heard += len(list)
		k.intact(list)
	}
	t.Logf("killed %d times at a pipe; %d confirmations told, %d walks done, none lost", kills.pipe, heard, k.done)
	if heard < kills.pipe {
		t.Errorf("told of %d confirmations only", heard)
	}
}

func TestKilledAtATerminalNothingToldIsLost(t *testing.T) {
	t.Parallel()
	k := newKilling(t)
	heard := 0
	for range kills.terminal {
		clock := term.NewClock(t)
		s := term.Start(t, term.Options{Cols: 120, Rows: 40, Clock: clock}, k.program, k.args()...)
		s.WaitFor("the walk, or what is to be read before it", func(screen string) bool {
			return strings.Contains(screen, "? keys") || strings.Contains(screen, "esc back")
		})
		for range 1 + k.random.IntN(5) {
			clock.Advance(keys.DoublePress)
			s.Send("\r")
			time.Sleep(time.Duration(k.random.IntN(30)) * time.Millisecond) // or not even read yet
		}
		s.Kill()
		s.WaitExit()
		list := told(s.Screen(), "✓ ")
		heard += len(list)
		k.intact(list)
	}
	t.Logf("killed %d times at a terminal, %d times just after it told of a confirmation; %d walks done, none lost", kills.terminal, heard, k.done)
	if heard == 0 && kills.terminal > 100 { // on a busy machine a few may all come too early
		t.Error("never told of a confirmation")
	}
}
