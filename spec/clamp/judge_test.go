package clamp

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"evenpull/spec/bolt"
	"evenpull/spec/outside"
)

// Every word of what is judged, noted, not judged and doubted, beside the bolts it is said of:
// testdata/judged.txt, which a person has read; -update writes it anew. Figures lie on both sides of each limit.
func TestJudgementsInFull(t *testing.T) {
	of := func(thread, class, friction string, bore float64) Joint {
		j := Joint{BoreMM: bore}
		j.Thread, _ = bolt.ParseThread(thread)
		if class != "" {
			j.Class, _ = bolt.ParseClass(class)
		}
		if friction != "" {
			j.Friction, _ = ParseFriction(friction)
		}
		return j
	}
	al, mag := material(t, "cast aluminium"), material(t, "magnesium")
	m8, m10, none := of("M8", "8.8", "oiled", 0), of("M10", "10.9", "oiled", 0), of("M8", "", "", 0)
	rod, hollow := of("M8x1", "12.9", "moly", 0), of("M10x1", "8.8", "oiled", 5)
	tapped := Grip{LengthMM: 100, Tapped: true}
	short := Grip{LengthMM: 40, Tapped: true}
	var b strings.Builder
	for _, c := range []struct {
		what  string
		joint Joint
		stage Pull
	}{
		{"usual", m8, Pull{TorqueNm: 22, Unit: "N·m"}},
		{"as much as is let by", m8, Pull{TorqueNm: 28, Unit: "N·m"}},
		{"a little more", m8, Pull{TorqueNm: 28.2, Unit: "N·m"}},
		{"as little as is let by", m8, Pull{TorqueNm: 12.4, Unit: "N·m"}},
		{"a little less", m8, Pull{TorqueNm: 12.2, Unit: "N·m"}},
		{"no friction said", of("M8", "8.8", "", 0), Pull{TorqueNm: 22}},
		{"no friction said, over", of("M8", "8.8", "", 0), Pull{TorqueNm: 33}},
		{"stainless, no friction said", of("M8", "A2-70", "", 0), Pull{TorqueNm: 30}},
		{"stainless, over", of("M8", "A2-70", "", 0), Pull{TorqueNm: 36}},
		{"stainless of the weakest kind with the next one's figure", of("M8", "A2-50", "oiled", 0), Pull{TorqueNm: 15}},
		{"no class", none, Pull{TorqueNm: 22, Unit: "N·m"}},
		{"no class, in thousands", none, Pull{TorqueNm: 0.022, Unit: "N·m"}},
		{"no class, over", none, Pull{TorqueNm: 215.7, Unit: "kgf·m"}},
		{"no class, inch", of("1/2-13 UNC", "", "dry", 0), Pull{TorqueNm: 1200, Unit: "lbf·ft"}},
		{"a nut of 16 mm", of("M16", "8.8", "oiled", 0), Pull{TorqueNm: 60}},
		{"a nut of 17 mm", of("M17x1", "8.8", "oiled", 0), Pull{TorqueNm: 60}},
		{"a big nut, far too light", of("M20x1.5", "8.8", "oiled", 0), Pull{TorqueNm: 18, Unit: "N·m"}},
		{"hollow", hollow, Pull{TorqueNm: 15}},
		{"hollow, too light", hollow, Pull{TorqueNm: 6}},
		{"hollow with a solid one's figure", hollow, Pull{TorqueNm: 45}},
		{"a bore of half a millimetre changes nothing", of("M10x1", "8.8", "oiled", 0.5), Pull{TorqueNm: 56}},
		{"hollow, over even for a solid one", hollow, Pull{TorqueNm: 90}},
		{"a plug", of("M14x1.5", "8.8", "oiled", 0), Pull{TorqueNm: 25, Light: "plug"}},
		{"a plug at a usual figure", of("M14x1.5", "8.8", "oiled", 0), Pull{TorqueNm: 100, Light: "plug"}},
		{"a plug, a tenth", of("M14x1.5", "8.8", "oiled", 0), Pull{TorqueNm: 2.5, Unit: "N·m", Light: "plug"}},
		{"the last of the light ones", of("M14x1.5", "8.8", "oiled", 0), Pull{TorqueNm: 4.8, Light: "plug"}},
		{"lbf·in as lbf·ft", of("M6", "8.8", "oiled", 0), Pull{TorqueNm: 108.5, Unit: "lbf·ft"}},
		{"lbf·ft as lbf·in", of("3/8-16 UNC", "SAE 5", "dry", 0), Pull{TorqueNm: 3.39, Unit: "lbf·in"}},
		{"N·m as lbf·ft", m8, Pull{TorqueNm: 32.5, Unit: "lbf·ft"}},
		{"kgf·m as N·m", m8, Pull{TorqueNm: 2.25, Unit: "N·m"}},
		{"N·m as daN·m", m8, Pull{TorqueNm: 220, Unit: "daN·m"}},
		{"a point gone by two places", m8, Pull{TorqueNm: 2300, Unit: "N·m"}},
		{"ten times, ending in 0", m8, Pull{TorqueNm: 220, Unit: "N·m"}},
		{"ten times, ending in 5", m8, Pull{TorqueNm: 225, Unit: "N·m"}},
		{"three sizes away", m8, Pull{TorqueNm: 110, Unit: "kgf·cm"}},
		{"two sizes away", of("M12", "8.8", "oiled", 0), Pull{TorqueNm: 24, Unit: "kgf·cm"}},
		{"the next UNF size", of("3/8-24 UNF", "SAE 5", "dry", 0), Pull{TorqueNm: 25, Unit: "kgf·cm"}},
		{"fine threads of 9 mm lie between the usual ones", of("M9x1", "8.8", "oiled", 0), Pull{TorqueNm: 54}},
		{"all drag", with(m8, func(j *Joint) { j.PrevailingNm = 5 }), Pull{TorqueNm: 60, Unit: "N·m"}},

		{"thread holds", m8, Pull{TorqueNm: 22, Into: al, LengthMM: 16}},
		{"thread strips", m10, Pull{TorqueNm: 68, Into: al, LengthMM: 8}},
		{"behind an insert", m10, Pull{TorqueNm: 68, Into: al, LengthMM: 12, WireInsert: true}},
		{"half a diameter", m8, Pull{TorqueNm: 8, Into: mag, LengthMM: 4}},
		{"less", m8, Pull{TorqueNm: 22, Into: al, LengthMM: 3.99}},
		{"four diameters", m8, Pull{TorqueNm: 22, Into: al, LengthMM: 32}},
		{"more", m8, Pull{TorqueNm: 22, Into: al, LengthMM: 32.1}},
		{"no length", m8, Pull{TorqueNm: 22, Into: al}},
		{"no material", m8, Pull{TorqueNm: 22, LengthMM: 16}},
		{"light for a weak hole", of("M8", "12.9", "oiled", 0), Pull{TorqueNm: 16, Into: mag, LengthMM: 9}},
		{"too light even for that", of("M8", "12.9", "oiled", 0), Pull{TorqueNm: 7, Into: mag, LengthMM: 9}},
		{"drawn to yield in a weak hole", m10, Pull{TorqueNm: 30, TurnDegrees: 90, OneUse: true, Grip: tapped, Into: mag, LengthMM: 11}},
		{"drawn to yield in a deep one", m10, Pull{TorqueNm: 30, TurnDegrees: 90, OneUse: true, Grip: tapped, Into: al, LengthMM: 20}},

		{"turn past yield, not one-use", m10, Pull{TorqueNm: 30, TurnDegrees: 120, Grip: tapped}},
		{"turn past yield, one-use", m10, Pull{TorqueNm: 30, TurnDegrees: 120, OneUse: true, Grip: tapped}},
		{"turn below yield", m10, Pull{TorqueNm: 30, TurnDegrees: 30, Grip: tapped}},
		{"turn, no class", with(m10, func(j *Joint) { j.Class = bolt.Class{} }), Pull{TorqueNm: 30, TurnDegrees: 30, Grip: tapped}},
		{"turn past yield, no class", with(m10, func(j *Joint) { j.Class = bolt.Class{} }), Pull{TorqueNm: 30, TurnDegrees: 200, Grip: tapped}},
		{"turn of 10°", m10, Pull{TorqueNm: 30, TurnDegrees: 10, Grip: tapped}},
		{"turn under 10°", m10, Pull{TorqueNm: 30, TurnDegrees: 9.9, Grip: tapped}},
		{"turn that a long grip swallows", m10, Pull{TorqueNm: 30, TurnDegrees: 10, Grip: Grip{LengthMM: 290, Tapped: true}}},
		{"turn that all but breaks", m10, Pull{TorqueNm: 30, TurnDegrees: 900, OneUse: true, Grip: tapped}},
		{"parts of aluminium", m10, Pull{TorqueNm: 30, TurnDegrees: 120, Grip: Grip{LengthMM: 100, PartsGPa: 72}}},
		{"no grip, 59°", m10, Pull{TorqueNm: 30, TurnDegrees: 59}},
		{"no grip, 60°", m10, Pull{TorqueNm: 30, TurnDegrees: 60}},
		{"no grip, 60°, one-use", m10, Pull{TorqueNm: 30, TurnDegrees: 60, OneUse: true}},
		{"no grip, 15°", m10, Pull{TorqueNm: 30, TurnDegrees: 15}},
		{"no grip, 14°", m10, Pull{TorqueNm: 30, TurnDegrees: 14}},
		{"no grip, 360°", m10, Pull{TorqueNm: 30, TurnDegrees: 360, OneUse: true}},
		{"no grip, 361°", m10, Pull{TorqueNm: 30, TurnDegrees: 361}},
		{"snug", m10, Pull{TorqueNm: 5.2, TurnDegrees: 60, OneUse: true}},
		{"hardly snug", m10, Pull{TorqueNm: 4.6, Unit: "N·m", TurnDegrees: 60, OneUse: true}},

		{"stretch", rod, Pull{TorqueNm: 12, StretchLowMM: 0.12, StretchHighMM: 0.15, StretchUnit: "mm", CeilingNm: 36, Grip: short}},
		{"stretch alone", rod, Pull{StretchLowMM: 0.12, StretchHighMM: 0.15, StretchUnit: "mm", Grip: short}},
		{"stretch, no class", with(rod, func(j *Joint) { j.Class = bolt.Class{} }), Pull{StretchLowMM: 0.12, StretchHighMM: 0.15, Grip: short}},
		{"stretch past yield", rod, Pull{StretchLowMM: 0.2, StretchHighMM: 0.3, StretchUnit: "mm", Grip: short}},
		{"stretch past yield, one-use", rod, Pull{StretchLowMM: 0.2, StretchHighMM: 0.3, OneUse: true, Grip: short}},
		{"stretch too little", rod, Pull{StretchLowMM: 0.06, StretchHighMM: 0.08, StretchUnit: "mm", Grip: short}},
		{"thou read as mm", rod, Pull{StretchLowMM: 5, StretchHighMM: 6, StretchUnit: "mm", Grip: short}},
		{"mm read as thou", rod, Pull{StretchLowMM: 0.15 * 0.0254, StretchHighMM: 0.16 * 0.0254, StretchUnit: "thou", Grip: short}},
		{"µm read as thou", rod, Pull{StretchLowMM: 130 * 0.0254, StretchHighMM: 150 * 0.0254, StretchUnit: "thou", Grip: short}},
		{"thou read as µm", rod, Pull{StretchLowMM: 0.005, StretchHighMM: 0.006, StretchUnit: "µm", Grip: short}},
		{"in read as mm", rod, Pull{StretchLowMM: 0.0055, StretchHighMM: 0.006, StretchUnit: "mm", Grip: short}},
		{"mm read as in", rod, Pull{StretchLowMM: 0.14 * 25.4, StretchHighMM: 0.15 * 25.4, StretchUnit: "in", Grip: short}},
		{"stretch, no grip", rod, Pull{StretchLowMM: 0.024, StretchHighMM: 0.8, StretchUnit: "mm"}},
		{"stretch, no grip, too much", rod, Pull{StretchLowMM: 0.7, StretchHighMM: 0.81, StretchUnit: "mm"}},
		{"stretch, no grip, too little", rod, Pull{StretchLowMM: 0.0239, StretchHighMM: 0.03, StretchUnit: "mm"}},
		{"ceiling as high as is let by", rod, Pull{StretchLowMM: 0.12, StretchHighMM: 0.15, CeilingNm: 56}},
		{"ceiling too high", rod, Pull{StretchLowMM: 0.12, StretchHighMM: 0.15, CeilingNm: 60}},
		{"ceiling ten times too high", rod, Pull{StretchLowMM: 0.12, StretchHighMM: 0.15, CeilingNm: 360}},
		{"ceiling as low as is let by", rod, Pull{StretchLowMM: 0.12, StretchHighMM: 0.15, CeilingNm: 11.1}},
		{"ceiling too low", rod, Pull{StretchLowMM: 0.12, StretchHighMM: 0.15, CeilingNm: 10}},
		{"ceiling under the seating torque", rod, Pull{TorqueNm: 20, StretchLowMM: 0.12, StretchHighMM: 0.15, CeilingNm: 19}},

		{"felt", m8, Pull{TorqueNm: 20, VerifyNm: 21}},
		{"felt over what was pulled", m8, Pull{TorqueNm: 20, VerifyNm: 21.1}},
		{"felt for half", m8, Pull{TorqueNm: 20, VerifyNm: 10}},
		{"felt for less", m8, Pull{TorqueNm: 20, VerifyNm: 9.9}},
		{"felt for a tenth", m8, Pull{TorqueNm: 20, VerifyNm: 2}},
		{"felt after a turn", m10, Pull{TorqueNm: 30, TurnDegrees: 90, OneUse: true, VerifyNm: 125}},
		{"felt after a turn, too much", m10, Pull{TorqueNm: 30, TurnDegrees: 90, OneUse: true, VerifyNm: 126}},
		{"felt, nothing pulled here", m8, Pull{VerifyNm: 20}},
		{"felt, far past yield", m8, Pull{VerifyNm: 200}},
	} {
		g, err := c.joint.Judge(c.stage)
		if err != nil {
			t.Errorf("%s: %v", c.what, err)
		}
		fmt.Fprintf(&b, "%s, %s\n", c.joint.name(), c.what)
		for _, d := range g.Doubts {
			fmt.Fprintf(&b, "  ! %s %.4g, %.4g %s: %s\n", d.Kind, d.Number, d.Limit, d.Unit, d.Text)
		}
		fmt.Fprintf(&b, "  %s\n", g.Summary())
	}
	const golden = "testdata/judged.txt"
	if *outside.Update {
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	got, wanted := strings.Split(b.String(), "\n"), strings.Split(string(want), "\n")
	for i := range max(len(got), len(wanted)) {
		g, w := at(got, i), at(wanted, i)
		if g != w {
			t.Fatalf("line %d:\n%s\nwant\n%s", i+1, g, w)
		}
	}
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

func with(j Joint, change func(*Joint)) Joint { change(&j); return j }

func TestWhatCannotBeJudgedSaysWhy(t *testing.T) {
	m8 := preset(t, "M8", "8.8", "oiled")
	for _, s := range []Pull{{}, {TorqueNm: -1}, {TorqueNm: 20, TurnDegrees: -5}, {TorqueNm: 20, TurnDegrees: -5, Grip: Grip{LengthMM: 40}}, {TorqueNm: 20, VerifyNm: -2, LengthMM: -1}} {
		if g, err := m8.Judge(s); err == nil && len(g.Doubts) == 0 {
			t.Errorf("%+v is judged: %s", s, g.Summary())
		}
	}
	over := m8
	over.BoreMM = 7
	if _, err := over.Judge(Pull{TorqueNm: 20}); err == nil || !strings.Contains(err.Error(), "give a bore under it") {
		t.Errorf("a bore over the root: %v", err)
	}
}

func TestThePointMovesUpFirst(t *testing.T) {
	for _, c := range []struct {
		figure, low, high float64
		want              string
	}{
		{10, 1, 100, "; it looks like a point in the wrong place: 100 would do"},
		{10, 1, 99, "; it looks like a point in the wrong place: 1 would do"},
		{10, 1.1, 99, ""},
	} {
		if got := tenfold(c.figure, c.low, c.high); got != c.want {
			t.Errorf("%v within %v and %v: %q, want %q", c.figure, c.low, c.high, got, c.want)
		}
	}
	g, err := preset(t, "M10", "10.9", "oiled").Judge(Pull{TorqueNm: 30, TurnDegrees: 0.5, VerifyNm: 90})
	if err != nil || len(g.Doubts) != 1 || g.Doubts[0].Kind != "idle turn" {
		t.Errorf("90 N·m felt after half a degree: %+v, %v; want only the turn doubted", g.Doubts, err)
	}
}

func TestNoCauseIsNamedWhereNoneFits(t *testing.T) {
	doubts, err := preset(t, "M8", "8.8", "oiled").Plausible(Pull{TorqueNm: 0.0001, Unit: "N·m"})
	if err != nil || len(doubts) != 1 || strings.Contains(doubts[0].Text, "it looks like") {
		t.Errorf("%+v, %v", doubts, err)
	}
}
