package clamp

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"evenpull/spec/bolt"
)

func boltOf(t *testing.T, thread, class string) Joint {
	t.Helper()
	th, err := bolt.ParseThread(thread)
	if err != nil {
		t.Fatal(err)
	}
	c, err := bolt.ParseClass(class)
	if err != nil {
		t.Fatal(err)
	}
	return Joint{Thread: th, Class: c, Friction: frictions[1]}
}

// Each preset is a friction there can be, found by its own name. VDI 2230's classes A to E begin at 0.04, 0.08, 0.14, 0.20 and
// 0.30 and end at 0.10, 0.16, 0.24, 0.35 and over (from memory); threadlock's, common practice, lies across B and C.
func TestEveryFrictionIsOneThereCanBe(t *testing.T) {
	names := FrictionNames()
	if !slices.Equal(names, []string{"dry", "oiled", "moly", "threadlock"}) {
		t.Errorf("they are called %q", names)
	}
	starts, ends := []float64{0.04, 0.08, 0.14}, []float64{0.10, 0.16, 0.24}
	for _, f := range append(slices.Clone(frictions), Unstated) {
		if err := f.check(f.Name); err != nil || !(f.Low < f.Nominal && f.Nominal < f.High) {
			t.Errorf("%+v: %v", f, err)
		}
		if inClass := slices.Contains(starts, f.Low) && slices.Contains(ends, f.High); inClass != strings.Contains(f.Source, "VDI 2230") {
			t.Errorf("%s is %v to %v by %s", f.Name, f.Low, f.High, f.Source)
		}
		if got, err := ParseFriction(" " + strings.ToUpper(f.Name)); f != Unstated && (err != nil || got != f) {
			t.Errorf("%s is read as %+v, %v", f.Name, got, err)
		}
	}
	if lock := frictions[3]; lock.Low < starts[1] || lock.High > ends[2] {
		t.Errorf("threadlock is %v to %v", lock.Low, lock.High)
	}
}

// How a torque was reckoned is said, each form by its own words.
func TestTheFormIsSaid(t *testing.T) {
	for form, want := range map[Form]string{
		Table: "exact tangent torque formula", VDI: "exact constants 1/(2π)", Rounded: "rounded constants 0.16 and 0.58", Short: "short torque formula T = K·F·d",
	} {
		j := boltOf(t, "M10", "8.8")
		if j.Form = form; form == Short {
			j.NutFactor = 0.2
		}
		a, err := j.Assess(20)
		if err != nil || !strings.Contains(a.Method, want) {
			t.Errorf("%s: %q, %v", form, a.Method, err)
		}
	}
}

// Drag alone twists M10x1.5 by √3·T/(π/12·d0³): 60 N·m make 626 MPa, 98 % of 640.
func TestDragThatLeavesNothingIsRefusedWithItsShare(t *testing.T) {
	j := boltOf(t, "M10", "8.8")
	j.PrevailingNm = 60
	d0 := (10 - 0.649519*1.5 + 10 - 1.226869*1.5) / 2
	share := 100 * math.Sqrt(3) * 60000 / (math.Pi / 12 * d0 * d0 * d0) / 640
	want := fmt.Sprintf("alone twists the thread to %.0f %% of yield", share)
	if _, err := j.Assess(80); err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%v, want %s", err, want)
	}
}

func TestAPreloadThatIsNoneIsNotAimedAt(t *testing.T) {
	j := boltOf(t, "M10", "8.8")
	for _, n := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if a, err := j.AimAt(n); err == nil || !strings.Contains(err.Error(), "preload is") {
			t.Errorf("%v N is aimed at: %+v, %v", n, a, err)
		}
	}
}

// The grip that a turn was reckoned with names the waist, and how long it is.
func TestTheWaistIsSaid(t *testing.T) {
	j := boltOf(t, "M10", "8.8")
	for _, c := range []struct {
		waist float64
		grip  Grip
		want  string
	}{
		{0, Grip{LengthMM: 40, ShankMM: 20}, "grip 40 mm, 20 mm of it plain shank; clamped"},
		{8, Grip{LengthMM: 40, ShankMM: 20}, "20 mm of it plain shank, 20 mm of that at the 8 mm waist; clamped"},
		{8, Grip{LengthMM: 40, ShankMM: 20, WaistMM: 15}, "20 mm of it plain shank, 15 mm of that at the 8 mm waist; clamped"},
	} {
		j.WaistMM = c.waist
		turned, err := j.Turn(c.grip, 20, 60)
		if said := strings.Join(turned.Assumptions, "\n"); err != nil || !strings.Contains(said, c.want) {
			t.Errorf("%+v: %v\n%s\nwant %s", c.grip, err, said, c.want)
		}
	}
}

func TestAStretchNeedsItsGrip(t *testing.T) {
	j := boltOf(t, "M10", "8.8")
	for _, g := range []Grip{{}, {LengthMM: -1}, {LengthMM: 40, ShankMM: 50}} {
		if got, err := j.Stretched(g, 0.1); err == nil {
			t.Errorf("%+v: %+v", g, got)
		}
	}
	if _, err := j.Stretched(Grip{LengthMM: 40}, 0); err == nil || !strings.Contains(err.Error(), "stretch is 0 mm") {
		t.Errorf("of nothing: %v", err)
	}
}
