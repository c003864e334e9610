package plain

import (
	"errors"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
)

// What is known of the thing in hand stands below what is asked of it, and of a bolt only where there is something to say.
func TestWhatIsKnownOfAThingStandsAtItsPlace(t *testing.T) {
	at := time.Date(2025, 3, 2, 12, 0, 0, 0, time.UTC)
	bolt := walk.Carried{ID: "M1", Fastener: true, Thread: "M8x1.25", Name: "M1", Count: 1, At: at}
	with := func(c walk.Carried, change func(*walk.Carried)) walk.Carried {
		change(&c)
		return c
	}
	washer := walk.Carried{ID: "washer", Name: "washer", Count: 1, At: at}
	for name, c := range map[string]struct {
		brought walk.Carried
		want    string // what stands below, "" for nothing of it
	}{
		"nothing noted": {washer, "  off 2025-03-02: nothing was noted of it"},
		"two of it":     {with(washer, func(c *walk.Carried) { c.Count = 2 }), "  off 2025-03-02: nothing was noted of it (2 came off)"},
		"a fact":        {with(washer, func(c *walk.Carried) { c.Facts = walk.Facts{"box": "2"} }), "  off 2025-03-02: box 2"},
		"a piece of it": {with(washer, func(c *walk.Carried) {
			c.Pieces = []walk.PieceFound{{Piece: "2", Facts: walk.Facts{"condition": "good"}}}
		}), "  off 2025-03-02: what follows was said of it|  2: good"},
		"it is away":             {with(washer, func(c *walk.Carried) { c.Away = "balancing" }), "  off 2025-03-02: nothing was noted of it|  away for balancing: mark it back first"},
		"a bolt":                 {bolt, ""},
		"a bolt with one fact":   {with(bolt, func(c *walk.Carried) { c.Facts = walk.Facts{"condition": "good"} }), "  off 2025-03-02: good"},
		"a bolt that is away":    {with(bolt, func(c *walk.Carried) { c.Away = "plating" }), "  off 2025-03-02: nothing was noted of it|  away for plating: mark it back first"},
		"one that is not called": {walk.Carried{ID: "clip", Name: "clip", Count: 1, New: true, Before: "part:washer", At: at}, "  off 2025-03-02: nothing was noted of it|  no sheet has it; if it goes in further on: later REASON"},
	} {
		l := opened(t, c.brought)
		for c.brought.Fastener && l.State.CurrentItem().Kind != walk.StageItem {
			if r, err := l.Do(walk.Command{Do: walk.Confirm}); r != nil || err != nil {
				t.Fatal(r, err)
			}
		}
		if said := strings.Join(thingLines(l.State, l.State.CurrentItem()), "|"); said != c.want {
			t.Errorf("%s: %q, want %q", name, said, c.want)
		}
	}
}

// What has not gone back is named up to so many, and the rest is counted.
func TestWhatIsNotBackIsCounted(t *testing.T) {
	l := opened(t, walk.Carried{ID: "washer", Name: "washer", Count: 1}, walk.Carried{ID: "washer-behind-the-gear", Name: "washer behind the gear", Count: 1}, walk.Carried{ID: "thrower", Name: "oil thrower", Count: 1})
	all := []string{"washer, not refitted", "washer behind the gear, not refitted", "oil thrower, left over, not refitted"}
	for most, want := range map[int][]string{3: all, 4: all, 2: {all[0], all[1], "and 1 more"}, 0: {"and 3 more"}} {
		if got := NotBack(l.State, most); strings.Join(got, "|") != strings.Join(want, "|") {
			t.Errorf("at most %d: %q, want %q", most, got, want)
		}
	}
}

