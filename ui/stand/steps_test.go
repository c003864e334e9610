package stand

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"

	"evenpull/spec/outside"
	"evenpull/ui/internal/golden"
)

// steps are all kinds of step a walk can be at, in sheets made for them. A new
// kind of step gets a line here.
var steps = []struct {
	name  string
	sheet string
	play  func(r *rig)
}{
	{"question", "close", func(r *rig) { r.toStage("ask") }},
	{"measure", "close", func(r *rig) { r.toStage("measure") }},
	{"callout", "close", func(r *rig) { r.toStage("callout") }},
	{"part-on", "close", func(r *rig) { r.toStage("part") }},
	{"part-new", "close", func(r *rig) { r.toStage("part").press("enter") }},
	{"prepare", "close", func(r *rig) { r.toStage("prep") }},
	{"sealant", "close", func(r *rig) { r.toStage("sealant") }},
	{"torque", "close", func(r *rig) { r.toStage("Snug/C9") }},
	{"hollow", "close", func(r *rig) { r.toStage("Final/F1") }},
	{"torque-point", "close", func(r *rig) { r.toStage("Rods/R1/1") }},
	{"turn-twelve-point", "close", func(r *rig) { r.toStage("Rods/R1/2") }},
	{"stretch", "close", func(r *rig) { r.toStage("Rods/R2/3") }},
	{"prepare-each", "close", func(r *rig) { r.toStage("Rods/R2/3").onward() }},
	{"left-hand", "close", func(r *rig) { r.toStage("Primary nut/P1/1") }},
	{"left-hand-loosen", "close", func(r *rig) { r.toStage("Primary nut/P1/2") }},
	{"left-hand-turn", "close", func(r *rig) { r.toStage("Primary nut/P1/4") }},
	{"verify", "close", func(r *rig) { r.toStage("Primary nut/P1/5") }},
	{"slacken", "close", func(r *rig) { r.toStage("Final/C7").press("r").write("30 N·m").press("enter", "enter") }},
	{"wait", "close", func(r *rig) { r.toStage("Settle") }},
	{"change-before-smear", "close", func(r *rig) { r.toChange("sealant") }},
	{"change", "close", func(r *rig) { r.toChange("Final/F1") }},
	{"change-socket", "open", func(r *rig) { r.toChange("Slacken/C4") }},
	{"change-taking-turns", "turns", func(r *rig) { r.toStage("Together/A2") }},
	{"coming-back", "close", func(r *rig) { r.toStage("Primary nut/P1/4").comeBack(3 * time.Hour) }},
	{"coming-back-change", "close", func(r *rig) { r.toStage("Final/C7").comeBack(time.Minute).press("x", "enter") }},
	{"loosen", "open", func(r *rig) { r.toStage("Slacken/C2") }},
	{"loosen-fully", "open", func(r *rig) { r.toStage("Run out/C5") }},
	{"remove", "open", func(r *rig) { r.toStage("Take out/C5") }},
	{"left-hand-remove", "open", func(r *rig) { r.toStage("Nut off/P1/2") }},
	{"part-off", "open", func(r *rig) { r.toStage("part") }},
}

func sheet(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("testdata/steps-" + name + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// stepSizes are the smallest full size, the design size and a large one.
var stepSizes = []struct {
	name string
	w, h int
}{{"40x15", 40, 15}, {"80x24", 80, 24}, {"120x40", 120, 40}}

// drawSteps draws every step at every size, as the environment has it.
func drawSteps(t *testing.T) map[string]map[string]string {
	drawn := map[string]map[string]string{}
	for _, step := range steps {
		r := newRig(t, sheet(t, step.sheet))
		step.play(r)
		drawn[step.name] = map[string]string{}
		for _, size := range stepSizes {
			r.size(size.w, size.h)
			drawn[step.name][size.name] = r.model.View()
		}
	}
	return drawn
}

const drawStepsOnly = "EVENPULL_TEST_DRAW_STEPS"

// drawnWith draws the steps in a process of their own: what a terminal can show is
// read from the environment once.
func drawnWith(t *testing.T, env ...string) (drawn map[string]map[string]string) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestGoldenSteps$")
	cmd.Env = append(os.Environ(), append(env, drawStepsOnly+"=1", "TERM=xterm-256color", "COLORTERM=")...)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %v\n%s", env, err, out)
	}
	line, _, _ := strings.Cut(string(out), "\n")
	if err := json.Unmarshal([]byte(line), &drawn); err != nil {
		t.Fatalf("%v: %v\n%s", env, err, out)
	}
	return drawn
}

