package stand

import (
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

// rig is a stand screen with a clock that goes on a second with every key, and
// a record in memory that can be made to fail.
type rig struct {
	t      testing.TB
	model  Model
	now    time.Time
	events []walk.Event
	fails  error
	late   bool      // keep writes back
	kept   []tea.Cmd // what was kept back
	quit   bool
}

var errDiskFull = errors.New("write the record: no space left on device")

func newRig(t testing.TB, text string, change ...func(*Config)) *rig {
	t.Helper()
	r := &rig{t: t, now: time.Date(2026, 3, 4, 9, 30, 0, 0, time.UTC)}
	cfg := Config{
		State: newState(t, text), Append: r.append, Now: func() time.Time { return r.now },
		RecordID: "20260304-093000-osier", Engine: "A12", Back: "evenpull walk crankcase-close --engine A12",
	}
	for _, c := range change {
		c(&cfg)
	}
	r.model = New(cfg)
	r.model.every = func(time.Duration, func(time.Time) tea.Msg) tea.Cmd { return nil }
	r.size(80, 24)
	return r
}

// plans are read once of each text: no walk changes one.
var plans = map[string]*plan.Plan{}

func newState(t testing.TB, text string) *walk.State {
	t.Helper()
	if plans[text] == nil {
		p, problems := read.Procedure("case.toml", []byte(text))
		if p == nil {
			t.Fatalf("the procedure does not read: %v", problems)
		}
		plans[text] = plan.Of(p)
	}
	return walk.New(plans[text])
}

func caseText(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("testdata/case.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func (r *rig) append(e walk.Event) error {
	if r.fails != nil {
		return r.fails
	}
	r.events = append(r.events, e)
	return nil
}

func (r *rig) size(w, h int) { r.send(tea.WindowSizeMsg{Width: w, Height: h}) }

// send gives a message and runs what comes of it to the end.
func (r *rig) send(msg tea.Msg) {
	next, cmd := r.model.Update(msg)
	r.model = next.(Model)
	r.run(cmd)
}

func (r *rig) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	if r.late {
		r.kept = append(r.kept, cmd)
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.QuitMsg:
		r.quit = true
	case tea.BatchMsg:
		for _, c := range msg {
			r.run(c)
		}
	default:
		r.send(msg)
	}
}

// release lets the writes kept back go on.
func (r *rig) release() {
	r.late = false
	for len(r.kept) > 0 {
		cmd := r.kept[0]
		r.kept = r.kept[1:]
		r.run(cmd)
	}
}

var named = map[string]tea.KeyType{
	"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "pgdown": tea.KeyPgDown, "space": tea.KeySpace,
	"down": tea.KeyDown, "up": tea.KeyUp, "home": tea.KeyHome, "end": tea.KeyEnd, "pgup": tea.KeyPgUp, "ctrl+c": tea.KeyCtrlC, "ctrl+z": tea.KeyCtrlZ,
}

func keyMsg(name string) tea.KeyMsg {
	if name == "space" {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	if t, ok := named[name]; ok {
		return tea.KeyMsg{Type: t}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// press gives keys by name, a second apart.
func (r *rig) press(names ...string) *rig {
	for _, name := range names {
		r.now = r.now.Add(time.Second)
		r.send(keyMsg(name))
	}
	return r
}

// write types a text letter by letter, at a hand's pace.
func (r *rig) write(text string) *rig {
	for _, c := range text {
		r.now = r.now.Add(60 * time.Millisecond)
		r.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{c}})
	}
	return r
}

// screen is what a person sees: the characters alone.
func (r *rig) screen() string { return ansi.Strip(r.model.View()) }

func (r *rig) shows(texts ...string) *rig {
	r.t.Helper()
	for _, text := range texts {
		if !strings.Contains(r.screen(), text) {
			r.t.Errorf("the screen does not show %q:\n%s", text, r.screen())
		}
	}
	return r
}

func (r *rig) hides(text string) *rig {
	r.t.Helper()
	if strings.Contains(r.screen(), text) {
		r.t.Errorf("the screen shows %q:\n%s", text, r.screen())
	}
	return r
}

// wrote wants the kinds of the last events, in order.
func (r *rig) wrote(kinds ...walk.Kind) *rig {
	r.t.Helper()
	if len(r.events) < len(kinds) {
		r.t.Fatalf("%d events were written, want %v at the end\n%s", len(r.events), kinds, r.screen())
	}
	for i, e := range r.events[len(r.events)-len(kinds):] {
		if e.Kind != kinds[i] {
			r.t.Fatalf("event %d is %s (%s), want %s\n%s", e.Seq, e.Kind, e.Text, kinds[i], r.screen())
		}
	}
	return r
}

// count wants n events so far.
func (r *rig) count(n int) *rig {
	r.t.Helper()
	if len(r.events) != n {
		r.t.Errorf("%d events were written, want %d; screen:\n%s", len(r.events), n, r.screen())
	}
	return r
}

// toStage confirms everything, new pieces first, until the item of that key or kind
// is in hand, and the wrench set for it.
func (r *rig) toStage(key string) *rig {
	r.t.Helper()
	if r.toChange(key); r.model.changing() {
		r.onward()
	}
	return r
}

// toChange goes as far as toStage, but for setting the wrench. Nothing is drawn on the way.
func (r *rig) toChange(key string) *rig {
	r.t.Helper()
	w, h := r.model.width, r.model.height
	r.size(0, 0)
	defer r.size(w, h)
	for range 400 {
		it := r.model.facts.item
		if it == nil {
			break
		}
		if it.Key().String() == key || string(it.Kind) == key {
			return r
		}
		r.onward()
	}
	if key != "" {
		r.t.Fatalf("never came to %s:\n%s", key, r.screen())
	}
	return r
}

// comeBack leaves the walk and opens it again after a while.
func (r *rig) comeBack(away time.Duration) *rig {
	r.t.Helper()
	r.now = r.now.Add(away)
	cfg := r.model.cfg
	left := cfg.State.Returning(r.now)
	e, refusal := walk.Decide(cfg.State, walk.Command{Do: walk.Resume}, r.now)
	if refusal != nil {
		r.t.Fatal(refusal)
	}
	cfg.State.Apply(*e)
	cfg.Return = &left
	w, h := r.model.width, r.model.height
	r.model = New(cfg)
	r.model.every = func(time.Duration, func(time.Time) tea.Msg) tea.Cmd { return nil }
	r.size(w, h)
	return r
}

// onward does what is in hand: a wait goes by, a measure is in range.
func (r *rig) onward() {
	if r.model.dismiss {
		r.press("enter")
	}
	switch it := r.model.facts.item; it.Kind {
	case walk.WaitItem:
		r.now = r.now.Add(it.Pass.Wait)
		r.press("enter")
	case walk.MeasureItem:
		r.press("enter").write(it.Check.How.Example()).press("enter")
	case walk.StageItem:
		if r.press("enter"); it.Stage.Action == spec.Stretch && r.model.typing() {
			r.write(walk.WindowOf(it.Stage).Example()).press("enter")
		}
	default:
		r.press("enter")
	}
}
