package stand

import (
	"bytes"
	"html"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"evenpull/procedures/walk"
	"evenpull/ui/plain"
	"evenpull/ui/report"
)

// hazards are what makes a wrong pull of the usual one, each at a step that has it,
// and what must be said of it there: on the screen at every size, in the plain walk
// and on the printed work card. Patterns don't tell capitals from small letters.
var hazards = []struct {
	name, step string
	brought    []walk.Carried
	stand      []string
	plain      []string
	card       []string
}{
	{
		name: "left-hand thread, loosened", step: "Nut/P1/1",
		stand: []string{`left-hand`, `loosen clockwise`}, plain: []string{`left-hand thread`, `loosen clockwise`}, card: []string{`left-hand thread`, `loosen clockwise`},
	},
	{
		name: "left-hand thread, tightened", step: "Nut/P1/2",
		stand: []string{`left-hand`, `tighten anticlockwise`}, plain: []string{`left-hand thread`, `tighten anticlockwise`}, card: []string{`left-hand thread: tighten anticlockwise`},
	},
	{
		name: "caution of a group", step: "Dry/S1",
		stand: []string{`! Hold the stay level\.`}, plain: []string{`caution: Hold the stay level\.`}, card: []string{`! .*stay bolts: Hold the stay level\.`},
	},
	{
		name: "caution of a pass", step: "Sealed/S2",
		stand: []string{`! The shafts must still turn\.`}, plain: []string{`caution: The shafts must still turn\.`}, card: []string{`! The shafts must still turn\.`},
	},
	{
		name: "both cautions at once", step: "Sealed/S2",
		stand: []string{`! The shafts must still turn\.`, `! Hold the stay level\.`}, plain: []string{`shafts must`, `Hold the stay`}, card: []string{`shafts must`, `Hold the stay`},
	},
	{
		name: "time of a sealant", step: "Sealed/B2",
		stand: []string{`sealant .*39:\d\d.* left`}, plain: []string{`sealant: .* of work time left`}, card: []string{`anaerobic flange sealant: work time 40 min`},
	},
	{
		name: "figure without a source", step: "Dry/B1",
		stand: []string{`unsourced figure`}, plain: []string{`unsourced figure`}, card: []string{`rim bolts: unsourced figure`},
	},
	{
		name: "ceiling of a stretch", step: "Rods/R1/2",
		stand: []string{`! never over 40 N·m`}, plain: []string{`never over 40 N·m`}, card: []string{`! never over 40 N·m`},
	},
	{
		name: "bolt that is away", step: "Dry/S1",
		brought: []walk.Carried{{ID: "S1", Name: "S1", Fastener: true, Thread: "M8x1.25", Away: "plating"}},
		stand:   []string{`! away for plating: mark it back first`}, plain: []string{`away for plating: mark it back first`}, card: []string{`! away for plating: mark it back first`},
	},
	{
		name: "bolt back and not clean", step: "Dry/S1",
		brought: []walk.Carried{{ID: "S1", Name: "S1", Fastener: true, Thread: "M8x1.25", Unclean: "plating"}},
		stand:   []string{`! back from plating: no media in oilways, threads chased, faces bare and`}, plain: []string{`back from plating: no media`}, card: []string{`! back from plating: no media`},
	},
	{
		name: "new pieces that are due", step: "Pipe/F1",
		stand: []string{`new: 2 × sealing washer`}, plain: []string{`new: 2 × sealing washer`}, card: []string{`new: 2 × sealing washer`},
	},
	{
		name: "bolt that has to be new itself", step: "Nut/P1/2",
		stand: []string{`new: the fastener itself`}, plain: []string{`new: the fastener itself`}, card: []string{`new: the fastener itself`},
	},
	{
		name: "caution of a question", step: "ask",
		stand: []string{`! Solvent: ventilate\.`}, plain: []string{`caution: Solvent: ventilate\.`}, card: []string{`bare and dry\? ! Solvent: ventilate\.`},
	},
	{
		name: "caution of a measurement", step: "measure",
		stand: []string{`! Turn the crank by hand only\.`}, plain: []string{`caution: Turn the crank by hand only\.`}, card: []string{`crank end float.* ! Turn the crank by hand only\.`},
	},
	{
		name: "caution of what to have ready", step: "callout",
		stand: []string{`! Keep fingers out of the joint\.`}, plain: []string{`caution: Keep fingers out of the joint\.`}, card: []string{`pair of hands\. ! Keep fingers out of the joint\.`},
	},
	{
		name: "caution of a part, and that it has to be new", step: "part",
		stand: []string{`! Do not roll the lip\.`, `new: output shaft seal`, `where: lip inwards and greased`}, plain: []string{`caution: Do not roll the lip\.`, `new: output shaft seal`, `where: lip inwards`},
		card: []string{`output shaft seal, new, number lip inwards and greased ! Do not roll the lip\.`},
	},
	{
		name: "everything at once", step: "Worst/W1",
		stand: []string{`left-hand`, `tighten anticlockwise`, `◎ hollow`, `unsourced figure`, `new: the fastener itself`, `! Fingers out of the fan\.`, `! Hold the rotor\.`, `sealant .*39:\d\d.* left`, `19 mm hex`},
		plain: []string{`left-hand thread`, `tighten anticlockwise`, `hollow`, `unsourced figure`, `new: the fastener itself`, `caution: Fingers out of the fan\.`, `caution: Hold the rotor\.`, `of work time left`},
		card:  []string{`rotor nut: unsourced figure`, `Fingers out of the fan`, `rotor nut: Hold the rotor`},
	},
}

