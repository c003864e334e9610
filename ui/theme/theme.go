// Package theme holds every colour and text style of the screens, named by
// the role they play and not by their hue, and decides once, from the
// environment alone, how the terminal is to be drawn on.
//
// It must come up before Bubble Tea. Bubble Tea v1 asks the terminal for its
// background in a package init and waits five seconds for a terminal that
// doesn't answer. Lip Gloss doesn't ask once it has been told, and Go runs
// package inits by import path as soon as a package's imports are ready, so
// this package tells it in its own init. That only works while
//
//   - the import path sorts before "github.com/", and
//   - it imports nothing that Bubble Tea doesn't import too.
//
// Both are held by tests, and so is the outcome, on a real pseudo-terminal.
// For the same reason every package that draws must import this one.
package theme

import (
	"os"

	"github.com/charmbracelet/lipgloss"
)

// current is what this process draws with. It is a package variable because
// Lip Gloss's renderer is one too: both describe the one terminal there is.
var current Settings

func init() {
	current = FromEnv(os.Getenv)
	lipgloss.SetHasDarkBackground(current.Dark)
	if !current.Colour {
		// With its own idea of NO_COLOR Lip Gloss would drop bold and reverse
		// as well. Keep them: the palette below leaves out the hues instead.
		lipgloss.SetColorProfile(lipgloss.DefaultRenderer().Output().ColorProfile())
	}
}

// ASCII reports whether only 7-bit characters may be drawn.
func ASCII() bool { return current.ASCII }

// ForText draws from now on for a result that is read anywhere, a file or a
// pipe: whatever the locale and the terminal, it is the same bytes. Only
// EVENPULL_ASCII still counts.
func ForText() {
	own := os.Getenv("EVENPULL_ASCII")
	current.ASCII = own != "" && own != "0"
}
