package start

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/procedures/session"
	"evenpull/procedures/walk"
	"evenpull/spec/outside"
	"evenpull/ui/internal/golden"
	"evenpull/ui/keys"
	"evenpull/ui/theme"
)

var now = time.Date(2026, 11, 25, 15, 0, 0, 0, time.FixedZone("", 3600))

func clock() time.Time { return now }

// workshop is a bench with two engines in pieces and a year of records.
func workshop() Lists {
	ago := func(d time.Duration) time.Time { return now.Add(-d) }
	l := Lists{
		Open: []Walk{
			{ID: "w1", Procedure: "Close the crankcase", Engine: "stand 2", Ref: "crankcase-close", Next: "Final: B1, 20 N·m", Confirmed: 28, Of: 37, Last: ago(50 * time.Minute)},
			{ID: "w2", Procedure: "Open the crankcase", Engine: "7", Ref: "crankcase-open", Next: "Loosen: R4, loosen 90°", Confirmed: 3, Of: 38, Last: ago(400 * 24 * time.Hour), HeldBy: "process 811 on bench since 14:55"},
		},
		Procedures: []Procedure{
			{Ref: "crankcase-open", Command: "evenpull walk crankcase-open", Name: "Open the crankcase", Engine: "Osier 380 parallel twin", Direction: "open", Stages: 38},
			{Ref: "crankcase-close", Command: "evenpull walk crankcase-close", Name: "Close the crankcase", Engine: "Osier 380 parallel twin", Direction: "close", Stages: 37},
			{Ref: "head-torque-turn", Command: "evenpull walk head-torque-turn", Name: "Tighten the cylinder head", Engine: "Osier 520 four", Direction: "close", Stages: 30},
			{Ref: "pump.toml", Command: "evenpull walk pump.toml", Name: "Close the oil pump", Engine: "Osier 380 parallel twin", Direction: "close", Stages: 8, Own: true},
			{Ref: "sump.toml", Problem: "sump.toml:4:9: 22 has no unit; write 22 N·m", Own: true},
		},
	}
	for i := range 20 {
		r := Record{ID: fmt.Sprintf("2026-0%d-11-stand2-%d", 1+i%9, i), Procedure: "Close the crankcase", Engine: "stand 2", State: "done", Started: ago(time.Duration(i+2) * 24 * time.Hour), Last: ago(time.Duration(i+1) * 24 * time.Hour)}
		if i == 3 {
			r.State, r.Problem = "broken", "line 7 does not follow from line 6"
		}
		l.Records = append(l.Records, r)
	}
	return l
}

func empty() Lists {
	return Lists{Procedures: []Procedure{{Ref: "crankcase-close", Command: "evenpull walk crankcase-close", Name: "Close the crankcase", Engine: "Osier 380 parallel twin", Direction: "close", Stages: 37}}}
}

func at(l Lists, w, h int) Model {
	m := New(Config{Lists: l, Now: clock})
	next, _ := m.Update(tea.WindowSizeMsg{Width: w, Height: h})
	return next.(Model)
}

var types = map[string]tea.KeyType{"tab": tea.KeyTab, "up": tea.KeyUp, "down": tea.KeyDown, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome,
	"end": tea.KeyEnd, "esc": tea.KeyEsc, "enter": tea.KeyEnter, "ctrl+n": tea.KeyCtrlN, "ctrl+c": tea.KeyCtrlC, "ctrl+z": tea.KeyCtrlZ, "backspace": tea.KeyBackspace}

func send(m Model, k string) (Model, tea.Cmd) {
	msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
	if kt, ok := types[k]; ok {
		msg = tea.KeyMsg{Type: kt}
	}
	m.stream = keys.Stream{} // long after the key before: the clock here stands still
	next, cmd := m.Update(msg)
	return next.(Model), cmd
}

