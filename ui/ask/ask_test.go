package ask

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"evenpull/procedures/draft"
	"evenpull/spec/read"
	"evenpull/ui/internal/golden"
	"evenpull/ui/keys"
)

// hands press keys one after the other on a screen whose clock they move, and count them.
type hands struct {
	testing.TB
	m       Model
	clock   *time.Time
	presses int
	kept    []byte // put aside
	written []byte // in the file
}

func begin(t testing.TB, d draft.Draft, saved []byte) *hands {
	clock := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	h := &hands{TB: t, clock: &clock, written: saved}
	h.m = New(Config{Draft: d, File: "caps.toml", Saved: saved, Now: func() time.Time { return clock },
		Keep:  func(text []byte) error { h.kept = text; return nil },
		Write: func(text []byte) error { h.written, h.kept = text, nil; return nil }})
	return h
}

// got gives a message to the screen, and then what comes of it.
func (h *hands) got(msg tea.Msg) (quit bool) {
	h.Helper()
	next, cmd := h.m.Update(msg)
	h.m = next.(Model)
	for cmd != nil {
		msg := cmd()
		if _, over := msg.(tea.QuitMsg); over {
			return true
		}
		next, cmd = h.m.Update(msg)
		h.m = next.(Model)
	}
	return false
}

var named = map[string]tea.KeyType{
	"enter": tea.KeyEnter, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "esc": tea.KeyEsc, "up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
	"pgdown": tea.KeyPgDown, "pgup": tea.KeyPgUp, "backspace": tea.KeyBackspace, "ctrl+s": tea.KeyCtrlS, "ctrl+d": tea.KeyCtrlD, "ctrl+u": tea.KeyCtrlU, "ctrl+p": tea.KeyCtrlP, "ctrl+c": tea.KeyCtrlC, "f1": tea.KeyF1,
}

func (h *hands) press(keys ...string) (quit bool) {
	h.Helper()
	for _, k := range keys {
		msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
		if kind, ok := named[k]; ok {
			msg = tea.KeyMsg{Type: kind}
		} else if k == " " {
			msg = tea.KeyMsg{Type: tea.KeySpace, Runes: []rune(" ")}
		} else if len([]rune(k)) != 1 {
			h.Fatalf("no key is called %q", k)
		}
		*h.clock = h.clock.Add(150 * time.Millisecond)
		h.presses++
		quit = h.got(msg)
	}
	return quit
}

// answer types a line and sends it off. In a field with an answer that is not taken over by
// a letter, the answer is cleared first.
func (h *hands) answer(text string) {
	h.Helper()
	if q := h.m.now(); text != "" && q.Answer != "" && len(q.Choices) == 0 && q.Kind != draft.Places {
		h.press("ctrl+u")
	}
	for _, r := range text {
		h.press(string(r))
	}
	h.press("enter")
	if h.m.wrong {
		h.Fatalf("%q was refused: %v", text, h.m.say)
	}
}

// script answers as package draft's scripts do, and checks that what they name is asked.
func (h *hands) script(lines string) {
	h.Helper()
	for line := range strings.Lines(strings.TrimSpace(lines)) {
		want, text, _ := strings.Cut(strings.TrimSpace(line), "=")
		want, text = strings.TrimSpace(want), strings.TrimSpace(text)
		if got := h.m.now().Ask; got != want {
			h.Fatalf("asked %q, the script answers %q\n%s", got, want, ansi.Strip(h.m.View()))
		}
		h.answer(text)
	}
}

func (h *hands) screen(w, ht int) string {
	h.got(tea.WindowSizeMsg{Width: w, Height: ht})
	return ansi.Strip(h.m.View())
}

