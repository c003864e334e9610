package stand

import (
	"testing"
	"time"
)

const hotSeat = `format = 1
[procedure]
name = "Bearings in"
direction = "close"
source = "Osier sheet 41 (invented)"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Final"
groups = ["main"]
torque = "22 N·m"
order = "listed"
[[callout]]
before = "Final"
kind = "heat"
say = "Bearing seat hot, bearing in hand."
to = "120 °C"
within = "30s"
caution = "Thick gloves."
[[part]]
name = "bearing"
before = "Final"
`

// The temperature is the figure; once it is hot its time runs above what goes in, and
// whoever is too late is told before and after.
func TestHeatHasAFigureAndAClock(t *testing.T) {
	r := newRig(t, hotSeat)
	if a := r.model.asked(); a.verb != "HEAT" || a.figure != "120" || a.unit != "°C" || a.own != "" {
		t.Errorf("it asks for %+v", a)
	}
	r.shows("Bearing seat hot, bearing in hand.", "confirm once it is hot", "then within 30 s", "Thick gloves.")
	r.hides("of 30 s left")
	r.size(40, 15)
	r.shows("Bearing seat hot, bearing in hand.", "then within 30 s")
	r.size(80, 24)
	r.press("enter").shows("GOES ON NOW  bearing", "0:30 of 30 s left")
	r.now = r.now.Add(20 * time.Second)
	r.send(tickMsg{})
	r.shows("0:10 of 30 s left")
	if !r.model.clockRuns() {
		t.Error("its clock stands still")
	}
	r.size(40, 15)
	r.shows("hot 0:10 left")
	r.now = r.now.Add(25 * time.Second)
	r.send(tickMsg{})
	r.shows("TOO LATE by 15 s: u, heat again")
	r.size(80, 24)
	r.shows("TOO LATE AFTER THE HEAT by 15 s: take the heat back (u), heat it again")
	r.press("enter").shows("ATTENTION: too late: 46 s after it was hot, 30 s at most; that is kept")
	r.hides("TOO LATE AFTER THE HEAT")
	if r.model.clockRuns() {
		t.Error("it is in, and the clock runs")
	}
}
