package stand

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/ui/gauge"
)

// gauged is a rig whose gauge sends these units, and what it hears.
func gauged(t *testing.T, text string, units ...string) (*rig, *heard) {
	t.Helper()
	g, err := gauge.Read(units...)
	if err != nil {
		t.Fatal(err)
	}
	h := &heard{}
	return newRig(t, text, func(c *Config) { c.Gauge, c.Ear = g, h.ear() }), h
}

// waits lets a moment go by, as between two bolts.
func (r *rig) waits() *rig {
	r.now = r.now.Add(time.Second)
	return r
}

// What a gauge sends is judged as any reading, and answered on the screen and by
// voice; the unit it got is kept with what was sent.
func TestAGaugesFigureIsTakenAsItComes(t *testing.T) {
	for _, gap := range gaps {
		r, h := gauged(t, caseText(t), "N·m")
		r.toStage("Final/M1").shows("gauge sends N·m")
		n := len(r.events)
		h.lines = nil
		r.waits().sends("22.1\r", gap).count(n + 1).shows("confirmed: Final: M1, 22 N·m, read 22.1 N·m")
		if e := r.events[n]; e.Reading != "22.1 N·m" || e.Facts["gauge"] != "sent 22.1" {
			t.Errorf("kept: %+v", e)
		}
		if len(h.lines) != 1 || !strings.HasPrefix(h.lines[0], "1 Read 22.1 newton metres. ") {
			t.Errorf("heard %q", h.lines)
		}
		r.waits().sends("25.0\r", gap).wrote(walk.Rejected).shows("REFUSED", "25.0 N·m is over 21.12 to 22.88 N·m")
	}
}

// A figure of a kind whose unit was not told is still asked back, be it typed or sent.
func TestAUnitIsOfOneKindAlone(t *testing.T) {
	r, _ := gauged(t, caseText(t), "N·m")
	r.toStage("Primary nut/P1/2").hides("gauge sends")
	n := len(r.events)
	r.waits().sends("91\r", 0).count(n).shows("it has no unit; tab adds °").hides("gauge sends")
	r.press("esc", "enter").toStage("measure").hides("gauge sends")
	n = len(r.events)
	r.waits().sends("0.12\r", 0).count(n).shows("it has no unit; tab adds mm")
	r, _ = gauged(t, caseText(t), "N·m", "mm")
	r.toStage("measure").shows("gauge sends mm").hides("gauge sends N·m")
	n = len(r.events)
	r.waits().sends("0,12\r", 0).count(n + 1).wrote(walk.Measured)
	if got := r.events[n].Reading; got != "0,12 mm" {
		t.Errorf("kept %q", got)
	}
}

func TestAFigureWithItsOwnUnitKeepsIt(t *testing.T) {
	r, _ := gauged(t, caseText(t), "lbf·ft")
	r.toStage("Final/M1").waits().sends("22.1 N·m\r", 0).wrote(walk.Confirmed)
	if e := r.events[len(r.events)-1]; e.Reading != "22.1 N·m" || e.Facts["gauge"] != "" {
		t.Errorf("kept %+v", e)
	}
	r.waits().sends("16.3\r", 0).wrote(walk.Confirmed)
	if got := r.events[len(r.events)-1].Reading; got != "16.3 lbf·ft" {
		t.Errorf("kept %q", got)
	}
}

// The unit can be told at the stand; it is in view where a figure is typed, and can be
// taken away again.
func TestTheUnitIsToldAtTheStand(t *testing.T) {
	r, _ := gauged(t, caseText(t))
	r.toStage("Final/M1").hides("gauge sends")
	n := len(r.events)
	r.waits().sends("22.1\r", 0).count(n).shows("it has no unit").press("esc", "enter")
	r.press("g").shows("A torque that the gauge sends without a unit is in", "1 N·m", "2 lbf·ft", "4 none: it sends the unit itself")
	r.press("1", "enter").count(n).shows("gauge sends N·m").press("enter")
	r.press("r").shows("Reading; it has to be 21.12 to 22.88 N·m; gauge sends N·m").press("esc", "enter")
	r.waits().sends("22.1\r", 0).count(n + 1)
	r.press("g").write("mm").press("enter").shows("mm is a length, and what is read here is a torque").press("esc", "enter")
	r.press("g").write("furlong").press("enter").shows("REFUSED", "furlong").press("esc", "enter")
	r.press("g").write("ft-lb").press("enter").shows("gauge sends lbf·ft").press("enter")
	r.press("g", "4", "enter").shows("gauge sends its units itself").press("enter")
	r.waits().sends("22.1\r", 0).count(n + 1).shows("it has no unit")
	r.press("esc", "enter").toStage("measure").press("g").shows("A length that the gauge sends")
	if got := r.model.cfg.State.Mark(0); got.Facts["gauge"] != "" {
		t.Errorf("telling it was recorded: %+v", got)
	}
}

// A wrench that is kept with every stage is kept beside what the gauge sent.
func TestWhatTheGaugeSentIsKeptBesideOtherFacts(t *testing.T) {
	g, err := gauge.Read("N·m")
	if err != nil {
		t.Fatal(err)
	}
	r := newRig(t, caseText(t), func(c *Config) {
		c.Gauge = g
		c.FactsOf = func(*plan.Stage) map[string]string { return map[string]string{"wrench": "old"} }
	})
	r.toStage("Final/M1").waits().sends("22.1\r", 0).wrote(walk.Confirmed)
	if f := r.events[len(r.events)-1].Facts; f["wrench"] != "old" || f["gauge"] != "sent 22.1" {
		t.Errorf("kept %v", f)
	}
}

func TestWhoOnlyLooksOnIsToldOfNoGauge(t *testing.T) {
	g, _ := gauge.Read("N·m")
	r := newRig(t, caseText(t)).toStage("Final/M1")
	state := r.model.cfg.State
	newRig(t, caseText(t), func(c *Config) { c.Gauge, c.State, c.ReadOnly = g, state, "somebody has it" }).hides("gauge sends")
}
