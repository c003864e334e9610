// Package anysize is for tests: it looks at a screen at every size a terminal may have.
package anysize

import (
	"fmt"
	"iter"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"evenpull/spec/outside"
	"evenpull/ui/theme"
)

// On draws in colour and in letters of all kinds, or in seven bits alone, as long as
// the test goes on.
func On(t *testing.T, ascii bool) {
	t.Helper()
	t.Setenv(sevenBits, "")
	was, profile := theme.ASCII(), lipgloss.ColorProfile()
	t.Cleanup(func() {
		lipgloss.SetColorProfile(profile)
		draw(was)
	})
	draw(ascii)
	lipgloss.SetColorProfile(termenv.ANSI256)
}

// sevenBits is the variable that says whether only seven bits may be drawn.
const sevenBits = "EVENPULL_ASCII"

func draw(ascii bool) {
	_ = os.Setenv(sevenBits, map[bool]string{false: "0", true: "1"}[ascii])
	theme.ForText()
}

// Size is that of a terminal, in cells.
type Size struct{ W, H int }

func (s Size) String() string { return fmt.Sprintf("%d×%d", s.W, s.H) }

// Least and Most are the sizes every screen is held to.
var Least, Most = Size{10, 3}, Size{400, 120}

// Edges are the sizes at which screens are laid out otherwise, on either side.
var Edges = []Size{Least, {10, 120}, {400, 3}, {35, 12}, {36, 11}, {36, 12}, {40, 15}, {59, 14}, {60, 13}, {70, 17}, {69, 18}, {70, 18}, {80, 24}, {99, 20}, {100, 19}, Most}

// drawn is any size, a small one as often as any other.
func drawn() Size {
	most := []Size{{80, 24}, {130, 40}, Most}[rand.IntN(3)]
	return Size{Least.W + rand.IntN(most.W-Least.W+1), Least.H + rand.IntN(most.H-Least.H+1)}
}

// Between are the sizes from one to another: all where outside programs are asked, else a
// fifth, of every width and of every height.
func Between(least, most Size) iter.Seq[Size] {
	step := outside.Times(5, 1)
	return func(yield func(Size) bool) {
		for w := least.W; w <= most.W; w++ {
			for h := least.H; h <= most.H; h++ {
				if (w+2*h)%step == 0 && !yield(Size{w, h}) {
					return
				}
			}
		}
	}
}

// At is the screen after it was told of some sizes, one after the other.
func At(m tea.Model, list ...Size) tea.Model {
	for _, s := range list {
		m, _ = m.Update(tea.WindowSizeMsg{Width: s.W, Height: s.H})
	}
	return m
}

// Problem says what is wrong with a frame on a screen of a size; "" is nothing.
func Problem(view string, s Size) string {
	text := ansi.Strip(view)
	lines := strings.Split(text, "\n")
	switch {
	case strings.TrimSpace(text) == "":
		return "nothing is on the screen"
	case len(lines) > s.H:
		return fmt.Sprintf("it has %d lines", len(lines))
	}
	for i, l := range lines {
		// By letters that join and, as older terminals have it, one by one.
		if w := max(ansi.StringWidth(l), ansi.StringWidthWc(l)); w > s.W {
			return fmt.Sprintf("line %d is %d cells wide: %q", i+1, w, l)
		}
		if strings.ContainsFunc(l, unicode.IsControl) {
			return fmt.Sprintf("line %d has a control character: %q", i+1, l)
		}
		if theme.ASCII() && strings.ContainsFunc(l, func(r rune) bool { return r > '~' }) {
			return fmt.Sprintf("line %d is not in seven bits: %q", i+1, l)
		}
	}
	return ""
}

// Screen is one to be looked at. Also, if it is there, says what else is wrong with
// what it shows.
type Screen struct {
	Name  string
	Model tea.Model
	Also  func(shown tea.Model, s Size) string
}

// look shows the screen at the last of some sizes, and gives what is drawn.
func (c Screen) look(t *testing.T, sizes ...Size) string {
	t.Helper()
	s, shown := sizes[len(sizes)-1], At(c.Model, sizes...)
	view := shown.View()
	problem := Problem(view, s)
	if problem == "" && c.Also != nil {
		problem = c.Also(shown, s)
	}
	if problem != "" {
		t.Fatalf("%s at %v: %s\n%s", c.Name, sizes, problem, ansi.Strip(view))
	}
	return view
}

// AtEdges looks at each screen at all edges where outside programs are asked, else at
// every second one: at each edge then every second screen is looked at.
func AtEdges(t *testing.T, screens ...Screen) {
	t.Helper()
	step := outside.Times(2, 1)
	for i, c := range screens {
		for k := i % step; k < len(Edges); k += step {
			c.look(t, Edges[k])
		}
	}
}

// draws is how many of the sizes that there are Drawn looks at.
var draws = outside.Times(40, 100)

// Drawn looks at screens at drawn sizes that come after some others: the last alone counts.
func Drawn(t *testing.T, screens ...Screen) {
	t.Helper()
	for range draws {
		c, storm := screens[rand.IntN(len(screens))], make([]Size, 2+rand.IntN(4))
		for i := range storm {
			storm[i] = drawn()
		}
		shown := c.look(t, storm...)
		if once := At(c.Model, storm[len(storm)-1]).View(); once != shown {
			t.Fatalf("%s after sizes %v is not as after the last alone:\n%s\n%s", c.Name, storm, ansi.Strip(shown), ansi.Strip(once))
		}
	}
}
