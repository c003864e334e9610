package program

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/ui/keys"
)

// screen is a screen that writes down what it is given. A letter of opens leads to
// another screen, x leaves it.
type screen struct {
	name  string
	log   *[]string
	opens map[string]*screen
	going bool
	fails string // what this key leads to cannot be opened
	keeps bool   // it tells kept keys from others
}

type news string // of a command of a screen

func (s screen) Init() tea.Cmd { s.note("begins"); return func() tea.Msg { return news("begun") } }
func (s screen) View() string  { return s.name }
func (s screen) Going() bool   { return s.going }

func (s screen) note(format string, args ...any) {
	*s.log = append(*s.log, s.name+" "+fmt.Sprintf(format, args...))
}

func (s screen) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		s.note("%d×%d", msg.Width, msg.Height)
	case tea.ResumeMsg:
		s.going = false
		s.note("again")
	case news:
		s.note("%s", string(msg))
	case error:
		s.going = false
		s.note("%v", msg)
	case tea.KeyMsg:
		s.note("key %s", msg)
		switch k := msg.String(); {
		case k == "x":
			s.going = true
			return s, Back
		case k == "b":
			return s, tea.Batch(func() tea.Msg { return news("one") }, func() tea.Msg { return news("two") })
		case s.opens[k] != nil:
			s.going = true
			if s.fails == k {
				return s, func() tea.Msg { return fmt.Errorf("cannot be opened") }
			}
			return s, func() tea.Msg { return OpenMsg{Screen: s.opens[k].kind(), Close: func() { s.opens[k].note("closed") }} }
		}
	}
	return s, nil
}

// kind is the screen as one that keeps keys apart, or not.
func (s screen) kind() tea.Model {
	if s.keeps {
		return keeper{s}
	}
	return s
}

type keeper struct{ screen }

func (k keeper) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := k.screen.Update(msg)
	return keeper{next.(screen)}, cmd
}

func (k keeper) Kept(msg tea.KeyMsg) (tea.Model, tea.Cmd) {
	k.note("kept %s", msg)
	return k, func() tea.Msg { return news("of " + msg.String()) }
}

// rig drives a program without a terminal. What comes of commands waits until it is let
// come.
type rig struct {
	t       *testing.T
	model   tea.Model
	now     time.Time
	waiting []tea.Cmd
	quit    bool
	log     []string
}

func newRig(t *testing.T) (*rig, *screen) {
	r := &rig{t: t, now: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)}
	walk := &screen{name: "walk", log: &r.log, keeps: true}
	list := &screen{name: "list", log: &r.log, opens: map[string]*screen{"w": walk, "c": {name: "converter", log: &r.log}}}
	r.model = New(Layer{Screen: *list, Close: func() { list.note("closed") }}, func() time.Time { return r.now })
	r.wait(r.model.Init())
	r.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	r.come()
	r.log = nil
	return r, list
}

func (r *rig) send(msg tea.Msg) {
	next, cmd := r.model.Update(msg)
	r.model = next
	r.wait(cmd)
}

func (r *rig) wait(cmd tea.Cmd) {
	if cmd != nil {
		r.waiting = append(r.waiting, cmd)
	}
}

// come lets come what waits, and what comes of that.
func (r *rig) come() *rig {
	for len(r.waiting) > 0 {
		cmd := r.waiting[0]
		r.waiting = r.waiting[1:]
		switch msg := cmd().(type) {
		case nil:
		case tea.QuitMsg:
			r.quit = true
		case tea.BatchMsg:
			for _, c := range msg {
				r.wait(c)
			}
		default:
			r.send(msg)
		}
	}
	return r
}

