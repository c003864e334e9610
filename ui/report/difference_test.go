package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// today compares the finished cover with its procedure after one replacement.
func today(t *testing.T, old, new string) Today {
	t.Helper()
	then := finished(t)
	if !bytes.Contains(then.text, []byte(old)) {
		t.Fatalf("the procedure has no %q", old)
	}
	return AgainstToday(then.sheet("7"), newBench(t, bytes.Replace(then.text, []byte(old), []byte(new), 1)).sheet(""))
}

func TestARecordIsHeldAgainstItsProcedureOfToday(t *testing.T) {
	if got := today(t, "Cover", "Cover"); got.State != "same" || len(got.Stages)+len(got.Checks)+len(got.Parts) > 0 || got.Reordered {
		t.Errorf("unchanged: %+v", got)
	}
	if got := today(t, "& heavy", "& very heavy"); got.State != "changed" || len(got.Stages)+len(got.Checks)+len(got.Parts) > 0 || got.Reordered {
		t.Errorf("another caution: %+v", got)
	}
	got := today(t, `torque   = "16 N·m"`, `torque   = "18 N·m"`)
	if want := (StageDifference{"F1", "Final", 1, "16 N·m", "18 N·m"}); got.State != "changed" || len(got.Stages) != 1 || got.Stages[0] != want {
		t.Errorf("another figure: %+v, want %+v", got.Stages, want)
	}
	if got := today(t, `max     = "0.05 mm"`, `max     = "0.04 mm"`); len(got.Checks) != 1 || got.Checks[0].A != "after Again: at most 0.05 mm" || got.Checks[0].B != "after Again: at most 0.04 mm" {
		t.Errorf("another limit: %+v", got.Checks)
	}
	if got := today(t, `count = 2`+"\n", `count = 3`+"\n"); len(got.Parts) != 1 || got.Parts[0].A != "2 × locating dowel" {
		t.Errorf("another count: %+v", got.Parts)
	}
	if got := today(t, "[[part]]\nname  = \"locating dowel\"", "[[part]]\nname = \"pin\"\nkind = \"other\"\n[[part]]\nname  = \"locating dowel\""); len(got.Parts) != 1 || got.Parts[0] != (Difference{"pin", "", "pin"}) {
		t.Errorf("another part: %+v", got.Parts)
	}
	if got := today(t, `order  = "cross"`, `order  = "listed"`); !got.Reordered || len(got.Stages) > 0 {
		t.Errorf("another order: %+v", got)
	}
	if got := today(t, `R4 = [-40, -30]`+"\n", ""); len(got.Stages) != 5 || got.Stages[0].Fastener != "R4" || got.Stages[0].B != "" {
		t.Errorf("a bolt less: %+v", got.Stages)
	}
}

// A script may loop over every list of compare --json.
func TestComparisonAsJSONHasNoNullList(t *testing.T) {
	for name, c := range map[string]Comparison{"two": Compare(finished(t).sheet("7"), coverBench(t).sheet("8")), "one": Alone(Sheet{}), "same": Compare(Sheet{}, Sheet{})} {
		c.Today = append(c.Today, today(t, "Cover", "Cover"), UnknownToday(Sheet{Source: "x"}, "gone"))
		text, err := json.Marshal(c)
		if err != nil || strings.Contains(string(text), "null") {
			t.Errorf("%s: %v, %s", name, err, text)
		}
	}
}
