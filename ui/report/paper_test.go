package report

import (
	"bytes"
	"encoding/csv"
	"io"
	"strings"
	"testing"

	"evenpull/procedures/walk"
)

// fromCard is the cover with its first pass ticked on a card and the next step
// done at the stand.
func fromCard(t *testing.T) *bench {
	b := coverBench(t)
	for it := b.live.State.CurrentItem(); it.Pass.Name == "Draw down"; it = b.live.State.CurrentItem() {
		if len(b.live.State.DueNow()) > 0 {
			b.must(walk.OnPaper(walk.Command{Do: walk.Renew, Number: "19"}))
			if b.live.State.CurrentItem().Key() != it.Key() {
				continue
			}
		}
		c := walk.Command{Do: walk.Confirm}
		if it.Kind == walk.AskItem {
			c.Do = walk.Yes
		}
		b.must(walk.OnPaper(c))
	}
	b.must(walk.Command{Do: walk.Confirm, Reading: "9.1 N·m"})
	return b
}

// A tick from paper never shows the time it was typed in as that of the work.
func TestPaperIsMarkedAndItsTimesAreUnknown(t *testing.T) {
	s := fromCard(t).sheet("7")
	for _, f := range s.Fasteners {
		for _, st := range f.Stages {
			paper := st.Confirmed && st.Pass == "Draw down"
			if st.FromPaper != paper || (st.Entered != nil) != paper || (st.At != nil) != (st.Confirmed && !paper) {
				t.Errorf("%s %s: from paper %v, entered %v, at %v", f.ID, st.Pass, st.FromPaper, st.Entered, st.At)
			}
		}
	}
	if !s.FromPaper || !s.Checks[0].FromPaper || s.Checks[0].At != nil || s.Parts[0].At != nil || !s.Renewals[0].Paper || s.Sealant.Smeared != nil {
		t.Errorf("sheet %v, check %+v, part %+v, renewal %+v, sealant %+v", s.FromPaper, s.Checks[0], s.Parts[0], s.Renewals[0], s.Sealant)
	}
	if got := s.Parts[0].Result(); strings.Contains(got, "paper") {
		t.Errorf("the fact shows as if it were a part's own: %s", got)
	}
	if times := passTimes(s); times["Draw down"] != "" {
		t.Errorf("the pass on paper took %q", times["Draw down"])
	}
	compare := func(w io.Writer, s Sheet) error { return WriteComparison(w, Compare(s, coverBench(t).sheet("8"))) }
	forms := map[string]string{"show": printed(t, WriteText, s), "text": printed(t, WritePages, s), "html": printed(t, onA4, s), "json": printed(t, WriteJSON, s), "compare": printed(t, compare, s), "svg": printed(t, WriteSVG, s)}
	for name, text := range forms {
		if said := strings.Join(strings.Fields(text), " "); !strings.Contains(said, "work card on paper and entered afterwards") {
			t.Errorf("%s does not say that it comes from paper", name)
		}
	}
	rows, err := csv.NewReader(strings.NewReader(printed(t, WriteCSV, s))).ReadAll()
	if err != nil || rows[1][20] != "yes" || rows[1][11] != "" || rows[5][20] != "no" || rows[5][11] == "" {
		t.Errorf("CSV: %v\n%v\n%v", err, rows[1], rows[5])
	}
	if plain := coverBench(t).sheet("7"); plain.FromPaper || bytes.Contains([]byte(printed(t, WriteText, plain)), []byte("from paper")) {
		t.Error("a walk at the stand is taken for one on paper")
	}
}
