package report

import (
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/spec/outside"
)

// paperCopy has a page printed by Chromium and read back by pdftotext: how many
// sheets of what size, how many words leave the margins, and what stands on each.
func paperCopy(t *testing.T, name, page string) (sheets []string, offPaper int, size string) {
	t.Helper()
	answer := outside.Answer(t, outside.Question{
		Name: "chromium-print-" + name, Command: "chromium --headless --print-to-pdf=page.pdf page.html; pdftotext -bbox page.pdf; pdftotext -layout page.pdf",
		Version: []string{"chromium", "--version"}, Install: "chromium", Input: page,
		Ask: func() (string, error) {
			dir := t.TempDir()
			file, pdf := filepath.Join(dir, "page.html"), filepath.Join(dir, "page.pdf")
			if err := os.WriteFile(file, []byte(page), 0o600); err != nil {
				return "", err
			}
			args := append(quiet(dir), "--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+file)
			if said, err := exec.Command("chromium", args...).CombinedOutput(); err != nil {
				return "", fmt.Errorf("%w\n%s", err, said)
			}
			places, err := exec.Command("pdftotext", "-bbox", pdf, "-").Output()
			if err != nil {
				return "", fmt.Errorf("pdftotext, of the package poppler-utils: %w", err)
			}
			off, size, err := wordsOff(string(places))
			if err != nil {
				return "", err
			}
			text, err := exec.Command("pdftotext", "-layout", pdf, "-").Output()
			return fmt.Sprintf(printFormat, size, off) + string(text), err
		},
	})
	head, text, _ := strings.Cut(answer, "\n\n")
	if n, err := fmt.Sscanf(head+"\n\n", printFormat, &size, &offPaper); n != 2 {
		t.Fatalf("%s: %q: %v", name, head, err)
	}
	return strings.Split(strings.TrimSuffix(text, "\f"), "\f"), offPaper, size
}

const printFormat = "size in points: %s\nwords outside the margins: %d\n\n"

// quiet keeps Chromium from looking for its own servers.
func quiet(dir string) []string {
	return []string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--user-data-dir=" + filepath.Join(dir, "user")}
}

// wordsOff counts the words that lie outside the margins of their page, but for
// the line at its foot.
func wordsOff(bbox string) (off int, size string, err error) {
	const margin = pageMargin/25.4*72 - 2 // a word's box reaches a little beyond its ink
	dec := xml.NewDecoder(strings.NewReader(bbox))
	dec.Strict, dec.Entity = false, xml.HTMLEntity
	var w, h float64
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return off, size, nil
		}
		if err != nil {
			return 0, "", err
		}
		el, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		at := map[string]float64{}
		for _, a := range el.Attr {
			var v float64
			if n, _ := fmt.Sscan(a.Value, &v); n == 1 {
				at[a.Name.Local] = v
			}
		}
		switch el.Name.Local {
		case "page":
			w, h = at["width"], at["height"]
			size = fmt.Sprintf("%.0fx%.0f", w, h)
		case "word":
			if at["xMin"] < margin || at["xMax"] > w-margin || at["yMin"] < margin || at["yMax"] > h-8 {
				off++
			}
		}
	}
}

// crowded is a record that no one page could hold: more fasteners, passes and
// deviations than there is room for, every text as long as it may be.
func crowded(fasteners, passes int) Sheet {
	long := strings.Repeat("a long word and another ", 17)[:400]
	s := Sheet{ID: "2026-11-25-4-1", Engine: long[:60], Procedure: long, BuiltFor: long, FigureSource: long, State: "open", Chain: "broken", ChainNote: long, Started: start,
		ClosingHash: strings.Repeat("0123456789abcdef", 4), ClosingNote: ClosingShows, Groups: []Group{{ID: "main", Title: long[:60]}}}
	for p := range passes {
		s.Passes = append(s.Passes, Pass{Name: fmt.Sprintf("Pass number %d of the sheet", p+1), Figures: []Figure{{Group: "main", Text: "24 N·m to 28 N·m"}}})
	}
	for i := range fasteners {
		f := Fastener{ID: fmt.Sprintf("Stud%d", i+1), Group: "main", X: float64(i % 10 * 40), Y: float64(i / 10 * 40), Hollow: i%7 == 0}
		for p := range passes {
			f.Stages = append(f.Stages, Stage{Pass: s.Passes[p].Name, Confirmed: p < passes/2, Reading: "26.125 N·m", Figure: "24 N·m to 28 N·m", Action: "torque", Number: p*fasteners + i + 1})
		}
		s.Fasteners = append(s.Fasteners, f)
		s.Outstanding = append(s.Outstanding, fmt.Sprintf("%s: %s", f.ID, long))
		s.Deviations = append(s.Deviations, Deviation{i, start, long})
		s.Renewals = append(s.Renewals, Renewal{Seq: i, At: start, Of: f.ID, Piece: long, Number: long, Stands: true})
		s.Checks = append(s.Checks, Check{Measure: long, Limits: "0.05 mm to 0.2 mm", Reading: "0.12 mm", Confirmed: true}, Check{Ask: long, Answer: "no"})
	}
	return s
}

// Whatever the record holds, its first page is one page: the engine, the
// verdict, the hash and the place to sign are on it, and nothing is cut off.
func TestTheFirstPageIsOnePage(t *testing.T) {
	for name, c := range map[string]struct {
		sheet Sheet
		paper Paper
		most  int // sheets in all
		want  []string
	}{
		"crankcase-a4":     {crankcase(t).sheet("7"), A4, 3, []string{"DONE", "Close the crankcase", "8.1 N·m", "lot 19", "0.14 mm", "limits 0.05 mm to 0.2 mm", "wrong socket", "Cured by 2026-11-25 21:16:00"}},
		"crankcase-letter": {crankcase(t).sheet("7"), Letter, 4, []string{"DONE", "Close the crankcase", "8.1 N·m"}},
		"open-letter":      {eventful(t).sheet("stand 2"), Letter, 3, []string{"NOT DONE", "Still to do: 14", "THIS JOINT IS NOT DONE"}},
		"crowded-a4":       {crowded(60, 4), A4, 1000, []string{"NOT DONE", "DO NOT RELY", "By pass", "more: in the appendix"}},
		"crowded-letter":   {crowded(18, 3), Letter, 1000, []string{"NOT DONE", "Stud18", "more: in the appendix"}},
	} {
		sheets, off, size := paperCopy(t, name, printed(t, func(w io.Writer, s Sheet) error { return WriteHTML(w, s, c.paper) }, c.sheet))
		first := strings.Join(strings.Fields(sheets[0]), " ")
		contains(t, name+", first page", first, append(c.want, c.sheet.Engine, c.sheet.ClosingHash, "Mechanic, in block letters", "Signature", "Date", fmt.Sprintf("page 1 of %d", len(sheets)))...)
		if len(sheets) < 2 || !strings.HasPrefix(strings.TrimSpace(sheets[1]), "Appendix:") {
			t.Errorf("%s: the second of %d pages is not the beginning of the appendix", name, len(sheets))
		}
		if len(sheets) > c.most {
			t.Errorf("%s: %d pages, want at most %d", name, len(sheets), c.most)
		}
		if want := map[string]string{"A4": "595x842", "letter": "612x792"}[c.paper.Name]; size != want || off > 0 {
			t.Errorf("%s: a sheet of %s points, want %s; %d words leave the margins", name, size, want, off)
		}
	}
}
