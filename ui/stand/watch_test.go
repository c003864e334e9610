package stand

import (
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/record"
	"evenpull/procedures/session"
	"evenpull/procedures/walk"
)

// pair is a walk at the stand, and a screen that watches it.
type pair struct {
	*rig
	w     *rig
	h     *heard
	taken int
	next  session.News // what comes beside the events
}

func newPair(t *testing.T, change ...func(*Config)) *pair {
	p := &pair{rig: newRig(t, caseText(t)), h: &heard{}}
	p.next.Holder = &record.Holder{PID: 4711, Host: "bench"}
	p.w = newRig(t, caseText(t), append(change, func(c *Config) {
		c.Append, c.ReadOnly, c.Watch, c.Ear = nil, "this screen only watches", true, p.h.ear()
		c.Now = func() time.Time { return p.now }
		c.Follow = func() session.News {
			n := p.next
			n.Events = p.rig.events[p.taken:]
			p.taken = len(p.rig.events)
			return n
		}
	})...)
	p.w.run(p.w.model.Init())
	return p
}

// look lets the watching screen look once more.
func (p *pair) look() *rig {
	p.w.send(lookMsg{})
	return p.w
}

// there presses keys on the watching screen.
func (p *pair) there(names ...string) *rig {
	for _, name := range names {
		p.waits()
		p.w.send(keyMsg(name))
	}
	return p.w
}

// picture is a screen without its first line and what is said at its foot.
func picture(r *rig) string {
	lines := strings.Split(r.screen(), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines[1:len(lines)-4], "\n")
}

// Through a whole walk, whoever watches sees what whoever walks sees.
func TestAWatchingScreenShowsWhatTheOtherShows(t *testing.T) {
	p := newPair(t)
	p.w.shows("WATCHING", "Both dowels in place?", "q leave").hides("enter")
	steps := 0
	for ; p.model.facts.item != nil; steps++ {
		if steps > 200 {
			t.Fatal("stuck")
		}
		p.onward()
		p.look()
		for _, size := range [][2]int{{80, 24}, {40, 15}, {120, 40}} {
			p.size(size[0], size[1])
			p.w.size(size[0], size[1])
			if p.model.facts.item != nil && len(p.model.over) == 0 && picture(p.rig) != picture(p.w) {
				t.Fatalf("at %d×%d the one that walks shows\n%s\nand the one that watches\n%s", size[0], size[1], p.screen(), p.w.screen())
			}
		}
		if said := p.model.say; said.tone == inform && said.text != "" && said != p.w.model.say {
			t.Errorf("there it says %q, here %q", said.text, p.w.model.say.text)
		}
	}
	p.w.shows("Whoever walks it can close it.").hides("d closes")
	p.press("d").wrote(walk.Done)
	p.look().shows("CLOSED", "All 12 stages confirmed.")
	if _, cmd := p.w.model.Update(newsMsg{}); cmd != nil {
		t.Error("it looks on after the end")
	}
	if steps < 20 {
		t.Errorf("only %d steps", steps)
	}
}

func TestWhoWatchesIsToldWhatIsRefused(t *testing.T) {
	p := newPair(t)
	p.press("d")
	p.look().shows("REFUSED", "not done: 19 outstanding")
	p.press("esc", "enter").toStage("Final/M1")
	p.look()
	p.h.lines = nil
	p.waits().sends("25 N·m\r", 0)
	p.look().shows("REFUSED", "M1 at 25 N·m is over 21.12 to 22.88 N·m", "SLACKEN IT FULLY")
	p.h.want(t, "a refused reading", "2 Refused: M1 at 25 newton metres is over 21.12 to 22.88 newton metres. "+p.w.model.step())
	p.press("enter", "enter")
	p.look()
	p.h.want(t, "and then", "1 "+p.w.model.step())
	p.press("u", "1", "enter")
	p.look().shows("taken back; the record keeps both")
}

// Where somebody who came back has gone on already, what was done is said, and not that he
// is back.
func TestWhatWasDoneIsSaidBeforeThatSomebodyIsBack(t *testing.T) {
	p := newPair(t)
	holder := p.next.Holder
	p.next.Holder = nil
	p.look().shows("left open: nobody walks it now")
	p.next.Holder = holder
	p.press("enter")
	p.look().shows("WATCHING", "confirmed: check: Both dowels in place?").hides("somebody walks it again")
}

// Nothing but leaving has a key, and leaving asks nothing.
func TestAWatchingScreenHasNoKeyButToLeave(t *testing.T) {
	for _, leave := range []string{"q", "esc", "ctrl+c"} {
		p := newPair(t)
		before := p.w.screen()
		for _, key := range []string{"enter", "space", "pgdown", "y", "n", "d", "s", "m", "p", "c", "o", "w", "i", "?", "r", "g", "1", "22 N·m"} {
			p.there(key)
		}
		if after := p.w.screen(); after != before || len(p.w.events) > 0 || p.w.quit {
			t.Errorf("the keys did something:\n%s", after)
		}
		if p.there(leave); !p.w.quit || !p.w.model.Going() {
			t.Errorf("%s does not leave", leave)
		}
	}
	p := newPair(t)
	if _, cmd := p.w.model.Update(keyMsg("ctrl+z")); cmd == nil {
		t.Error("ctrl+z does nothing")
	}
}