func scriptOf(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../procedures/draft/testdata/" + name + ".txt")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The first lines of a script up to one that answers a question.
func upTo(script, ask string) string {
	i := strings.Index(script, "\n"+ask)
	return script[:i+1]
}

// What a person presses to make a sheet, from nothing to the file. A press every 0.6 s (a
// slow typist's 20 words a minute; common practice, no source) and 4 s to read each
// question, which is an estimate and not a measurement.
func TestKeysThatASheetTakes(t *testing.T) {
	for _, tt := range []struct {
		name    string
		presses int
		minutes float64
	}{{"main-caps", 510, 8}, {"two-stroke-case", 341, 6}} {
		h := begin(t, draft.New("caps.toml"), nil)
		script := scriptOf(t, tt.name)
		h.script(script)
		if h.m.now().Kind != draft.Save {
			t.Fatalf("%s ends at %s", tt.name, h.m.now().ID)
		}
		h.press("enter")
		want, err := os.ReadFile("../../procedures/draft/testdata/" + tt.name + ".toml")
		if err != nil || !bytes.Equal(h.written, want) {
			t.Errorf("%s: the screen wrote another sheet than the answers make: %v\n%s", tt.name, err, h.written)
		}
		if _, problems := read.Procedure(tt.name, h.written); len(problems) > 0 {
			t.Errorf("%s: %v", tt.name, problems)
		}
		questions := strings.Count(strings.TrimSpace(script), "\n") + 2
		minutes := (0.6*float64(h.presses) + 4*float64(questions)) / 60
		t.Logf("%s: %d keys, %d questions, some %.0f minutes", tt.name, h.presses, questions, minutes)
		if h.presses != tt.presses || minutes > tt.minutes+0.5 || minutes < tt.minutes-0.5 {
			t.Errorf("%s took %d keys and some %.1f minutes, want %d and %.0f", tt.name, h.presses, minutes, tt.presses, tt.minutes)
		}
		again, err := draft.Open("caps.toml", h.written)
		if err != nil {
			t.Fatal(err)
		}
		same := begin(t, again, h.written)
		for range same.m.all {
			same.press("enter")
		}
		if !bytes.Equal(same.m.Draft().Text(), h.written) {
			t.Errorf("%s: opened again and gone through, it is another sheet", tt.name)
		}
	}
}

func TestGoldenScreens(t *testing.T) {
	drawn := map[string]string{}
	shot := func(name string, h *hands) {
		for _, size := range [][2]int{{80, 24}, {40, 15}, {120, 40}} {
			drawn[fmt.Sprintf("%s-%dx%d", name, size[0], size[1])] = h.screen(size[0], size[1])
		}
	}
	h := begin(t, draft.New("caps.toml"), nil)
	shot("new", h)
	caps := scriptOf(t, "main-caps")
	h.script(upTo(caps, "final torque"))
	h.press("3", "0", "enter")
	shot("refused", h)
	h.press("ctrl+u")
	h.script("final torque = 30 N·m")
	h.press("up", "up", "ctrl+p", "tab", "tab", "right")
	shot("moved", h)
	h.press("u", "enter")
	h = begin(t, draft.New("caps.toml"), nil)
	h.script(upTo(caps, "order of these"))
	h.press("tab", "tab")
	shot("order", h)
	h.press("esc", "ctrl+p", "enter", "right", "enter")
	shot("picking", h)
	h = begin(t, draft.New("caps.toml"), nil)
	h.script(caps)
	shot("end", h)
	h.press("f1")
	shot("keys", h)
	golden.Screens(t, drawn)
}

func TestNothingIsWrittenButOnRequestAndAllIsKept(t *testing.T) {
	h := begin(t, draft.New("caps.toml"), nil)
	h.script("what is done = Fit it\nengine = Osier 9")
	if h.written != nil || !bytes.Equal(h.kept, h.m.Draft().Text()) || !bytes.Contains(h.kept, []byte("Osier 9")) {
		t.Fatalf("written %q, kept %q", h.written, h.kept)
	}
	h.press("o", "ctrl+s")
	if !bytes.Contains(h.written, []byte(`direction = "open"`)) {
		t.Errorf("what was typed is not in the file:\n%s", h.written)
	}
	if !h.m.Written() || !strings.Contains(strings.Join(h.m.say, " "), "wanted before it can be walked") {
		t.Errorf("after writing an unfinished sheet it says %q", h.m.say)
	}
	h.press("pgdown")
	if quit := h.press("esc"); !quit {
		t.Error("esc does not leave")
	}
}

func TestWhatIsTypedIsTakenOnTheWayUpOrRefused(t *testing.T) {
	h := begin(t, draft.New("caps.toml"), nil)
	h.script(upTo(scriptOf(t, "main-caps"), "final torque"))
	h.press("3", "0", "up")
	if !h.m.wrong || h.m.now().ID != "group/main-cap/torque" {
		t.Fatalf("a figure without its unit was left behind; now at %s", h.m.now().ID)
	}
	h.press(" ", "N", "m", "up")
	if h.m.now().ID != "group/main-cap/at" || !bytes.Contains(h.m.Draft().Text(), []byte(`torque   = "30 Nm"`)) {
		t.Errorf("at %s with\n%s", h.m.now().ID, h.m.Draft().Text())
	}
	h.press("down", "x", "esc")
	if h.m.field.Value() != "30 Nm" || h.m.typed {
		t.Errorf("esc leaves %q in the field", h.m.field.Value())
	}
}

func TestAFailedWriteIsSaidAndNothingIsLost(t *testing.T) {
	h := begin(t, draft.New("caps.toml"), nil)
	h.m.cfg.Write = func([]byte) error { return errors.New("the disk is full; make room") }
	h.script("what is done = Fit it")
	h.press("ctrl+s")
	if !h.m.wrong || !strings.Contains(h.m.say[0], "the disk is full") || h.m.Written() || h.kept == nil {
		t.Errorf("says %q, written %v", h.m.say, h.m.Written())
	}
	h.m.cfg.Keep = func([]byte) error { return errors.New("no room for answers") }
	if quit := h.press("x", "enter", "esc"); quit && h.m.wrong {
		t.Error("it leaves with answers that could not be kept")
	}
}

// The same questions as lines: what is said, what each word does, what is written.
func TestAnswersAsLines(t *testing.T) {
	var kept, written []byte
	c := Config{Draft: draft.New("f.toml"), File: "f.toml", Notice: "a new one",
		Keep:  func(text []byte) error { kept = text; return nil },
		Write: func(text []byte) error { written = text; return nil }}
	ask := func(lines ...string) (string, bool) {
		t.Helper()
		var out strings.Builder
		whole, err := Lines(c, strings.NewReader(strings.Join(lines, "\n")), &out)
		if err != nil {
			t.Fatal(err)
		}
		return out.String(), whole
	}
	out, whole := ask("Fit it", "Osier", ".back", "-", ".go 4", "sheet 2", ".nonsense", ".go 99", ".help")
	for _, want := range []string{"a new one", "what is done?", "engine? [Osier]", "  no: .nonsense is no command here", "  no: there is no question 99", ".take out"} {
		if !strings.Contains(out, want) {
			t.Errorf("nothing says %q in\n%s", want, out)
		}
	}
	if text := string(kept); whole || written != nil || strings.Contains(text, "Osier") || !strings.Contains(text, `source    = "sheet 2"`) {
		t.Errorf("whole %v, written %v, kept\n%s", whole, written, kept)
	}
	d, err := draft.Open("f.toml", mustRead(t, "../../procedures/draft/testdata/main-caps.toml"))
	if err != nil {
		t.Fatal(err)
	}
	c.Draft, c.Saved = d, d.Text()
	at := 1 + slices.IndexFunc(d.Questions(), func(q draft.Question) bool { return q.ID == "pass/0/name" })
	out, whole = ask(fmt.Sprint(".go ", at), ".list", ".order", ".take out", ".write", ".quit")
	for _, want := range []string{fmt.Sprint(at, " pass: Draw down"), "    1 M5  cap 3: nearest the middle", "    10 M10  the same cap as M9", "f.toml is written; 0 lines are new, 6 gone, the rest is as it was"} {
		if !strings.Contains(out, want) {
			t.Errorf("nothing says %q in\n%s", want, out)
		}
	}
	if whole || bytes.Contains(written, []byte(`name    = "Draw down"`)) {
		t.Errorf("whole %v\n%s", whole, written)
	}
	if _, whole = ask(".write", ".quit"); !whole || !bytes.Equal(written, d.Text()) {
		t.Errorf("a whole sheet written as it is: whole %v", whole)
	}
	if _, err := Lines(c, strings.NewReader(strings.Repeat("x", 70<<10)), &strings.Builder{}); err == nil || !strings.Contains(err.Error(), "too long") {
		t.Errorf("a line without end: %v", err)
	}
}

// A paste, or a tool that types, answers nothing by its own Enter.
func TestAnEnterThatComesAlongAnswersNothing(t *testing.T) {
	h := begin(t, draft.New("caps.toml"), nil)
	h.got(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("Fit it"), Paste: true})
	h.got(tea.KeyMsg{Type: tea.KeyEnter})
	if h.m.now().ID != "procedure/name" {
		t.Fatalf("went on to %s", h.m.now().ID)
	}
	h.press("enter")
	if h.m.now().ID != "procedure/engine" {
		t.Errorf("the second Enter leaves it at %s", h.m.now().ID)
	}
}

