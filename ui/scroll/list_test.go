package scroll

import (
	"fmt"
	"slices"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"

	"evenpull/ui/keys"
)

// The keys that move are the same wherever they are free; what they are not free for is
// the other's: Enter and the space bar choose a row, a pedal's Page Down too, and letters
// are text while words are typed.
func TestTheSameKeysMoveEverywhere(t *testing.T) {
	const n, at, screen = 30, 10, 5
	sets := map[string]Keys{"a text": Read(), "a list": Rows(), "a list with a pedal": Hand(), "while typing": Typing()}
	for _, tt := range []struct {
		key  string
		to   int
		free []string // where it moves
	}{
		{"down", 11, []string{"a text", "a list", "a list with a pedal", "while typing"}},
		{"up", 9, []string{"a text", "a list", "a list with a pedal", "while typing"}},
		{"j", 11, []string{"a text", "a list", "a list with a pedal"}},
		{"k", 9, []string{"a text", "a list", "a list with a pedal"}},
		{"home", 0, []string{"a text", "a list", "a list with a pedal"}},
		{"g", 0, []string{"a text", "a list", "a list with a pedal"}},
		{"end", 29, []string{"a text", "a list", "a list with a pedal"}},
		{"G", 29, []string{"a text", "a list", "a list with a pedal"}},
		{"pgdown", 15, []string{"a text", "a list", "while typing"}},
		{"pgup", 5, []string{"a text", "a list", "while typing"}},
		{"b", 5, []string{"a text", "a list"}},
		{"enter", 15, []string{"a text"}},
		{" ", 15, []string{"a text"}},
		{"x", 0, nil},
	} {
		for name, set := range sets {
			to, moved := set.Move(named(tt.key), at, n, screen)
			if free := slices.Contains(tt.free, name); moved != free || free && to != tt.to || !free && to != at {
				t.Errorf("%q in %s: to %d, %v; want %d, %v", tt.key, name, to, moved, tt.to, free)
			}
		}
	}
}

func named(k string) tea.KeyMsg {
	for _, t := range []tea.KeyType{tea.KeyDown, tea.KeyUp, tea.KeyEnter, tea.KeyPgDown, tea.KeyPgUp, tea.KeyHome, tea.KeyEnd, tea.KeySpace} {
		if msg := (tea.KeyMsg{Type: t}); msg.String() == k || t == tea.KeySpace && k == " " {
			return msg
		}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
}

// Wherever the keys lead, the row in hand is one of the list and on the screen, a key
// that is on moves it, and what is in sight already does not run.
func TestTheHandStaysInTheListAndInSight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, room := rapid.IntRange(0, 40).Draw(t, "n"), rapid.IntRange(0, 20).Draw(t, "room")
		l := List{rapid.IntRange(-2, 45).Draw(t, "at"), rapid.IntRange(-2, 45).Draw(t, "top")}.Held(n, room)
		on := l.Keys(Rows(), n)
		for _, p := range keys.Problems(on, keys.Group{Bindings: on.All()}) {
			t.Fatal(p)
		}
		for _, b := range on.All() {
			next, moves := l.Key(Rows(), keyOf(b), n, room)
			if !moves || (next.At != l.At) != b.Enabled() {
				t.Fatalf("%s is on: %v; from %d to %d of %d", b.Help().Desc, b.Enabled(), l.At, next.At, n)
			}
			from, to := next.Window(n, room)
			if n > 0 && room > 0 && (next.At < from || next.At >= to || to-from != min(n, room)) {
				t.Fatalf("%s: row %d of %d, shown %d to %d in a room of %d", b.Help().Desc, next.At, n, from, to, room)
			}
			if sight := next.At >= l.Top && next.At < l.Top+room; sight && next.Top != l.Top {
				t.Fatalf("%s: row %d was in sight from %d, and it runs to %d", b.Help().Desc, next.At, l.Top, next.Top)
			}
		}
		if same, moves := l.Key(Rows(), named("x"), n, room); moves || same != l {
			t.Fatalf("a key that does not move: %v, %+v", moves, same)
		}
	})
}

func TestAScreenOnKeepsARowInSight(t *testing.T) {
	l, _ := List{At: 9, Top: 9}.Key(Rows(), named("pgdown"), 40, 10)
	if l.At != 18 || l.Top != 9 {
		t.Errorf("a screen on: %+v", l)
	}
	l, _ = l.Key(Rows(), named("pgup"), 40, 10)
	if got := fmt.Sprint(l); got != fmt.Sprint(List{9, 9}) {
		t.Errorf("and back: %s", got)
	}
}
