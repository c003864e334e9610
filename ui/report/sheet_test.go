package report

import (
	"bytes"
	"encoding/json"
	"html"
	"io"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"evenpull/procedures/walk"
)

func asJSON(t *testing.T, s Sheet) map[string]any {
	t.Helper()
	var b bytes.Buffer
	if err := WriteJSON(&b, s); err != nil {
		t.Fatal(err)
	}
	var doc map[string]any
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

// The fields that other people's scripts depend on.
func TestJSONHoldsTheContract(t *testing.T) {
	doc := asJSON(t, eventful(t).sheet("stand 2"))
	for _, key := range []string{"id", "procedure", "engine", "state", "outstanding", "fasteners", "checks", "parts", "chain"} {
		if _, ok := doc[key]; !ok {
			t.Errorf("no %q at the top", key)
		}
	}
	if doc["id"] != "2026-11-25-4-1" || doc["procedure"] != "Close the breather cover" || doc["engine"] != "stand 2" || doc["state"] != "open" || doc["chain"] != "whole" {
		t.Errorf("head is %v %v %v %v %v", doc["id"], doc["procedure"], doc["engine"], doc["state"], doc["chain"])
	}
	first := doc["fasteners"].([]any)[0].(map[string]any)
	if first["id"] != "R1" || first["renewed"] != false {
		t.Errorf("first fastener is %v, renewed %v; want R1, false", first["id"], first["renewed"])
	}
	stage := first["stages"].([]any)[1].(map[string]any)
	want := map[string]any{"pass": "Final", "confirmed": true, "at": "2026-11-25T09:08:00+01:00", "reading": ""}
	for k, v := range want {
		if stage[k] != v {
			t.Errorf("stage %s is %v, want %v", k, stage[k], v)
		}
	}
	open := doc["fasteners"].([]any)[1].(map[string]any)["stages"].([]any)[0].(map[string]any)
	if at, there := open["at"]; !there || at != nil || open["confirmed"] != false {
		t.Errorf("an open stage has at %v, confirmed %v; want null, false", at, open["confirmed"])
	}
}

// A script may loop over any list without asking whether there is one.
func TestJSONListsAreNeverNull(t *testing.T) {
	nullable := map[string]bool{"at": true, "last": true, "finished": true, "window": true, "high": true, "sealant": true, "smeared": true, "cured": true}
	var look func(path string, v any)
	look = func(path string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for _, k := range slices.Sorted(maps.Keys(v)) {
				if v[k] == nil && !nullable[k] {
					t.Errorf("%s.%s is null", path, k)
				}
				look(path+"."+k, v[k])
			}
		case []any:
			for _, e := range v {
				look(path+"[]", e)
			}
		}
	}
	look("fresh", asJSON(t, coverBench(t).sheet("a")))
	look("finished", asJSON(t, finished(t).sheet("a")))
}

func TestStateIsDoneOnlyWhenEarnedInAWholeRecord(t *testing.T) {
	if s := finished(t).sheet("a"); s.State != "done" || len(s.Outstanding) != 0 || s.Finished == nil {
		t.Errorf("an earned done: state %s, outstanding %v, finished %v", s.State, s.Outstanding, s.Finished)
	}
	b := eventful(t)
	b.must(walk.Command{Do: walk.Stop, Text: "thread gone"})
	if s := b.sheet("a"); s.State != "stopped" || len(s.Outstanding) == 0 {
		t.Errorf("stopped: state %s with %d outstanding", s.State, len(s.Outstanding))
	}
	b = finished(t)
	s := New(Input{ID: "x", State: b.live.State, Now: b.now, Broken: "line 7 does not follow from line 6"})
	if s.State != "open" || s.Chain != "broken" || len(s.Outstanding) != 1 {
		t.Errorf("a done in a broken record: state %s, chain %s, outstanding %v; want open, broken, and a line that says why", s.State, s.Chain, s.Outstanding)
	}
}

func TestADoneThatIsNotEarnedShowsAsSuch(t *testing.T) {
	b := coverBench(t)
	findings := walk.Replay(b.live.State, []walk.Event{{Seq: 1, At: start, Kind: walk.Done}})
	s := New(Input{ID: "x", Whole: true, State: b.live.State, Findings: findings, Now: start})
	if s.State != "open" || s.Finished != nil || len(s.Findings) != 1 || s.Findings[0].Seq != 1 {
		t.Fatalf("state %s, finished %v, findings %v; want open, nil, one", s.State, s.Finished, s.Findings)
	}
	if s.Timeline[0].Counts {
		t.Error("the timeline shows an unearned done as if it counted")
	}
	var out bytes.Buffer
	if err := WriteText(&out, s); err != nil {
		t.Fatal(err)
	}
	contains(t, "text", out.String(), "DO NOT RELY ON THIS RECORD", "does not count")
}

func TestReadingsAreKeptWithTheirWindowAndWrench(t *testing.T) {
	b := coverBench(t)
	b.upTo("Draw down/R1")
	b.must(walk.Command{Do: walk.Confirm, Reading: "3.6 N·m", Facts: map[string]string{"wrench": "small click"}})
	st := b.sheet("a").Fasteners[0].Stages[0]
	if st.Reading != "3.6 N·m" || st.Wrench != "small click" {
		t.Errorf("got reading %q with %q", st.Reading, st.Wrench)
	}
	// 40 % of 9 N·m ± 6 %, ISO 6789 class A up to 10 N·m.
	if w := st.Window; w == nil || w.Low != 3.384 || w.High == nil || *w.High != 3.816 || w.Unit != "N·m" {
		t.Errorf("got window %+v, want 3.384 to 3.816 N·m", w)
	}
}