// A wait says how long it takes yet, or that it is over.
func TestAWaitSaysWhenItIsOver(t *testing.T) {
	s := state(t, strings.Replace(cover, "[[pass]]", "[[pass]]\nname = \"Warm through\"\nwait = \"1h\"\n[[pass]]", 1))
	now := time.Date(2026, 4, 1, 9, 0, 0, 0, time.UTC)
	for s.CurrentItem().Kind != walk.WaitItem {
		e, r := walk.Decide(s, walk.Command{Do: walk.Confirm}, now)
		if r != nil {
			t.Fatal(r)
		}
		s.Apply(*e)
	}
	for after, want := range map[time.Duration]string{0: ", 1 h to go", 59 * time.Minute: ", 1 min to go", time.Hour: ", over: ok goes on", 2 * time.Hour: ", over: ok goes on"} {
		if got := Prompt(s, "", nil, now.Add(after)); len(got) == 0 || !strings.HasSuffix(got[0], want) {
			t.Errorf("after %s: %q, want %s", after, got, want)
		}
	}
}

// Where the bolt in hand sits is said where there is another, and the lines of a pass say what it is of.
func TestWhereABoltSitsIsSaidAmongSeveral(t *testing.T) {
	for text, want := range map[string]bool{cover: true, strings.Replace(cover, "M2 = [70, 0]\n", "", 1): false} {
		s := state(t, text)
		for s.CurrentItem().Kind != walk.StageItem {
			e, r := walk.Decide(s, walk.Command{Do: walk.Confirm}, time.Now())
			if r != nil {
				t.Fatal(r)
			}
			s.Apply(*e)
		}
		if got := strings.Join(Prompt(s, "at the left end", nil, time.Now()), "\n"); strings.Contains(got, "at the left end") != want {
			t.Errorf("of %d bolts: %s", len(s.Plan.Procedure.Fasteners), got)
		}
	}
}

// A question that is not answered is gone: a yes that comes later is none to it.
func TestAQuestionThatIsPassedOverIsGone(t *testing.T) {
	now := time.Date(2026, 4, 1, 9, 0, 0, 0, time.UTC)
	text := strings.NewReplacer(`"close"`, `"open"`, `torque = "100 %"`, "remove = true").Replace(cover)
	for in, want := range map[string]int{"found bent\nyes\nquit\n": 1, "found bent\nnote it is Tuesday\nyes\nquit\n": 0, "found bent\n\nyes\nquit\n": 1, "found bent\nNO\nquit\n": 1} {
		l := &walk.Live{State: walk.New(plan.Of(state(t, text).Plan.Procedure)), Now: func() time.Time { return now }, Append: func(walk.Event) error { return nil }}
		var out strings.Builder
		if _, err := Walk(l, strings.NewReader(in), &out, Options{}); err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, e := range l.State.Events {
			if e.Kind == walk.Found {
				found++
			}
		}
		if found != want {
			t.Errorf("%q: %d found, want %d\n%s", in, found, want, out.String())
		}
	}
}

// Without parts the example of a thing is a bolt; and what cannot be written down ends the walk with that.
func TestASheetWithoutPartsAndADiskThatIsFull(t *testing.T) {
	bare := "format = 1\n[procedure]\nname = \"Cover\"\ndirection = \"close\"\nsource = \"invented\"\n[group.main]\nthread = \"M8x1.25\"\ntorque = \"22 N·m\"\n[group.main.at]\nM1 = [0, 0]\n[[pass]]\nname = \"Final\"\ngroups = [\"main\"]\ntorque = \"100 %\"\n"
	if _, err := parse("refit", state(t, bare)); err == nil || !strings.Contains(err.Error(), "refit M1") {
		t.Errorf("refit of nothing: %v", err)
	}
	full := errors.New("the disk is full")
	l := &walk.Live{State: state(t, bare), Now: time.Now, Append: func(walk.Event) error { return full }}
	var out strings.Builder
	if ended, err := Walk(l, strings.NewReader("ok\nok\n"), &out, Options{}); !errors.Is(err, full) || len(l.State.Events) > 0 {
		t.Errorf("%v, %v, %d events\n%s", ended, err, len(l.State.Events), out.String())
	}
}
