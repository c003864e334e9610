package review

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/spec/outside"
	"evenpull/ui/internal/golden"
	"evenpull/ui/keys"
	"evenpull/ui/report"
	"evenpull/ui/theme"
)

// sheet reads one of the records that package report prints in its own tests.
func sheet(t *testing.T, name string) report.Sheet {
	t.Helper()
	data, err := os.ReadFile("../report/testdata/golden/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var s report.Sheet
	if err := json.Unmarshal(data, &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// large is a record of n fasteners in passes passes, half of it done.
func large(n, passes int) report.Sheet {
	s := report.Sheet{ID: "big", Procedure: "Close the lid", Engine: "7", State: "open", Chain: "whole"}
	for p := range passes {
		s.Passes = append(s.Passes, report.Pass{Name: fmt.Sprintf("Pass number %d", p+1)})
	}
	for i := range n {
		f := report.Fastener{ID: fmt.Sprintf("M%d", i+1)}
		for p := range passes {
			st := report.Stage{Pass: s.Passes[p].Name}
			if p < passes/2 {
				st.Confirmed, st.Reading = true, "24.6 N·m"
				s.Stages.Confirmed++
			}
			s.Stages.Of++
			f.Stages = append(f.Stages, st)
		}
		s.Fasteners = append(s.Fasteners, f)
	}
	return s
}

func press(m Model, keys ...string) Model {
	types := map[string]tea.KeyType{"tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft,
		"right": tea.KeyRight, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd, "esc": tea.KeyEsc, "enter": tea.KeyEnter}
	for _, k := range keys {
		msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
		if kt, ok := types[k]; ok {
			msg = tea.KeyMsg{Type: kt}
		}
		next, _ := m.Update(msg)
		m = next.(Model)
	}
	return m
}

func at(s report.Sheet, w, h int) Model {
	next, _ := New(Config{Sheet: s}).Update(tea.WindowSizeMsg{Width: w, Height: h})
	return next.(Model)
}

// replayed is a review with a replay made of the confirmed stages of the sheet.
func replayed(s report.Sheet, w, h int) Model {
	var frames []report.Frame
	counts := make([]int, len(s.Fasteners))
	for i, e := range s.Timeline {
		f := report.Frame{Seq: e.Seq, At: e.At, Text: e.Text, Fastener: -1, Setback: e.Kind == "rejected" || e.Kind == "lost"}
		if n := len(s.Fasteners); n > 0 && e.Kind == "confirmed" {
			at := i % n
			f.Fastener, f.Changes = at, []report.Change{{Fastener: at, From: counts[at], To: counts[at] + 1}}
			counts[at]++
		}
		frames = append(frames, f)
	}
	next, _ := New(Config{Sheet: s, Frames: frames}).Update(tea.WindowSizeMsg{Width: w, Height: h})
	return next.(Model)
}

func screen(m Model) string { return ansi.Strip(m.View()) }

func TestGoldenScreens(t *testing.T) {
	broken := sheet(t, "open")
	broken.Chain, broken.ChainNote = "broken", "line 7 does not follow from line 6"
	cases := map[string]string{}
	for _, size := range [][2]int{{80, 24}, {40, 15}, {120, 30}} {
		for i, name := range pageNames {
			m := replayed(sheet(t, "open"), size[0], size[1])
			cases[fmt.Sprintf("%s-%dx%d", strings.ReplaceAll(strings.ToLower(name), " ", "-"), size[0], size[1])] = screen(press(m, fmt.Sprint(i+1)))
		}
		cases[fmt.Sprintf("wide-record-%dx%d", size[0], size[1])] = screen(press(at(large(300, 12), size[0], size[1]), "right", "pgdown"))
		cases[fmt.Sprintf("broken-%dx%d", size[0], size[1])] = screen(press(at(broken, size[0], size[1]), "1"))
		cases[fmt.Sprintf("replay-part-%dx%d", size[0], size[1])] = screen(press(replayed(sheet(t, "open"), size[0], size[1]), "8", "7", "home", "right", "right", "right", "right", "right", "right", "right"))
		cases[fmt.Sprintf("keys-replay-%dx%d", size[0], size[1])] = screen(press(replayed(sheet(t, "open"), size[0], size[1]), "7", "?"))
		cases[fmt.Sprintf("keys-%dx%d", size[0], size[1])] = screen(press(at(sheet(t, "finished"), size[0], size[1]), "?"))
	}
	golden.Screens(t, cases)
}

// Whatever the size and whatever is pressed, the frame has exactly the lines
// there are and none is too wide.
func TestEveryFrameFits(t *testing.T) {
	keys := []string{"tab", "shift+tab", "down", "up", "right", "left", "pgdown", "pgup", "home", "end", "?", "1", "4", "7", "8", " "}
	r := rand.New(rand.NewPCG(1, 2))
	sheets := []report.Sheet{sheet(t, "open"), sheet(t, "finished"), large(50, 30), {}, {Chain: "whole", Findings: []report.Finding{{Seq: 1}}}}
	for range outside.Times(120, 300) {
		w, h := r.IntN(130), r.IntN(40)
		m := replayed(sheets[r.IntN(len(sheets))], w, h)
		for range 4 {
			k := keys[r.IntN(len(keys))]
			m = press(m, k)
			frame := m.View()
			lines := strings.Split(frame, "\n")
			if w > 0 && h > 0 && len(lines) != h || (w == 0 || h == 0) && frame != "" {
				t.Fatalf("%d×%d after %s: %d lines:\n%s", w, h, k, len(lines), frame)
			}
			for _, l := range lines {
				if ansi.StringWidth(l) > w {
					t.Fatalf("%d×%d after %s: a line of %d cells: %q", w, h, k, ansi.StringWidth(l), l)
				}
			}
		}
	}
}

func TestEveryRowAndPassCanBeReached(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {40, 15}, {20, 9}} {
		m := at(large(60, 15), size[0], size[1])
		if got := screen(press(m, "end")); !strings.Contains(got, "M60") {
			t.Errorf("%v: end does not show the last fastener:\n%s", size, got)
		}
		seen := ""
		for range 15 {
			seen += strings.Join(strings.Fields(screen(m)), " ")
			m = press(m, "right")
		}
		if !strings.Contains(seen, "15") {
			t.Errorf("%v: the 15th pass cannot be scrolled to:\n%s", size, screen(m))
		}
		if m.column != m.lastColumn() || m.lastColumn() == 0 {
			t.Errorf("%v: stopped at column %d of %d", size, m.column, m.lastColumn())
		}
	}
}

func TestMatrixTellsStatesApartWithoutColour(t *testing.T) {
	text := screen(at(sheet(t, "open"), 80, 24))
	for _, want := range []string{"✓ !", "· open", "hollow, renewed", "✓ confirmed; figures were read"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
}

func TestARecordNotToBeReliedOnSaysSoFirst(t *testing.T) {
	s := sheet(t, "finished")
	s.Chain, s.State, s.ChainNote = "broken", "open", "line 7 does not follow from line 6"
	m := at(s, 80, 24)
	if !strings.Contains(screen(m), "line 7 does not follow") {
		t.Errorf("the first screen does not say what is wrong:\n%s", screen(m))
	}
	if text := screen(press(m, "1")); !strings.Contains(text, "DO NOT RELY ON THIS RECORD") {
		t.Errorf("the matrix of a broken record looks like any other:\n%s", text)
	}
}

func TestKeymapIsTheHelp(t *testing.T) {
	m := press(at(large(60, 15), 80, 24), "down")
	help := screen(press(m, "?"))
	for _, b := range m.keys().all() {
		if !b.Enabled() {
			t.Errorf("%s is off in the middle of what can be scrolled", b.Help().Key)
		}
		if label, _, _ := strings.Cut(b.Help().Key, ", "); !strings.Contains(help, label+" "+b.Help().Desc) {
			t.Errorf("the list of keys lacks %q", label+" "+b.Help().Desc)
		}
	}
	if problems := keys.Problems(m.keys(), keys.Group{Bindings: m.keys().all()}); problems != nil {
		t.Errorf("problems: %q", problems)
	}
}

func TestLeavingGivesBackWhatWasAskedFor(t *testing.T) {
	for _, k := range []tea.KeyMsg{{Type: tea.KeyEsc}, {Type: tea.KeyCtrlC}, {Type: tea.KeyRunes, Runes: []rune("q")}} {
		_, cmd := at(sheet(t, "open"), 80, 24).Update(k)
		if cmd == nil || cmd() != (tea.QuitMsg{}) {
			t.Errorf("%s does not leave", k)
		}
	}
	type back struct{}
	_, cmd := New(Config{Sheet: sheet(t, "open"), Leave: func() tea.Msg { return back{} }}).Update(tea.KeyMsg{Type: tea.KeyEsc})
	if cmd() != (back{}) {
		t.Error("leaving does not give back the caller's own message")
	}
}

// On a terminal of 7-bit characters texts grow longer as they are folded.
func TestEveryFrameFitsInASCII(t *testing.T) {
	if os.Getenv("EVENPULL_ASCII") == "1" {
		t.Fatal("this test runs the others with EVENPULL_ASCII=1; leave it unset")
	}
	cmd := exec.Command(os.Args[0], "-test.run=^(TestEveryFrameFits|TestFramesAreSevenBit)$")
	cmd.Env = append(os.Environ(), "EVENPULL_ASCII=1", "TERM=dumb")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

func TestFramesAreSevenBit(t *testing.T) {
	if !theme.ASCII() {
		return // TestEveryFrameFitsInASCII runs it where it means something
	}
	for _, k := range []string{"1", "2", "3", "4", "5", "6", "7", "8", "?"} {
		frame := screen(press(at(sheet(t, "open"), 80, 24), k))
		for _, r := range frame {
			if r > 0x7e {
				t.Fatalf("%q has %q in it", frame, r)
			}
		}
	}
}

// The replay stands where the record stands, steps both ways, plays to its
// end, and stops when a key is pressed or the page is left.
func TestReplayStepsAndPlays(t *testing.T) {
	m := press(replayed(sheet(t, "open"), 80, 24), "7")
	last := len(m.replay.frames)
	if m.replay.at != last || last < 10 {
		t.Fatalf("stands at %d of %d, want the end", m.replay.at, last)
	}
	end := append([]int{}, m.replay.counts...)
	m = press(m, "home")
	for i, n := range m.replay.counts {
		if n != 0 {
			t.Errorf("before the first step fastener %d has %d stages confirmed", i, n)
		}
	}
	m = press(m, "right", "right", "left")
	if m.replay.at != 1 {
		t.Errorf("two steps and one back stand at %d", m.replay.at)
	}
	m = press(m, "home")
	next, cmd := m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(" ")})
	m = next.(Model)
	if cmd == nil || !m.replay.playing {
		t.Fatal("space does not play")
	}
	late := stepMsg{m.replay.run - 1}
	if next, _ = m.Update(late); next.(Model).replay.at != 0 {
		t.Error("a step of an earlier playing counts")
	}
	for i := 0; m.replay.playing; i++ {
		next, _ = m.Update(stepMsg{m.replay.run})
		m = next.(Model)
		if i > last {
			t.Fatal("it plays beyond its end")
		}
	}
	if m.replay.at != last || fmt.Sprint(m.replay.counts) != fmt.Sprint(end) {
		t.Errorf("played to %d of %d with %v, want %v", m.replay.at, last, m.replay.counts, end)
	}
	m = press(m, " ", "right")
	if m.replay.playing {
		t.Error("a step does not pause it")
	}
	m = press(m, " ", "tab")
	if m.replay.playing {
		t.Error("it plays on after its page is left")
	}
}

func TestKeymapOfTheReplayIsItsHelp(t *testing.T) {
	m := press(replayed(sheet(t, "open"), 80, 24), "7")
	help := screen(press(m, "?"))
	for _, want := range []string{"space play", "step", "step back", "to the start"} {
		if !strings.Contains(help, want) {
			t.Errorf("the list of keys lacks %q:\n%s", want, help)
		}
	}
	if problems := keys.Problems(m.keys(), keys.Group{Bindings: m.keys().all()}); problems != nil {
		t.Errorf("problems: %q", problems)
	}
}
