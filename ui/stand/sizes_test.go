package stand

import (
	"cmp"
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/ui/bigtext"
	"evenpull/ui/fit"
	"evenpull/ui/internal/anysize"
	"evenpull/ui/theme"
	"evenpull/ui/words"
)

// lettered is all drawings of a text, kept by text.
type lettered map[string][][]string

// whole reports whether a text stands somewhere on a screen whole: in plain letters,
// large ones or letters cut out of a plate.
func (all lettered) whole(lines []string, text string) bool {
	if text == "" {
		return true
	}
	for _, line := range lines {
		if strings.Contains(line, theme.Text(text)) {
			return true
		}
	}
	if _, known := all[text]; !known {
		for _, draw := range []func(string, int, int) string{bigtext.Render, bigtext.Plate} {
			for h := 3; h < 20; h++ {
				for w := anysize.Most.W; ; {
					drawn := fit.Lines(draw(text, w, h))
					if len(drawn) < 2 {
						break
					}
					all[text], w = append(all[text], drawn), fit.Width(drawn[0])-1
				}
			}
		}
	}
	for _, drawn := range all[text] {
		if stands(lines, drawn) {
			return true
		}
	}
	return false
}

// stands reports whether a drawing is on a screen.
func stands(lines, drawn []string) bool {
	for y := 0; y+len(drawn) <= len(lines); y++ {
		first := strings.TrimRight(drawn[0], " ")
		for at := 0; at <= len(lines[y]); at++ {
			next := strings.Index(lines[y][at:], first)
			if next < 0 {
				break
			}
			at += next
			x, k := utf8.RuneCountInString(lines[y][:at]), 1
			for k < len(drawn) && strings.HasPrefix(from(lines[y+k], x), strings.TrimRight(drawn[k], " ")) {
				k++
			}
			if k == len(drawn) {
				return true
			}
		}
	}
	return false
}

func from(line string, x int) string {
	all := []rune(line)
	return string(all[min(x, len(all)):])
}

// figureStands says what of the figure, its unit and the fastener's id is not whole on a
// screen that is large enough for the whole set of lines.
func (all lettered) figureStands(shown tea.Model, s anysize.Size) string {
	m, lines := shown.(Model), strings.Split(ansi.Strip(shown.View()), "\n")
	if len(lines) != s.H {
		return fmt.Sprintf("it has %d lines", len(lines)) // what is left of the frame before would stand below it
	}
	if s.W < smallW || s.H < smallH || m.covered() || m.cfg.State.Phase != walk.IsOpen || m.facts.item == nil {
		return ""
	}
	a := m.asked()
	low, high, _ := strings.Cut(a.figure, "–")
	if high == "" || all.whole(lines, a.figure) {
		low, high = a.figure, ""
	} else {
		low += "–"
	}
	for _, what := range []string{a.id, low, high, a.unit} {
		if !all.whole(lines, what) {
			return fmt.Sprintf("%q is not on it whole, of %s", what, cmp.Or(strings.TrimSpace(a.id+" "+a.figure+" "+a.unit), "nothing"))
		}
	}
	return ""
}