func TestWhoWatchesSeesTheWriterLeaveAndComeBack(t *testing.T) {
	p := newPair(t)
	p.press("enter")
	p.look().shows("WATCHING", "confirmed: check: Both dowels in place?").hides("left open")
	p.h.lines = nil
	p.next.Holder = nil
	p.look().shows("LEFT", "left open: nobody walks it now; it goes on here as soon as somebody does").hides("WATCHING")
	p.look()
	p.h.want(t, "left", "0 Nobody walks it now.")
	p.next.Holder = &record.Holder{PID: 12, Host: "bench"}
	p.look().shows("WATCHING", "somebody walks it again").hides("LEFT ")
	p.press("enter")
	p.look().shows("WATCHING", "confirmed: part: thrust washer")
	p.next.Holder = nil
	p.press("s", "1", "enter", "y")
	p.look().shows("ENDED UNFINISHED").hides("left open")
}

func TestWhatCannotBeReadIsSaidAndReadOnAfterwards(t *testing.T) {
	p := newPair(t)
	p.h.lines = nil
	p.next.Err = errors.New("the disk is away\x1b[2J; wait")
	p.look().shows("REFUSED", "the disk is away")
	p.look()
	p.h.want(t, "once", "0 The record cannot be read on.")
	if strings.Contains(p.w.model.View(), "\x1b[2J") {
		t.Error("an escape sequence got through")
	}
	p.next.Err = nil
	p.look().shows("the record can be read again").hides("the disk is away")
	p.press("enter")
	p.look().shows("confirmed: check: Both dowels in place?")
}

// An event that its walk has not earned is not shown as confirmed.
func TestWhatIsNotEarnedIsNotShownAsConfirmed(t *testing.T) {
	p := newPair(t)
	p.rig.events = append(p.rig.events, walk.Event{Seq: 1, At: p.now, Kind: walk.Confirmed, Item: "Final/M1"})
	p.look().shows("REFUSED", "Both dowels in place?").hides("confirmed: Final")
}

// Whoever finds a walk open elsewhere may look around, and sees it go on.
func TestAScreenThatIsReadOnlyGoesOn(t *testing.T) {
	p := newPair(t, func(c *Config) {})
	p.w.model.cfg.Watch = false
	p.there("o").shows("outstanding")
	p.there("esc", "enter", "enter").shows("REFUSED", "read only: process 4711 on bench")
	p.press("enter")
	p.look().shows("READ ONLY", "confirmed: check: Both dowels in place?")
	p.next.Holder = nil
	p.look().shows("left open: nobody walks it now; leave and come back to go on with it")
	p.there("enter").shows("read only: nobody has it open now")
}

// Looking happens away from the keys, and once at a time.
func TestLookingIsNeverTwiceUnderWay(t *testing.T) {
	p := newPair(t)
	waits := 0
	p.w.model.every = func(d time.Duration, _ func(time.Time) tea.Msg) tea.Cmd {
		if d == lookEvery {
			waits++
		}
		return nil
	}
	next, cmd := p.w.model.Update(lookMsg{})
	p.w.model = next.(Model)
	if cmd == nil || waits != 0 {
		t.Fatalf("a look gives %v, and %d waits before it is done", cmd, waits)
	}
	p.w.send(cmd())
	p.there("enter", "o")
	p.w.send(tickMsg{})
	if waits != 1 {
		t.Errorf("%d looks wait after one is done, want 1", waits)
	}
	if _, cmd := newRig(t, caseText(t)).model.Update(lookMsg{}); cmd != nil {
		t.Error("a walk of one's own is followed")
	}
}

// Whatever can be on record has something to be said of it, but for what ends a walk
// and what an engine brings: those show themselves.
func TestEveryEventIsToldToWhoWatches(t *testing.T) {
	m := newPair(t).w.model
	for _, kind := range []walk.Kind{walk.Confirmed, walk.Measured, walk.Answered, walk.Renewed, walk.Repaired, walk.Undone, walk.Lost, walk.Trouble, walk.Resealed, walk.Rejected,
		walk.Refused, walk.Found, walk.Refitted, walk.Accounted, walk.Cleaned, walk.Settled, walk.PutOff, walk.Changed, walk.Noted, walk.Pictured, walk.Resumed, walk.Resheeted} {
		e := walk.Event{Kind: kind, Item: "Final/M1", Fastener: "M1", Piece: "fastener", Text: "because", Facts: map[string]string{walk.How: walk.ByNew}}
		m.cfg.State.Events = []walk.Event{e}
		if said := m.told(e, &walk.Changeover{}); strings.TrimSpace(said.text) == "" {
			t.Errorf("nothing is told of %q", kind)
		}
	}
}

// Whoever watches sees a sheet that is edited there: other bolts, elsewhere on the map.
func TestWhoWatchesGoesOverToAnEditedSheet(t *testing.T) {
	p := newPair(t)
	p.toStage("Final/M1")
	p.look()
	text := strings.Replace(caseText(t), "[group.main.at]\n", "[group.main.at]\nM9 = [35, 90]\n", 1)
	e, refusal := walk.Decide(p.model.cfg.State, walk.Command{Do: walk.Resheet, Sheet: text, Text: "one was missing"}, p.now)
	if refusal != nil {
		t.Fatal(refusal)
	}
	p.model.cfg.State.Apply(*e)
	p.model.gather()
	p.model.memo.places = nil
	p.events = append(p.events, *e)
	p.look().shows("the sheet was edited: one was missing")
	if got, want := p.w.model.cfg.State.StageCount(), p.model.cfg.State.StageCount(); got != want || got == 12 {
		t.Errorf("%d stages here, %d there", got, want)
	}
	for steps := 0; p.model.facts.item != nil; steps++ {
		if steps > 200 {
			t.Fatal("stuck")
		}
		p.onward()
		if p.look(); p.model.facts.item != nil && picture(p.rig) != picture(p.w) && len(p.model.over) == 0 {
			t.Fatalf("the one that walks shows\n%s\nand the one that watches\n%s", p.screen(), p.w.screen())
		}
	}
}
