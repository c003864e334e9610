package report

import (
	"bytes"
	"encoding/csv"
	"io"
	"strings"
	"testing"
	"time"
	"unicode"

	"evenpull/procedures/walk"
	"evenpull/ui/fit"
	"evenpull/ui/internal/golden"
)

func printed(t *testing.T, write func(io.Writer, Sheet) error, s Sheet) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func onA4(w io.Writer, s Sheet) error     { return WriteHTML(w, s, A4) }
func onLetter(w io.Writer, s Sheet) error { return WriteHTML(w, s, Letter) }

func TestGoldenPages(t *testing.T) {
	another := bytes.Replace(eventful(t).text, []byte(`torque   = "9 N·m"`), []byte(`torque   = "10 N·m"`), 1)
	newer := newBench(t, another)
	newer.upTo("Again/R2/1")
	compare := func(w io.Writer, s Sheet) error {
		c := Compare(s, newer.sheet("stand 3"))
		c.Today = []Today{AgainstToday(s, newBench(t, another).sheet("")), UnknownToday(newer.sheet("stand 3"), "cover.toml is not there")}
		return WriteComparison(w, c)
	}
	golden.Files(t, map[string]string{
		"finished.txt":   printed(t, WriteText, finished(t).sheet("stand 2")),
		"open.pages.txt": printed(t, WritePages, eventful(t).sheet("stand 2")),
		"open.json":      printed(t, WriteJSON, eventful(t).sheet("stand 2")),
		"finished.json":  printed(t, WriteJSON, finished(t).sheet("stand 2")),
		"open.csv":       printed(t, WriteCSV, eventful(t).sheet("stand 2")),
		"finished.html":  printed(t, onA4, finished(t).sheet("stand 2")),
		"open.html":      printed(t, onLetter, eventful(t).sheet("stand 2")),
		"crankcase.html": printed(t, onA4, crankcase(t).sheet("7")),
		"card.html":      cardOf(t, eventful(t).text, A4),
		"crankcase.svg":  printed(t, WriteSVG, crankcase(t).sheet("7")),
		"compare.txt":    printed(t, compare, finished(t).sheet("stand 2")),
	})
}

// hostile is a record whose every text was written by an enemy.
func hostile(t *testing.T) Sheet {
	bad := "\x1b]0;x\a\x1b[2J<script>alert(1)</script>\u202e=HYPERLINK(\"x\")\u009b\r\n\f"
	b := coverBench(t)
	b.upTo("Draw down/R1")
	b.must(walk.Command{Do: walk.Note, Text: bad})
	b.must(walk.Command{Do: walk.Confirm, Facts: map[string]string{"wrench": bad}})
	b.must(walk.Command{Do: walk.Undo, Text: bad})
	b.must(walk.Command{Do: walk.Renew, Target: "R1", Number: bad})
	return New(Input{ID: bad, Engine: bad, Source: bad, SHA256: bad, Program: bad, Started: start, Broken: bad, State: b.live.State, Notes: []string{bad}, Now: b.now})
}

func TestNoControlCharacterGetsThrough(t *testing.T) {
	formats := map[string]func(io.Writer, Sheet) error{"show": WriteText, "compare": func(w io.Writer, s Sheet) error { return WriteComparison(w, Compare(s, s)) }}
	for name, f := range Formats {
		formats[name] = func(w io.Writer, s Sheet) error { return f(w, s, Letter) }
	}
	allowed := map[string]string{"show": "\n", "compare": "\n", "text": "\n\f", "html": "\n", "svg": "\n", "csv": "\r\n", "json": "\n"}
	for name, write := range formats {
		text := printed(t, write, hostile(t))
		for _, r := range text {
			if (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) && !strings.ContainsRune(allowed[name], r) {
				t.Errorf("%s lets %U through", name, r)
			}
		}
		if name != "html" && name != "compare" && !strings.Contains(text, "alert(1)") {
			t.Errorf("%s does not show the hostile text at all, so this test proves nothing", name)
		}
	}
}

func TestTextFitsAPrinter(t *testing.T) {
	long := strings.Repeat("a very long remark ", 20) + strings.Repeat("x", 300)
	b := eventful(t)
	for range 6 {
		b.must(walk.Command{Do: walk.Note, Text: long})
	}
	s := b.sheet(strings.Repeat("tag ", 60))
	for i, line := range strings.Split(printed(t, WriteText, s), "\n") {
		if w := fit.Width(line); w > 80 {
			t.Errorf("line %d is %d wide: %q", i+1, w, line)
		}
	}
	pages := strings.Split(printed(t, WritePages, s), "\f")
	if len(pages) < 3 {
		t.Fatalf("only %d pages: this test needs several", len(pages))
	}
	for i, page := range pages {
		if n := strings.Count(page, "\n"); n != pageLines {
			t.Errorf("page %d has %d lines, want %d", i+1, n, pageLines)
		}
		for _, line := range strings.Split(page, "\n") {
			if w := fit.Width(line); w > 80 {
				t.Errorf("page %d: %d wide: %q", i+1, w, line)
			}
		}
	}
	contains(t, "the pages", strings.Join(pages, ""), "TIMELINE, CONTINUED")
	contains(t, "the last page", pages[len(pages)-1], "SIGNED", "NOT DONE", "Signature   ____")
}