func hazardSheet(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("testdata/hazards.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// rigAt comes to a step, with what the engine brings.
func rigAt(t *testing.T, step string, brought []walk.Carried) *rig {
	t.Helper()
	r := newRig(t, hazardSheet(t), func(c *Config) {
		if brought == nil {
			return
		}
		e, refusal := walk.Decide(c.State, walk.Command{Do: walk.Bring, Brought: brought}, c.Now())
		if refusal != nil {
			t.Fatal(refusal)
		}
		c.State.Apply(*e)
	})
	return r.toStage(step)
}

// read is a screen as its lines are read: whole, and the left column alone, as what
// is wrapped there goes on below and not in the map.
func (r *rig) read(w, h int) string {
	r.size(w, h)
	var left []string
	for line := range strings.SplitSeq(r.screen(), "\n") {
		left = append(left, strings.TrimSpace(ansi.Truncate(line, layoutFor(w, h).left, "")))
	}
	return strings.Join(left, " ") + "\n" + r.screen()
}

func (r *rig) plainly() string {
	return strings.Join(plain.Prompt(r.model.cfg.State, r.model.facts.where, nil, r.now), " ")
}

// card is the words of the printed work card.
func (r *rig) card() string {
	r.t.Helper()
	var page bytes.Buffer
	if err := report.WriteCard(&page, r.model.cfg.State, "evenpull walk hazards.toml", report.A4); err != nil {
		r.t.Fatal(err)
	}
	words := regexp.MustCompile(`<style>(?s:.*?)</style>|<svg(?s:.*?)</svg>|<[^>]*>`).ReplaceAllString(page.String(), " ")
	return strings.Join(strings.Fields(html.UnescapeString(words)), " ")
}

func says(text, pattern string) bool { return regexp.MustCompile(`(?i)` + pattern).MatchString(text) }

func TestHazardsAreSaidEverywhere(t *testing.T) {
	for _, hazard := range hazards {
		t.Run(hazard.name, func(t *testing.T) {
			r := rigAt(t, hazard.step, hazard.brought)
			for _, size := range stepSizes {
				text := r.read(size.w, size.h)
				for _, pattern := range hazard.stand {
					if !says(text, pattern) {
						t.Errorf("the screen at %s says nothing like %q:\n%s", size.name, pattern, r.screen())
					}
				}
			}
			for _, pattern := range hazard.plain {
				if text := r.plainly(); !says(text, pattern) {
					t.Errorf("the plain walk says nothing like %q: %s", pattern, text)
				}
			}
			for _, pattern := range hazard.card {
				if text := r.card(); !says(text, pattern) {
					t.Errorf("the card says nothing like %q: %s", pattern, text)
				}
			}
		})
	}
}

// Where there is no hazard none is spoken of, so the words above are its own.
func TestNoHazardIsSaidWhereThereIsNone(t *testing.T) {
	r := rigAt(t, "Dry/C2", nil)
	bland := newRig(t, twoBolts)
	for _, hazard := range hazards {
		for _, size := range stepSizes {
			for _, pattern := range hazard.stand {
				if text := r.read(size.w, size.h); says(text, pattern) {
					t.Errorf("the screen at %s speaks of %q at a bolt without any hazard:\n%s", size.name, pattern, r.screen())
				}
			}
		}
		for _, pattern := range hazard.plain {
			if text := r.plainly(); says(text, pattern) {
				t.Errorf("the plain walk speaks of %q at a bolt without any hazard: %s", pattern, text)
			}
		}
		for _, pattern := range hazard.card {
			if text := bland.card(); says(text, pattern) {
				t.Errorf("the card of a joint without any hazard speaks of %q: %s", pattern, text)
			}
		}
	}
}
