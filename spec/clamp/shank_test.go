package clamp

import (
	"math"
	"strings"
	"testing"

	"evenpull/spec/bolt"

	"pgregory.net/rapid"
)

// M10x1.5 into a nut, grip 40 mm with 12 mm of full shank, 8 mm at an 8 mm waist and 20 mm of free
// thread: each section by hand, in series (VDI 2230, from memory).
func TestSectionsOfTheBoltAreInSeries(t *testing.T) {
	j, g := derivedJoint(t)
	j.WaistMM, g.WaistMM = 8, 8
	s, err := j.Stiffness(g)
	if err != nil {
		t.Fatal(err)
	}
	area := func(d float64) float64 { return math.Pi / 4 * d * d }
	root := area(10 - 1.226869*1.5)
	head, shank, waist, free, engaged := 5/area(10), 12/area(10), 8/area(8), 20/root, 5/root
	whole := (head + shank + waist + free + engaged) / 205000
	near(t, "the bolt end to end", s.StretchMMPerN, whole, 1e-12*whole)
	near(t, "bolt and nut", s.BoltMMPerN, whole+4/area(10)/205000, 1e-9*whole)
	g.Tapped, g.HoleGPa = true, 72
	tapped, err := j.Stiffness(g)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "bolt and tapped hole", tapped.BoltMMPerN, whole+3.3/area(10)/72000, 1e-9*whole)
	if tapped.StretchMMPerN != s.StretchMMPerN {
		t.Errorf("end to end %v mm/N in a tapped hole, %v in a nut: a stretch measured on the bolt knows neither", tapped.StretchMMPerN, s.StretchMMPerN)
	}
	j.Head = bolt.Socket
	socket, err := j.Stiffness(g)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a socket head", s.StretchMMPerN-socket.StretchMMPerN, 1/area(10)/205000, 1e-12*whole)
	j.BoreMM = 4
	hollow, err := j.Stiffness(g)
	if err != nil {
		t.Fatal(err)
	}
	less := area(4)
	want := (4/area(10) + 12/(area(10)-less) + 8/(area(8)-less) + 25/(root-less)) / 205000
	near(t, "a hollow bolt", hollow.StretchMMPerN, want, 1e-12*want)
}

// A waist without a length is the whole shank.
func TestAWaistWithoutALengthIsTheWholeShank(t *testing.T) {
	j, g := derivedJoint(t)
	j.WaistMM = 8
	all, err := j.Stiffness(g)
	if err != nil {
		t.Fatal(err)
	}
	g.WaistMM = 20
	said, err := j.Stiffness(g)
	if err != nil || said != all {
		t.Errorf("waist all along: %+v, said: %+v (%v)", all, said, err)
	}
}

// A stretch of 0.1 mm on a bolt of known shank: ΔL over the bolt alone, ± 5 % (NASA criteria).
func TestAStretchDoesNotHoldTheNut(t *testing.T) {
	j, g := derivedJoint(t)
	s, _ := j.Stiffness(g)
	a, err := j.Stretched(g, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "preload", a.PreloadN, 0.05/s.StretchMMPerN, 1e-6)
	near(t, "least", a.LowN, 0.95*a.PreloadN, 1e-6)
	near(t, "most", a.HighN, 1.05*a.PreloadN, 1e-6)
}