func TestManyPassesAreSplitOverTables(t *testing.T) {
	s := Sheet{Chain: "whole", State: "open"}
	f := Fastener{ID: "M1"}
	for _, name := range []string{"First turn of the outer ring", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth", "Ninth", "Tenth", "Eleventh", "Twelfth", "Thirteenth"} {
		s.Passes = append(s.Passes, Pass{Name: name})
		f.Stages = append(f.Stages, Stage{Pass: name, Confirmed: true, Number: len(f.Stages) + 1, Reading: name[:3]})
	}
	s.Fasteners = []Fastener{f}
	text := printed(t, WriteText, s)
	contains(t, "text", text, "FASTENERS BY PASS\n", "FASTENERS BY PASS, CONTINUED\n", "Sixth", "Eighth", "=Eig")
	if n := strings.Count(printed(t, onA4, s), `<table class="matrix">`); n != 3 {
		t.Errorf("13 passes in HTML give %d tables, want 3", n)
	}
}

func TestCSVReadsBackAndRunsNothing(t *testing.T) {
	s := eventful(t).sheet("=cmd|' /C calc'!A0")
	text := printed(t, WriteCSV, s)
	if n := strings.Count(text, "\n"); n != strings.Count(text, "\r\n") || n != 23 {
		t.Errorf("%d lines, %d of them ended as RFC 4180 says; want 23 of both", n, strings.Count(text, "\r\n"))
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		if row[1] != "'=cmd|' /C calc'!A0" {
			t.Fatalf("engine came out as %q", row[1])
		}
	}
	for in, want := range map[string]string{"=1": "'=1", "+1": "'+1", "-1": "'-1", "@x": "'@x", " =1": "' =1", "＝1": "'＝1", "\tx": "'\tx", "\rx": "'\rx", "\t=1": "'\t=1", "\u3000+1": "'\u3000+1", "−1": "'−1", "a=1": "a=1", "": "", "3.6 N·m": "3.6 N·m"} {
		if got := CSVCell(in); got != want {
			t.Errorf("CSVCell(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestComparisonFindsEachDifferenceAndNothingElse(t *testing.T) {
	same := finished(t).sheet("a")
	var b bytes.Buffer
	if err := WriteComparison(&b, Compare(same, same)); err != nil {
		t.Fatal(err)
	}
	contains(t, "a record against itself", b.String(), "None: all 22", "word for word")
	if strings.Contains(b.String(), "DEVIATIONS") || strings.Contains(b.String(), "CHECKS") {
		t.Errorf("a record differs from itself:\n%s", b.String())
	}
	other := finished(t)
	s := other.sheet("a")
	s.Fasteners[2].Stages[0].Reading = "3.7 N·m"
	late := s.Fasteners[4].Stages[0].At.Add(42 * time.Minute)
	s.Fasteners[4].Stages[0].At = &late
	s.Fasteners = s.Fasteners[:5] // another version without N1
	b.Reset()
	if err := WriteComparison(&b, Compare(same, s)); err != nil {
		t.Fatal(err)
	}
	contains(t, "the comparison", b.String(), "R3, Draw down\n", "read 3.7 N·m", "N1, Final\n", "Final\n    A  19 min\n    B  46 min\n", "not in this record's procedure")
	if strings.Contains(b.String(), "R2, ") {
		t.Errorf("R2 is the same in both, yet listed:\n%s", b.String())
	}
}

// The foot of every sheet of paper is set in the style, where other rules hold
// for what is text.
func TestNoTextBreaksOutOfTheStyle(t *testing.T) {
	for _, bad := range []string{`x"; } body { display:none } @page { "`, `x</style><script>alert(1)</script>`, `\"} body{display:none}`, `/* x`, "data:x", "javascript:x", `url(x)`} {
		s := coverBench(t).sheet(bad)
		s.ID, s.State = bad, bad
		page := printed(t, onA4, s)
		_, style, _ := strings.Cut(page, "<style>")
		style, _, _ = strings.Cut(style, "</style>")
		if strings.Contains(style, "display:none") || strings.Contains(page, "<script") || !strings.HasSuffix(strings.TrimSpace(style), "}") {
			t.Errorf("%q becomes part of the style or is lost:\n%s", bad, style)
		}
	}
}
