package scroll

import (
	"fmt"
	"slices"
	"testing"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"evenpull/ui/keys"
)

func lines(n int) []string {
	list := make([]string, n)
	for i := range list {
		list[i] = fmt.Sprint(i)
	}
	return list
}

func TestKeysMoveThroughAText(t *testing.T) {
	tests := []struct {
		name    string
		from, n int
		key     tea.KeyMsg
		want    int
		scrolls bool
	}{
		{"down", 0, 20, tea.KeyMsg{Type: tea.KeyDown}, 1, true},
		{"up", 3, 20, tea.KeyMsg{Type: tea.KeyUp}, 2, true},
		{"up at the top", 0, 20, tea.KeyMsg{Type: tea.KeyUp}, 0, true},
		{"j and k are down and up", 3, 20, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("k")}, 2, true},
		{"a screen on keeps a line in sight", 0, 20, tea.KeyMsg{Type: tea.KeyPgDown}, 4, true},
		{"enter is a screen on", 4, 20, tea.KeyMsg{Type: tea.KeyEnter}, 8, true},
		{"and moves nothing at the end, but is no other key", 15, 20, tea.KeyMsg{Type: tea.KeyEnter}, 15, true},
		{"a screen back", 9, 20, tea.KeyMsg{Type: tea.KeyPgUp}, 5, true},
		{"to the end", 0, 20, tea.KeyMsg{Type: tea.KeyEnd}, 15, true},
		{"to the top", 9, 20, tea.KeyMsg{Type: tea.KeyHome}, 0, true},
		{"where a larger screen has shown the end", 99, 20, tea.KeyMsg{Type: tea.KeyUp}, 14, true},
		{"another key", 3, 20, tea.KeyMsg{Type: tea.KeyEsc}, 3, false},
		{"all in sight: enter is for something else", 0, 5, tea.KeyMsg{Type: tea.KeyEnter}, 0, false},
	}
	const room = 5
	for _, tt := range tests {
		got, scrolls := Text{tt.from}.Key(Read(), tt.key, tt.n, room)
		if got.Top != tt.want || scrolls != tt.scrolls {
			t.Errorf("%s: at %d, %v; want %d, %v", tt.name, got.Top, scrolls, tt.want, tt.scrolls)
		}
	}
}

// What is on the screen, what its place says and which keys are on all agree, and a key
// that is on moves.
func TestPlaceWindowAndKeysAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, room := rapid.IntRange(0, 40).Draw(t, "n"), rapid.IntRange(0, 20).Draw(t, "room")
		at := Text{rapid.IntRange(-3, 50).Draw(t, "top")}
		shown := at.Window(lines(n), room)
		if len(shown) != min(n, room) {
			t.Fatalf("%d of %d lines in a room of %d", len(shown), n, room)
		}
		want := ""
		if n > room && room > 0 {
			first := slices.Index(lines(n), shown[0]) + 1
			want = fmt.Sprintf("lines %d-%d of %d", first, first+room-1, n)
		}
		if got := at.Place(Lines, n, room); got != want {
			t.Fatalf("the place is %q, want %q", got, want)
		}
		k := at.Keys(Read(), n, room)
		for _, p := range keys.Problems(k, keys.Group{Bindings: k.All()}) {
			t.Fatal(p)
		}
		for _, b := range k.All() {
			next, _ := at.Key(Read(), keyOf(b), n, room)
			if moved := !slices.Equal(next.Window(lines(n), room), shown); room > 0 && moved != b.Enabled() {
				t.Fatalf("%s is on: %v; it moves: %v (%d lines, room %d, %+v)", b.Help().Desc, b.Enabled(), moved, n, room, at)
			}
		}
	})
}

func keyOf(b key.Binding) tea.KeyMsg {
	for _, t := range []tea.KeyType{tea.KeyDown, tea.KeyUp, tea.KeyEnter, tea.KeyPgDown, tea.KeyPgUp, tea.KeyHome, tea.KeyEnd} {
		if k := (tea.KeyMsg{Type: t}); slices.Contains(b.Keys(), k.String()) {
			return k
		}
	}
	panic("no such key: " + b.Help().Key)
}

func TestARowInTheMiddleStaysInSight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, room := rapid.IntRange(1, 40).Draw(t, "n"), rapid.IntRange(1, 20).Draw(t, "room")
		at := rapid.IntRange(0, n-1).Draw(t, "at")
		if first := Around(at, n, room); at < first || at >= first+room || first < 0 || first > max(0, n-room) {
			t.Fatalf("row %d of %d: begins at %d in a room of %d", at, n, first, room)
		}
	})
}

// At the foot the place stays whole and keys give way, down to one: on the smallest
// screens that is worth more.
func TestTheFootHasThePlaceWhole(t *testing.T) {
	at := Text{5}
	place, k := at.Place(Lines, 42, 20), at.Keys(Read(), 42, 20)
	for w, want := range map[int]string{
		60: "↓ down  enter more  ↑ up                    lines 6-25 of 42",
		40: "↓ down  enter more      lines 6-25 of 42",
		30: "↓ down        lines 6-25 of 42",
		20: "↓ down  enter more",
	} {
		if got := ansi.Strip(Foot(w, place, k.Down, k.PageDown, k.Up)); got != want {
			t.Errorf("in %d cells: %q, want %q", w, got, want)
		}
	}
	if got := ansi.Strip(Foot(40, "", k.Down)); got != "↓ down" {
		t.Errorf("without a place: %q", got)
	}
}