// What a tool sends, or a paste holds, chooses nothing and begins no walk.
func TestWhatComesInOneGoChoosesNothing(t *testing.T) {
	for _, face := range []string{"", "/", "enter"} { // the list, a search, an engine's tag
		m := at(workshop(), 80, 24)
		m = press(m, "tab")
		if face != "" {
			m = press(m, face)
		}
		m.stream = keys.Stream{}
		for _, msg := range []tea.KeyMsg{{Type: tea.KeyRunes, Runes: []rune("24.6")}, {Type: tea.KeyEnter}, {Type: tea.KeyEnter}} {
			next, cmd := m.Update(msg)
			if m = next.(Model); cmd != nil {
				t.Errorf("%q: %v ends the screen with %+v", face, msg, m.Choice())
			}
		}
	}
	m := at(workshop(), 80, 24)
	for _, text := range []string{"enter", "q", "c"} {
		if _, cmd := m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true}); cmd != nil {
			t.Errorf("pasting %q ends the screen", text)
		}
	}
	if _, cmd := m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("enter")}); cmd != nil {
		t.Error("the text enter is taken for the key")
	}
}

func press(m Model, keys ...string) Model {
	for _, k := range keys {
		m, _ = send(m, k)
	}
	return m
}

// ends presses keys and asks that the last one, and no other, ends the program.
func ends(t *testing.T, m Model, keys ...string) Choice {
	t.Helper()
	for i, k := range keys {
		var cmd tea.Cmd
		m, cmd = send(m, k)
		quit := cmd != nil && cmd() == tea.QuitMsg{}
		if last := i == len(keys)-1; quit != last {
			t.Fatalf("after %q (%d of %d) it has ended: %v", k, i+1, len(keys), quit)
		}
	}
	return m.Choice()
}

// answering is a screen that asks why a walk can go on without a damaged record.
func answering(w, h int) Model {
	m := at(workshop(), w, h)
	next, _ := m.Update(FailedMsg{Choice{Do: Resume, ID: "w1"}, &session.DamageError{List: []session.Damage{{File: "2026-01-11-stand-2-open-the-crankcase-1.jsonl", What: "broken at line 7: it is not as it was written"}}}})
	return next.(Model)
}

// edited is a screen that asks why a sheet was edited.
func edited(w, h int, c Choice, open ...string) Model {
	m := at(workshop(), w, h)
	next, _ := m.Update(FailedMsg{c, &session.EditedError{Makes: walk.Resheeting{Open: open, Kept: 7}}})
	return next.(Model)
}

// A walk goes over to its edited sheet by a key of its row: what that makes of it is
// shown, and goes with the reason, so that nobody gives it for another edit.
func TestAWalkGoesOverToItsEditedSheet(t *testing.T) {
	m := press(at(workshop(), 80, 24), "home")
	over := Choice{Do: Resume, ID: workshop().Open[0].ID, Edited: true}
	if got := ends(t, m, "e"); got != over {
		t.Fatalf("e on a walk left open chose %+v", got)
	}
	m = edited(80, 24, over, "Final: M1, 24 N·m")
	for _, want := range []string{"The sheet was edited", "cannot be undone", "to be done again:", "  Final: M1, 24 N·m", "stages that stay confirmed: 7"} {
		if s := screen(m); !strings.Contains(s, want) {
			t.Errorf("lacks %q:\n%s", want, s)
		}
	}
	if s := screen(press(m, "enter")); !strings.Contains(s, "write why, in a few words") {
		t.Errorf("without a reason:\n%s", s)
	}
	with := ends(t, m, "o", "l", "d", "enter")
	if !strings.HasSuffix(with.Shown, "confirmed, and to be done again:\n  Final: M1, 24 N·m\nstages that stay confirmed: 7") {
		t.Errorf("shown was %q", with.Shown)
	}
	if want := (Choice{Do: Resume, ID: over.ID, Edited: true, Because: "old", Shown: with.Shown}); with != want {
		t.Errorf("got %+v, want %+v", with, want)
	}
	again := edited(80, 24, with, "Final: M1, 25 N·m") // edited once more meanwhile: what was typed is kept
	if got := ends(t, again, "enter"); got.Because != "old" || got.Shown == with.Shown {
		t.Errorf("asked once more it chose %+v", got)
	}
}

