package draft

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// script answers questions from the first on, each line "question = answer" or a word for
// going on. It fails where another question is asked than the line names.
func script(t *testing.T, d Draft, lines string) Draft {
	t.Helper()
	at := d.Questions()[0].ID
	for line := range strings.Lines(strings.TrimSpace(lines)) {
		want, text, _ := strings.Cut(strings.TrimSpace(line), "=")
		want, text = strings.TrimSpace(want), strings.TrimSpace(text)
		var q Question
		for _, one := range d.Questions() {
			if one.ID == at {
				q = one
			}
		}
		if q.Ask != want {
			t.Fatalf("asked %q (%s), the script answers %q\n%s", q.Ask, at, want, d.Text())
		}
		next, then, no := d.Answer(at, q.Enter(text))
		if no != nil {
			t.Fatalf("%s = %s: %v\n%s", want, text, no, d.Text())
		}
		d, at = next, then
	}
	return d
}

const fiveBearings = `
what is done = Fit the main bearing caps
engine = Osier 760 in-line four
direction
source = Osier sheet 703 (invented for this demo)
a caution = Caps fit their own place only, arrow to the front
a caution
which bolts
`

func TestTry(t *testing.T) {
	d := New("x.toml")
	d = script(t, d, `
what is done = Fit the main bearing caps
engine = Osier 760 in-line four
direction
source = Osier sheet 703 (invented for this demo)
a caution = Caps fit their own place only, arrow to the front
a caution
which bolts = main cap bolts
thread = M10x1.25
class = 10.9
how they sit = 5 pairs, 90 mm apart, rows 76 mm apart
final torque = 30 N·m
threads = oiled
on the wrench = 14 mm hex
new ones each time = yes
goes on with it = hardened washer 10 mm
goes on with it
more
more bolts
how it is done = torque and turns
figures = 40 %, 100 %, 90°
order of these
more passes
a check = Every shell's tang in its notch, backs dry?
when
if not
more
a check = crank end float: 0.05 mm to 0.20 mm
when
if not = change the thrust halves
more
a check
a part = 5 x main bearing cap
a part = 2 x thrust half ring
a part
have ready
sealant
`)
	fmt.Println(string(d.Text()))
	fmt.Println(d.Problems())
	for _, r := range d.Rows() {
		fmt.Println(r.Pass, r.Bolts)
	}
	os.Stdout.Sync()
}
