package report

import (
	"bytes"
	"fmt"
	"html"
	"strings"
	"testing"

	"evenpull/procedures"
	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec/read"
)

func cardOf(t *testing.T, text []byte, p Paper) string {
	t.Helper()
	proc, problems := read.Procedure("card.toml", text)
	if proc == nil {
		t.Fatal(problems)
	}
	var b bytes.Buffer
	if err := WriteCard(&b, walk.New(plan.Of(proc)), "evenpull walk card.toml --engine TAG --from-paper", p); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func bundledText(t *testing.T, name string) []byte {
	t.Helper()
	p, _, err := procedures.Library{}.Load(name)
	if err != nil || p == nil {
		t.Fatalf("%s: %v", name, err)
	}
	return p.Text
}

// A card has one box for each step of the walk and each new piece of a
// fastener, and names every fastener in every pass it is in.
func TestACardHasABoxForEveryStep(t *testing.T) {
	for _, name := range procedures.Bundled() {
		text := bundledText(t, name)
		proc, _ := read.Procedure(name, text)
		s := walk.New(plan.Of(proc))
		want, rows := 0, map[string]int{}
		for _, it := range s.Items {
			if !it.Later {
				want++
			}
			if it.Kind == walk.StageItem {
				rows[it.Pass.Name+"/"+it.Stage.Fastener.ID]++
			}
		}
		for _, p := range s.Pieces() {
			if p.Fastener != "" {
				want++
			}
		}
		page := cardOf(t, text, A4)
		if n := strings.Count(page, `class="box"`); n != want {
			t.Errorf("%s: %d boxes, want %d", name, n, want)
		}
		if n := strings.Count(page, `class="id">`); n != len(rows) {
			t.Errorf("%s: %d rows of fasteners, want %d", name, n, len(rows))
		}
		contains(t, name, html.UnescapeString(page), "--from-paper", "times are unknown", "service manual governs", "Signature", "Engine (tag)")
	}
}

func TestAHostileProcedureStaysTextOnItsCard(t *testing.T) {
	text := bytes.ReplaceAll(bundledText(t, "rod-bolts"), []byte("Osier"), []byte(`<script>alert(1)</script>\"};body{display:none} Osier`))
	page := cardOf(t, text, Letter)
	harmless(t, page)
	if i := strings.Index(page, "</style>"); strings.Contains(page[:i], "display:none") {
		t.Error("a text of the procedure became part of the style")
	}
	contains(t, "the card", page, "&lt;script&gt;")
}

func TestACardPrintsOnItsPaper(t *testing.T) {
	for name, c := range map[string]struct {
		procedure string
		paper     Paper
		most      int
	}{"card-crankcase-a4": {"crankcase-close", A4, 3}, "card-head-letter": {"head-torque-turn", Letter, 3}} {
		page := cardOf(t, bundledText(t, c.procedure), c.paper)
		sheets, off, size := paperCopy(t, name, page)
		if want := map[string]string{"A4": "595x842", "letter": "612x792"}[c.paper.Name]; size != want || off > 0 || len(sheets) > c.most {
			t.Errorf("%s: %d sheets of %s points, want at most %d of %s; %d words leave the margins", name, len(sheets), size, c.most, want, off)
		}
		contains(t, name, sheets[len(sheets)-1], "Signature", fmt.Sprintf("page %d of %d", len(sheets), len(sheets)))
	}
}