// More than there is room for is read by the keys that are no text, to its last line.
func TestWhatAReasonIsForIsReadToItsEnd(t *testing.T) {
	var open []string
	for i := range 40 {
		open = append(open, fmt.Sprintf("Final: B%d, 24 N·m", i+1))
	}
	m := edited(40, 15, Choice{Do: Resume, ID: "w1", Edited: true}, open...)
	if s := screen(m); strings.Contains(s, "stay confirmed") || !strings.Contains(s, "lines 1-") {
		t.Errorf("at first:\n%s", s)
	}
	for range 20 {
		m = press(m, "pgdown")
	}
	if s := screen(m); !strings.Contains(s, "stay confirmed: 7") || !strings.Contains(s, "of 44") {
		t.Errorf("at the end:\n%s", s)
	}
	if got := ends(t, m, "j", "k", "enter"); got.Because != "jk" {
		t.Errorf("letters are text: %+v", got)
	}
}

// A reason is asked for before anything else; without one nothing is chosen.
func TestAReasonIsAskedForAndKept(t *testing.T) {
	m := answering(80, 24)
	if s := screen(m); !strings.Contains(s, "Why can the walk go on") || !strings.Contains(s, "broken at line 7") {
		t.Errorf("the screen:\n%s", s)
	}
	if s := screen(press(m, " ", "enter")); !strings.Contains(s, "write why, in a few words") {
		t.Errorf("without a reason:\n%s", s)
	}
	if got, want := ends(t, m, "enter", "s", "e", "e", "n", " ", "q", "enter"), (Choice{Do: Resume, ID: "w1", Despite: "seen q"}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got := ends(t, m, "x", "ctrl+c"); got != (Choice{}) {
		t.Errorf("left with %+v", got)
	}
	if s := screen(press(m, "x", "esc")); !strings.Contains(s, "Left open") {
		t.Errorf("back:\n%s", s)
	}
}

func screen(m Model) string { return ansi.Strip(m.View()) }

func TestGoldenScreens(t *testing.T) {
	cases := map[string]string{}
	for _, size := range [][2]int{{80, 24}, {40, 15}, {120, 30}} {
		for name, m := range map[string]Model{
			"reason":   press(answering(size[0], size[1]), "enter"),
			"edited":   edited(size[0], size[1], Choice{Do: Resume, ID: "w1", Edited: true}, "Final: M1, 24 N·m", "Final: M2, 24 N·m"),
			"workshop": at(workshop(), size[0], size[1]),
			"empty":    at(empty(), size[0], size[1]),
			"records":  press(at(workshop(), size[0], size[1]), "end"),
			"problem":  press(at(workshop(), size[0], size[1]), "tab", "down", "down", "down", "down", "enter"),
			"tag":      press(at(workshop(), size[0], size[1]), "tab", "enter"),
			"sheet":    press(at(workshop(), size[0], size[1]), "tab", "tab", "down", "enter", ".", "enter"),
			"tag-open": press(at(workshop(), size[0], size[1]), "tab", "down", "enter", "tab"),
			"find":     press(at(workshop(), size[0], size[1]), "/", "o", "i", "l"),
			"keys":     press(at(workshop(), size[0], size[1]), "?"),
		} {
			cases[fmt.Sprintf("%s-%dx%d", name, size[0], size[1])] = screen(m)
		}
	}
	golden.Screens(t, cases)
}

func TestEveryFrameFits(t *testing.T) {
	keys := []string{"tab", "down", "up", "pgdown", "pgup", "home", "end", "?", "enter", "esc", "/", "x", "é", "s", "r", "backspace"}
	r := rand.New(rand.NewPCG(3, 4))
	long := workshop()
	for i := range long.Records {
		long.Records[i].Engine = strings.Repeat("東京 tag ", 12)
	}
	for range outside.Times(150, 1200) {
		w, h := r.IntN(130), r.IntN(40)
		m := at([]Lists{workshop(), empty(), {}, long}[r.IntN(4)], w, h)
		for range 6 {
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
			if it := m.current(); it != nil && m.face == onList && !m.help && h >= minimal && w >= 40 && !strings.Contains(ansi.Strip(frame), theme.Mark(theme.Current)+" ") {
				t.Fatalf("%d×%d after %s: the row at hand is off the screen:\n%s", w, h, k, frame)
			}
		}
	}
}

func TestChoices(t *testing.T) {
	cases := []struct {
		name string
		keys []string
		want Choice
	}{
		{"enter goes on with the newest open walk", []string{"enter"}, Choice{Do: Resume, ID: "w1"}},
		{"a sheet of one's own is given a name", []string{"tab", "tab", "down", "enter", "o", "i", "l", " ", "p", "u", "m", "p", "enter"}, Choice{Do: Write, Ref: "oil-pump"}},
		{"by its key, whatever is in hand", []string{"w", "p", "u", "m", "p", "enter"}, Choice{Do: Write, Ref: "pump"}},
		{"one's own is changed, even if it cannot be read", []string{"tab", "down", "down", "down", "down", "e"}, Choice{Do: Write, Ref: "sump.toml"}},
		{"a bundled one is not", []string{"tab", "e", "down", "down", "e", "q"}, Choice{}},
		{"down and enter takes the next one", []string{"down", "enter"}, Choice{Do: Resume, ID: "w2"}},
		{"a procedure asks for the engine", []string{"tab", "enter", "9", "enter"}, Choice{Do: Begin, Ref: "crankcase-open", Engine: "9"}},
		{"letters are text while a tag is typed", []string{"tab", "enter", "q", "c", " ", "?", "enter"}, Choice{Do: Begin, Ref: "crankcase-open", Engine: "qc ?"}},
		{"a walk left open on that engine is gone on with", []string{"tab", "enter", "7", "enter"}, Choice{Do: Begin, Ref: "crankcase-open", Engine: "7"}},
		{"unless a new one is asked for", []string{"tab", "enter", "7", "ctrl+n"}, Choice{Do: Begin, Ref: "crankcase-open", Engine: "7", Fresh: true}},
		{"a new one too while a walk of another file is open there", []string{"tab", "down", "enter", "S", "T", "A", "N", "D", " ", "2", "ctrl+n"}, Choice{Do: Begin, Ref: "crankcase-close", Engine: "STAND 2", Fresh: true}},
		{"a tag is the same in any case of its letters", []string{"tab", "down", "enter", "S", "T", "A", "N", "D", " ", "2", "enter"}, Choice{Do: Begin, Ref: "crankcase-close", Engine: "STAND 2"}},
		{"an open walk of another procedure is passed over", []string{"tab", "enter", "s", "t", "a", "n", "d", " ", "2", "ctrl+n"}, Choice{Do: Begin, Ref: "crankcase-open", Engine: "stand 2", Fresh: true}},
		{"tab offers the tags used before", []string{"tab", "enter", "tab", "tab", "enter"}, Choice{Do: Begin, Ref: "crankcase-open", Engine: "7"}},
		{"c is the converter", []string{"c"}, Choice{Do: Convert}},
		{"so is its row", []string{"tab", "tab", "enter"}, Choice{Do: Convert}},
		{"a record is reviewed", []string{"tab", "tab", "tab", "enter"}, Choice{Do: Review, ID: workshop().Records[0].ID}},
		{"a broken record can be looked at too", []string{"tab", "tab", "tab", "down", "down", "down", "enter"}, Choice{Do: Review, ID: workshop().Records[3].ID}},
		{"what is searched for is found", []string{"/", "p", "u", "m", "p", "enter", "enter", "4", "enter"}, Choice{Do: Begin, Ref: "pump.toml", Engine: "4"}},
		{"q leaves", []string{"q"}, Choice{}},
		{"ctrl+c leaves while a tag is typed", []string{"tab", "enter", "x", "ctrl+c"}, Choice{}},
		{"esc goes back from the tag", []string{"tab", "enter", "x", "esc", "q"}, Choice{}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := ends(t, at(workshop(), 80, 24), c.keys...); got != c.want {
				t.Errorf("%v gives %+v, want %+v", c.keys, got, c.want)
			}
		})
	}
}

