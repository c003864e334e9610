package clamp

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

const oneLbfFt = 1.3558179483314004

// A nut-factor article (2020, read in print): 3/8-16 UNC grade 5 at 75 % of proof load is 4940 lbf,
// which with K = 0.20 takes 30 and with K = 0.15 takes 23 lbf·ft, cut to whole ones. The preload is
// printed to 10 lbf.
func TestAimAtAPrintedShareOfProofLoad(t *testing.T) {
	for k, printed := range map[float64]float64{0.20: 30, 0.15: 23} {
		j := jointOf(t, "3/8-16 UNC", "grade 5", 0.12)
		j.Form, j.NutFactor = Short, k
		aim, err := j.AimAtShare(0.75)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "preload lbf", aim.PreloadN/lbf, 4940, 5)
		if got := math.Floor(aim.TorqueNm / oneLbfFt); got != printed {
			t.Errorf("K %v: %.2f lbf·ft, printed %v, cut to whole ones", k, aim.TorqueNm/oneLbfFt, printed)
		}
	}
}

// The aim comes back: its torque gives its preload, on slick threads the low one does, on rough ones the high.
func TestAnAimComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawJoint(t)
		share := rapid.Float64Range(0.05, 0.5).Draw(t, "share")
		aim, err := j.AimAtShare(share)
		if err != nil {
			t.Skip(err) // a bolt that is hardly there, twisted by its own nut
		}
		proof, err := j.ProofLoadN()
		if err != nil || math.Abs(aim.ShareOfProof-share) > 1e-9 || math.Abs(aim.PreloadN-share*proof) > 1e-6 {
			t.Fatalf("aimed at %v of %v N: %+v (%v)", share, proof, aim, err)
		}
		f := j.Friction
		for nm, mu := range map[float64]float64{aim.TorqueNm: f.Nominal, aim.TorqueLowNm: f.Low, aim.TorqueHighNm: f.High} {
			there := j
			there.Friction.Nominal = mu
			if a := assess(t, there, nm); math.Abs(a.PreloadN/aim.PreloadN-1) > 1e-9 {
				t.Fatalf("%v N·m at %v gives %v N, aimed at %v", nm, mu, a.PreloadN, aim.PreloadN)
			}
		}
	})
}

// The proof load is that of the weakest section: a waist or an oil hole counts.
func TestTheProofLoadIsThatOfTheWeakestSection(t *testing.T) {
	j := jointOf(t, "M10", "8.8", 0.12)
	whole, err := j.ProofLoadN()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "proof load", whole, 33600, 50) // ISO 898-1 prints 33 600 N (from memory)
	j.WaistMM = 9
	if wide, _ := j.ProofLoadN(); wide != whole {
		t.Errorf("a waist wider than the thread's own section changes the proof load from %v to %v", whole, wide)
	}
	j.WaistMM = 7
	waisted, _ := j.ProofLoadN()
	near(t, "proof load at the waist", waisted, 580*math.Pi/4*49, 1e-6)
	j.BoreMM, j.CrossHoleMM = 3, 2
	drilled, _ := j.ProofLoadN()
	near(t, "proof load at the oil hole", drilled, 580*(math.Pi/4*(49-9)-2*2*2), 1e-6)
}

func TestAimsThatCannotBe(t *testing.T) {
	j := jointOf(t, "M8", "8.8", 0.12)
	for _, n := range []float64{0, -1, math.NaN(), 30000} {
		if a, err := j.AimAt(n); err == nil || !strings.Contains(err.Error(), "preload") {
			t.Errorf("aimed at %v N: %+v, %v", n, a, err)
		}
	}
	for _, share := range []float64{0, -0.1, 1.01, math.NaN()} {
		if a, err := j.AimAtShare(share); err == nil || !strings.Contains(err.Error(), "up to 100 %") {
			t.Errorf("aimed at %v of proof load: %+v, %v", share, a, err)
		}
	}
	j.YieldMPa = 2000 // a special steel: all of the proof load of its class is well below its yield
	if _, err := j.AimAtShare(1); err != nil {
		t.Errorf("all of the proof load: %v", err)
	}
}
