package walk

import (
	"fmt"
	"math/big"
	"testing"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/quantity"
)

// What a reading is held against: the sheet's own limits, or, where it gives
// none, ISO 6789's deviation of a hand torque tool, what a gauge can be read to,
// and what a micrometer can. Every limit is tried from both sides.
func TestReadingsFromBothSidesOfEveryLimit(t *testing.T) {
	for _, c := range []struct {
		pass, reading string
		want          verdict
	}{
		{`torque = "20 N·m"`, "19.2 N·m", inRange}, {`torque = "20 N·m"`, "19.19 N·m", short}, {`torque = "20 N·m"`, "20.8 N·m", inRange}, {`torque = "20 N·m"`, "20.81 N·m", beyond},
		{`torque = "10 N·m"`, "9.4 N·m", inRange}, {`torque = "10 N·m"`, "9.39 N·m", short}, {`torque = "10 N·m"`, "10.6 N·m", inRange}, {`torque = "10 N·m"`, "10.61 N·m", beyond},
		{`torque = "10.1 N·m"`, "10.55 N·m", beyond}, {`torque = "10.1 N·m"`, "9.6 N·m", short},
		{`torque = "18 N·m to 22 N·m"`, "18 N·m", inRange}, {`torque = "18 N·m to 22 N·m"`, "17.99 N·m", short}, {`torque = "18 N·m to 22 N·m"`, "22 N·m", inRange}, {`torque = "18 N·m to 22 N·m"`, "22.01 N·m", beyond},
		{`turn = "90°"`, "88°", inRange}, {`turn = "90°"`, "87.9°", short}, {`turn = "90°"`, "92°", inRange}, {`turn = "90°"`, "92.1°", beyond},
		{`turn = "90° to 94°"`, "90°", inRange}, {`turn = "90° to 94°"`, "89.9°", short}, {`turn = "90° to 94°"`, "94.1°", beyond},
		{`verify = "at least 15 N·m"`, "15 N·m", inRange}, {`verify = "at least 15 N·m"`, "14.99 N·m", short}, {`verify = "at least 15 N·m"`, "99 N·m", inRange},
		{`verify = "15 N·m"`, "14.99 N·m", short}, {`verify = "15 N·m"`, "40 N·m", inRange},
		{`stretch = "0.12 mm to 0.15 mm"`, "0.12 mm", inRange}, {`stretch = "0.12 mm to 0.15 mm"`, "0.119 mm", short}, {`stretch = "0.12 mm to 0.15 mm"`, "0.151 mm", beyond},
		{`stretch = "0.12 mm"`, "0.115 mm", inRange}, {`stretch = "0.12 mm"`, "0.114 mm", short}, {`stretch = "0.12 mm"`, "0.125 mm", inRange}, {`stretch = "0.12 mm"`, "0.126 mm", beyond},
		{`stretch = "0.12 mm"`, "1.2 mm", beyond}, {`stretch = "0.12 mm"`, "1.26 mm", unreadable},
	} {
		text := fmt.Sprintf("format = 1\n[procedure]\nname = \"J\"\ndirection = \"close\"\nsource = \"invented\"\n[group.g]\nthread = \"M8x1.25\"\nclass = \"8.8\"\n[group.g.at]\nA = [0, 0]\n[[pass]]\nname = \"First\"\ngroups = [\"g\"]\ntorque = \"5 N·m\"\n[[pass]]\nname = \"P\"\ngroups = [\"g\"]\n%s\n", c.pass)
		stages := planOf(t, text).Stages
		if got, err := WindowOf(stages[1]).read(c.reading); got != c.want {
			t.Errorf("%s read %s: verdict %d (%v), want %d", c.pass, c.reading, got, err, c.want)
		}
	}
}