// Gloves press twice: the second Enter must not start anything by itself.
func TestASecondEnterStartsNoWalkWithoutATag(t *testing.T) {
	m := press(at(workshop(), 80, 24), "tab", "enter", "enter")
	if m.Choice() != (Choice{}) || !strings.Contains(screen(m), "an engine needs a tag") {
		t.Errorf("choice %+v on:\n%s", m.Choice(), screen(m))
	}
}

func TestWhatCannotBeReadSaysWhyAndStartsNothing(t *testing.T) {
	m, cmd := send(press(at(workshop(), 80, 24), "tab", "down", "down", "down", "down"), "enter")
	if cmd != nil || m.Choice() != (Choice{}) || !strings.Contains(screen(m), "22 has no unit; write 22 N·m") {
		t.Errorf("choice %+v on:\n%s", m.Choice(), screen(m))
	}
}

func TestNothingFromAFileReachesTheTerminalRaw(t *testing.T) {
	bad := "a\x1b[2J\u202e\nb"
	l := Lists{Open: []Walk{{Engine: bad, Procedure: bad, Next: bad, HeldBy: bad}}, Procedures: []Procedure{{Ref: bad, Name: bad, Engine: bad, Direction: bad, Problem: bad}}, Records: []Record{{ID: bad, Engine: bad, Procedure: bad, State: bad, Problem: bad}}}
	for _, keys := range [][]string{{}, {"down"}, {"down", "enter"}, {"end"}, {"end", "enter"}} {
		if v := press(at(l, 120, 30), keys...).View(); strings.ContainsAny(v, "\x1b\u202e") {
			t.Errorf("after %v the frame has a control character in it: %q", keys, v)
		}
	}
}