func key(name string) tea.KeyMsg {
	for _, t := range []tea.KeyType{tea.KeyEnter, tea.KeySpace, tea.KeyPgDown, tea.KeyCtrlC, tea.KeyCtrlJ, tea.KeyEsc} {
		if k := (tea.KeyMsg{Type: t}); k.String() == name || name == "space" && t == tea.KeySpace {
			return k
		}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// press gives keys at a hand's pace, sends those of a tool.
func (r *rig) press(names ...string) *rig { return r.keys(100*time.Millisecond, names...) }
func (r *rig) sends(names ...string) *rig { return r.keys(time.Millisecond, names...) }

func (r *rig) keys(gap time.Duration, names ...string) *rig {
	for _, name := range names {
		r.now = r.now.Add(gap)
		r.send(key(name))
	}
	return r
}

func (r *rig) want(t *testing.T, name string, log ...string) {
	t.Helper()
	if !slices.Equal(r.log, log) {
		t.Errorf("%s:\n%s\nwant\n%s", name, strings.Join(r.log, "\n"), strings.Join(log, "\n"))
	}
}

func TestScreensLieOverEachOther(t *testing.T) {
	opened := []string{"walk begins", "walk 80×24"}
	tests := []struct {
		name string
		play func(r *rig)
		log  []string
		view string
		quit bool
	}{
		{"what is chosen lies over the list", func(r *rig) { r.press("w").come().press("k").come() },
			slices.Concat([]string{"list key w"}, opened, []string{"walk begun", "walk key k"}), "walk", false},
		{"and goes away again; the list knows, and the size of now", func(r *rig) {
			r.press("w").come()
			r.send(tea.WindowSizeMsg{Width: 40, Height: 15})
			r.press("x").come()
		}, slices.Concat([]string{"list key w"}, opened, []string{"walk begun", "walk 40×15", "walk key x", "walk closed", "list again", "list 40×15"}), "list", false},
		{"the last one ends the program", func(r *rig) { r.press("x").come() }, []string{"list key x", "list closed"}, "list", true},
		{"what comes of a command is for its screen, shown or not", func(r *rig) { r.press("b", "w").come().press("x").come() },
			[]string{"list key b", "list key w", "walk begins", "walk 80×24", "list one", "list two", "walk begun", "walk key x", "walk closed", "list again", "list 80×24"}, "list", false},
		{"and for nobody once it is left", func(r *rig) { r.press("c").come().press("b", "x").waitingLast(); r.come() },
			[]string{"list key c", "converter begins", "converter 80×24", "converter begun", "converter key b", "converter key x", "converter closed", "list again", "list 80×24"}, "list", false},
		{"keys pressed meanwhile are for what comes, in order", func(r *rig) { r.press("w", "r", "q").come() },
			slices.Concat([]string{"list key w"}, opened, []string{"walk kept r", "walk kept q", "walk begun", "walk of r", "walk of q"}), "walk", false},
		{"a screen that does not ask gets them as keys", func(r *rig) { r.press("c", "2", "N").come() },
			[]string{"list key c", "converter begins", "converter 80×24", "converter key 2", "converter key N", "converter begun"}, "converter", false},
		{"but none that confirms, nor a text that came in one", func(r *rig) { r.press("w", "enter", "space", "pgdown", "y", "24.6", "ctrl+j", "r").come() },
			slices.Concat([]string{"list key w"}, opened, []string{"walk kept r", "walk begun", "walk of r"}), "walk", false},
		{"what arrives together with the key that opened it is dropped, before", func(r *rig) { r.press("w").sends("r", "enter", "q").come() },
			slices.Concat([]string{"list key w"}, opened, []string{"walk begun"}), "walk", false},
		{"and after, until a key comes apart", func(r *rig) { r.press("w").come().sends("r", "enter", "q").press("z").sends("v").come() },
			slices.Concat([]string{"list key w"}, opened, []string{"walk begun", "walk key z", "walk key v"}), "walk", false},
		{"and after going back", func(r *rig) { r.press("w").come().press("x").come().sends("w").press("j").come() },
			slices.Concat([]string{"list key w"}, opened, []string{"walk begun", "walk key x", "walk closed", "list again", "list 80×24", "list key j"}), "list", false},
		{"a wish to leave is never dropped", func(r *rig) { r.press("w").come().sends("ctrl+c").come() },
			slices.Concat([]string{"list key w"}, opened, []string{"walk begun", "walk key ctrl+c"}), "walk", false},
		{"nor while nothing comes", func(r *rig) { r.press("w", "ctrl+c"); r.waiting = r.waiting[1:]; r.come() },
			[]string{"list key w"}, "list", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r, _ := newRig(t)
			tt.play(r)
			r.want(t, tt.name, tt.log...)
			if r.model.View() != tt.view || r.quit != tt.quit {
				t.Errorf("shown is %s, want %s; ended %v, want %v", r.model.View(), tt.view, r.quit, tt.quit)
			}
		})
	}
}

// waitingLast lets what waits come in the other order.
func (r *rig) waitingLast() { slices.Reverse(r.waiting) }

// What could not be opened leaves the screen where it was; the keys kept for it are gone.
func TestWhatCannotBeOpenedTakesNoKeys(t *testing.T) {
	r, list := newRig(t)
	list.fails = "w"
	r.model = New(Layer{Screen: *list}, func() time.Time { return r.now })
	r.press("w", "x").come()
	r.want(t, "refused", "list key w", "list cannot be opened")
	r.log = nil
	r.press("c").come()
	r.want(t, "then", "list key c", "converter begins", "converter begun")
}

// Somebody leaning on a key while a screen is opened fills no memory.
func TestOnlySoManyKeysAreKept(t *testing.T) {
	r, _ := newRig(t)
	r.press("w")
	for range 10 * maxHeld {
		r.press("r")
	}
	r.come()
	kept := 0
	for _, line := range r.log {
		if line == "walk kept r" {
			kept++
		}
	}
	if kept != maxHeld {
		t.Errorf("%d keys were kept, want %d", kept, maxHeld)
	}
}

// However the program ends, what is open is closed, once; what was still being opened
// is closed as soon as it comes.
func TestWhatIsOpenIsClosedHoweverItEnds(t *testing.T) {
	r, _ := newRig(t)
	r.press("w").come()
	open := r.model.(root).open
	open.all()
	open.all()
	slices.Sort(r.log)
	if want := []string{"list closed", "list key w", "walk begins", "walk begun", "walk closed", "walk 80×24"}; !reflect.DeepEqual(r.log, slices.Sorted(slices.Values(want))) {
		t.Errorf("got %v", r.log)
	}
	late := 0
	open.add(99, func() { late++ })
	open.close(99)
	if late != 1 {
		t.Errorf("what was opened after the end was closed %d times", late)
	}
}

// A screen that is no longer waited for is closed at once.
func TestWhatNobodyWaitsForIsClosed(t *testing.T) {
	r, list := newRig(t)
	r.press("w").come()
	r.log = nil
	r.send(stamped{1, OpenMsg{Screen: *list, Close: func() { list.note("closed late") }}})
	r.want(t, "late", "list closed late")
	r.log = nil
	r.send(stamped{1, backMsg{}})
	r.want(t, "a way back from what is not shown")
	if r.model.View() != "walk" {
		t.Errorf("shown is %s", r.model.View())
	}
}

// What Bubble Tea does itself is not kept from it, and stopping is not left to it.
func TestTheProgramsOwnMessagesPass(t *testing.T) {
	for _, cmd := range []tea.Cmd{tea.Quit, tea.ClearScreen, tea.Suspend} {
		if got, want := stamp(1, cmd)(), cmd(); reflect.TypeOf(got) != reflect.TypeOf(want) {
			t.Errorf("%T became %T", want, got)
		}
	}
	if stamp(1, func() tea.Msg { return nil })() != nil {
		t.Error("nothing became something")
	}
	r, _ := newRig(t)
	asIs := filter(&keys.Terminal{})
	if got := asIs(r.model, tea.Suspend()); got != (stopMsg{group: true}) {
		t.Errorf("ctrl+z is %v", got)
	}
	if got := asIs(r.model, news("x")); got != news("x") {
		t.Errorf("news became %v", got)
	}
	if _, cmd := r.model.Update(stopMsg{refresh: true}); cmd == nil {
		t.Error("the terminal is not taken anew")
	}
}
