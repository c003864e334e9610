package walk

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// "4.5 kg" was once taken for a force; a record with it still counts, a person is asked back.
func TestAReadingOfOldStillCountsInARecord(t *testing.T) {
	s, now := walked(t, springTest)
	at := now.Add(time.Minute)
	refuse(t, s, take("4.5 kg"), at)
	e, r := Decide(s, take("4.5 kgf"), at)
	if r != nil {
		t.Fatal(r)
	}
	e.Reading = "4.5 kg"
	record := append(slices.Clone(s.Events), *e)
	fresh := New(s.Plan)
	if found := Replay(fresh, record); len(found) > 0 {
		t.Errorf("replayed: %v", found[0].Refusal)
	}
	if got := fresh.Events[len(fresh.Events)-1].Reading; got != "4.5 kgf" || record[len(record)-1].Reading != "4.5 kg" {
		t.Errorf("the walk has %q and the record %q", got, record[len(record)-1].Reading)
	}
}

func TestAReadingThatMayMeanTwoThingsIsAskedBack(t *testing.T) {
	s, now := walked(t, springTest, take("4.5 kgf"))
	for reading, says := range map[string]string{"8/9 N·m": "8 to 9 N·m?", "9 lb": "lbf·ft (or lbf·in)", "1 kg": "kgf·m (or kgf·cm)", "6 lb/ft": "lbf·ft?"} {
		if r := refuse(t, s, Command{Do: Confirm, Reading: reading}, now.Add(time.Minute)); !strings.Contains(r.Remedy, says) {
			t.Errorf("%q: %v; want it to ask %q", reading, r, says)
		}
	}
}

const springTest = `format = 1
[procedure]
name = "Clutch springs"
direction = "close"
source = "invented"
[group.main]
thread = "M6x1"
class = "8.8"
torque = "9 N·m"
[group.main.at]
M1 = [0, 0]
[[pass]]
name = "Final"
groups = ["main"]
torque = "100 %"
[[check]]
before = "Final"
measure = "pull at the lever"
min = "4 kgf"
max = "5 kgf"
`