// A limit that is worked out is as exact as one that is given: for every figure of a
// sheet the very percentage above it is in range and the least bit more is not. 4 % over
// 22 is 22.88 and no binary fraction.
func TestWorkedOutLimitsAreExact(t *testing.T) {
	hundredth := big.NewRat(1, 100)
	for n := int64(1); n <= 4000; n++ {
		figure := new(big.Rat).Mul(big.NewRat(n, 1), hundredth) // 0.01 N·m to 40 N·m
		give := big.NewRat(4, 100)
		if n <= 1000 {
			give = big.NewRat(6, 100)
		}
		by := new(big.Rat).Mul(figure, give)
		st := &plan.Stage{Work: &plan.Work{Action: spec.Torque, Target: &spec.Target{}}}
		st.Target.Torque = quantity.Exactly(torque(t, figure))
		w := WindowOf(st)
		bit := big.NewRat(1, 1_000_000_000_000)
		top, bottom := new(big.Rat).Add(figure, by), new(big.Rat).Sub(figure, by)
		for _, c := range []struct {
			at   *big.Rat
			want verdict
		}{{top, inRange}, {new(big.Rat).Add(top, bit), beyond}, {bottom, inRange}, {new(big.Rat).Sub(bottom, bit), short}} {
			if got, err := w.read(c.at.FloatString(12) + " N·m"); got != c.want {
				t.Fatalf("%s N·m at %s: verdict %d (%v), want %d", figure.FloatString(2), c.at.FloatString(12), got, err, c.want)
			}
		}
	}
}

func torque(t *testing.T, nm *big.Rat) quantity.Torque {
	figure, err := quantity.ParseTorque(nm.FloatString(2) + " N·m")
	if err != nil {
		t.Fatal(err)
	}
	return figure
}

// Sheet and gauge may speak of different units: the limit is the same, to the last digit.
func TestLimitsInAnotherUnitAreTheSame(t *testing.T) {
	st := &plan.Stage{Work: &plan.Work{Action: spec.Torque, Target: &spec.Target{}}}
	span, err := quantity.ParseTorqueSpan("30 lbf·ft") // 40.674535449...
	if err != nil {
		t.Fatal(err)
	}
	st.Target.Torque = span
	top := new(big.Rat).Mul(span.High.Exact(quantity.NewtonMetre), big.NewRat(104, 100)).FloatString(15)
	for reading, want := range map[string]verdict{"31.2 lbf·ft": inRange, "31.2000000001 lbf·ft": beyond, "28.8 lbf·ft": inRange, "28.7999999999 lbf·ft": short, top[:len(top)-1] + " N·m": inRange, top[:len(top)-3] + "999 N·m": beyond} {
		if got, err := WindowOf(st).read(reading); got != want {
			t.Errorf("%s: verdict %d (%v), want %d", reading, got, err, want)
		}
	}
}

// A record of before is judged as it was: a reading a hair over its limit, or a torque a
// hair over its ceiling, was in range.
func TestRecordsOfBeforeKeepTheirHair(t *testing.T) {
	for _, c := range []struct {
		reading  string
		was, now verdict
	}{
		{"0.15 mm at 42 N·m", inRange, inRange}, {"0.1500000000001 mm at 42 N·m", inRange, beyond}, {"0.1199999999999 mm at 42 N·m", inRange, short},
		{"0.13 mm at 45.00000000001 N·m", inRange, beyond}, {"0.13 mm at 45.0000001 N·m", beyond, beyond}, {"0.1500001 mm at 42 N·m", beyond, beyond},
	} {
		p := planOf(t, stretching)
		for rules, want := range map[int]verdict{findRules: c.was, Rules: c.now} {
			s := CourseOf(p, rules).Start()
			if got, err := s.window(stretch(t, p)).read(c.reading); got != want {
				t.Errorf("%s under rules %d: verdict %d (%v), want %d", c.reading, rules, got, err, want)
			}
		}
	}
}

func stretch(t *testing.T, p *plan.Plan) *plan.Stage {
	for _, st := range p.Stages {
		if st.Action == spec.Stretch {
			return st
		}
	}
	t.Fatal("nothing is stretched")
	return nil
}

// What a refused reading means for the bolt.
func TestARefusedReadingMeansWhatItsActionSays(t *testing.T) {
	for _, c := range []struct {
		action spec.Action
		v      verdict
		want   Act
	}{
		{spec.Torque, beyond, PulledOver}, {spec.Torque, short, ""}, {spec.Turn, beyond, PulledOver}, {spec.Turn, short, ""},
		{spec.Verify, short, DidNotHold}, {spec.Verify, beyond, ""}, {spec.Stretch, beyond, OverStretched}, {spec.Stretch, short, ""},
		{spec.Loosen, beyond, ""}, {spec.Loosen, short, ""}, {spec.Torque, unreadable, ""}, {spec.Torque, inRange, ""},
	} {
		if got := (Window{Action: c.action}).act(c.v); got != c.want {
			t.Errorf("%s, verdict %d: %q, want %q", c.action, c.v, got, c.want)
		}
	}
}
