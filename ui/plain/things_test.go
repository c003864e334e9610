package plain

import (
	"maps"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec/read"
	"evenpull/ui/words"
)

// An invented engine; every name and figure is made up.
const cover = `format = 1
[procedure]
name      = "Close the cover"
engine    = "Osier 125 single"
direction = "close"
source    = "Osier sheet 3 (invented)"
[group.main]
thread = "M8x1.25"
class  = "8.8"
torque = "22 N·m"
look_for = ["aluminium in the thread"]
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name   = "Final"
groups = ["main"]
torque = "100 %"
order  = "listed"
[[part]]
name  = "washer"
[[part]]
name  = "washer behind the gear"
kind  = "washer"
[[check]]
after   = "Final"
measure = "end float"
max     = "0.2 mm"
`

func state(t *testing.T, text string) *walk.State {
	t.Helper()
	p, problems := read.Procedure("cover.toml", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	return walk.New(plan.Of(p))
}

func TestWhatIsFoundIsReadAsAPersonWritesIt(t *testing.T) {
	cases := []struct {
		line, target, because string
		facts                 walk.Facts
	}{
		{"found M1 stretched", "M1", "", walk.Facts{"condition": "stretched"}},
		{"found washer worn, box 2, bag 7", "washer", "", walk.Facts{"condition": "worn", "box": "2", "bag": "7"}},
		{"found washer behind the gear scored, measured 0,8 mm", "washer behind the gear", "", walk.Facts{"condition": "scored", "measured": "0,8 mm"}},
		{"found washer-behind-the-gear SCORED,box 2", "washer-behind-the-gear", "", walk.Facts{"condition": "scored", "box": "2"}},
		{"found m2, box 3", "m2", "", walk.Facts{"box": "3"}},
		{"found scored, goes balancing", "", "", walk.Facts{"condition": "scored", "goes": "balancing"}},
		{"found box 4", "", "", walk.Facts{"box": "4"}},
		{"found M1 good, where left end, by the pin, face chamfer inwards", "M1", "", walk.Facts{"condition": "good", "where": "left end, by the pin", "face": "chamfer inwards"}},
		{"found M1 good, goes back, because wiped, it was only oil", "M1", "wiped, it was only oil", walk.Facts{"condition": "good", "goes": "back"}},
	}
	s := state(t, cover)
	for _, c := range cases {
		r, err := parse(c.line, s)
		if err != nil || r.command.Do != walk.Find || r.command.Target != c.target || r.command.Text != c.because || !maps.Equal(r.command.Facts, c.facts) {
			t.Errorf("%q: got %+v, %v", c.line, r.command, err)
		}
	}
}

func TestWhatIsNotUnderstoodOfAThingIsRefusedWithAnExample(t *testing.T) {
	s := state(t, cover)
	for line, want := range map[string]string{
		"found gasket torn":            "no fastener or part is called that",
		"found":                        "found washer scored, box 2",
		"found M1 good, box":           "box what?",
		"found M1 good, box 2, box 3":  "box is said twice, 2 and 3",
		"refit":                        "refit washer",
		"refit washer at last":         "note at last",
		"clean":                        "clean washer",
		"account":                      "account washer",
		"clean washer behind the gear": "",
	} {
		_, err := parse(line, s)
		if want == "" && err == nil {
			continue
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", line, err, want)
		}
	}
}

func TestTheLongestNameOfAThingWins(t *testing.T) {
	s := state(t, cover)
	r, err := parse("account washer behind the gear lost under the bench", s)
	if err != nil || r.command.Target != "washer behind the gear" || r.command.Text != "lost under the bench" {
		t.Errorf("got %+v, %v", r.command, err)
	}
	r, _ = parse("account washer behind the bench", s)
	if r.command.Target != "washer" || r.command.Text != "behind the bench" {
		t.Errorf("got %+v", r.command)
	}
}

// opened is a walk through cover that was brought these things.
func opened(t *testing.T, brought ...walk.Carried) *walk.Live {
	now := time.Date(2026, 4, 1, 9, 0, 0, 0, time.UTC)
	l := &walk.Live{State: state(t, cover), Now: func() time.Time { return now }, Append: func(walk.Event) error { return nil }}
	if r, err := l.Do(walk.Command{Do: walk.Bring, Brought: brought}); r != nil || err != nil {
		t.Fatal(r, err)
	}
	return l
}

func TestTheNoteFromStripDownAndLastTimesFigureStandAtTheirPlace(t *testing.T) {
	at := time.Date(2025, 3, 2, 12, 0, 0, 0, time.UTC)
	l := opened(t, walk.Carried{ID: "washer", Name: "washer", Count: 1, At: at, Facts: walk.Facts{"condition": "scored", "measured": "0.8 mm", "box": "2", "bag": "7"}},
		walk.Carried{ID: "thrower", Name: "oil thrower", Count: 1, At: at, Facts: walk.Facts{"box": "4"}})
	var out strings.Builder
	in := "ok\nrenew washer\nok\nok\nok\nok\ndone\nlist\nquit\n"
	ended, err := Walk(l, strings.NewReader(in), &out, Options{Memory: words.Memory{"check:end-float": "last time 0.11 mm (2023-04-02)"}})
	if err != nil || ended != Left {
		t.Fatal(ended, err)
	}
	for _, want := range []string{"off 2025-03-02: scored, 0.8 mm, box 2, bag 7", "last time 0.11 mm (2023-04-02)", "left over: oil thrower, box 4",
		"came off and not back:\n  - oil thrower, box 4, left over, not refitted"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("nowhere %q in\n%s", want, out.String())
		}
	}
}

func TestADoneWalkNamesNothingLeftOver(t *testing.T) {
	l := opened(t, walk.Carried{ID: "thrower", Name: "oil thrower", Count: 1})
	var out strings.Builder
	ended, err := Walk(l, strings.NewReader("ok\nok\nok\nok\nmeasure 0.1 mm\ndone\nrefit oil thrower\ndone\n"), &out, Options{})
	if err != nil || ended != Done || strings.Contains(out.String(), "not refitted") {
		t.Errorf("%v %v\n%s", ended, err, out.String())
	}
}

func TestWhatToLookForIsSaidOnceAGroupOnTheWayApart(t *testing.T) {
	text := strings.NewReplacer(`"close"`, `"open"`, `torque = "100 %"`, "remove = true").Replace(cover)
	now := time.Date(2026, 4, 1, 9, 0, 0, 0, time.UTC)
	l := &walk.Live{State: state(t, text), Now: func() time.Time { return now }, Append: func(walk.Event) error { return nil }}
	var out strings.Builder
	if _, err := Walk(l, strings.NewReader("ok\nok\nfound worn, box 2\n"), &out, Options{}); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(out.String(), "look for: aluminium in the thread"); n != 1 {
		t.Errorf("said %d times\n%s", n, out.String())
	}
	if !strings.Contains(out.String(), "found: worn, box 2") {
		t.Errorf("what was found does not show\n%s", out.String())
	}
}
