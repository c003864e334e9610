package start

import (
	"errors"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/session"
)

// led is a start screen whose choices are carried out, and the lists it comes back to.
func led(lists, later Lists) (Model, *[]Choice) {
	var made []Choice
	m := New(Config{Lists: lists, Now: clock, Reload: func() (Lists, error) { return later, nil }, Go: func(c Choice) tea.Cmd {
		made = append(made, c)
		return func() tea.Msg { return nil }
	}})
	return m, &made
}

// back is what the program gives a screen that is shown again.
func back(t *testing.T, m Model) Model {
	t.Helper()
	next, cmd := m.Update(tea.ResumeMsg{})
	if cmd == nil {
		t.Fatal("the lists are not read again")
	}
	next, _ = next.Update(cmd())
	return next.(Model)
}

func TestTheHandStaysWhereItWasOrGoesToTheWalkThatWasLeft(t *testing.T) {
	first := workshop().Open[0]
	later := workshop()
	later.Open = append([]Walk{{ID: "w9", Procedure: "Close the oil pump", Engine: "9", Ref: "pump.toml", Of: 8, Last: now}}, later.Open...)
	later.Records = nil
	tests := []struct {
		name   string
		keys   []string
		chosen Choice
		hand   string
	}{
		{"the converter", []string{"end", "up", "/", "c", "o", "n", "v", "enter", "enter"}, Choice{Do: Convert}, "Converter"},
		{"by its key, whatever is in hand", []string{"down", "c"}, Choice{Do: Convert}, "Open the crankcase"},
		{"a walk gone on with", []string{"down", "enter"}, Choice{Do: Resume, ID: "w2"}, "Close the oil pump"},
		{"a walk begun", []string{"tab", "enter", "9", "enter"}, Choice{Do: Begin, Ref: "crankcase-open", Engine: "9"}, "Close the oil pump"},
	}
	for _, tt := range tests {
		m, made := led(workshop(), later)
		m = press(m, tt.keys...)
		if len(*made) != 1 || (*made)[0] != tt.chosen || !m.Going() {
			t.Errorf("%s: chose %+v, going %v; want %+v", tt.name, *made, m.Going(), tt.chosen)
			continue
		}
		m = back(t, m)
		if it := m.current(); m.Going() || m.face != onList || it == nil || it.left != tt.hand && it.middle != tt.hand {
			t.Errorf("%s: back at %+v, going %v, want %s in hand", tt.name, it, m.Going(), tt.hand)
		}
	}
	m, _ := led(workshop(), workshop())
	if m = back(t, m); m.current().middle != first.Procedure {
		t.Errorf("after a stop the hand is on %+v", m.current())
	}
}

// What could not be opened is said where it was asked for, and asked again.
func TestWhatCannotBeOpenedIsSaid(t *testing.T) {
	m, made := led(workshop(), workshop())
	m = press(m, "tab", "enter", "7", "enter")
	which := &session.WhichError{Request: session.Request{Procedure: "crankcase-open"}, Candidates: []session.Candidate{{ID: "w2"}}}
	next, _ := m.Update(FailedMsg{(*made)[0], which})
	m = next.(Model)
	if s := screen(m); m.Going() || !strings.Contains(s, "which walk?") || !strings.Contains(s, "start a new one") || !strings.Contains(s, "> 7") {
		t.Errorf("which walk is meant is not asked:\n%s", s)
	}
	if m = press(m, "ctrl+n"); len(*made) != 2 || !(*made)[1].Fresh {
		t.Errorf("a new walk is not begun: %+v", *made)
	}
	next, _ = m.Update(FailedMsg{(*made)[1], errors.New("the disk is full\x1b[2J")})
	if s := screen(next.(Model)); !strings.Contains(s, "the disk is full") || !strings.Contains(s, "Left open") {
		t.Errorf("what went wrong is not said over the lists:\n%s", s)
	}
}
