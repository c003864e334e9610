package estimate

import (
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/clamping"
	"evenpull/procedures/plan"
	"evenpull/spec/read"
	"evenpull/ui/fit"
	"evenpull/ui/internal/golden"
	"evenpull/ui/theme"
)

const drawerText = `format = 1
[[wrench]]
name = "small click"
type = "II A"
unit = "N·m"
range = "5 N·m to 25 N·m"
graduation = "0.5 N·m"
calibrated = "2026-03-01"
arm = "250 mm"
[[wrench]]
name = "old beam"
type = "I A"
unit = "lbf·ft"
range = "0 to 100 lbf·ft"
graduation = "2 lbf·ft"
[[adapter]]
name = "crowfoot"
length = "50 mm"
angle = "0°"
`

func bench(t *testing.T, named ...string) Bench {
	t.Helper()
	d, problems := read.Drawer("wrenches.toml", []byte(drawerText))
	if d == nil {
		t.Fatal(problems)
	}
	b := Bench{Drawer: d, On: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)}
	for _, n := range named {
		w, err := d.Wrench(n)
		if err != nil {
			t.Fatal(err)
		}
		b.Named = append(b.Named, w)
	}
	return b
}

func bundled(t *testing.T, name string) *plan.Plan {
	t.Helper()
	p, problems, err := procedures.Library{}.Load(name)
	if p == nil {
		t.Fatal(problems, err)
	}
	return plan.Of(p)
}

// stage finds the stage of a fastener in a pass.
func stage(t *testing.T, p *plan.Plan, pass, id string) *plan.Stage {
	t.Helper()
	for _, st := range p.Stages {
		if st.Pass.Name == pass && st.Fastener != nil && st.Fastener.ID == id {
			return st
		}
	}
	t.Fatalf("no stage %s/%s", pass, id)
	return nil
}