// Without a shank the band holds a bolt threaded up to its head and one of 80 % shank; with
// one there is no such doubt, and 0 mm is a length too.
func TestAnUnknownShankWidensTheBand(t *testing.T) {
	j, g := derivedJoint(t)
	of := func(shank float64, known bool) Turned {
		g.ShankMM, g.ShankKnown = shank, known
		a, err := j.Stretched(g, 0.08)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	unknown, bare, middle, long := of(0, false), of(0, true), of(16, true), of(32, true)
	near(t, "least", unknown.LowN, bare.LowN, 1e-6)
	near(t, "usual", unknown.PreloadN, middle.PreloadN, 1e-6)
	near(t, "most", unknown.HighN, long.HighN, 1e-6)
	if long.PreloadN < 1.25*bare.PreloadN {
		t.Errorf("80 %% of shank holds %.0f N, bare thread %.0f N; about a third more was expected", long.PreloadN, bare.PreloadN)
	}
	for _, c := range []struct {
		said []string
		want string
	}{{unknown.Assumptions, "plain shank not given: 16 mm assumed, the band holds 0 to 32 mm"}, {bare.Assumptions, "0 mm of it plain shank"}} {
		if !strings.Contains(strings.Join(c.said, "\n"), c.want) {
			t.Errorf("%q does not say %q", c.said, c.want)
		}
	}
	j.WaistMM, g.WaistMM = 7, 20 // thinner than the root: the long shank is the softer
	waisted := of(0, false)
	near(t, "least with a waist", waisted.LowN, of(20, true).LowN, 1e-6)
	near(t, "most with a waist", waisted.HighN, of(32, true).HighN, 1e-6)
	g.WaistMM = 0
	thin := of(0, false)
	near(t, "least with a waist all along", thin.LowN, of(32, true).LowN, 1e-6)
	near(t, "most with a waist all along", thin.HighN, of(0, true).HighN, 1e-6)
}

// What stays when a bolt has yielded is the way it was drawn, less what springs back.
func TestWhatStaysIsTheWayLessWhatSpringsBack(t *testing.T) {
	j, g := derivedJoint(t)
	s, _ := j.Stiffness(g)
	stretched, err := j.Stretched(g, 0.3)
	if err != nil || !stretched.Yields {
		t.Fatalf("%+v, %v", stretched, err)
	}
	near(t, "left of the stretch", stretched.LastingMM, 0.3-stretched.YieldN*s.StretchMMPerN, 1e-12)
	snug, _ := j.Assess(20)
	turned, err := j.Turn(g, 20, 90)
	if err != nil || !turned.Yields {
		t.Fatalf("%+v, %v", turned, err)
	}
	near(t, "left of the turn", turned.LastingMM, 1.5/4-(turned.YieldN-snug.PreloadN)*(s.BoltMMPerN+s.PartsMMPerN), 1e-12)
	if all, want := strings.Join(turned.Assumptions, "\n"), "snug preload 10 to 15.3 kN, torque wrench"; !strings.Contains(all, want) {
		t.Errorf("assumptions don't say %q:\n%s", want, all)
	}
}

// The band of a turn holds that of its own snug torque carried through, and what the shank may be.
func TestATurnsBandHoldsThatOfItsSnugTorque(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawJoint(t)
		j.Tool = rapid.SampledFrom(tools).Draw(t, "tool")
		g := Grip{LengthMM: rapid.Float64Range(2, 12).Draw(t, "grip") * j.Thread.DiameterMM, Tapped: rapid.Bool().Draw(t, "tapped")}
		degrees := rapid.Float64Range(1, 90).Draw(t, "degrees")
		snug, err := j.Assess(j.PrevailingNm + rapid.Float64Range(0.1, 50).Draw(t, "snug"))
		if err != nil {
			t.Fatal(err)
		}
		turned, err := j.Turn(g, snug.TorqueNm, degrees)
		if err != nil {
			t.Fatal(err)
		}
		for _, share := range []float64{0, 0.4, 0.8} {
			known := g
			known.ShankMM, known.ShankKnown = share*g.LengthMM, true
			s, err := j.Stiffness(known)
			if err != nil {
				t.Fatal(err)
			}
			more := j.Thread.PitchMM * degrees / 360 / (s.BoltMMPerN + s.PartsMMPerN)
			least, most := snug.PreloadLowN+more, snug.PreloadHighN+more
			if turned.LowN > least*(1+1e-9) || most < turned.YieldN && turned.HighN < most*(1-1e-9) {
				t.Fatalf("%v° leaves %v to %v N; the snug torque's %v to %v N with %v N more is %v to %v", degrees, turned.LowN, turned.HighN, snug.PreloadLowN, snug.PreloadHighN, more, least, most)
			}
		}
	})
}

func TestShanksThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct {
		waist float64
		grip  Grip
		want  string
	}{
		"shank over the grip":    {0, Grip{LengthMM: 40, ShankMM: 41}, "give a length from 0 to the grip"},
		"negative shank":         {0, Grip{LengthMM: 40, ShankMM: -1}, "give a length from 0 to the grip"},
		"waist over the shank":   {8, Grip{LengthMM: 40, ShankMM: 20, WaistMM: 21}, "give a length from 0 to the shank"},
		"waist over the grip":    {8, Grip{LengthMM: 40, WaistMM: 41}, "give a length from 0 to the shank"},
		"waist, no shank at all": {8, Grip{LengthMM: 40, ShankKnown: true, WaistMM: 1}, "give a length from 0 to the shank"},
		"negative waist":         {8, Grip{LengthMM: 40, WaistMM: -1}, "give a length from 0 to the shank"},
		"waist of no diameter":   {0, Grip{LengthMM: 40, WaistMM: 10}, "give its diameter too"},
	} {
		j := jointOf(t, "M10", "8.8", 0.12)
		j.WaistMM = c.waist
		if s, err := j.Stiffness(c.grip); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %+v, %v; want an error that says %q", name, s, err, c.want)
		}
	}
	j := jointOf(t, "M10", "8.8", 0.12)
	j.WaistMM = 8
	for name, g := range map[string]Grip{"all of it shank": {LengthMM: 40, ShankMM: 40}, "all of that a waist": {LengthMM: 40, ShankMM: 40, WaistMM: 40}, "a waist in a shank not known": {LengthMM: 40, WaistMM: 40}} {
		if _, err := j.Stiffness(g); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