func TestReadingAgainBringsNewListsOrSaysWhatWentWrong(t *testing.T) {
	fail := errors.New("the records folder cannot be read; check its permissions")
	lists, err := workshop(), error(nil)
	m := New(Config{Lists: empty(), Now: clock, Reload: func() (Lists, error) { return lists, err }})
	m, cmd := send(m, "r")
	if cmd == nil {
		t.Fatal("r reads nothing")
	}
	next, _ := m.Update(cmd())
	if m = next.(Model); !strings.Contains(screen(m), "stand 2") {
		t.Errorf("the new lists are not shown:\n%s", screen(m))
	}
	err = fail
	m, cmd = send(m, "r")
	next, _ = m.Update(cmd())
	if m = next.(Model); !strings.Contains(screen(m), "check its permissions") || !strings.Contains(screen(m), "stand 2") {
		t.Errorf("a failed reading must say so and keep what there was:\n%s", screen(m))
	}
	if k := at(workshop(), 80, 24).keys().Reload; k.Enabled() {
		t.Error("r is offered where nothing can be read again")
	}
}

// The procedure's name gives way before an engine's tag does.
func TestAnEnginesTagIsCutLast(t *testing.T) {
	const tag = "left of the two green ones"
	l := workshop()
	l.Open[0].Engine, l.Records = tag, l.Records[:1]
	l.Records[0].Engine = tag
	l.Engines = []Engine{{Tag: tag, Name: "the one with the dent, and a long name"}}
	for w := 40; w < 120; w++ {
		if n := strings.Count(screen(at(l, w, 60)), tag); n != 3 {
			t.Fatalf("at %d cells the tag is whole in %d of 3 rows:\n%s", w, n, screen(at(l, w, 60)))
		}
	}
	if s := screen(at(l, 80, 60)); !strings.Contains(s, tag+"  Close the crankcase") {
		t.Errorf("with room for both both are whole:\n%s", s)
	}
}

