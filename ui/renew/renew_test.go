package renew

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/procedures/walk"
	"evenpull/spec/ident"
	"evenpull/ui/internal/golden"
	"evenpull/ui/overlay"
)

var pieces = []walk.Renewable{
	{Fastener: "F1", Name: "sealing washer", Count: 2, Needed: true, Why: "one-use"},
	{Fastener: "F1", Name: "fastener", Count: 1, Needed: true, Why: "angle lost"},
	{Fastener: "P1", Name: "tab washer", Count: 1, Needed: true, Why: "one-use", Number: "OS-17"},
	{Part: "base-gasket", Name: "base gasket", Count: 1, Needed: true, Why: "one-use", Renewed: true, Number: "batch 9", At: time.Date(2026, 3, 4, 9, 30, 0, 0, time.UTC)},
}

func press(m Model, names ...string) (Model, overlay.Answer) {
	var did overlay.Answer
	for _, name := range names {
		k := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
		switch name {
		case "enter":
			k = tea.KeyMsg{Type: tea.KeyEnter}
		case "esc":
			k = tea.KeyMsg{Type: tea.KeyEsc}
		case "down":
			k = tea.KeyMsg{Type: tea.KeyDown}
		case "tab":
			k = tea.KeyMsg{Type: tea.KeyTab}
		}
		var next overlay.Model
		next, did = m.Key(overlay.Press{KeyMsg: k})
		m = next.(Model)
	}
	return m, did
}

func TestKeysBecomeCommands(t *testing.T) {
	washer := walk.Command{Do: walk.Renew, Target: "F1", Piece: "sealing washer"}
	bolt := walk.Command{Do: walk.Renew, Target: "F1", Piece: "fastener"}
	numbered := washer
	numbered.Number = "b 12"
	tests := []struct {
		name, owner string
		keys        []string
		want        overlay.Answer
	}{
		{"enter fits the first one due", "F1", []string{"enter"}, overlay.Answer{Commands: []walk.Command{washer}}},
		{"down and enter fits the second", "F1", []string{"down", "enter"}, overlay.Answer{Commands: []walk.Command{bolt}}},
		{"a fits all that is listed", "F1", []string{"a"}, overlay.Answer{Commands: []walk.Command{washer, bolt}}},
		{"n takes a number, letters and all", "F1", []string{"n", "b", " ", "1", "2", "enter"}, overlay.Answer{Commands: []walk.Command{numbered}}},
		{"esc in the number goes back to the list", "F1", []string{"n", "1", "esc", "enter"}, overlay.Answer{Commands: []walk.Command{washer}}},
		{"esc leaves it for later", "F1", []string{"esc"}, overlay.Answer{Close: true, Say: "not recorded as new yet; nothing here is confirmed before it is"}},
		{"enter closes when nothing is due", "base-gasket", []string{"enter"}, overlay.Answer{Close: true}},
		{"a number can be added afterwards", "base-gasket", []string{"n", "7", "enter"}, overlay.Answer{Commands: []walk.Command{{Do: walk.Renew, Target: "base-gasket", Piece: "base gasket", Number: "7"}}}},
		{"a is not for the whole walk", "P1", []string{"tab", "a"}, overlay.Answer{}},
		{"nor where nothing is in hand", "", []string{"a"}, overlay.Answer{}},
		{"k is up here too", "F1", []string{"j", "k", "enter"}, overlay.Answer{Commands: []walk.Command{washer}}},
		{"other keys do nothing", "F1", []string{"x"}, overlay.Answer{}},
	}
	for _, tt := range tests {
		if _, got := press(New(pieces, owner(tt.owner)), tt.keys...); !reflect.DeepEqual(got, tt.want) {
			t.Errorf("%s: %v gave %+v, want %+v", tt.name, tt.keys, got, tt.want)
		}
	}
}

// owner names a thing of these pieces.
func owner(id string) ident.Thing {
	switch id {
	case "":
		return ident.Thing{}
	case "base-gasket":
		return ident.Part(id)
	}
	return ident.Fastener(id, "M8x1.25")
}

func TestGoldenScreens(t *testing.T) {
	numbering, _ := press(New(pieces, owner("F1")), "n", "b")
	drawn := map[string]string{}
	for name, m := range map[string]Model{"one": New(pieces, owner("F1")), "number": numbering, "all": New(pieces, owner("")), "none": New(nil, owner(""))} {
		for _, size := range [][2]int{{80, 12}, {40, 8}} {
			drawn[fmt.Sprintf("%s-%dx%d", name, size[0], size[1])] = ansi.Strip(strings.Join(m.Lines(size[0], size[1]), "\n"))
		}
	}
	golden.Screens(t, drawn)
}

func TestShowsWhatIsDueAndWhatIsNew(t *testing.T) {
	tests := []struct {
		owner string
		want  []string
	}{
		{"F1", []string{"F1 must have new:", "▶ ◆ 2 × sealing washer  due: one-use", "the fastener itself  due: angle lost"}},
		{"", []string{"3 of 4 still due", "P1: tab washer  OS-17, due: one-use", "✓ base gasket  new 09:30, batch 9"}},
		{"base-gasket", []string{"base-gasket: all fitted", "enter close"}},
		{"M1", []string{"none needed"}},
	}
	for _, tt := range tests {
		got := ansi.Strip(strings.Join(New(pieces, owner(tt.owner)).Lines(80, 12), "\n"))
		for _, want := range tt.want {
			if !strings.Contains(got, want) {
				t.Errorf("%q does not show %q:\n%s", tt.owner, want, got)
			}
		}
	}
}

func TestRefreshGoesToTheNextOneDue(t *testing.T) {
	m := New(pieces, owner("F1"))
	done := append([]walk.Renewable{}, pieces...)
	done[0].Renewed = true
	_, did := press(m.with(done), "enter")
	if len(did.Commands) != 1 || did.Commands[0].Piece != "fastener" {
		t.Errorf("after the washer enter gave %+v, want the fastener itself", did)
	}
}

func TestFitsEveryBox(t *testing.T) {
	for w := range 90 {
		for h := range 20 {
			for _, m := range []Model{New(pieces, owner("")), New(pieces, owner("F1")), New(nil, owner(""))} {
				lines := m.Lines(w, h)
				if len(lines) != h {
					t.Fatalf("%d×%d: %d lines", w, h, len(lines))
				}
				for _, l := range lines {
					if ansi.StringWidth(l) > w {
						t.Fatalf("%d×%d: %q is too wide", w, h, ansi.Strip(l))
					}
				}
			}
		}
	}
}

// The number on a bag that has arrived stands before the reason, where a narrow screen
// still has it.
func TestTheLotOnTheShelfIsSaidFirst(t *testing.T) {
	m := New([]walk.Renewable{{Part: "gasket", Name: "head gasket", Count: 1, Needed: true, Number: "980-02", Lot: "lot 5", Why: "one-use"}}, ident.Part("gasket"))
	if got := ansi.Strip(strings.Join(m.Lines(40, 8), "\n")); !strings.Contains(got, "head gasket  lot 5, due: one-use") {
		t.Errorf("%s", got)
	}
}
