package review

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/spec/outside"
	"evenpull/ui/internal/golden"
	"evenpull/ui/keys"
)

func entries() []Entry {
	day := func(d int) time.Time { return time.Date(2026, 11, d, 9, 30, 0, 0, time.UTC) }
	return []Entry{
		{ID: "2026-11-25-7-close-the-crankcase-1", Engine: "7", Procedure: "Close the crankcase", State: "open", Started: day(25), Last: day(25).Add(time.Hour), Confirmed: 12, Of: 37, HeldBy: "process 811 on bench, since 14:55 on 25 November 2026"},
		{ID: "2026-11-24-stand-2-fit-the-flywheel-1", Engine: "stand 2", Procedure: "Fit the flywheel", State: "done", Started: day(24), Last: day(24), Confirmed: 3, Of: 3},
		{ID: "2026-11-20-7-open-the-crankcase-1", Engine: "7", Procedure: "Open the crankcase", State: "done", Started: day(20), Last: day(21), Confirmed: 38, Of: 38},
		{ID: "2026-11-19-8-rod-bolts-by-stretch-1", Engine: "8", Procedure: "Rod bolts by stretch", State: "stopped", Started: day(19), Last: day(19), Confirmed: 2, Of: 8},
		{ID: "2026-11-18-8-broken-1", Engine: "8", Procedure: "Fit the cylinder head", State: "broken", Started: day(18), Last: day(18), Problem: "broken at line 7: it is not as it was written"},
		{ID: "2026-11-02-7-fit-the-cylinder-head-1", Engine: "7", Procedure: "Fit the cylinder head", State: "open", Started: day(2), Last: day(3), Confirmed: 30, Of: 42},
	}
}

func list(w, h int, pressed ...string) List {
	next, _ := NewList(ListConfig{Entries: entries()}).Update(tea.WindowSizeMsg{Width: w, Height: h})
	return pressList(next.(List), pressed...)
}

