// Package program runs all screens in one Bubble Tea program. What a screen leads
// to lies over it and goes away again, on the same terminal, so nothing flashes and
// no key is lost between two of them; and however the program ends, by a key, a
// signal or a terminal that goes away, the terminal is given back as it was and what
// is open is closed.
package program

import (
	"reflect"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/keys"
)

// Layer is a screen, with what has to be closed when it is left.
type Layer struct {
	Screen tea.Model
	Close  func() // may be nil
}

// OpenMsg, as what comes of a screen's command, lays another screen over it.
type OpenMsg Layer

// backMsg takes the screen it came from away.
type backMsg struct{}

// Back is the command of a screen that is left: the one below it is shown again and
// gets a tea.ResumeMsg, since time may have passed; below the last the program ends.
func Back() tea.Msg { return backMsg{} }

// Going is implemented by a screen that leads elsewhere. While it reports true its last
// key is being carried out, and what is pressed meanwhile is for what comes of it.
type Going interface{ Going() bool }

// Keeping is implemented by a screen that has to tell a key that was kept for it from
// one that arrives now.
type Keeping interface {
	Kept(tea.KeyMsg) (tea.Model, tea.Cmd)
}

// Timed is implemented by a screen to which it matters when a key was pressed: it is
// given every key with when it was read, which may be long before its turn.
type Timed interface {
	Pressed(k tea.KeyMsg, at time.Time) (tea.Model, tea.Cmd)
}

// most keys kept for the next screen; more is somebody leaning on one.
const maxHeld = 32

// layer is a Layer that is open.
type layer struct {
	id     int // its messages are known by it
	screen tea.Model
}

// root is the model of the program: the screens, the last of them shown.
type root struct {
	layers  []layer
	opened  int // how many ever were
	size    *tea.WindowSizeMsg
	pressed func() time.Time // when the key in hand was read
	stream  keys.Stream
	moved   bool // the screen has changed since a key came apart from the one before it
	held    []tea.KeyMsg
	open    *closers
	job     *job
}

// New is the model of a program that begins with a screen: Run runs it on a terminal.
// What it is given tells when the key in hand was pressed.
func New(first Layer, pressed func() time.Time) tea.Model { return newRoot(first, pressed) }

func newRoot(first Layer, pressed func() time.Time) root {
	r := root{pressed: pressed, open: &closers{}, job: newJob()}
	r.push(first)
	return r
}

func (r *root) push(l Layer) layer {
	r.opened++
	in := layer{r.opened, l.Screen}
	r.layers = append(slices.Clone(r.layers), in)
	r.open.add(in.id, l.Close)
	return in
}

func (r root) top() layer { return r.layers[len(r.layers)-1] }

// going reports whether the screen that is shown leads elsewhere.
func (r root) going() bool {
	g, ok := r.top().screen.(Going)
	return ok && g.Going()
}

// Init starts the first screen.
func (r root) Init() tea.Cmd { return stamp(r.top().id, r.top().screen.Init()) }

// View is that of the screen shown.
func (r root) View() string { return r.top().screen.View() }

// Update gives a message to whom it is for.
func (r root) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		return r.key(msg)
	case tea.WindowSizeMsg:
		r.size = &msg
	case stopMsg:
		return r, r.stopped(msg)
	case stamped:
		return r.stamped(msg)
	}
	return r.give(len(r.layers)-1, msg)
}

// give gives a message to one layer.
func (r root) give(at int, msg tea.Msg) (root, tea.Cmd) {
	next, cmd := r.layers[at].screen.Update(msg)
	return r.set(at, next), stamp(r.layers[at].id, cmd)
}

func (r root) set(at int, screen tea.Model) root {
	r.layers = slices.Clone(r.layers)
	r.layers[at].screen = screen
	return r
}

// key takes one key. What arrives together with the key that changed the screen was not
// meant for what is shown now, and a key that confirms must answer what is on the screen:
// neither is kept for a screen that is only coming.
func (r root) key(k tea.KeyMsg) (root, tea.Cmd) {
	var together bool
	at := r.pressed()
	r.stream, together = r.stream.Arrive(at)
	r.moved = r.moved && together
	going := r.going()
	switch {
	case going && k.Type == tea.KeyCtrlC:
		return r, tea.Quit // what comes may never come
	case together && (r.moved || going) && k.Type != tea.KeyCtrlC:
		return r, nil
	case going:
		if keeps(k) && len(r.held) < maxHeld {
			r.held = append(slices.Clip(r.held), k)
		}
		return r, nil
	}
	top := len(r.layers) - 1
	if screen, ok := r.layers[top].screen.(Timed); ok {
		next, cmd := screen.Pressed(k, at)
		return r.set(top, next), stamp(r.layers[top].id, cmd)
	}
	return r.give(top, k)
}

// keeps reports whether a key may be kept for a screen that is coming.
func keeps(k tea.KeyMsg) bool {
	return !keys.Several(k) && k.Type != tea.KeyEnter && k.Type != tea.KeySpace && k.Type != tea.KeyPgDown && k.Type != tea.KeyCtrlJ && k.String() != "y"
}

// stamped is a message that came of a command of a layer.
type stamped struct {
	id  int
	msg tea.Msg
}

// stamp marks what comes of a command as its layer's: by then another may be shown.
func stamp(id int, cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return func() tea.Msg {
		switch msg := cmd().(type) {
		case nil:
			return nil
		case tea.BatchMsg:
			for i := range msg {
				msg[i] = stamp(id, msg[i])
			}
			return msg
		default:
			if reflect.TypeOf(msg).PkgPath() == reflect.TypeFor[tea.QuitMsg]().PkgPath() {
				return msg // for the program itself
			}
			return stamped{id, msg}
		}
	}
}

func (r root) stamped(s stamped) (tea.Model, tea.Cmd) {
	at := slices.IndexFunc(r.layers, func(l layer) bool { return l.id == s.id })
	shown := at == len(r.layers)-1
	switch msg := s.msg.(type) {
	case OpenMsg:
		if !shown {
			r.open.once(msg.Close) // nobody waits for it any more
			return r, nil
		}
		in := r.push(Layer(msg))
		return r.show(stamp(in.id, in.screen.Init()))
	case backMsg:
		if !shown {
			return r, nil
		}
		r.open.close(s.id)
		if at == 0 {
			return r, tea.Quit
		}
		r.layers = r.layers[:at]
		next, cmd := r.give(at-1, tea.ResumeMsg{})
		return next.show(cmd)
	}
	if at < 0 {
		return r, nil
	}
	waited := r.going()
	next, cmd := r.give(at, s.msg)
	if waited && !next.going() {
		next.held = nil // it came to nothing, and they were meant for what did not come
	}
	return next, cmd
}

// show tells the screen that is shown now its size and gives it the keys kept for it.
func (r root) show(cmd tea.Cmd) (root, tea.Cmd) {
	cmds := []tea.Cmd{cmd}
	r.moved = true
	at := len(r.layers) - 1
	if r.size != nil {
		r, cmd = r.give(at, *r.size)
		cmds = append(cmds, cmd)
	}
	for len(r.held) > 0 && !r.going() {
		k := r.held[0]
		r.held = r.held[1:]
		if screen, ok := r.top().screen.(Keeping); ok {
			next, c := screen.Kept(k)
			r, cmd = r.set(at, next), stamp(r.top().id, c)
		} else {
			r, cmd = r.give(at, k)
		}
		cmds = append(cmds, cmd)
	}
	return r, tea.Batch(cmds...)
}