// more are moments that the golden screens do not show.
var more = []struct {
	name string
	play func(t *testing.T) *rig
}{
	{"figures", func(t *testing.T) *rig { return newRig(t, caseText(t)).toStage("Final/F1").press("i") }},
	{"neighbours", func(t *testing.T) *rig { return newRig(t, caseText(t)).toStage("Final/F1").press("i", "tab") }},
	{"outstanding", func(t *testing.T) *rig { return newRig(t, caseText(t)).toStage("Final/F1").press("o") }},
	{"undo", func(t *testing.T) *rig { return newRig(t, caseText(t)).toStage("Final/M1").press("u") }},
	{"note", func(t *testing.T) *rig { return newRig(t, caseText(t)).toStage("Final/M1").press("m").write(wide) }},
	{"told", told},
	{"all told", func(t *testing.T) *rig { return told(t).press("h") }},
	{"seal afresh", func(t *testing.T) *rig { return newRig(t, caseText(t)).toStage("Final/M1").press("e") }},
	{"gauge", func(t *testing.T) *rig { return newRig(t, caseText(t)).toStage("Final/M1").press("g") }},
	{"photo", func(t *testing.T) *rig {
		return newRig(t, caseText(t), looking).toStage("part").press("t").write("lobe.jpg")
	}},
	{"no photo", func(t *testing.T) *rig {
		return newRig(t, caseText(t), looking).press("t").write("gone.jpg").press("enter")
	}},
	{"found", func(t *testing.T) *rig { return newRig(t, caseText(t)).toStage("part").press("f").write("scored") }},
	{"found new", func(t *testing.T) *rig { return newRig(t, sheet(t, "open")).toStage("part").press("F").write(wide) }},
	{"things", func(t *testing.T) *rig { return brought(t, left...).toStage("").press("enter", "enter") }},
	{"finding", func(t *testing.T) *rig { return asked(t, seat).press("?", "esc") }},
	{"answering", func(t *testing.T) *rig { return asked(t, seat).press("?", "esc", "enter") }},
	{"heed", func(t *testing.T) *rig {
		return newRig(t, caseText(t), func(c *Config) { c.Heed = []string{"one", wide} })
	}},
	{"read only", func(t *testing.T) *rig {
		return newRig(t, caseText(t), func(c *Config) { c.ReadOnly = "process 811 on bench since 14:55" })
	}},
	{"watching", func(t *testing.T) *rig { return newPair(t).w }},
	{"scale", func(t *testing.T) *rig {
		set := words.Setting{Mark: "17.5", Unit: "N·m", With: "crowfoot 12"}
		return newRig(t, caseText(t), func(c *Config) { c.Scale = func(*plan.Stage) words.Setting { return set } }).toChange("Final/M1")
	}},
	{"wide question", func(t *testing.T) *rig { return newRig(t, inWide(caseText(t)), tagged) }},
	{"wide stage", func(t *testing.T) *rig { return newRig(t, inWide(caseText(t)), tagged).toStage(wide + "/M1") }},
	{"wide renew", func(t *testing.T) *rig {
		return newRig(t, inWide(caseText(t)), tagged).toStage(wide + "/F1").press("enter")
	}},
	{"wide why", func(t *testing.T) *rig {
		return newRig(t, inWide(caseText(t)), tagged).toStage(wide + "/F1").press("w")
	}},
	{"wide ready", func(t *testing.T) *rig { return newRig(t, inWide(caseText(t)), tagged).toStage("") }},
}

func told(t *testing.T) *rig {
	r := newRig(t, caseText(t)).toStage("Final/M1")
	for _, text := range []string{"tender", wide, strings.Repeat("a long word of it ", 9)} {
		r.press("m").write(text).press("enter")
	}
	return r
}

var (
	left = []walk.Carried{{ID: "drum-shim", Name: "selector drum shim", Count: 1, Facts: walk.Facts{walk.Size: "0.8 mm", walk.Box: "2"}}, {ID: "dowel", Name: wide, Count: 2}}
	seat = walk.Fault{ID: "seat", What: "bearing seat", Found: "is 0.05 mm, over the limit of 0.03 mm", Max: "0.03 mm", Where: "crank", Reading: "0.05 mm", Record: "down", At: time.Date(2025, 3, 2, 9, 0, 0, 0, time.UTC)}
)

// wide has letters of two cells, one that another joins, and signs of several.
const wide = "曲轴箱 e\u0301 締付け 🔧🇩🇪 ﷽"

func tagged(c *Config) { c.Engine = wide }

func inWide(text string) string {
	return strings.NewReplacer("Close the crankcase", wide, `"Final"`, `"`+wide+`"`, "main case bolts", wide, "12 mm hex", wide, "oil-feed bolt", wide, "sealing washer", wide,
		"Never turn it", wide+" never turn it", "Both dowels", wide+" dowels", "the film spreads", wide, "Osier 380", wide).Replace(text)
}

// Every step and every overlay at every size, and on any of them the figure, its unit and
// the fastener's id whole, from the smallest screen that has room for all lines on.
func TestEveryMomentAtEverySize(t *testing.T) {
	all := lettered{}
	var list []anysize.Screen
	for name, r := range moments(t) {
		list = append(list, anysize.Screen{Name: name, Model: r.model, Also: all.figureStands})
	}
	for _, scene := range more {
		list = append(list, anysize.Screen{Name: scene.name, Model: scene.play(t).model, Also: all.figureStands})
	}
	anysize.AtEdges(t, list...)
	for kind, ascii := range map[string]bool{"colour": false, "seven bits": true} {
		t.Run(kind, func(t *testing.T) {
			anysize.On(t, ascii)
			clear(all)
			for i := range list {
				m := list[i].Model.(Model)
				m.memo = newMemo() // what it holds is drawn otherwise
				list[i].Model = m
			}
			anysize.Drawn(t, list...)
		})
	}
}
