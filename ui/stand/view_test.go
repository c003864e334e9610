package stand

import (
	"iter"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"evenpull/ui/internal/anysize"
	"evenpull/ui/internal/golden"
	"evenpull/ui/keys"
)

// scenes are the moments, apart from the steps themselves, that the golden screens
// and the fit are looked at in.
var scenes = []struct {
	name string
	play func(r *rig)
}{
	{"no-and-why", func(r *rig) { r.press("n", "2") }},
	{"renew", func(r *rig) { r.toStage("Final/F1").press("enter") }},
	{"renew-number", func(r *rig) { r.toStage("Final/F1").press("enter", "n").write("batch 4471") }},
	{"renew-all", func(r *rig) { r.toStage("Final/F1").press("enter", "tab", "down") }},
	{"angle-lost", func(r *rig) { r.toStage("Primary nut/P1/2").press("l") }},
	{"refused-reading", func(r *rig) { r.toStage("Primary nut/P1/2").press("r").write("80°").press("enter") }},
	{"trouble", func(r *rig) { r.toStage("Final/M2").press("p").write("M1: stripped").press("enter") }},
	{"late-sealant", func(r *rig) { r.toStage("Final/M2"); r.now = r.now.Add(time.Hour); r.press("enter") }},
	{"measure", func(r *rig) { r.toStage("measure").press("enter").write("0.3 mm").press("enter") }},
	{"reading", func(r *rig) { r.toStage("Draw down/M4").press("8") }},
	{"refused-done", func(r *rig) { r.toStage("Final/M1").press("d") }},
	{"why", func(r *rig) { r.toStage("Final/F1").press("w") }},
	{"keys", func(r *rig) { r.toStage("Primary nut/P1/2").press("?") }},
	{"convert", func(r *rig) { r.press("c").write("22 Nm") }},
	{"not-saved", func(r *rig) { r.toStage("Draw down/M4"); r.fails = errDiskFull; r.press("enter") }},
	{"leave", func(r *rig) { r.toStage("Draw down/M4").press("q") }},
	{"stop", func(r *rig) { r.press("s", "1", "enter") }},
	{"ready", func(r *rig) { r.toStage("") }},
	{"done", func(r *rig) { r.toStage("").press("d") }},
	{"stopped", func(r *rig) { r.press("s", "1", "enter", "y") }},
}

// sizes are the design size, the smallest full one, and a wide one.
var sizes = []struct {
	name string
	w, h int
}{{"80x24", 80, 24}, {"40x15", 40, 15}, {"120x30", 120, 30}}

func TestGoldenScreens(t *testing.T) {
	drawn := map[string]string{}
	for _, scene := range scenes {
		r := newRig(t, caseText(t))
		scene.play(r)
		for _, size := range sizes {
			r.size(size.w, size.h)
			drawn[scene.name+"-"+size.name] = trimmed(r.screen())
		}
	}
	golden.Screens(t, drawn)
}