func TestBoltsAreMovedAddedAndTakenOutOnTheMap(t *testing.T) {
	h := begin(t, draft.New("caps.toml"), nil)
	h.script("what is done = Fit it\nengine\ndirection\nsource\na caution\nwhich bolts = case bolts\nthread = M6\nclass\nhow they sit = row of 3")
	h.press("up", "ctrl+p", "tab", "up", "+", "right", "-", "-", "down")
	has := func(line string) {
		t.Helper()
		if !strings.Contains(string(h.m.Draft().Text()), line) {
			t.Errorf("no line %s in\n%s", line, h.m.Draft().Text())
		}
	}
	has("C2 = [60, 5]") // 10 up, 20 right, 5 down
	h.press("a")
	has("C4 = [100, 5]")
	h.press("u")
	if strings.Contains(string(h.m.Draft().Text()), "C4") || h.m.hand != "C1" {
		t.Errorf("undone, C4 is there still, or in hand: %s", h.m.hand)
	}
	h.press("tab", "x")
	if strings.Contains(string(h.m.Draft().Text()), "C2") || h.m.hand != "C3" {
		t.Errorf("C2 is taken out and there still, or in hand: %s", h.m.hand)
	}
	h.press("u")
	has("C2 = [60, 5]")
	h.press("x", "x", "x")
	if !h.m.wrong || !strings.Contains(string(h.m.Draft().Text()), "C2 = ") {
		t.Errorf("the last bolt went too:\n%s", h.m.Draft().Text())
	}
	h.press("enter")
	if h.m.face != onQuestion {
		t.Error("Enter does not end it")
	}
	if !bytes.Equal(h.kept, h.m.Draft().Text()) {
		t.Error("what was moved is not kept")
	}
}