// Every kind of step, at three sizes: what is written, and at the design size in
// what style each cell is. On a dark and a light ground only the hues differ; in
// seven bits the characters do.
func TestGoldenSteps(t *testing.T) {
	if os.Getenv(drawStepsOnly) != "" {
		if err := json.NewEncoder(os.Stdout).Encode(drawSteps(t)); err != nil {
			t.Fatal(err)
		}
		return
	}
	dark := drawnWith(t, "EVENPULL_BACKGROUND=dark", "CLICOLOR_FORCE=1", "NO_COLOR=", "EVENPULL_ASCII=0")
	light := drawnWith(t, "EVENPULL_BACKGROUND=light", "CLICOLOR_FORCE=1", "NO_COLOR=", "EVENPULL_ASCII=0")
	ascii := drawnWith(t, "NO_COLOR=1", "EVENPULL_ASCII=1")
	files := map[string]string{}
	for name := range dark {
		var text, seven strings.Builder
		for _, size := range stepSizes {
			fmt.Fprintf(&text, "== %s\n%s\n", size.name, trimmed(ansi.Strip(dark[name][size.name])))
			fmt.Fprintf(&seven, "== %s\n%s\n", size.name, trimmed(ansi.Strip(ascii[name][size.name])))
			if i := strings.IndexFunc(ascii[name][size.name], func(r rune) bool { return r > 0x7e }); i >= 0 {
				t.Errorf("%s at %s in seven bits: %q", name, size.name, ascii[name][size.name][i:i+8])
			}
			if a, b := ansi.Strip(dark[name][size.name]), ansi.Strip(light[name][size.name]); a != b {
				t.Errorf("%s at %s reads otherwise on a light ground:\n%s\n%s", name, size.name, a, b)
			}
		}
		styles, legend := stylesOf(dark[name]["80x24"], light[name]["80x24"])
		fmt.Fprintf(&text, "== styles at 80x24\n%s\n%s\n", styles, strings.Join(legend, "\n"))
		files[name+".txt"], files[name+"-ascii.txt"] = text.String(), seven.String()
	}
	golden.In(t, "testdata/steps", files)
}

// stylesOf gives a letter for the style of each cell, "." for none, and what the
// letters stand for on either ground.
func stylesOf(dark, light string) (string, []string) {
	onDark, onLight := strings.Split(dark, "\n"), strings.Split(light, "\n")
	var legend, rows []string
	for y := range onDark {
		d, l := cellStyles(onDark[y]), cellStyles(onLight[y])
		row := ""
		for x := range d {
			if d[x]+l[x] == "" {
				row += "."
				continue
			}
			entry := fmt.Sprintf("dark %-8s light %s", d[x], l[x])
			k := slices.Index(legend, entry)
			if k < 0 {
				k, legend = len(legend), append(legend, entry)
			}
			row += string(rune('a' + k))
		}
		rows = append(rows, strings.TrimRight(row, "."))
	}
	for k := range legend {
		legend[k] = fmt.Sprintf("%c  %s", 'a'+k, legend[k])
	}
	return strings.Join(rows, "\n"), legend
}

var sgr = regexp.MustCompile("\x1b\\[([0-9;]*)m")

// cellStyles is the SGR parameters in force at each cell of a line.
func cellStyles(line string) (cells []string) {
	style, from := "", 0
	put := func(text string) {
		for range ansi.StringWidth(text) {
			cells = append(cells, style)
		}
	}
	for _, m := range sgr.FindAllStringSubmatchIndex(line, -1) {
		put(line[from:m[0]])
		if style, from = line[m[2]:m[3]], m[1]; style == "0" {
			style = ""
		}
	}
	put(line[from:])
	return cells
}

// A question is never cut, however long it is and whatever the screen: its words
// stand in large letters, or all of them small.
func TestAQuestionIsNeverCut(t *testing.T) {
	long := "Both faces bare, wiped with solvent, dry, free of every trace of the old sealant, looked at under a lamp held flat?"
	for n := 12; n <= len(long); n += outside.Times(14, 7) {
		question := strings.TrimSpace(long[:n]) + "?"
		r := newRig(t, strings.Replace(twoBolts, "Both dowels in place?", question, 1))
		for w := smallW; w < 130; w += 9 {
			for h := smallH; h < 40; h += 3 {
				r.size(w, h)
				said := strings.Join(strings.Fields(r.screen()), " ")
				large := strings.ContainsAny(r.screen(), "▀▄▌▐▘▝▖▗")
				if !large && !strings.Contains(said, question) {
					t.Fatalf("at %d×%d %q is cut:\n%s", w, h, question, r.screen())
				}
			}
		}
	}
}
