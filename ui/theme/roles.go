package theme

import (
	"strings"
	"sync"
	"sync/atomic"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// Role is what a piece of text means on the screen.
type Role int

// The roles. Each can be told from plain text without colour, by emphasis or
// by its mark, except Quiet and Plain, which carry nothing that matters.
const (
	Plain       Role = iota // running text
	Title                   // the name of a screen or a block
	Figure                  // the number to set or turn to: full contrast
	Current                 // the fastener, stage or row at hand
	Done                    // confirmed
	Outstanding             // still to do
	Warning                 // wrong, refused, in danger
	Caution                 // take care, not wrong yet
	Quiet                   // units, hints, what may be overlooked
	Key                     // a key to press
	Renew                   // one-use: a new piece is needed
	Hollow                  // a hollow fastener
	LetGo                   // an act that loosens, where no large letters show it
	roleCount
)

// look is how a role is drawn: emphasis that survives without colour, a mark
// to put before it in Unicode and in ASCII, and the hue on either background.
type look struct {
	bold, reverse, underline bool
	mark, asciiMark          string
	dark, light              hue
}

// hue is one colour for terminals of 16 million, 256 and 16 colours. Chosen
// by hand because the automatic step down picks poor neighbours.
type hue struct{ rgb, c256, c16 string }

// The 256-colour value is the cube entry of the same RGB, so both give the
// contrast the test computes. The sixteen are the terminal's own.
var looks = [roleCount]look{
	Plain:       {},
	Title:       {bold: true},
	Figure:      {bold: true},
	Current:     {bold: true, reverse: true, mark: "▶", asciiMark: ">", dark: hue{"#87d7ff", "117", "14"}, light: hue{"#005f87", "24", "4"}},
	Done:        {mark: "✓", asciiMark: "v", dark: hue{"#5fd787", "78", "10"}, light: hue{"#005f00", "22", "2"}},
	Outstanding: {mark: "·", asciiMark: "-", dark: hue{"#ffd787", "222", "11"}, light: hue{"#5f5f00", "58", "0"}},
	Warning:     {bold: true, reverse: true, mark: "!", asciiMark: "!", dark: hue{"#ff8787", "210", "9"}, light: hue{"#870000", "88", "1"}},
	Caution:     {bold: true, underline: true, mark: "!", asciiMark: "!", dark: hue{"#ffaf5f", "215", "11"}, light: hue{"#5f0000", "52", "1"}},
	Quiet:       {dark: hue{"#a8a8a8", "248", "7"}, light: hue{"#585858", "240", "0"}},
	Key:         {bold: true, dark: hue{"#87d7ff", "117", "14"}, light: hue{"#005f87", "24", "4"}},
	Renew:       {underline: true, mark: "◆", asciiMark: "N", dark: hue{"#d7afff", "183", "13"}, light: hue{"#5f0087", "54", "5"}},
	Hollow:      {underline: true, mark: "◎", asciiMark: "O", dark: hue{"#5fd7d7", "80", "14"}, light: hue{"#005f5f", "23", "6"}},
	LetGo:       {bold: true, reverse: true},
}

// styles are made when something is drawn: most commands draw nothing.
var styles = sync.OnceValue(func() *[roleCount]lipgloss.Style {
	made := build(current.Colour)
	return &made
})

// Style returns the style of a role. It panics on a value that is no role:
// roles are constants, so that is a mistake in the program.
func Style(r Role) lipgloss.Style { return styles()[r] }

// Render draws text in the style of a role.
func Render(r Role, text string) string {
	if text == "" || strings.ContainsAny(text, "\n\r\t") {
		return styles()[r].Render(text)
	}
	around := &brushNow().around[r]
	return around[0] + text + around[1]
}

// brush has what stands before and behind a line in each role. Only the first line asks
// its style: frames are drawn at every key, of hundreds of pieces.
type brush struct {
	profile termenv.Profile
	dark    bool
	around  [roleCount][2]string
}

var inHand atomic.Pointer[brush]

// brushNow is made anew when the terminal turns out to be another.
func brushNow() *brush {
	profile, dark := lipgloss.ColorProfile(), lipgloss.HasDarkBackground()
	if b := inHand.Load(); b != nil && b.profile == profile && b.dark == dark {
		return b
	}
	b := &brush{profile: profile, dark: dark}
	for r := range b.around {
		b.around[r][0], b.around[r][1], _ = strings.Cut(styles()[r].Render("x"), "x")
	}
	inHand.Store(b)
	return b
}

// Mark returns the one-cell sign of a role, "" for roles that have none.
func Mark(r Role) string {
	if current.ASCII {
		return looks[r].asciiMark
	}
	return looks[r].mark
}

func build(colour bool) (out [roleCount]lipgloss.Style) {
	for r, l := range looks {
		s := lipgloss.NewStyle()
		if l.bold {
			s = s.Bold(true)
		}
		if l.reverse {
			s = s.Reverse(true)
		}
		if l.underline {
			s = s.Underline(true)
		}
		if colour && l.dark.rgb != "" {
			s = s.Foreground(lipgloss.CompleteAdaptiveColor{Dark: l.dark.complete(), Light: l.light.complete()})
		}
		out[r] = s
	}
	return out
}

func (h hue) complete() lipgloss.CompleteColor {
	return lipgloss.CompleteColor{TrueColor: h.rgb, ANSI256: h.c256, ANSI: h.c16}
}
