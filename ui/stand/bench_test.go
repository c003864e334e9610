package stand

import (
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// manyBolts is a procedure of n fasteners in two passes.
func manyBolts(n int) string {
	var b strings.Builder
	b.WriteString(`format = 1
[procedure]
name      = "Close a very large cover"
engine    = "Osier 380 parallel twin"
direction = "close"
source    = "figures invented for this benchmark"
[group.rim]
title  = "cover bolts"
thread = "M8x1.25"
class  = "8.8"
torque = "22 N·m"
[group.rim.at]
`)
	for i := range n {
		fmt.Fprintf(&b, "B%d = [%d, %d]\n", i+1, i%50*20, i/50*20)
	}
	for _, share := range []string{"40 %", "100 %"} {
		fmt.Fprintf(&b, "[[pass]]\nname = %q\ngroups = [\"rim\"]\ntorque = %q\norder = \"cross\"\n", share, share)
	}
	return b.String()
}

// paints is where a program's frames go: it reports each write that holds text
// waited for.
type paints struct {
	mu   sync.Mutex
	want string
	seen chan struct{}
}

func (p *paints) Write(b []byte) (int, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.want != "" && strings.Contains(string(b), p.want) {
		p.want = ""
		p.seen <- struct{}{}
	}
	return len(b), nil
}

// press sends a key and waits for a frame with the text.
func (p *paints) press(program *tea.Program, key tea.KeyMsg, want string) time.Duration {
	p.mu.Lock()
	p.want = want
	p.mu.Unlock()
	from := time.Now()
	program.Send(key)
	<-p.seen
	return time.Since(from)
}

// bare is a plain Bubble Tea program that syncs a line of the same length and
// then draws a frame of the same size.
type bare struct {
	n     int
	frame string
	write func() error
}

type bareWrote struct{ err error }

func (b bare) Init() tea.Cmd { return nil }
func (b bare) View() string  { return fmt.Sprintf("frame %d end\n%s", b.n, b.frame) }
func (b bare) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		return b, func() tea.Msg { return bareWrote{b.write()} }
	case bareWrote:
		if msg.err != nil {
			return b, tea.Quit
		}
		b.n++
	}
	return b, nil
}

// framesPerSecond is what the command line runs the screens at: Bubble Tea
// paints on a tick, so a frame waits half of one on average.
const framesPerSecond = 120

func begin(m tea.Model, out io.Writer) *tea.Program {
	p := tea.NewProgram(m, tea.WithInput(nil), tea.WithOutput(out), tea.WithFPS(framesPerSecond), tea.WithoutSignalHandler())
	go func() { _, _ = p.Run() }()
	p.Send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return p
}

// BenchmarkKeyToFrame takes the time from a confirming key to the frame that
// shows it on disk, on 2 000 fasteners, beside one sync and one plain frame of
// the same size, turn and turn about.
func BenchmarkKeyToFrame(b *testing.B) {
	open := func(name string) *os.File {
		f, err := os.OpenFile(filepath.Join(b.TempDir(), name), os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o600)
		if err != nil {
			b.Fatal(err)
		}
		b.Cleanup(func() { _ = f.Close() })
		return f
	}
	clock := time.Date(2026, 3, 4, 9, 30, 0, 0, time.UTC)
	var tick sync.Mutex
	now := func() time.Time { // a second a look: the guard never bites
		tick.Lock()
		defer tick.Unlock()
		clock = clock.Add(time.Second)
		return clock
	}
	state := newState(b, manyBolts(2000))
	m := New(Config{State: state, Append: appender(open("ours")), Now: now, RecordID: "r1"})
	ours, theirs := &paints{seen: make(chan struct{}, 1)}, &paints{seen: make(chan struct{}, 1)}
	program := begin(m, ours)
	defer program.Kill()

	plainFile := open("plain")
	line := []byte(strings.Repeat("x", 160) + "\n")
	plain := begin(bare{frame: frameOf(m), write: func() error {
		if _, err := plainFile.Write(line); err != nil {
			return err
		}
		return plainFile.Sync()
	}}, theirs)
	defer plain.Kill()

	var took, took2 []time.Duration
	enter := tea.KeyMsg{Type: tea.KeyEnter}
	chance := rand.New(rand.NewPCG(1, 2))
	wait := func() { time.Sleep(time.Duration(chance.IntN(int(time.Second) / framesPerSecond))) } // a press keeps no step with the paint tick
	ours.press(program, enter, "the wrench is set")
	for i := 0; b.Loop() && i < 1990; i++ { // before the wrench is set again
		wait()
		took2 = append(took2, theirs.press(plain, enter, fmt.Sprintf("frame %d end", i+1)))
		wait()
		took = append(took, ours.press(program, enter, fmt.Sprintf("%d of 4000 stages", i+1)))
	}
	p99, plain99 := percentile(took, 99), percentile(took2, 99)
	b.ReportMetric(float64(p99.Microseconds())/1000, "ms-p99")
	b.ReportMetric(float64(percentile(took, 50).Microseconds())/1000, "ms-p50")
	b.ReportMetric(float64(plain99.Microseconds())/1000, "plain-ms-p99")
	b.ReportMetric(float64(p99)/float64(plain99), "×plain-p99")
	b.ReportMetric(float64(percentile(took, 50))/float64(percentile(took2, 50)), "×plain-p50")
}

func frameOf(m Model) string {
	next, _ := m.Update(tea.WindowSizeMsg{Width: 80, Height: 23})
	return next.(Model).View()
}

func percentile(d []time.Duration, p int) time.Duration {
	d = slices.Clone(d)
	slices.Sort(d)
	return d[min(len(d)-1, len(d)*p/100)]
}

// BenchmarkDecideApplyView is the same without a terminal or a disk: what this
// package itself costs a key.
func BenchmarkDecideApplyView(b *testing.B) {
	r := newRig(b, manyBolts(2000))
	for b.Loop() {
		if r.model.facts.item == nil {
			r = newRig(b, manyBolts(2000))
		}
		r.press("enter")
		if r.model.View() == "" {
			b.Fatal("no frame")
		}
	}
}

// BenchmarkSpokenKey is what being heard adds to a key on 2 000 fasteners: the same keys
// on a screen that speaks and on one that does not, turn and turn about: fifty a round,
// since a key takes a millisecond and what else runs on the machine takes more.
func BenchmarkSpokenKey(b *testing.B) {
	words := 0
	heard := func(c *Config) { c.Ear.Say = func(text string) { words += len(text) } }
	press := func(r *rig, took []time.Duration) []time.Duration {
		from := time.Now()
		r.press("enter")
		return append(took, time.Since(from))
	}
	spoken, silent := newRig(b, manyBolts(2000), heard), newRig(b, manyBolts(2000))
	var took, took2 []time.Duration
	for b.Loop() {
		for range min(50, 1990-len(took)) {
			took, took2 = press(spoken, took), press(silent, took2)
		}
	}
	if words == 0 {
		b.Fatal("nothing was said")
	}
	b.ReportMetric(float64(percentile(took, 50).Microseconds())/1000, "ms-p50")
	b.ReportMetric(float64(percentile(took, 50))/float64(percentile(took2, 50)), "×silent-p50")
}
