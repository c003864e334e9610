package speech

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
)

// What has to be hot is said with its temperature and its time; the clock is said as it
// runs out, and a part that comes too late with what it was late for.
func TestHeatIsHeard(t *testing.T) {
	w := sheet(t, `format = 1
[procedure]
name = "Bearings in"
direction = "close"
source = "invented"
[[callout]]
kind = "heat"
say = "Seat hot"
to = "120 °C"
within = "30s"
[[part]]
name = "bearing"
`)
	if got, want := w.step(), "Have ready: Seat hot: to 120 degrees Celsius, then within 30 seconds."; got != want {
		t.Errorf("asked for: %s, want %s", got, want)
	}
	if got := Warnings(w.s, w.now); len(got) > 0 {
		t.Errorf("before it is hot: %v", got)
	}
	w.do(walk.Command{Do: walk.Confirm})
	var heard []string
	for _, x := range Warnings(w.s, w.now) {
		heard = append(heard, x.At.Sub(w.now).String()+" "+x.Text)
	}
	if got, want := strings.Join(heard, " | "), "20s 10 seconds left while it is hot. | 30s Too late after the heat: take the heat back, heat it again."; got != want {
		t.Errorf("to come: %s, want %s", got, want)
	}
	if got, want := Clock(w.s, w.now.Add(5*time.Second)), "Hot: 25 seconds left."; got != want {
		t.Errorf("as it is opened: %s, want %s", got, want)
	}
	w.now = w.now.Add(time.Minute)
	if got, want := Clock(w.s, w.now), "Too late after the heat: take the heat back, heat it again."; got != want {
		t.Errorf("a minute later: %s, want %s", got, want)
	}
	w.do(walk.Command{Do: walk.Confirm})
	if got, want := Event(w.s, w.s.Events[len(w.s.Events)-1]), "Too late: 1 minute 10 seconds after it was hot, 30 seconds at most."; got != want {
		t.Errorf("too late: %s, want %s", got, want)
	}
}
