package record

import (
	"strings"
	"testing"

	"evenpull/procedures/walk"
)

// A record begun by the first rules keeps the order it was walked in: hollow last in
// every pass of a close sheet. One begun by today's loosens it first. A list of records
// reads each by its own.
func TestARecordKeepsTheOrderItWasBegunIn(t *testing.T) {
	text := `format = 1
[procedure]
name = "Cover"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "20 N·m"
at = { M1 = [0, 0] }
[group.feed]
thread = "M10x1.25"
class = "8.8"
bore = "5 mm"
torque = "20 N·m"
at = { F1 = [35, 0] }
[[pass]]
name = "Let go"
loosen = "fully"
groups = ["main", "feed"]
[[pass]]
name = "Final"
torque = "100 %"
groups = ["main", "feed"]
`
	var c courses
	for rules, want := range map[int]string{0: "M1 F1 M1 F1", walk.FirstRules: "M1 F1 M1 F1", walk.Rules: "F1 M1 M1 F1"} {
		h, err := NewHeader(procedureOf(t, text), "cover.toml", "7", "test", started).complete()
		if err != nil {
			t.Fatal(err)
		}
		h.Rules = rules
		s, err := (&File{Header: h}).Start()
		if err != nil {
			t.Fatal(err)
		}
		if got := order(s.Items); got != want {
			t.Errorf("rules %d: %s, want %s", rules, got, want)
		}
		line, err := encodeLine(h)
		if err != nil {
			t.Fatal(err)
		}
		if got := order(c.get(courseKey{h.SHA256, rules, h.Direction}, nil, line).Items); got != want {
			t.Errorf("in a list, rules %d: %s, want %s", rules, got, want)
		}
	}
}

func order(items []walk.Item) string {
	var ids []string
	for _, it := range items {
		if it.Kind == walk.StageItem {
			ids = append(ids, it.Stage.Fastener.ID)
		}
	}
	return strings.Join(ids, " ")
}

// A record walked by the program of before, which made threads ready as the pass came
// to them, and was sealed afresh on the way: its done is earned now as it was then.
func TestARecordOfTheSecondRulesIsEarnedAsItWas(t *testing.T) {
	r := Verify("testdata/rules2/2026-11-26-7-close-the-crankcase-1.jsonl")
	if !r.OK() || r.State != walk.IsDone || r.Confirmed != 37 {
		t.Errorf("%s, %d stages confirmed, %v", r.State, r.Confirmed, r.Problems)
	}
	f, err := Read(r.Path)
	if err != nil {
		t.Fatal(err)
	}
	s, findings, err := f.Replay()
	if err != nil || len(findings) > 0 {
		t.Fatalf("%v, %v", err, findings)
	}
	smear, _ := s.Find("sealant")
	rim, _ := s.Find("prep:rim")
	if rim < smear {
		t.Error("it is laid out as a walk of today")
	}
}
