package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"

	"evenpull/ui/internal/golden"
)

// owned is an engine with an eventful walk left open and a closed crankcase.
func owned(t *testing.T) Build {
	t.Helper()
	open, done := eventful(t).sheet("7 <b>"), finished(t).sheet("7 <b>")
	open.ID, done.ID = "walk-1", "walk-2"
	standing := []Section{{"Now", []string{"closed <script>"}}, {"To buy", nil}, {"Off", nil}}
	for i := range 40 {
		standing[2].Lines = append(standing[2].Lines, fmt.Sprintf("thing %d", i))
	}
	return Build{Tag: "7 <b>", Name: "=HYPERLINK(1)", Meter: "412 h", At: start, Standing: standing, Sheets: []Sheet{open, done}}
}

func (b Build) in(t *testing.T, format string) string {
	t.Helper()
	var out bytes.Buffer
	if err := BuildFormats[format](&out, b, A4); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestABuildSheetHasEveryWalkOnceAndEssentialsFirst(t *testing.T) {
	b := owned(t)
	page := b.in(t, "html")
	front, rest, _ := strings.Cut(page, "</section>")
	contains(t, "the first page", front, "7 &lt;b&gt;", "412 h", "1 done, 1 open", "closed &lt;script&gt;", "Signature", "responsible for it", "service manual governs", "thing 9", "and 30 more")
	if strings.Contains(front, "thing 10<") {
		t.Error("a list of the first page is not cut")
	}
	contains(t, "the whole page", rest, "thing 39", b.Sheets[0].ClosingHash)
	for _, s := range b.Sheets {
		if n := strings.Count(rest, "<dd>"+s.ID+"</dd>"); n != 1 {
			t.Errorf("walk %s stands %d times in it", s.ID, n)
		}
	}
	if strings.Contains(page, "<script") || strings.Contains(page, "To buy") {
		t.Error("it has a script, or a heading over nothing")
	}
	golden.In(t, "testdata/build", map[string]string{"sheet.txt": b.in(t, "text")})
}

// A joint that is not done, or whose record cannot be relied on, gives no final figures.
func TestOnlyClosedJointsGiveFinalFigures(t *testing.T) {
	b := owned(t)
	finals := func() []entry { return b.panels()[0].Rows }
	if got := finals(); len(got) == 0 || !strings.Contains(got[0].Text, b.Sheets[1].Procedure) || len(got) != len(b.Sheets[1].finals("")) {
		t.Errorf("final figures %v", got)
	}
	b.Sheets[1].Chain = "broken"
	if got := finals(); len(got) != 1 || got[0].Text != "No joint is closed." {
		t.Errorf("of a broken record: %v", got)
	}
	if j := b.joints()[1]; j.State != "not to be relied on" {
		t.Errorf("a broken record is called %s", j.State)
	}
}

// Everybody who signed a walk is named in its row, and in full with the walk.
func TestABuildSheetNamesEverySigner(t *testing.T) {
	b := owned(t)
	b.Sheets[1].Notes = []string{"signed by jo@bench, ssh-ed25519 SHA256:x", "the last line was cut off", "signed with ssh-rsa SHA256:y, a key nobody is named for here"}
	if j := b.joints(); j[1].Signed != b.Sheets[1].Notes[0]+"; "+b.Sheets[1].Notes[2] || j[0].Signed != "" {
		t.Errorf("%q and %q", j[0].Signed, j[1].Signed)
	}
	for _, format := range []string{"html", "text"} {
		for _, who := range []string{"SHA256:x", "SHA256:y"} {
			if n := strings.Count(b.in(t, format), who); n != 2 {
				t.Errorf("%s has %s %d times, want 2", format, who, n)
			}
		}
	}
}

// What was measured twice stands once, as it was last.
func TestMeasuresAreTheLast(t *testing.T) {
	b := owned(t)
	of := func(name string) (found []string) {
		for _, p := range b.panels() {
			if p.Title == "Measured last, and the limits" {
				for _, r := range p.Rows {
					if strings.HasPrefix(r.Text, name) {
						found = append(found, r.Lead)
					}
				}
			}
		}
		return found
	}
	c := slices.IndexFunc(b.Sheets[1].Checks, func(c Check) bool { return c.Measure != "" && c.Reading != "" })
	check := b.Sheets[1].Checks[c]
	b.Sheets[0].Checks = append(slices.Clone(b.Sheets[0].Checks), check)
	b.Sheets[1].Checks[c].Reading = "0.11 mm"
	if got := of(check.Measure); !slices.Equal(got, []string{b.Sheets[1].Checks[c].Result()}) {
		t.Errorf("%s: %v", check.Measure, got)
	}
	b.Sheets[0].Place = "front head"
	if got := of(check.Measure); len(got) != 2 {
		t.Errorf("of two of a kind: %v", got)
	}
}

func TestABuildSheetAsATable(t *testing.T) {
	b := owned(t)
	b.Sheets[0].Deviations = append(b.Sheets[0].Deviations, Deviation{Seq: 9, At: start, Text: "=1+1"})
	rows, err := csv.NewReader(strings.NewReader(b.in(t, "csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]int{}
	for _, row := range rows[1:] {
		kinds[row[5]]++
		for _, cell := range row {
			if strings.HasPrefix(cell, "=") {
				t.Errorf("a spreadsheet would run %q", cell)
			}
		}
	}
	confirmed := 0
	for _, s := range b.Sheets {
		confirmed += s.Stages.Confirmed
	}
	if kinds["walk"] != 2 || kinds["stage"] != confirmed || kinds["measure"] == 0 || kinds["question"] == 0 || kinds["new"] == 0 || kinds["part"] == 0 || kinds["deviation"] == 0 {
		t.Errorf("rows by kind: %v, %d stages confirmed", kinds, confirmed)
	}
}