func TestAnOrderIsPickedOnTheMap(t *testing.T) {
	h := begin(t, draft.New("caps.toml"), nil)
	h.script("what is done = Fit it\nengine\ndirection\nsource = sheet\na caution\nwhich bolts = case bolts\nthread = M6\nclass = 8.8\nhow they sit = 2 rows of 2\nfinal torque = 8 N·m\nthreads\non the wrench\nnew ones each time\ngoes on with it\nmore\nmore bolts\nhow it is done = staged\nfigures = 100 %")
	h.press("ctrl+p", "right", "enter", "enter", "backspace", "left", "up", "enter", "enter")
	if got := strings.Join(h.m.picked, " "); got != "C2 C3 C4" {
		t.Fatalf("picked %s", got)
	}
	h.press("enter")
	if !strings.Contains(string(h.m.Draft().Text()), `order   = ["C2", "C3", "C4", "C1"]`) || h.m.face != onQuestion {
		t.Errorf("picked %v:\n%s", h.m.picked, h.m.Draft().Text())
	}
}

func TestTakingOutIsAskedForTwice(t *testing.T) {
	h := begin(t, draft.New("caps.toml"), nil)
	h.script(upTo(scriptOf(t, "main-caps"), "order of these"))
	for h.m.now().ID != "pass/1/name" {
		h.press("up")
	}
	h.press("ctrl+d")
	if n := strings.Count(string(h.m.Draft().Text()), "[[pass]]"); n != 3 {
		t.Fatalf("%d passes after one press", n)
	}
	h.press("ctrl+d")
	if n := strings.Count(string(h.m.Draft().Text()), "[[pass]]"); n != 2 || strings.Contains(string(h.m.Draft().Text()), "Snug") {
		t.Errorf("%d passes:\n%s", n, h.m.Draft().Text())
	}
}

// Whatever is pressed, the screen keeps to its size and the text to being TOML.
func TestAnyKeysAtAnySize(t *testing.T) {
	all := []string{"enter", "tab", "shift+tab", "esc", "up", "down", "left", "right", "pgdown", "pgup", "backspace", "ctrl+s", "ctrl+d", "ctrl+u", "ctrl+p", "f1", "a", "x", "u", "+", "-", "2", " ", "%", "M", "·", "\"", "°", "y", "n"}
	start, err := draft.Open("caps.toml", mustRead(t, "../../procedures/draft/testdata/main-caps.toml"))
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		h := begin(t, start, nil)
		h.got(tea.WindowSizeMsg{Width: rapid.IntRange(1, 130).Draw(rt, "w"), Height: rapid.IntRange(1, 45).Draw(rt, "h")})
		for _, k := range rapid.SliceOfN(rapid.SampledFrom(all), 1, 60).Draw(rt, "keys") {
			h.press(k)
			if lines := strings.Split(h.m.View(), "\n"); len(lines) != h.m.height {
				rt.Fatalf("%d lines in %d", len(lines), h.m.height)
			} else {
				for _, l := range lines {
					if lipgloss.Width(l) > h.m.width {
						rt.Fatalf("%q is wider than %d", l, h.m.width)
					}
				}
			}
		}
		if _, err := draft.Open("caps.toml", h.m.Draft().Text()); err != nil {
			rt.Fatalf("%v\n%s", err, h.m.Draft().Text())
		}
	})
}

func mustRead(t testing.TB, file string) []byte {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func TestKeymapsAreTheHelp(t *testing.T) {
	h := begin(t, draft.New("caps.toml"), nil)
	for _, problems := range [][]string{
		keys.Problems(h.m.keys(), keys.Group{Bindings: h.m.keys().all()}),
		keys.Problems(h.m.mapKeys(), keys.Group{Bindings: h.m.mapKeys().all()}),
		keys.Problems(h.m.pickKeys(), keys.Group{Bindings: h.m.pickKeys().all()}),
	} {
		for _, p := range problems {
			t.Error(p)
		}
	}
}
