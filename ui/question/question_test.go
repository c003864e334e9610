package question

import (
	"reflect"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/ui/keys"
	"evenpull/ui/overlay"
)

var asked = Model{
	Word: "LEAVE?", Text: "All is on disk.", Below: "evenpull walk 7",
	Choices: []Choice{{keys.New("leave", "q", "enter"), overlay.Answer{Leave: true}}, {keys.New("stay", "esc"), overlay.Answer{Close: true}}},
	Other:   overlay.Answer{Say: "still here"},
}

func TestEachKeyHasItsAnswer(t *testing.T) {
	tests := []struct {
		key  tea.KeyMsg
		want overlay.Answer
	}{
		{tea.KeyMsg{Type: tea.KeyEnter}, overlay.Answer{Leave: true}},
		{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("q")}, overlay.Answer{Leave: true}},
		{tea.KeyMsg{Type: tea.KeyEsc}, overlay.Answer{Close: true}},
		{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("x")}, overlay.Answer{Say: "still here"}},
	}
	for _, tt := range tests {
		next, got := asked.Key(overlay.Press{KeyMsg: tt.key})
		if !reflect.DeepEqual(got, tt.want) || !reflect.DeepEqual(next, overlay.Model(asked)) {
			t.Errorf("%v gave %+v, want %+v", tt.key, got, tt.want)
		}
	}
}

func TestTheQuestionStandsAboveItsKeys(t *testing.T) {
	for _, tt := range []struct {
		w, h int
		want string
	}{
		{60, 5, " LEAVE?  All is on disk.\nevenpull walk 7"},
		{60, 1, " LEAVE?  All is on disk."},
		{15, 5, " LEAVE?\nAll is on disk.\nevenpull walk 7"},
		{60, 0, ""},
	} {
		lines := asked.Lines(tt.w, tt.h)
		for i := range lines {
			lines[i] = strings.TrimRight(ansi.Strip(lines[i]), " ")
		}
		if got := strings.Join(lines, "\n"); got != tt.want {
			t.Errorf("in %d×%d:\n%s\nwant\n%s", tt.w, tt.h, got, tt.want)
		}
	}
	if list := asked.Keys(60, 5); len(list) != 2 || list[0].Help().Key != "q, enter" || list[1].Help().Desc != "stay" {
		t.Errorf("the keys are %v", list)
	}
}