func TestRefusedReadingsStayWithTheirStage(t *testing.T) {
	s := eventful(t).sheet("a")
	st := s.Fasteners[0].Stages[1]
	if len(st.Refused) != 1 || st.Refused[0].Reading != "11 N·m" || !strings.Contains(st.Refused[0].Why, "over") {
		t.Errorf("R1 Final keeps %+v, want the refused 11 N·m", st.Refused)
	}
	if got := s.Matrix().Rows[0].Cells[1]; got.Refused != 1 {
		t.Errorf("the matrix counts %d refused readings there, want 1", got.Refused)
	}
}

func TestRenewalsSayWhetherTheyStillStand(t *testing.T) {
	b := coverBench(t)
	b.upTo("Final/F1")
	b.must(walk.Command{Do: walk.Renew, Target: "F1", Number: "first"})
	b.must(walk.Command{Do: walk.Undo, Text: "wrong bag"})
	b.must(walk.Command{Do: walk.Renew, Target: "F1", Number: "second"})
	b.must(walk.Command{Do: walk.Problem, Target: "F1", Text: "overshot"})
	b.must(walk.Command{Do: walk.Renew, Target: "F1", Piece: "sealing washer", Number: "third"})
	s := b.sheet("a")
	got := map[string]bool{}
	for _, r := range s.Renewals {
		if r.Of == "F1" {
			got[r.Number] = r.Stands
		}
	}
	if want := map[string]bool{"first": false, "second": false, "third": true}; !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if s.Fasteners[4].Renewed {
		t.Error("F1 counts as renewed while the bolt itself is still to be replaced")
	}
	b.must(walk.Command{Do: walk.Renew, Target: "F1", Number: walk.NoNumber})
	if f := b.sheet("a").Fasteners[4]; !f.Renewed || len(f.Pieces) != 2 {
		t.Errorf("with bolt and washers new, F1 is renewed %v with pieces %v", f.Renewed, f.Pieces)
	}
}

func TestEveryFastenerAndStageOfThePlanIsOnTheSheet(t *testing.T) {
	b := eventful(t)
	s, stages := b.sheet("a"), 0
	for i, f := range b.live.State.Plan.Procedure.Fasteners {
		if s.Fasteners[i].ID != f.ID {
			t.Errorf("fastener %d is %s, want %s", i, s.Fasteners[i].ID, f.ID)
		}
		stages += len(s.Fasteners[i].Stages)
	}
	if stages != 22 || s.Stages.Of != 22 || len(s.inPlanOrder()) != 22 {
		t.Errorf("%d stages at the fasteners, %d counted, %d in order; the plan has 22", stages, s.Stages.Of, len(s.inPlanOrder()))
	}
}

// A new bolt that nobody asked for is told too, and so is that it was taken back.
func TestAnUnaskedRenewalCanBeTakenBackToo(t *testing.T) {
	b := coverBench(t)
	b.upTo("Draw down/R1")
	b.must(walk.Command{Do: walk.Renew, Target: "R1"})
	ofR1 := func() (list []Renewal) {
		for _, r := range b.sheet("a").Renewals {
			if r.Of == "R1" {
				list = append(list, r)
			}
		}
		return list
	}
	if r := ofR1(); len(r) != 1 || !r[0].Stands {
		t.Fatalf("got %+v, want one that stands", r)
	}
	b.must(walk.Command{Do: walk.Undo, Text: "old one was good"})
	if r := ofR1(); len(r) != 1 || r[0].Stands {
		t.Errorf("got %+v, want one that was taken back", r)
	}
}

func TestMatrixCountsStepsOfAPass(t *testing.T) {
	b := coverBench(t)
	b.upTo("Again/R1/2")
	m := b.sheet("a").Matrix()
	if c := m.Rows[0].Cells[2]; c.Text != "1 of 3" || c.Confirmed() {
		t.Errorf("R1 after one step of three: %+v, confirmed %v", c, c.Confirmed())
	}
	if c := m.Rows[1].Cells[2]; c.Text != "open" || c.Confirmed() {
		t.Errorf("R2 before its steps: %+v, confirmed %v", c, c.Confirmed())
	}
	if c := m.Rows[4].Cells[2]; c.Stages.Of != 0 || c.Text != "" || c.Confirmed() {
		t.Errorf("F1 is not in that pass: %+v, confirmed %v", c, c.Confirmed())
	}
	if len(m.Passes) != 3 {
		t.Errorf("columns %v, want the three passes that are no wait", m.Passes)
	}
}

// A paper copy is worth its hash only if every form of the record has it.
func TestEveryFormCarriesTheClosingHashAndWhatItShows(t *testing.T) {
	s := finished(t).sheet("7")
	forms := map[string]string{"show": printed(t, WriteText, s)}
	for name, f := range Formats {
		forms[name] = printed(t, func(w io.Writer, s Sheet) error { return f(w, s, A4) }, s)
	}
	for name, text := range forms {
		if !strings.Contains(text, s.ClosingHash) {
			t.Errorf("%s lacks the closing hash", name)
		}
		if said := strings.Join(strings.Fields(html.UnescapeString(text)), " "); name != "csv" && !strings.Contains(said, ClosingShows) {
			t.Errorf("%s does not say what the closing hash shows", name)
		}
	}
	for name, text := range map[string]string{"html": forms["html"], "text": strings.Join(strings.Fields(forms["text"]), " ")} {
		for _, want := range []string{"service manual governs", "Computed figures are estimates", "The person who signs", "Signature", "Mechanic", "Date"} {
			if !strings.Contains(html.UnescapeString(text), want) {
				t.Errorf("%s lacks %q", name, want)
			}
		}
	}
	open := printed(t, onA4, eventful(t).sheet("7"))
	contains(t, "the page of an open walk", open, "NOT DONE", "THIS JOINT IS NOT DONE")
}
