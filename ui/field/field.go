// Package field is one line of text that is typed, with a cursor in it. A text that is
// longer than its place is shown around the cursor.
package field

import (
	"slices"
	"strings"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"

	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// Field is a value: what a key makes of it is another one. Start with New.
type Field struct {
	example string // stands in it until something is typed
	most    int    // characters
	text    []rune // never changed in place: copies of a Field share it
	at      int    // characters before the cursor
	focused bool
}

// New is an empty field for a number of characters.
func New(example string, most int) Field { return Field{example: example, most: most} }

// Value is what stands in the field.
func (f Field) Value() string { return string(f.text) }

// AtEnd reports whether what is typed goes behind the text.
func (f Field) AtEnd() bool { return f.at == len(f.text) }

// With has a text in it, and the cursor behind that.
func (f Field) With(text string) Field {
	f.text, f.at = nil, 0
	return f.insert([]rune(text))
}

// Focus gives the field the keys, and shows its cursor.
func (f Field) Focus() Field { f.focused = true; return f }

// Blur takes them away.
func (f Field) Blur() Field { f.focused = false; return f }

// Key is what a key makes of the field: nothing while it has not the keys. The key is
// known by its type, for a text that was typed or pasted may have the name of one.
func (f Field) Key(k tea.KeyMsg) Field {
	if !f.focused {
		return f
	}
	switch k.Type {
	case tea.KeyLeft, tea.KeyCtrlB, tea.KeyRight, tea.KeyCtrlF, tea.KeyCtrlLeft, tea.KeyCtrlRight, tea.KeyHome, tea.KeyCtrlA, tea.KeyEnd, tea.KeyCtrlE:
		f.at = f.to(k)
	case tea.KeyBackspace, tea.KeyCtrlH, tea.KeyDelete, tea.KeyCtrlD, tea.KeyCtrlW, tea.KeyCtrlU, tea.KeyCtrlK:
		f = f.without(f.at, f.to(k))
	case tea.KeyRunes, tea.KeySpace:
		switch {
		case k.Alt && !k.Paste && string(k.Runes) == "b":
			f.at = f.wordBefore()
		case k.Alt && !k.Paste && string(k.Runes) == "f":
			f.at = f.wordAfter()
		case k.Alt && !k.Paste && string(k.Runes) == "d":
			f = f.without(f.at, f.wordAfter())
		default:
			f = f.insert(k.Runes)
		}
	}
	return f
}

// to is where a key takes the cursor, or up to where it takes the text out.
func (f Field) to(k tea.KeyMsg) int {
	switch k.Type {
	case tea.KeyHome, tea.KeyCtrlA, tea.KeyCtrlU:
		return 0
	case tea.KeyEnd, tea.KeyCtrlE, tea.KeyCtrlK:
		return len(f.text)
	case tea.KeyCtrlLeft, tea.KeyCtrlW:
		return f.wordBefore()
	case tea.KeyCtrlRight:
		return f.wordAfter()
	case tea.KeyLeft, tea.KeyCtrlB, tea.KeyBackspace, tea.KeyCtrlH:
		if k.Alt && k.Type != tea.KeyCtrlB && k.Type != tea.KeyCtrlH {
			return f.wordBefore()
		}
		return max(0, f.at-1)
	}
	if k.Alt && k.Type != tea.KeyCtrlF && k.Type != tea.KeyCtrlD {
		return f.wordAfter()
	}
	return min(len(f.text), f.at+1)
}

func (f Field) wordBefore() int {
	at := f.at
	for at > 0 && unicode.IsSpace(f.text[at-1]) {
		at--
	}
	for at > 0 && !unicode.IsSpace(f.text[at-1]) {
		at--
	}
	return at
}

func (f Field) wordAfter() int {
	at := f.at
	for at < len(f.text) && unicode.IsSpace(f.text[at]) {
		at++
	}
	for at < len(f.text) && !unicode.IsSpace(f.text[at]) {
		at++
	}
	return at
}

// without takes the text between two places out.
func (f Field) without(a, b int) Field {
	a, b = min(a, b), max(a, b)
	f.text, f.at = slices.Concat(f.text[:a], f.text[b:]), a
	return f
}

// insert puts characters in at the cursor, as many as there is room for: line ends and
// tabs as spaces, other control characters not at all.
func (f Field) insert(typed []rune) Field {
	var clean []rune
	for _, r := range typed {
		switch {
		case r == '\n' || r == '\r' || r == '\t':
			clean = append(clean, ' ')
		case r != unicode.ReplacementChar && !unicode.IsControl(r):
			clean = append(clean, r)
		}
	}
	clean = clean[:min(len(clean), max(0, f.most-len(f.text)))]
	f.text, f.at = slices.Concat(f.text[:f.at], clean, f.text[f.at:]), f.at+len(clean)
	return f
}

// View draws the field in w cells and one for the cursor behind its text, letter for
// letter as this terminal can show it, so that the cursor stands where it types.
func (f Field) View(w int) string {
	if len(f.text) == 0 && f.example != "" {
		example, quiet := []rune(theme.Text(f.example)), theme.Style(theme.Quiet)
		return fit.Pad(f.cursor(string(example[:1]), quiet)+quiet.Inline(true).Render(fit.Cut(string(example[1:]), w-1)), w)
	}
	shown := append([]rune(typed(f.Value())), ' ')
	from, to := 0, len(shown)
	for fit.Width(string(shown[from:f.at+1])) > w+1 {
		from++
	}
	for to > f.at+1 && fit.Width(string(shown[from:to])) > w+1 {
		to--
	}
	plain := lipgloss.NewStyle()
	view := string(shown[from:f.at]) + f.cursor(string(shown[f.at]), plain) + string(shown[f.at+1:to])
	return fit.Pad(view, w+1)
}

// cursor shows the character that it stands on.
func (f Field) cursor(on string, without lipgloss.Style) string {
	if !f.focused {
		return without.Inline(true).Render(on)
	}
	return theme.Style(theme.Current).Inline(true).Reverse(true).Render(on)
}

// typed is a text with as many characters as it has, all of which this terminal can show.
func typed(text string) string {
	if !theme.ASCII() {
		return text
	}
	return strings.Map(func(r rune) rune {
		if r <= '~' {
			return r
		}
		if as := strings.TrimSpace(theme.Fold(string(r))); as != "" && (as[0] < '0' || as[0] > '9') { // 1½ is not 11
			return rune(as[0])
		}
		return '?'
	}, text)
}
