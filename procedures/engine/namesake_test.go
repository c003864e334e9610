package engine

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// namesakes is a sheet whose bolts of two kinds each have a sealing washer, of two numbers.
func namesakes(t testing.TB) *spec.Procedure {
	return sheet(t, strings.NewReplacer("[group.main.at]", `[group.long]
title  = "long bolts"
thread = "M10x1.5"
class  = "8.8"
torque = "40 N·m"
with   = [{ part = "sealing washer", count = 1, one_use = true, number = "125-13" }]
[group.long.at]
L1 = [0, 40]
[group.main.at]`, `groups = ["main"]`, "groups = [\"main\", \"long\"]\nfirst = \"weak\"").Replace(closeSheet))
}

// Two rows may have one name: what is ordered, arrives, is cancelled or fitted of the one
// part number is not the other's.
func TestRowsOfOneNameAreKeptApartByTheirNumbers(t *testing.T) {
	down := begin(t, "down", sheet(t, openSheet), day).on("", nil).done().walk()
	closer := namesakes(t)
	for _, mine := range []string{"125-12", "125-13"} {
		var events []walk.Event
		walks := []Walk{down}
		engine := func() Engine {
			return fold("7", walks, []*record.File{ledger("l", day.Add(time.Hour), events...)}, []*spec.Procedure{closer})
		}
		say := func(m Marking) {
			t.Helper()
			list := marked(t, engine(), m)
			for _, ev := range list {
				ev.At = day.Add(time.Duration(len(events)+2) * time.Hour)
				events = append(events, ev)
			}
		}
		stands := func(when string, number string, ordered, arrived int) {
			t.Helper()
			for _, b := range engine().Buy {
				if b.Number == number && (b.Ordered != ordered || b.Arrived != arrived) {
					t.Errorf("%s, of %s %d are on order and %d here, want %d and %d", when, number, b.Ordered, b.Arrived, ordered, arrived)
				}
			}
		}
		other := map[string]string{"125-12": "125-13", "125-13": "125-12"}[mine]
		say(Marking{Thing: mine, Kind: record.Ordered, Count: 1})
		stands("ordered", mine, 1, 0)
		stands("ordered", other, 0, 0)
		say(Marking{Thing: other, Kind: record.Arrived, Count: 1})
		stands("the other came", mine, 1, 0)
		stands("the other came", other, 0, 1)
		say(Marking{Thing: other, Kind: record.Ordered, Count: 3})
		say(Marking{Thing: other, Kind: record.Cancelled, Because: "sold out"})
		stands("the other is cancelled", mine, 1, 0)
		if _, err := engine().Mark(Marking{Thing: "Sealing washer", Kind: record.Ordered}); err == nil || !strings.Contains(err.Error(), `could be "125-12", "125-13"; write one of them`) {
			t.Errorf("a name that two rows have is taken for one: %v", err)
		}
		if mine == "125-13" {
			continue // the long bolts come last
		}
		walks = append(walks, begin(t, "up", closer, day.AddDate(0, 1, 0)).bring(engine()).on("Final/M1", nil).do(walk.Command{Do: walk.Renew}).walk())
		stands("fitted of those that have not come", other, 0, 1)
	}
}
