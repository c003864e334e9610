// Package entry is the text field below the figure: a reading, a reason, a note.
package entry

import (
	"errors"
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/spec/quantity"
	"evenpull/ui/field"
	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/overlay"
	"evenpull/ui/theme"
)

// Take makes of a text, without the spaces around it, what it comes to: commands,
// or another overlay in place of the field. An error is shown and the field stays.
type Take func(text string) (overlay.Model, overlay.Answer, error)

// Field is the text field. Start with New.
type Field struct {
	title   string
	take    Take
	reasons []string        // offered under the number keys
	units   []quantity.Unit // offered by tab, for a figure
	tool    bool            // an Enter that comes with the text sends it off
	said    string          // about what was typed last
	refused bool            // said is a refusal
	input   field.Field
}

// longest text that can be typed, in characters.
const maxLength = 200

// New is an empty field under a title; hint stands in it until something is typed.
func New(title, hint string, take Take) Field {
	return Field{title: title, take: take, input: field.New(hint, maxLength).Focus()}
}

// With offers reasons under the number keys, so that gloves will do.
func (f Field) With(reasons ...string) Field {
	f.reasons = reasons
	return f
}

// In offers units by tab, beginning with the first.
func (f Field) In(units []quantity.Unit) Field {
	f.units = units
	return f
}

// FromTool lets an Enter that comes together with the text send it off: a tool ends
// its figure so. Not for reasons, which only a hand gives.
func (f Field) FromTool() Field {
	f.tool = true
	return f
}

// Begun has a text typed already.
func (f Field) Begun(text string) Field {
	f.input = f.input.With(text)
	return f
}

type keymap struct{ Keep, Back, Unit key.Binding }

func bindings() keymap {
	return keymap{
		Keep: keys.New("keep it", "enter", "pgdown"),
		Back: keys.New("back", "esc", "ctrl+c"),
		Unit: keys.New("next unit", "tab"),
	}
}

func (f Field) keys() keymap {
	k := bindings()
	k.Unit.SetEnabled(len(f.units) > 0)
	return k
}

// ErrNoWords refuses an empty text.
var ErrNoWords = errors.New("a few words are needed, or " + Back())

// Back is what a text calls the key that goes back.
func Back() string { return keys.Called(bindings().Back) }

// Adds says how the unit of a figure is put behind it: "tab adds N·m".
func Adds(u quantity.Unit) string { return keys.That(bindings().Unit, "adds "+u.Symbol()) }

// Again says how another unit is: "tab again the next unit".
func Again() string { return keys.That(bindings().Unit, "again the next unit") }

// Keys are those of a text field.
func (f Field) Keys(int, int) []key.Binding {
	k := f.keys()
	return []key.Binding{k.Keep, k.Back, k.Unit}
}

// Typing is always so.
func (f Field) Typing() bool { return true }

// Covers is never so: what the text is about stays in view.
func (f Field) Covers() bool { return false }

// Key takes one key.
func (f Field) Key(p overlay.Press) (overlay.Model, overlay.Answer) {
	k := f.keys()
	switch {
	case key.Matches(p.KeyMsg, k.Back):
		return f, overlay.Answer{Close: true}
	case key.Matches(p.KeyMsg, k.Keep) && p.Together && !f.tool:
		return f.say(keys.That(k.Keep, "once more, if that is right"), false), overlay.Answer{}
	case key.Matches(p.KeyMsg, k.Keep):
		next, answer, err := f.take(strings.TrimSpace(f.input.Value()))
		if err != nil {
			return f.say(err.Error(), true), overlay.Answer{Refused: err.Error()}
		}
		if next == nil {
			next = f
		}
		return next, answer
	case key.Matches(p.KeyMsg, k.Unit):
		return f.Begun(WithNext(f.input.Value(), f.units)).say("", false), overlay.Answer{}
	case p.Type == tea.KeyTab:
		return f, overlay.Answer{}
	}
	if reason, ok := f.reason(p.String()); ok {
		return f.Begun(reason), overlay.Answer{}
	}
	if f.refused && f.tool && f.input.AtEnd() && StartsFigure(string(p.Runes)) {
		f.input = f.input.With("") // a digit begins another figure: it does not run on into the one refused
	}
	f.input = f.input.Key(p.KeyMsg)
	return f.say("", false), overlay.Answer{}
}

func (f Field) say(text string, refused bool) Field {
	f.said, f.refused = text, refused
	return f
}

// StartsFigure reports whether a text begins as a figure does.
func StartsFigure(text string) bool {
	text = strings.TrimLeft(text, "+-")
	return text != "" && text[0] >= '0' && text[0] <= '9'
}

// reason is what a number key stands for, while nothing else has been typed.
func (f Field) reason(key string) (string, bool) {
	if len(key) != 1 || key[0] < '1' || int(key[0]-'1') >= len(f.reasons) {
		return "", false
	}
	typed := f.input.Value()
	for _, r := range append([]string{""}, f.reasons...) {
		if typed == r {
			return f.reasons[key[0]-'1'], true
		}
	}
	return "", false
}

// Lines draws the field with its title above and its reasons below; on the lowest
// screen the field alone.
func (f Field) Lines(w, h int) []string {
	field := fit.Cut(theme.Render(theme.Key, ">")+" "+f.input.View(max(1, w-4)), w)
	if h < 5 {
		return []string{field}[:min(1, max(0, h))]
	}
	var lines []string
	if f.said != "" {
		lines = fit.Badge(" REFUSED ", f.said, w)
	}
	lines = append(append(lines, fit.Paint(theme.Title, f.title, w)...), field)
	var pairs []string
	for i, r := range f.reasons {
		pairs = append(pairs, fmt.Sprint(i+1), r)
	}
	return append(lines, fit.Hints(w, pairs...)...)
}