func pressList(l List, pressed ...string) List {
	types := map[string]tea.KeyType{"enter": tea.KeyEnter, "esc": tea.KeyEsc, "up": tea.KeyUp, "down": tea.KeyDown, "pgdown": tea.KeyPgDown, "end": tea.KeyEnd, "home": tea.KeyHome}
	for _, k := range pressed {
		msgs := []tea.KeyMsg{{Type: types[k]}}
		if _, named := types[k]; !named {
			msgs = nil
			for _, r := range k {
				msgs = append(msgs, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
			}
		}
		for _, msg := range msgs {
			next, _ := l.Update(msg)
			l = next.(List)
		}
	}
	return l
}

func (l List) ids() []string {
	var list []string
	for _, i := range l.shown {
		list = append(list, l.entries[i].ID[:10]+" "+l.entries[i].Engine)
	}
	return list
}

func TestListIsSortedByWhatIsAskedFor(t *testing.T) {
	for pressed, want := range map[string]string{
		"":     "[2026-11-25 7 2026-11-24 stand 2 2026-11-20 7 2026-11-19 8 2026-11-18 8 2026-11-02 7]",
		"r":    "[2026-11-02 7 2026-11-18 8 2026-11-19 8 2026-11-20 7 2026-11-24 stand 2 2026-11-25 7]",
		"s":    "[2026-11-25 7 2026-11-20 7 2026-11-02 7 2026-11-19 8 2026-11-18 8 2026-11-24 stand 2]",
		"ss":   "[2026-11-25 7 2026-11-18 8 2026-11-02 7 2026-11-24 stand 2 2026-11-20 7 2026-11-19 8]",
		"sss":  "[2026-11-18 8 2026-11-24 stand 2 2026-11-20 7 2026-11-25 7 2026-11-02 7 2026-11-19 8]",
		"ssss": "[2026-11-25 7 2026-11-24 stand 2 2026-11-20 7 2026-11-19 8 2026-11-18 8 2026-11-02 7]",
	} {
		if got := fmt.Sprint(list(80, 24, pressed).ids()); got != want {
			t.Errorf("after %q: %s, want %s", pressed, got, want)
		}
	}
}

// The procedure's name gives way before an engine's tag does.
func TestListCutsAnEnginesTagLast(t *testing.T) {
	const tag = "left of the green"
	for _, w := range []int{50, 69, 70, 80, 120} {
		l := NewList(ListConfig{Entries: append([]Entry{{ID: "x", Engine: tag, Procedure: "Close the crankcase", State: "open", Of: 37}}, entries()...)})
		next, _ := l.Update(tea.WindowSizeMsg{Width: w, Height: 24})
		if s := ansi.Strip(next.View()); !strings.Contains(s, tag) || !strings.Contains(s, "Clo") {
			t.Errorf("at %d cells:\n%s", w, s)
		}
	}
}

func TestListIsFilteredByEngineProcedureStateAndDate(t *testing.T) {
	for find, want := range map[string]string{
		"engine:7":             "[2026-11-25 7 2026-11-20 7 2026-11-02 7]",
		"engine:7 state:open":  "[2026-11-25 7 2026-11-02 7]",
		"procedure:head":       "[2026-11-18 8 2026-11-02 7]",
		"date:2026-11-2":       "[2026-11-25 7 2026-11-24 stand 2 2026-11-20 7]",
		"CRANKCASE done":       "[2026-11-20 7]",
		"engine:crankcase":     "[]",
		"nothing-of-that-kind": "[]",
		"2026-11-19 rod":       "[2026-11-19 8]",
		"colour:red":           "[]",
	} {
		if got := fmt.Sprint(list(80, 24, "/", find, "enter").ids()); got != want {
			t.Errorf("find %q: %s, want %s", find, got, want)
		}
	}
	var seen []string
	l := list(80, 24)
	for range len(l.states) + 1 {
		seen = append(seen, fmt.Sprint(len(l.shown)))
		l = pressList(l, "f")
	}
	if got := strings.Join(seen, " "); got != "6 1 2 2 1" { // all, broken, done, open, stopped
		t.Errorf("through the states: %s rows", got)
	}
	if l := list(80, 24, "/", "engine:8", "esc"); len(l.shown) != 6 || l.finding {
		t.Errorf("esc leaves %d rows, finding %v", len(l.shown), l.finding)
	}
}

func TestTheRecordInHandStaysInHand(t *testing.T) {
	l := list(80, 24, "down", "down") // 2026-11-20
	for _, k := range []string{"s", "r", "f", "f"} {
		l = pressList(l, k)
		if id := l.entries[l.shown[l.list.At]].ID; k != "f" && !strings.HasPrefix(id, "2026-11-20") {
			t.Errorf("after %s the hand is on %s", k, id)
		}
	}
	if got := list(80, 24, "down", "enter").Chosen(); got != "2026-11-24-stand-2-fit-the-flywheel-1" {
		t.Errorf("chosen: %q", got)
	}
	if got := list(80, 24, "down", "q").Chosen(); got != "" {
		t.Errorf("leaving chooses %q", got)
	}
	if got := list(80, 24, "/", "none of it", "enter", "enter").Chosen(); got != "" {
		t.Errorf("an empty list gives %q", got)
	}
}

func TestGoldenList(t *testing.T) {
	cases := map[string]string{}
	for _, size := range [][2]int{{80, 24}, {40, 15}} {
		name := func(n string) string { return fmt.Sprintf("%s-%dx%d", n, size[0], size[1]) }
		cases[name("list")] = ansi.Strip(list(size[0], size[1]).View())
		cases[name("list-found")] = ansi.Strip(list(size[0], size[1], "/", "engine:7", "enter", "s", "down").View())
		cases[name("list-finding")] = ansi.Strip(list(size[0], size[1], "/").View())
		cases[name("list-broken")] = ansi.Strip(list(size[0], size[1], "f").View())
		cases[name("list-keys")] = ansi.Strip(list(size[0], size[1], "?").View())
	}
	golden.In(t, "testdata/list", withEnding(cases))
}

func withEnding(cases map[string]string) map[string]string {
	texts := map[string]string{}
	for name, text := range cases {
		texts[name+".txt"] = text + "\n"
	}
	return texts
}

func TestEveryListFits(t *testing.T) {
	pressed := []string{"s", "r", "f", "/", "e", "enter", "esc", "down", "end", "home", "?", "pgdown"}
	r := rand.New(rand.NewPCG(3, 4))
	for range outside.Times(200, 600) {
		w, h := r.IntN(130), r.IntN(40)
		l := list(w, h)
		for range 4 {
			k := pressed[r.IntN(len(pressed))]
			l = pressList(l, k)
			lines := strings.Split(l.View(), "\n")
			if w > 0 && h > 0 && len(lines) != h {
				t.Fatalf("%d×%d after %s: %d lines:\n%s", w, h, k, len(lines), l.View())
			}
			for _, line := range lines {
				if ansi.StringWidth(line) > w {
					t.Fatalf("%d×%d after %s: a line of %d cells: %q", w, h, k, ansi.StringWidth(line), line)
				}
			}
		}
	}
}

func TestKeymapOfTheListIsItsHelp(t *testing.T) {
	l := list(80, 24)
	if problems := keys.Problems(l.keys(), keys.Group{Bindings: l.keys().all()}); problems != nil {
		t.Errorf("problems: %q", problems)
	}
	if problems := keys.Problems(l.findKeys(), keys.Group{Bindings: l.findKeys().all()}); problems != nil {
		t.Errorf("problems: %q", problems)
	}
}

func TestHostileRecordsStayInTheirRow(t *testing.T) {
	bad := "\x1b[2J\u202e\r\n\tx"
	l := NewList(ListConfig{Entries: []Entry{{ID: bad, Engine: bad, Procedure: bad, State: bad, HeldBy: bad, Problem: bad}}})
	next, _ := l.Update(FailedMsg{errors.New(bad)})
	l = next.(List)
	text := ansi.Strip(l.View()) + ansi.Strip(pressList(l, "down").View())
	if strings.ContainsAny(text, "\x1b\r\t\u202e") || len(strings.Split(l.View(), "\n")) != 24 || !slices.Contains(strings.Split(text, " "), "x") && !strings.Contains(text, "x") {
		t.Errorf("%q", text)
	}
}
