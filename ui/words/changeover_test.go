package words

import (
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/quantity"
	"evenpull/spec/read"
)

func TestChangeoverInWords(t *testing.T) {
	p, problems := read.Recorded("cover.toml", []byte(strings.Replace(prepared, `friction = "oiled"`, `drive = "12 mm hex"`, 1)))
	if p == nil {
		t.Fatal(problems)
	}
	st := plan.Of(p).Stages[0]
	span := func(text string) *spec.TorqueSpan {
		s, err := quantity.ParseTorqueSpan(text)
		if err != nil {
			t.Fatal(err)
		}
		return &s
	}
	for want, c := range map[string]walk.Changeover{
		"set the wrench to 9 N·m":                        {Wrench: true},
		"set the wrench to 9 N·m, socket 12 mm hex":      {Wrench: true, Socket: true},
		"set the wrench 8 → 9 N·m, socket 8 → 12 mm hex": {Wrench: true, Socket: true, SetTo: span("8 N·m"), On: "8 mm hex"},
		"set the wrench 7 to 8 → 9 N·m":                  {Wrench: true, SetTo: span("7 N·m to 8 N·m")},
		"set the wrench 6 lbf·ft → 9 N·m":                {Wrench: true, SetTo: span("6 lbf·ft")},
		"socket 12 mm twelve-point → 12 mm hex":          {Socket: true, On: "12 mm twelve-point"},
		"socket big → 12 mm hex":                         {Socket: true, On: "big"},
		"wrench 8 → 9 N·m, socket 8 → 12 mm hex":         {Wrench: true, Socket: true, SetTo: span("8 N·m"), On: "8 mm hex", Again: true},
		"socket 8 → 12 mm hex":                           {Socket: true, On: "8 mm hex", Again: true},
	} {
		c.Stage, c.Pull = st, st
		if got := Changeover(c, Setting{}); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// With an adapter on, the scale does not show the sheet's figure.
func TestChangeoverWithAnAdapter(t *testing.T) {
	p, problems := read.Recorded("cover.toml", []byte(prepared))
	if p == nil {
		t.Fatal(problems)
	}
	st := plan.Of(p).Stages[0]
	was, err := quantity.ParseTorqueSpan("4 N·m")
	if err != nil {
		t.Fatal(err)
	}
	for set, want := range map[Setting]string{
		{"7.3", "N·m", "crowfoot 12"}: "set the wrench to 7.3 N·m with crowfoot 12, for 9 N·m",
		{"", "", "crowfoot 12"}:       "set the wrench for 9 N·m with crowfoot 12",
	} {
		if got := Changeover(walk.Changeover{Stage: st, Pull: st, Wrench: true, SetTo: &was}, set); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestComingBackInWords(t *testing.T) {
	now := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	r := walk.Return{Last: "Final: M1, 22 N·m", LastAt: now.Add(-3 * time.Hour), Left: now.Add(-3 * time.Hour)}
	said := func() (text string) {
		for _, line := range ComingBack(r, now) {
			text += line.Of + ": " + line.Text + "\n"
		}
		return text
	}
	if got, want := said(), "last: Final: M1, 22 N·m, 3 hours ago (06:00)\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	r.LastAt = now.AddDate(0, 0, -12)
	if got, want := said(), "last: Final: M1, 22 N·m, 12 days ago (2026-02-18 09:00)\nleft: 3 hours ago (06:00)\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	r.LastAt = now.Add(-3 * time.Hour)
	r.Left, r.InHand, r.RanOut, r.Apart = now.Add(-2*time.Hour), []string{"half", "lost"}, []string{"sealant"}, []string{"M3"}
	if got, want := said(), "clock: sealant\nlast: Final: M1, 22 N·m, 3 hours ago (06:00)\nleft: 2 hours ago (07:00)\nin hand: half\nin hand: lost\napart: M3\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestLegInWords(t *testing.T) {
	settle, pull := &spec.Pass{Steps: []spec.Step{{Action: spec.Wait}}}, &spec.Pass{Steps: []spec.Step{{Action: spec.Torque}}}
	for _, c := range []struct {
		leg  walk.Leg
		pass *spec.Pass
		want string
	}{{walk.BeforeFirst, pull, "before the first bolt"}, {walk.AfterLast, pull, "after the last bolt"}, {walk.AmongBolts, pull, ""}, {walk.BeforeFirst, settle, "before the wait"}, {walk.AfterLast, settle, "after the wait"}} {
		if got := Leg(c.leg, c.pass); got != c.want {
			t.Errorf("%d: %q, want %q", c.leg, got, c.want)
		}
	}
}
