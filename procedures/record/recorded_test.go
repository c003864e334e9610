package record

import (
	"strings"
	"testing"

	"evenpull/spec/read"
)

// What earlier versions read and this one asks back still reads in a record, as it was walked.
func TestARecordReadsWhatIsAskedBackNow(t *testing.T) {
	text := strings.NewReplacer(`torque = "22 N·m"`, "torque = \"20/25 N·m\"\ninto = \"case alloy\"", `min     = "0.05 mm"`, `min = "4 kg"`, `max     = "0.20 mm"`, `max = "5 kg"`).Replace(cover)
	if p, _ := read.Procedure("cover.toml", []byte(text)); p != nil {
		t.Fatal("the file itself is not refused")
	}
	f := File{Header: Header{Source: "cover.toml", Text: text, SHA256: TextHash([]byte(text))}}
	p, err := f.Plan()
	if err != nil {
		t.Fatal(err)
	}
	g, c := p.Procedure.Groups[0], p.Procedure.Checks[1]
	if g.Torque.Text() != "0.8 N·m" || g.Into != "case alloy" || c.Min.String() != "4 kgf" {
		t.Errorf("reads as %s and %s", g.Torque.Text(), c.Min)
	}
}
