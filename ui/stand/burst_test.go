package stand

import (
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/spec/outside"
	"evenpull/ui/keys"
)

// arrivals are the messages of one read as Bubble Tea makes them: runs of characters
// in one, spaces and control characters in their own.
func arrivals(text string) (list []tea.KeyMsg) {
	for _, r := range text {
		switch last := len(list) - 1; {
		case r == '\r':
			list = append(list, tea.KeyMsg{Type: tea.KeyEnter})
		case r == '\n':
			list = append(list, tea.KeyMsg{Type: tea.KeyCtrlJ})
		case r == ' ':
			list = append(list, tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
		case last >= 0 && list[last].Type == tea.KeyRunes:
			list[last].Runes = append(list[last].Runes, r)
		default:
			list = append(list, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		}
	}
	return list
}

// sends gives a text as a tool sends it: with no gap in one read, else character by
// character with that gap.
func (r *rig) sends(text string, gap time.Duration) *rig {
	if gap == 0 {
		for _, k := range arrivals(text) {
			r.send(k)
		}
		return r
	}
	for _, c := range text {
		r.now = r.now.Add(gap)
		r.send(arrivals(string(c))[0])
	}
	return r
}

// A machine that stands still for a second between two keys of what came at once hands
// them over far apart: they are still what came at once.
func TestWhatCameAtOnceIsOneThingHoweverLateItsTurn(t *testing.T) {
	for _, text := range []string{"22.1 N·m\r\n\r\n22.2 N·m\r\n", "22.1 N·m\r\r\r", "\r\r\r", " \ry\r"} {
		r := newRig(t, caseText(t)).toStage("Final/M1")
		n := len(r.events)
		r.now = r.now.Add(time.Second)
		came := r.now
		for _, k := range arrivals(text) {
			r.send(pressedMsg{k, came})
			r.now = r.now.Add(time.Second)
		}
		r.count(n + 1)
	}
}

// Two presses are told apart by when they were made, not by when they were handled.
func TestABounceIsToldByWhenItWasPressed(t *testing.T) {
	for _, tt := range []struct{ apart, handled time.Duration }{{100 * time.Millisecond, time.Minute}, {time.Second, 0}} {
		r := newRig(t, caseText(t)).toStage("Final/M1")
		n, enter := len(r.events), arrivals("\r")[0]
		r.now = r.now.Add(time.Second)
		pressed := r.now
		r.send(pressedMsg{enter, pressed})
		r.now = r.now.Add(tt.handled)
		r.send(pressedMsg{enter, pressed.Add(tt.apart)})
		want := n + 1
		if tt.apart >= time.Second {
			want++
		}
		r.count(want)
	}
}

// A key held down repeats every 20 ms, now and then later: the first press counts.
func TestAKeyHeldDownConfirmsOnce(t *testing.T) {
	for _, key := range []string{"\r", " "} {
		r := newRig(t, caseText(t)).toStage("Final/M1")
		n := len(r.events)
		r.now = r.now.Add(time.Second)
		for i := range 300 {
			r.send(arrivals(key)[0])
			r.now = r.now.Add(20 * time.Millisecond)
			if i%37 == 36 {
				r.now = r.now.Add(10 * time.Millisecond)
			}
		}
		r.count(n + 1)
	}
}

var gaps = []time.Duration{0, time.Millisecond, 10 * time.Millisecond}

// What a gauge or a wrench sends is a reading, its Enter included, and is judged as one.
func TestWhatAToolSendsIsAReading(t *testing.T) {
	for _, gap := range gaps {
		for _, tt := range []struct {
			name, stage, sends string
			kinds              []walk.Kind // of the events that come of it
			shows              string
		}{
			{"a figure without its unit", "Final/M1", "22.1\r", nil, "it has no unit; tab adds N·m"},
			{"and what follows", "Final/M1", "22.1\r\n", nil, "it has no unit"},
			{"a figure in range", "Final/M1", "22.1 N·m\r", []walk.Kind{walk.Confirmed}, "read 22.1 N·m"},
			{"twice in one go", "Final/M1", "22.1 N·m\r22.1 N·m\r", []walk.Kind{walk.Confirmed}, "read 22.1 N·m"},
			{"CR LF, and an empty line", "Final/M1", "22.1 N·m\r\n\r\n", []walk.Kind{walk.Confirmed}, "read 22.1 N·m"},
			{"short of the figure", "Final/M1", "18 N·m\r\r", []walk.Kind{walk.Rejected}, "go on until it is reached"},
			{"beyond it", "Final/M1", "30 N·m\r\r\r", []walk.Kind{walk.Rejected}, "start it again"},
			{"what is no figure", "Final/M1", "22.1 ERR\r\r", nil, "> 22.1 ERR"},
			{"a bar code", "Final/M1", "4006381333931\r\r", nil, "it has no unit"},
			{"of a measure", "measure", "0.12 mm\r", []walk.Kind{walk.Measured}, "read 0.12 mm"},
		} {
			r := newRig(t, caseText(t)).toStage(tt.stage)
			n := len(r.events)
			r.now = r.now.Add(time.Second)
			r.sends(tt.sends, gap).count(n + len(tt.kinds)).shows(tt.shows)
			if len(tt.kinds) > 0 && len(r.events) == n+len(tt.kinds) {
				r.wrote(tt.kinds...)
			}
			if t.Failed() {
				t.Fatalf("%s, %s apart", tt.name, gap)
			}
		}
	}
	for _, gap := range gaps { // the Enter that opened the field was no confirmation
		r := newRig(t, caseText(t)).toStage("measure").press("enter")
		n := len(r.events)
		r.now = r.now.Add(100 * time.Millisecond)
		r.sends("0.12 mm\r\r", gap).count(n + 1).wrote(walk.Measured)
	}
}

// Where nothing takes a figure, and for anything else that comes in one go, nothing is
// done: no letter of it is a command and no Enter a confirmation.
func TestWhatComesInOneGoConfirmsNothing(t *testing.T) {
	to := map[string]func(r *rig) *rig{
		"a question":      func(r *rig) *rig { return r },
		"a part":          func(r *rig) *rig { return r.toStage("part") },
		"a stage":         func(r *rig) *rig { return r.toStage("Final/M1") },
		"the pieces":      func(r *rig) *rig { return r.toStage("Final/F1").press("enter") },
		"the outstanding": func(r *rig) *rig { return r.toStage("Final/M1").press("o") },
		"the end":         func(r *rig) *rig { return r.toStage("") },
		"leaving":         func(r *rig) *rig { return r.press("q") },
		"a reason":        func(r *rig) *rig { return r.toStage("Final/M1").press("u") },
	}
	for place, arrive := range to {
		for _, gap := range gaps[:2] {
			for _, text := range []string{"24.6\r", "enter\r", "esc\r\r", "wrench\rready\r", "u1\r\r", "up\r\ndown\r\n"} {
				if figure := text[0] == '2'; figure && place == "a stage" {
					continue // that is a reading
				}
				r := arrive(newRig(t, caseText(t)))
				n := len(r.events)
				r.now = r.now.Add(time.Second)
				r.sends(text, gap).count(n)
				if t.Failed() {
					t.Fatalf("at %s: %q, %s apart", place, text, gap)
				}
			}
		}
	}
}

// A paste is looked at before it counts, a figure too.
func TestAPasteIsOnlyText(t *testing.T) {
	paste := func(text string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true} }
	r := newRig(t, caseText(t)).toStage("Final/M1")
	n := len(r.events)
	r.now = r.now.Add(time.Second)
	r.send(paste("22.1 N·m\r\n22.1 N·m\r\n"))
	r.send(keyMsg("enter"))
	r.count(n).shows("> 22.1 N·m")
	r.press("enter").count(n + 1).wrote(walk.Confirmed)
	for _, text := range []string{"enter", "y", "d", " ", "\r", "q", "u"} {
		r.now = r.now.Add(time.Second)
		r.send(paste(text))
		r.count(n + 1).shows("several keys came at once")
	}
	r.press("m")
	r.now = r.now.Add(time.Second)
	r.send(paste("sounds dry\r"))
	r.count(n + 1).shows("> sounds dry")
}

// A figure that comes right after a confirmation may be of the fastener before.
func TestAReadingRightAfterAConfirmationIsLookedAtFirst(t *testing.T) {
	for _, gap := range gaps {
		r := newRig(t, caseText(t)).toStage("Final/M1")
		r.press("enter").wrote(walk.Confirmed)
		n := len(r.events)
		r.now = r.now.Add(300 * time.Millisecond)
		r.sends("22.1 N·m\r\r", gap).count(n).shows("> 22.1 N·m", "once more, if that is right")
		r.press("enter").count(n + 1)
	}
}

// While a write is under way nothing is kept that could answer what it leads to.
func TestWhatAToolSendsDuringAWriteIsNotForTheNext(t *testing.T) {
	for _, gap := range gaps {
		r := newRig(t, caseText(t)).toStage("Final/M1")
		n := len(r.events)
		r.late = true
		r.press("enter")
		r.now = r.now.Add(time.Second)
		r.sends("22.1 N·m\r", gap)
		r.release()
		r.count(n + 1).shows("M3")
		if gap == 0 {
			r.hides("> 22.1") // nor does it wait in the field of the next
		}
	}
	// A y pressed on a stage does not answer the question that comes after it.
	asks := newRig(t, caseText(t)+"\n[[check]]\nafter = \"Draw down\"\nask = \"Drawn down evenly?\"\n").toStage("Draw down/M2")
	n := len(asks.events)
	asks.late = true
	asks.press("enter", "y")
	asks.release()
	asks.count(n + 1).shows("Drawn down evenly?")
	r := newRig(t, caseText(t))
	r.late = true
	r.press("d", "y", "enter")
	r.release()
	if len(r.events) != 1 || r.events[0].Kind != walk.Refused {
		t.Errorf("events %v, want the refused done alone", r.events)
	}
}

// A thousand keys a second, any keys: what comes after the first of them confirms nothing
// but a reading with its unit, and that once.
func TestAThousandKeysASecondConfirmNothing(t *testing.T) {
	source := rand.New(rand.NewPCG(7, 2026))
	names := strings.Split("a b c d e f i k l m n o p q r s u w x y z N G ? / 1 2 3 9 . , + - enter enter enter space space pgdown esc tab down up", " ")
	for round := range outside.Times(5, 10) { // each place once, or twice
		r := newRig(t, caseText(t)).toStage([]string{"", "Final/M1", "measure", "part", "Final/F1"}[round%5])
		n := len(r.events)
		r.now = r.now.Add(time.Second)
		r.send(keyMsg("down")) // the first key of the burst means nothing
		for range 1000 {
			r.now = r.now.Add(time.Millisecond)
			r.send(keyMsg(names[source.IntN(len(names))]))
		}
		r.count(n)
	}
}

// After a refusal, and after anything that lay over the figure, one Enter only dismisses.
func TestTheEnterAfterARefusalOrAPanelOnlyDismisses(t *testing.T) {
	for name, keys := range map[string][]string{
		"help":        {"?", "esc"},
		"outstanding": {"o", "x"},
		"why":         {"w", "esc"},
		"converter":   {"c", "esc"},
		"figures":     {"i", "esc"},
		"leaving":     {"q", "esc"},
		"not stopped": {"s", "1", "enter", "n"},
		"reading":     {"r", "esc"},
		"undo":        {"u", "esc"},
		"pieces":      {"n", "esc"},
		"done":        {"d", "esc"},
	} {
		for _, key := range []string{"enter", "space", "pgdown"} {
			r := newRig(t, caseText(t)).toStage("Final/M1").press(keys...)
			n := len(r.events)
			r.shows("enter dismiss").press(key).count(n).press(key).count(n + 1)
			if t.Failed() {
				t.Fatal(name, key)
			}
		}
	}
	r := newRig(t, caseText(t)).toStage("Final/M1")
	n := len(r.events)
	r.press("1", "8", "tab", "enter").wrote(walk.Rejected).shows("REFUSED")
	r.press("enter").count(n + 1).hides("REFUSED").press("enter").count(n + 2)
}

// A second y, like a second Enter, must not answer the next question.
func TestARepeatedYesIsIgnored(t *testing.T) {
	two := strings.Replace(caseText(t), "[[check]]", "[[check]]\nbefore = \"Draw down\"\nask = \"Faces dry?\"\n[[check]]", 1)
	r := newRig(t, two).press("y").count(1)
	r.now = r.now.Add(300 * time.Millisecond)
	r.send(keyMsg("y"))
	r.count(1).press("y").count(2)
}

// After a refusal the field keeps what was refused; what a tool sends next is a
// figure of its own and not the end of that one.
func TestAFigureSentAgainDoesNotRunOn(t *testing.T) {
	for _, gap := range gaps {
		r := newRig(t, caseText(t)).toStage("Final/M1")
		n := len(r.events)
		r.now = r.now.Add(time.Second)
		r.sends("2\r", gap).count(n).shows("it has no unit")
		r.now = r.now.Add(time.Second)
		r.sends("22.1 N·m\r", gap).count(n + 1).shows("read 22.1 N·m")
	}
	r := newRig(t, caseText(t)).toStage("Final/M1") // a hand goes on where it was
	n := len(r.events)
	r.now = r.now.Add(time.Second)
	r.sends("22.1\r", 0).count(n).press(" ", "N", "m", "enter").count(n + 1).shows("read 22.1 Nm")
}

// A figure may be of the step before for as long as a key may bounce, whatever that step
// was: a bolt, a question or a measurement. From that moment on it is of what is in hand.
func TestAFigureIsLookedAtFirstAsLongAsAKeyMayBounce(t *testing.T) {
	second := caseText(t) + "\n[[check]]\nafter = \"Settle\"\nmeasure = \"backlash\"\nmax = \"0.20 mm\"\n"
	asked := strings.Replace(second, "measure = \"crank end float\"\nmin     = \"0.05 mm\"\nmax     = \"0.20 mm\"", "ask     = \"Turns freely?\"", 1)
	for name, before := range map[string]struct {
		text, stage string
		answer      func(r *rig)
	}{
		"a bolt":        {second, "Final/M1", func(r *rig) { r.press("enter") }},
		"a measurement": {second, "measure", func(r *rig) { r.press("enter").write("0.1 mm").press("enter") }},
		"a question":    {asked, "Settle", func(r *rig) { r.onward(); r.press("y") }},
	} {
		for since, looked := range map[time.Duration]bool{keys.DoublePress - 1: true, keys.DoublePress: false} {
			r := newRig(t, before.text).toStage(before.stage)
			before.answer(r)
			n, figure := len(r.events), "0.1 mm\r"
			if name == "a bolt" {
				figure = "22.1 N·m\r"
			}
			r.now = r.now.Add(since)
			r.sends(figure, 0)
			if got := len(r.events) == n; got != looked {
				t.Errorf("%v after %s it is looked at first: %v, want %v\n%s", since, name, got, looked, r.screen())
			}
		}
	}
}