func trimmed(screen string) string {
	lines := strings.Split(screen, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// mustFit fails when a frame is not of exactly h lines of at most w cells.
func mustFit(t rapid.TB, what, view string, w, h int) {
	t.Helper()
	lines := strings.Split(view, "\n")
	if len(lines) != h {
		t.Fatalf("%s at %d×%d has %d lines", what, w, h, len(lines))
	}
	for i, l := range lines {
		if got := ansi.StringWidth(l); got > w {
			t.Fatalf("%s at %d×%d: line %d is %d cells wide: %q", what, w, h, i+1, got, ansi.Strip(l))
		}
	}
}

// moments are all scenes and all steps, by name.
func moments(t testing.TB) iter.Seq2[string, *rig] {
	return func(yield func(string, *rig) bool) {
		for _, scene := range scenes {
			r := newRig(t, caseText(t))
			scene.play(r)
			if !yield(scene.name, r) {
				return
			}
		}
		for _, step := range steps {
			r := newRig(t, sheet(t, step.sheet))
			step.play(r)
			if !yield("step "+step.name, r) {
				return
			}
		}
	}
}

// Any keys at any size: no frame overflows, nothing panics, and what was
// written replays to the state on the screen.
func TestAnyKeysAtAnySize(t *testing.T) {
	text := caseText(t)
	names := []string{"enter", "enter", "enter", "enter", "space", "pgdown", "esc", "tab", "up", "down", "r", "n", "N", "u", "l", "p", "m", "c", "w", "d", "o", "e", "s", "f", "a", "k", "x", "?", "q", "y", "1", "2", "9", "0", ".", " ", "°", "ctrl+c", "mm", "N·m"}
	rapid.Check(t, func(rt *rapid.T) {
		r := newRig(t, text)
		for range rapid.IntRange(1, 60).Draw(rt, "steps") {
			if r.quit {
				break
			}
			if rapid.IntRange(0, 9).Draw(rt, "resize") == 0 {
				r.size(rapid.IntRange(0, 130).Draw(rt, "w"), rapid.IntRange(0, 40).Draw(rt, "h"))
			}
			r.press(rapid.SampledFrom(names).Draw(rt, "key"))
			if w, h := r.model.width, r.model.height; w > 0 && h > 0 {
				mustFit(rt, "a frame", r.model.View(), w, h)
			}
		}
		replayed := newState(t, text)
		for _, e := range r.events {
			if refusal := replayed.Judge(e); refusal != nil {
				rt.Fatalf("event %d, %s, was written and is not earned: %v", e.Seq, e.Kind, refusal)
			}
			replayed.Apply(e)
		}
		if got, want := replayed.Current(), r.model.cfg.State.Current(); got != want || replayed.Phase != r.model.cfg.State.Phase {
			rt.Fatalf("replayed to item %d, %s; the screen is at item %d, %s", got, replayed.Phase, want, r.model.cfg.State.Phase)
		}
	})
}

func TestAViewChangesNothingAndEveryKeyIsInTheHelp(t *testing.T) {
	for name, r := range moments(t) {
		if first, second := r.model.View(), r.model.View(); first != second {
			t.Errorf("%s: two views of one state differ", name)
		}
		km := r.model.keymapOf()
		for _, problem := range keys.Problems(km, km.groups()...) {
			t.Errorf("%s: %s", name, problem)
		}
	}
}

func TestHelpListsWhatTheMomentTakes(t *testing.T) {
	r := newRig(t, caseText(t))
	r.press("?").shows("enter, space, page down", "no, and why").hides("angle lost").press("esc")
	r.toStage("Primary nut/P1/2").press("?").shows("angle lost", "0 to 9", "start a reading").hides("no, and why")
}

func TestTheFigureIsTheBiggestThing(t *testing.T) {
	for _, scene := range []string{"Draw down/M4", "Final/F1", "Primary nut/P1/1", "Primary nut/P1/2", "Primary nut/P1/3"} {
		r := newRig(t, caseText(t)).toStage(scene)
		a := r.model.asked()
		for _, size := range sizes {
			l := layoutFor(size.w, size.h)
			if rows := len(r.model.figureLines(a, l.w, wanted(size.h-5))); rows < 4 {
				t.Errorf("%s at %s: the figure has %d rows, want 4 or more", scene, size.name, rows)
			}
		}
	}
}

// The name of the procedure gives way before the engine's tag does.
func TestTheEnginesTagIsCutLast(t *testing.T) {
	const tag = "left of the two green ones"
	r := newRig(t, caseText(t), func(c *Config) { c.Engine = tag })
	for w := smallW; w < 120; w++ {
		r.size(w, 15)
		head, _, _ := strings.Cut(r.screen(), "\n")
		if !strings.Contains(head, tag) {
			t.Fatalf("at %d cells: %q", w, head)
		}
	}
	for w, want := range map[int]string{36: tag + " ", 40: "Close…, " + tag, 80: "Close the crankcase, engine " + tag} {
		r.size(w, 15)
		r.shows(want)
	}
}

// No figure may be parted from its unit, whatever the size.
func TestUnitsStayWithTheirFigures(t *testing.T) {
	r := newRig(t, caseText(t)).toStage("Primary nut/P1/1")
	for s := range anysize.Between(anysize.Size{W: smallW, H: smallH}, anysize.Size{W: 129, H: 31}) {
		r.size(s.W, s.H)
		for line := range strings.SplitSeq(r.screen(), "\n") {
			if strings.Contains(line, "= 27.3") && !strings.Contains(line, "lbf·ft") {
				t.Fatalf("at %v a figure stands without its unit: %q", s, line)
			}
		}
	}
}
