package clamp

import (
	"math"
	"testing"

	"evenpull/spec/bolt"

	"pgregory.net/rapid"
)

var someThreads = []string{"M3", "M5", "M6", "M8", "M8x1", "M10", "M10x1", "M12x1.5", "M16", "M20x1.5", "M24", "M36", "#10-32", "1/4-20", "3/8-24 UNF", "1/2-13", "3/4-16", "1-8"}

func drawJoint(t *rapid.T) Joint {
	th, err := bolt.ParseThread(rapid.SampledFrom(someThreads).Draw(t, "thread"))
	if err != nil {
		t.Fatal(err)
	}
	class, err := bolt.ParseClass(rapid.SampledFrom(bolt.ClassNames()).Draw(t, "class"))
	if err != nil {
		t.Fatal(err)
	}
	mu, err := FrictionOf(rapid.Float64Range(LeastFriction, MostFriction).Draw(t, "friction"))
	if err != nil {
		t.Fatal(err)
	}
	j := Joint{
		Thread: th, Class: class, Friction: mu,
		BoreMM:  rapid.Float64Range(0, 0.9).Draw(t, "bore share") * th.RootDiameterMM(),
		Form:    rapid.SampledFrom([]Form{Table, VDI, Rounded}).Draw(t, "form"),
		Edition: rapid.SampledFrom([]Edition{Current, Older}).Draw(t, "edition"),
	}
	if rapid.Bool().Draw(t, "drag") {
		section, err := bolt.ThreadSection(th, 0.95*th.RootDiameterMM()) // the widest bore any test draws
		if err != nil {
			t.Fatal(err)
		}
		_, yield, _, _ := class.Strength(th)
		j.PrevailingNm = min(0.5, 0.8*yield*section.ElasticTorsionMM3()/math.Sqrt(3)/1000)
	}
	return j
}

func assess(t *rapid.T, j Joint, torque float64) Assessment {
	a, err := j.Assess(torque)
	if err != nil {
		t.Fatalf("%+v at %v N·m: %v", j, torque, err)
	}
	return a
}

// hair is more than rounding can hide, in mm or of a coefficient: of two joints nearer than that the wrong one may be the
// stronger in the last bit.
const hair = 1e-3

var torques = rapid.Float64Range(1, 500)

func TestMoreFrictionNeverMeansMorePreload(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		slick := drawJoint(t)
		rough := slick
		mu := rapid.Float64Range(min(slick.Friction.Nominal+hair, MostFriction), MostFriction).Draw(t, "more friction")
		rough.Friction, _ = FrictionOf(mu)
		torque := torques.Draw(t, "torque")
		a, b := assess(t, slick, torque), assess(t, rough, torque)
		if b.PreloadN > a.PreloadN || b.PreloadLowN > a.PreloadLowN || b.PreloadHighN > a.PreloadHighN || b.YieldPreloadN > a.YieldPreloadN {
			t.Fatalf("friction %v gives %+v, %v gives %+v", slick.Friction.Nominal, a, mu, b)
		}
	})
}

func TestAWiderBoreNeverRaisesALimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		narrow := drawJoint(t)
		wide := narrow
		wide.BoreMM = rapid.Float64Range(narrow.BoreMM+hair, 0.95*narrow.Thread.RootDiameterMM()).Draw(t, "wider bore")
		torque := torques.Draw(t, "torque")
		a, b := assess(t, narrow, torque), assess(t, wide, torque)
		if b.YieldPreloadN > a.YieldPreloadN || b.YieldTorqueNm > a.YieldTorqueNm || b.Utilisation < a.Utilisation {
			t.Fatalf("bore %v: %+v; bore %v: %+v", narrow.BoreMM, a, wide.BoreMM, b)
		}
	})
}

func TestTorqueToPreloadAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawJoint(t)
		torque := torques.Draw(t, "torque")
		a := assess(t, j, torque)
		back, err := j.Torque(a.PreloadN)
		if err != nil || math.Abs(back-torque) > 1e-9*torque {
			t.Fatalf("%v N·m is %v N is %v N·m (%v)", torque, a.PreloadN, back, err)
		}
		atYield := assess(t, j, a.YieldTorqueNm)
		if math.Abs(atYield.Utilisation-1) > 1e-9 || math.Abs(assess(t, j, a.Torque90Nm).Utilisation-0.9) > 1e-9 {
			t.Fatalf("utilisation at the yield torque is %v, at the 90 %% one %v", atYield.Utilisation, assess(t, j, a.Torque90Nm).Utilisation)
		}
	})
}

func TestTheBandHoldsTheNominalPreload(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawJoint(t)
		j.Tool = rapid.SampledFrom(tools).Draw(t, "tool")
		a := assess(t, j, torques.Draw(t, "torque"))
		if !(0 < a.PreloadLowN && a.PreloadLowN < a.PreloadN && a.PreloadN < a.PreloadHighN) {
			t.Fatalf("%s: %v, %v, %v", j.Tool.Name, a.PreloadLowN, a.PreloadN, a.PreloadHighN)
		}
	})
}

// All lengths times s, the torque times s³ (force s², lever s): the same stress.
func TestUtilisationIsScaleFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawJoint(t)
		j.PrevailingNm = 0
		j.YieldMPa = rapid.Float64Range(200, 1200).Draw(t, "yield")
		j.HoleMM = 1.1 * j.Thread.DiameterMM
		j.BearingMM = 1.5 * j.Thread.DiameterMM
		s := rapid.Float64Range(0.3, 4).Draw(t, "scale")
		big := j
		big.Thread.DiameterMM, big.Thread.PitchMM = s*j.Thread.DiameterMM, s*j.Thread.PitchMM
		big.BoreMM, big.HoleMM, big.BearingMM = s*j.BoreMM, s*j.HoleMM, s*j.BearingMM
		torque := torques.Draw(t, "torque")
		a, b := assess(t, j, torque), assess(t, big, torque*s*s*s)
		if math.Abs(b.Utilisation/a.Utilisation-1) > 1e-9 || math.Abs(b.PreloadN/a.PreloadN/(s*s)-1) > 1e-9 {
			t.Fatalf("scaled by %v: utilisation %v to %v, preload %v to %v", s, a.Utilisation, b.Utilisation, a.PreloadN, b.PreloadN)
		}
	})
}

func TestATurnNeverPassesYield(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawJoint(t)
		g := Grip{LengthMM: rapid.Float64Range(1, 12).Draw(t, "grip") * j.Thread.DiameterMM, Tapped: rapid.Bool().Draw(t, "tapped")}
		g.ShankMM = rapid.Float64Range(0, 1).Draw(t, "shank") * g.LengthMM
		torque, degrees := torques.Draw(t, "torque"), rapid.Float64Range(1, 360).Draw(t, "degrees")
		a, err := j.Turn(g, torque, degrees)
		if err != nil {
			t.Fatal(err)
		}
		b, err := j.Turn(g, torque, 1.5*degrees)
		if err != nil || a.PreloadN > a.YieldN || b.PreloadN < a.PreloadN || a.Yields != (a.ElasticN > a.YieldN) || !(a.LowN < a.PreloadN && a.PreloadN < a.HighN) {
			t.Fatalf("%v° gives %+v, half as much again %+v (%v)", degrees, a, b, err)
		}
	})
}