func study(t *testing.T, name string) *clamping.Study {
	t.Helper()
	s, err := clamping.Together(bundled(t, name).Procedure)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestGoldenScreens(t *testing.T) {
	crank, head := bundled(t, "crankcase-close"), bundled(t, "head-torque-turn")
	torque := Input{crank, stage(t, crank, "Final", "B1"), bench(t)}
	turn := Input{head, stage(t, head, "Second turn", "H1"), bench(t)}
	retorque := study(t, "head-retorque")
	cases := map[string]string{
		"torque-80x24":     Page(torque, 80, 24),
		"torque-40x15":     Page(torque, 40, 15),
		"torque-120x30":    Page(torque, 120, 30),
		"torque-12x4":      Page(torque, 12, 4),
		"turn-80x24":       Page(turn, 80, 24),
		"neighbours-80x24": Neighbours(retorque, 0, 80, 24),
		"neighbours-40x15": Neighbours(retorque, 0, 40, 15),
		"neighbours-case":  Neighbours(study(t, "crankcase-open"), 0, 100, 30),
		"table":            strings.Join(Table(retorque, retorque.Passes[0], 60), "\n"),
	}
	golden.Screens(t, cases)
}

// Whatever the size, a page fills it exactly and says that it is an estimate.
func TestPagesFitEverySize(t *testing.T) {
	p := bundled(t, "crankcase-close")
	s := study(t, "crankcase-close")
	in := Input{p, stage(t, p, "Final", "F1"), bench(t)}
	for w := 1; w <= 140; w += 7 {
		for h := 1; h <= 45; h += 4 {
			for what, page := range map[string]string{"stage": Page(in, w, h), "neighbours": Neighbours(s, 1, w, h)} {
				lines := strings.Split(page, "\n")
				if len(lines) != h {
					t.Fatalf("%s at %d×%d has %d lines", what, w, h, len(lines))
				}
				for _, l := range lines {
					if fit.Width(l) > w {
						t.Fatalf("%s at %d×%d: %q is %d wide", what, w, h, l, fit.Width(l))
					}
				}
				if w >= 40 && h >= 4 && !strings.Contains(strings.ToLower(page), "estimate") {
					t.Fatalf("%s at %d×%d does not say that it is an estimate:\n%s", what, w, h, page)
				}
			}
		}
	}
}

// The bar puts the nominal figure and the 90 % mark where they belong.
func TestBarIsToScale(t *testing.T) {
	for _, share := range []float64{0, 0.1, 0.25, 0.5, 0.75, 0.99, 1} {
		const w = 102 // 100 cells
		n := share * 1000
		bar := []rune(Bar(clamping.Load{LowN: 0.8 * n, NominalN: n, HighN: min(1.2*n, 1000), YieldN: 1000}, w)[0])
		if len(bar) != w {
			t.Fatalf("%d cells", len(bar))
		}
		want := 1 + int(math.Min(99, math.Floor(share*100)))
		if bar[want] != '█' {
			t.Errorf("at %v the figure is not in cell %d: %s", share, want, string(bar))
		}
		if share < 0.75 && bar[91] != '│' {
			t.Errorf("at %v 90 %% is not in cell 91: %s", share, string(bar))
		}
	}
}

func TestWrenchLine(t *testing.T) {
	crank := bundled(t, "crankcase-close")
	head := bundled(t, "head-torque-turn")
	final := stage(t, crank, "Final", "B1") // 20 N·m
	late := bench(t, "small click")
	late.On = time.Date(2027, 3, 2, 0, 0, 0, 0, time.UTC)
	crow := bench(t, "small click")
	crow.Adapter = "crowfoot"
	cases := []struct {
		name  string
		b     Bench
		st    *plan.Stage
		line  string
		facts map[string]string
	}{
		{"no drawer says nothing", Bench{}, final, "", nil},
		{"a turn needs no torque wrench", bench(t), stage(t, head, "First turn", "H1"), "", nil},
		// 20 N·m on a scale of 0.5: ±4 % is 19.2 to 20.8 N·m (ISO 6789 type II A over 10 N·m).
		{"the one that fits", bench(t), final, "small click: set 20 N·m, delivers 19.2–20.8 N·m", map[string]string{"wrench": "small click", "set": "20 N·m"}},
		{"calibration that ran out is said and kept", late, final, "small click: set 20 N·m, delivers 19.2–20.8 N·m; calibration of 2026-03-01 ran out on 2027-03-01",
			map[string]string{"wrench": "small click", "set": "20 N·m", "wrench note": "calibration of 2026-03-01 ran out on 2027-03-01"}},
		// 20·250/(250+50) = 16.67, nearest mark 16.5, which gives 19.8 N·m.
		{"an adapter in line lowers the setting", crow, final, "small click: set 16.5 N·m with crowfoot, delivers 19–20.6 N·m",
			map[string]string{"wrench": "small click", "set": "16.5 N·m", "adapter": "crowfoot"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			line, facts := WrenchLine(c.b, c.st)
			if line != c.line {
				t.Errorf("got %q, want %q", line, c.line)
			}
			if len(facts) != len(c.facts) {
				t.Fatalf("facts %v, want %v", facts, c.facts)
			}
			for k, v := range c.facts {
				if facts[k] != v {
					t.Errorf("%s is %q, want %q", k, facts[k], v)
				}
			}
		})
	}
}

// An adapter makes another figure of the sheet's on the scale; where no wrench fits,
// nobody can say which.
func TestScaleOfAnAdapter(t *testing.T) {
	crank := bundled(t, "crankcase-close")
	final, low := stage(t, crank, "Final", "B1"), stage(t, crank, "Draw down", "R1") // 20 and 4 N·m
	crow := func(named ...string) Bench {
		b := bench(t, named...)
		b.Adapter = "crowfoot"
		return b
	}
	for name, c := range map[string]struct {
		b    Bench
		st   *plan.Stage
		want [3]string
	}{
		"no drawer":           {Bench{Adapter: "crowfoot"}, final, [3]string{}},
		"no adapter":          {bench(t), final, [3]string{}},
		"an angle":            {crow(), stage(t, bundled(t, "head-torque-turn"), "First turn", "H1"), [3]string{}},
		"in line":             {crow("small click"), final, [3]string{"16.5", "N·m", "crowfoot"}},
		"of the drawer":       {crow(), final, [3]string{"16.5", "N·m", "crowfoot"}},
		"too low for any":     {crow(), low, [3]string{"", "", "crowfoot"}},
		"too low for the one": {crow("small click"), low, [3]string{"", "", "crowfoot"}},
		"an unknown adapter":  {Bench{Drawer: bench(t).Drawer, Adapter: "nobody"}, final, [3]string{"", "", "nobody"}},
	} {
		if mark, unit, with := Scale(c.b, c.st); [...]string{mark, unit, with} != c.want {
			t.Errorf("%s: %q %q with %q, want %q", name, mark, unit, with, c.want)
		}
	}
}

func TestWrenchOutOfRangeIsSaidAndKept(t *testing.T) {
	crank := bundled(t, "crankcase-close")
	low := stage(t, crank, "Draw down", "R1") // 4 N·m
	line, facts := WrenchLine(bench(t, "small click"), low)
	if !strings.Contains(line, "4 N·m is under its lowest mark, 5 N·m") || !strings.Contains(facts["wrench note"], "under its lowest mark") {
		t.Errorf("got %q, %v", line, facts)
	}
	line, facts = WrenchLine(bench(t), low)
	if !strings.HasPrefix(line, "no wrench of the drawer fits") || facts != nil {
		t.Errorf("got %q, %v", line, facts)
	}
}

func TestPercentNeverRoundsALossAway(t *testing.T) {
	for share, want := range map[float64]string{1: "100 %", 0.996: "99.6 %", 0.85: "85 %", 1.004: "100.4 %", 0.99994: "100 %", 0: "0 %"} {
		if got := Percent(share); got != want {
			t.Errorf("%v prints %q, want %q", share, got, want)
		}
	}
}

// On a terminal of 7-bit characters every page is of those alone. The theme is
// settled when a process starts, so the test runs itself again.
func TestASCIIPagesHoldNothingElse(t *testing.T) {
	if !theme.ASCII() {
		cmd := exec.Command(os.Args[0], "-test.run=^TestASCIIPagesHoldNothingElse$", "-test.v")
		cmd.Env = append(os.Environ(), "EVENPULL_ASCII=1")
		if out, err := cmd.CombinedOutput(); err != nil || !strings.Contains(string(out), "4 pages looked at") {
			t.Fatalf("%v\n%s", err, out)
		}
		return
	}
	p := bundled(t, "crankcase-close")
	s := study(t, "head-retorque")
	in := Input{p, stage(t, p, "Final", "B1"), bench(t)}
	pages := []string{Page(in, 80, 24), Page(in, 40, 15), Neighbours(s, 0, 80, 24), strings.Join(Table(s, s.Passes[0], 70), "\n")}
	for _, page := range pages {
		if i := strings.IndexFunc(page, func(r rune) bool { return r > 0x7e }); i >= 0 {
			t.Errorf("%q in\n%s", page[i:min(len(page), i+8)], page)
		}
	}
	t.Logf("%d pages looked at", len(pages))
}
