// Package overlay is the contract of what lies over the walk at the stand and
// has its keys: a text field below the figure, the pieces that must be new, the
// converter, a text to read. An overlay decides nothing about the walk: it hands
// back commands, and the walk judges them.
package overlay

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/ui/gauge"
)

// Model is an overlay.
type Model interface {
	// Key takes one key and gives what lies there next: itself, or what it gives way to.
	Key(Press) (Model, Answer)
	// Lines draws it in lines of at most w cells: exactly h of them, keys at the
	// bottom, when it covers the figure; else at most h, without its keys.
	Lines(w, h int) []string
	// Keys are its bindings in w×h cells, the most needed first.
	Keys(w, h int) []key.Binding
	// Typing reports whether a text field has the keys: letters and spaces are text.
	Typing() bool
	// Covers reports whether it stands in place of the figure rather than below it.
	Covers() bool
}

// Refresher is an overlay that shows what the walk knows: it is given the state
// again after each event, and reports whether anything is left to ask for.
type Refresher interface {
	Refresh(*walk.State) (next Model, more bool)
}

// Press is one key as an overlay gets it.
type Press struct {
	tea.KeyMsg
	Together bool // it arrived together with the key before, as no hand presses
	W, H     int  // the cells the overlay is drawn in
}

// Answer is what a key came to. The zero value is nothing further.
type Answer struct {
	Commands []walk.Command // to be put to the walk, in order
	Close    bool           // the overlay is taken down
	Leave    bool           // the walk is left
	Say      string         // a word on the side
	Gauge    *gauge.Gauge   // what a gauge sends from here on; nil: as before
	Refused  string         // why what was typed is not taken; the overlay shows it itself
}