func TestKeymapIsTheHelp(t *testing.T) {
	m := New(Config{Lists: workshop(), Now: clock, Reload: func() (Lists, error) { return Lists{}, nil }})
	m = press(m, "tab", "down", "down", "down") // one's own: it can be changed
	help := screen(press(m, "?"))
	for _, b := range m.keys().all() {
		if label, _, _ := strings.Cut(b.Help().Key, ", "); !strings.Contains(help, label+" "+b.Help().Desc) {
			t.Errorf("the list of keys lacks %q", label+" "+b.Help().Desc)
		}
	}
	for _, problems := range [][]string{
		keys.Problems(m.keys(), keys.Group{Bindings: m.keys().all()}),
		keys.Problems(m.tagKeys(), keys.Group{Bindings: m.tagKeys().all()}),
		keys.Problems(m.findKeys(), keys.Group{Bindings: m.findKeys().all()}),
		keys.Problems(m.fieldKeys(), keys.Group{Bindings: m.fieldKeys().all()}),
	} {
		if problems != nil {
			t.Errorf("problems: %q", problems)
		}
	}
}

func TestAgoSpeaksLikeAPerson(t *testing.T) {
	for d, want := range map[time.Duration]string{
		10 * time.Second: "just now", 5 * time.Minute: "5 min ago", 3 * time.Hour: "3 h ago", 4 * 24 * time.Hour: "4 d ago",
		90 * 24 * time.Hour: "2 months ago", 400 * 24 * time.Hour: "13 months ago", 800 * 24 * time.Hour: "2 years ago", -time.Hour: "2026-11-25",
	} {
		if got := ago(now, now.Add(-d)); got != want {
			t.Errorf("%v: got %q, want %q", d, got, want)
		}
	}
	if got := ago(now, time.Time{}); got != "never" {
		t.Errorf("no time: got %q", got)
	}
}

func TestManualGovernsIsAlwaysSaid(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {40, 15}, {120, 30}} {
		if text := screen(at(workshop(), size[0], size[1])); !strings.Contains(text, "The engine's own service manual governs.") {
			t.Errorf("%v does not say it:\n%s", size, text)
		}
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
	for _, frame := range []string{screen(at(workshop(), 80, 24)), screen(press(at(workshop(), 40, 15), "end")), screen(press(at(workshop(), 80, 24), "?"))} {
		for _, r := range frame {
			if r > 0x7e {
				t.Fatalf("%q has %q in it", frame, r)
			}
		}
	}
}

// A key is never named without what it does.
func TestEveryRowSaysWhatEnterDoes(t *testing.T) {
	lists := workshop()
	lists.Engines = []Engine{{Tag: "7", Headline: "last: nothing"}}
	m := at(lists, 80, 24)
	kinds := map[rowKind]bool{}
	for range 60 {
		it := m.current()
		kinds[it.kind] = true
		if m.chooseText() == "" {
			t.Errorf("enter has no word at %q", it.left)
		}
		m = press(m, "down")
	}
	if !kinds[engineRow] || !kinds[recordRow] {
		t.Fatalf("the list was not walked to its engines and records: %v", kinds)
	}
}

// What to have ready is one key of a procedure that can be read, and of nothing else.
func TestWhatToHaveReadyIsOneKey(t *testing.T) {
	lists := workshop()
	lists.Engines = []Engine{{Tag: "7", Headline: "last: nothing"}}
	m, offered := at(lists, 120, 30), 0
	for range 60 {
		it := m.current()
		readable := it.kind == procedureRow && it.problem == ""
		if in := strings.Contains(screen(press(m, "?")), "have ready"); in != readable {
			t.Errorf("among the keys at %q: %v", it.left, in)
		}
		if readable {
			offered++
			if got, want := ends(t, m, "p"), (Choice{Do: Ready, Ref: it.procedure.Ref}); got != want {
				t.Errorf("at %q: %+v, want %+v", it.left, got, want)
			}
		} else if next, cmd := send(m, "p"); cmd != nil || next.Going() {
			t.Errorf("p does something at %q", it.left)
		}
		m = press(m, "down")
	}
	if offered < 4 {
		t.Errorf("offered at %d procedures", offered)
	}
}
