package walk

import (
	"fmt"
	"testing"

	"evenpull/spec"
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
