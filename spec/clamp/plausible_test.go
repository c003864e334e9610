package clamp

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"testing"

	"evenpull/spec/bolt"
)

func preset(t *testing.T, thread, class, friction string) Joint {
	t.Helper()
	j := jointOf(t, thread, class, 0.12)
	f, err := ParseFriction(friction)
	if err != nil {
		t.Fatal(err)
	}
	j.Friction = f
	return j
}

func material(t *testing.T, name string) bolt.Material {
	t.Helper()
	m, err := bolt.ParseMaterial(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestPlausible(t *testing.T) {
	oiled := func(thread, class string) Joint { // "": no class
		j := preset(t, thread, cmp.Or(class, "8.8"), "oiled")
		if class == "" {
			j.Class = bolt.Class{}
		}
		return j
	}
	rod := func(class string) Joint { return preset(t, "M8x1", cmp.Or(class, "12.9"), "moly") }
	hollow := oiled("M10x1", "8.8")
	hollow.BoreMM = 5
	for _, c := range []struct {
		name  string
		joint Joint
		stage Pull
		kinds []string
		says  string
	}{
		{"a usual figure", oiled("M8", "8.8"), Pull{TorqueNm: 22, Unit: "N·m"}, nil, ""},
		{"over yield", oiled("M8", "8.8"), Pull{TorqueNm: 60, Unit: "N·m"}, []string{"over yield"}, "another size"},
		{"just over 90 %, as tables print", oiled("M8", "8.8"), Pull{TorqueNm: 26, Unit: "N·m"}, nil, ""},
		{"no class: over what the strongest bears", oiled("M8", ""), Pull{TorqueNm: 60, Unit: "N·m"}, []string{"over yield"}, "M8x1.25 12.9, taken for want of a class,"},
		{"no class: under what the weakest wants", oiled("M8", ""), Pull{TorqueNm: 2.2, Unit: "N·m"}, []string{"far below"}, "M8x1.25 4.6, taken for want of a class; a final figure"},
		{"no class: the hint is for the commonest", oiled("M8", ""), Pull{TorqueNm: 2.2, Unit: "N·m"}, []string{"far below"}, "2.2 kgf·m is 21.6 N·m, 79 % of yield, or a point in the wrong place: 22 N·m would be 81 % of yield if it is 8.8"},
		{"no class, inch", oiled("3/8-16 UNC", ""), Pull{TorqueNm: 300, Unit: "N·m"}, []string{"over yield"}, "3/8-16 UNC SAE 8"},
		{"no class, a usual figure", oiled("M8", ""), Pull{TorqueNm: 22, Unit: "N·m"}, nil, ""},
		{"a plug's light figure", oiled("M14x1.5", "8.8"), Pull{TorqueNm: 25, Light: "drain plug"}, nil, ""},
		{"a plug's figure, a tenth", oiled("M14x1.5", "8.8"), Pull{TorqueNm: 2.5, Light: "drain plug"}, []string{"far below"}, "is only 1.6 %"},
		{"a plug's figure on a common bolt", oiled("M14x1.5", "8.8"), Pull{TorqueNm: 25}, []string{"far below"}, ""},
		{"stainless without a friction may run as dry as 0.30", Joint{Thread: oiled("M8", "8.8").Thread, Class: oiled("M8", "A2-70").Class}, Pull{TorqueNm: 30}, nil, ""},
		{"the next class up", oiled("M8", "8.8"), Pull{TorqueNm: 35, Unit: "N·m"}, []string{"over yield"}, "it looks like the figure of a stronger class: it suits 10.9 (87 % of yield), or the figure of another size: it suits M10"},
		{"ten times too much", oiled("M8", "8.8"), Pull{TorqueNm: 220, Unit: "N·m"}, []string{"over yield"}, "it looks like a point in the wrong place: 22 N·m would be 81 % of yield"},
		{"lbf·ft read as N·m", oiled("M8", "8.8"), Pull{TorqueNm: 12, Unit: "N·m"}, []string{"far below"}, "a figure in lbf·ft read as N·m"},
		{"kgf·m read as N·m", oiled("M8", "8.8"), Pull{TorqueNm: 2.2, Unit: "N·m"}, []string{"far below"}, "a figure in kgf·m read as N·m"},
		{"lbf·in written as lbf·ft", oiled("M6", "8.8"), Pull{TorqueNm: 80 * 1.3558179483314, Unit: "lbf·ft"}, []string{"over yield"}, "a figure in lbf·in read as lbf·ft"},
		{"lbf·in written as lbf·ft, unit not told", oiled("M6", "8.8"), Pull{TorqueNm: 80 * 1.3558179483314}, []string{"over yield"}, "lbf·in"},
		{"N·m written as lbf·ft", oiled("M8", "8.8"), Pull{TorqueNm: 24 * 1.3558179483314, Unit: "lbf·ft"}, []string{"over yield"}, "a figure in N·m read as lbf·ft"},
		{"an M6's figure on an M8", oiled("M8", "8.8"), Pull{TorqueNm: 9, Unit: "N·m"}, []string{"far below"}, "it suits M6"},
		{"a snug torque before a turn is light on purpose", oiled("M8", "8.8"), Pull{TorqueNm: 8, Unit: "N·m", TurnDegrees: 30}, nil, ""},
		{"a hollow bolt at a solid one's figure", hollow, Pull{TorqueNm: 45, Unit: "N·m"}, []string{"hollow"}, "suits a solid M10x1 8.8 (76 % of yield), but this one has a 5 mm bore: 90 % of its yield is about 38 N·m"},
		{"a hollow bolt at its own figure", hollow, Pull{TorqueNm: 25, Unit: "N·m"}, nil, ""},
		{"a hollow bolt held back by its sealing washers", hollow, Pull{TorqueNm: 15, Unit: "N·m"}, nil, ""},
		{"thread strips first", oiled("M8", "10.9"), Pull{TorqueNm: 30, Unit: "N·m", Into: material(t, "cast aluminium"), LengthMM: 8}, []string{"strips"}, "strips first"},
		{"deep thread holds", oiled("M8", "8.8"), Pull{TorqueNm: 22, Unit: "N·m", Into: material(t, "cast aluminium"), LengthMM: 16}, nil, ""},
		{"light figure because the hole is weak", oiled("M8", "12.9"), Pull{TorqueNm: 15, Unit: "N·m", Into: material(t, "magnesium"), LengthMM: 9}, nil, ""},
		{"hardly any thread", oiled("M8", "8.8"), Pull{TorqueNm: 22, LengthMM: 3.9}, []string{"engagement"}, "0.487 diameters of M8x1.25; is the point in the right place?"},
		{"more thread than a bolt has", oiled("M8", "8.8"), Pull{TorqueNm: 22, LengthMM: 33}, []string{"engagement"}, "is the point in the right place?"},
		{"half a diameter and four are thread", oiled("M8", "8.8"), Pull{TorqueNm: 22, LengthMM: 4}, nil, ""},
		{"a wire insert holds more", oiled("M8", "10.9"), Pull{TorqueNm: 30, Unit: "N·m", Into: material(t, "cast aluminium"), LengthMM: 10, WireInsert: true}, nil, ""},
		{"the same hole without it", oiled("M8", "10.9"), Pull{TorqueNm: 30, Unit: "N·m", Into: material(t, "cast aluminium"), LengthMM: 10}, []string{"strips"}, "in cast aluminium strips first"},
		{"even a wire insert can be too short", oiled("M8", "10.9"), Pull{TorqueNm: 30, Unit: "N·m", Into: material(t, "cast aluminium"), LengthMM: 6, WireInsert: true}, []string{"strips"}, "in cast aluminium behind a wire insert strips first"},
		{"a turn draws to yield, whatever its torque", oiled("M8", "10.9"), Pull{TorqueNm: 10, TurnDegrees: 90, OneUse: true, Into: material(t, "cast aluminium"), LengthMM: 8}, []string{"strips"}, "the bolt at yield pulls up to"},
		{"turn past yield, not one-use", oiled("M10", "10.9"), Pull{TorqueNm: 30, TurnDegrees: 90, Grip: Grip{LengthMM: 60, Tapped: true}}, []string{"torque to yield"}, "isn't marked one-use"},
		{"turn past yield, one-use", oiled("M10", "10.9"), Pull{TorqueNm: 30, TurnDegrees: 90, OneUse: true, Grip: Grip{LengthMM: 60, Tapped: true}}, nil, ""},
		{"small turn with a grip", oiled("M10", "10.9"), Pull{TorqueNm: 20, TurnDegrees: 20, Grip: Grip{LengthMM: 120, Tapped: true}}, nil, ""},
		{"big turn without a grip is not judged", oiled("M10", "10.9"), Pull{TorqueNm: 30, TurnDegrees: 90}, nil, ""},
		{"a tenth of a turn", oiled("M10", "10.9"), Pull{TorqueNm: 30, TurnDegrees: 9}, []string{"idle turn"}, "point in the wrong place: 90 would do"},
		{"turned round and round", oiled("M10", "10.9"), Pull{TorqueNm: 30, TurnDegrees: 900}, []string{"overstretched"}, "point in the wrong place: 90 would do"},
		{"a full turn from snug", oiled("M10", "10.9"), Pull{TorqueNm: 30, TurnDegrees: 360}, nil, ""},
		{"a turn that a long grip swallows", oiled("M10", "10.9"), Pull{TorqueNm: 20, TurnDegrees: 10, Grip: Grip{LengthMM: 300, Tapped: true}}, []string{"idle turn"}, "% of the yield of M10x1.5 10.9"},
		{"a turn that all but breaks it, one-use or not", oiled("M10", "10.9"), Pull{TorqueNm: 30, TurnDegrees: 900, OneUse: true, Grip: Grip{LengthMM: 60, Tapped: true}}, []string{"overstretched"}, "near breaking"},
		{"a snug torque of nothing", oiled("M10", "10.9"), Pull{TorqueNm: 3, Unit: "N·m", TurnDegrees: 90, OneUse: true}, []string{"far below"}, "even a snug torque is rarely under"},
		{"no class: whether it yields is not known", oiled("M10", ""), Pull{TorqueNm: 30, TurnDegrees: 40, Grip: Grip{LengthMM: 60, Tapped: true}}, nil, ""},
		{"no class: it yields even the strongest", oiled("M10", ""), Pull{TorqueNm: 30, TurnDegrees: 180, Grip: Grip{LengthMM: 60, Tapped: true}}, []string{"torque to yield"}, "takes M10x1.5 12.9, taken for want of a class, past yield"},
		{"a usual stretch", rod(""), Pull{TorqueNm: 12, StretchLowMM: 0.14, StretchHighMM: 0.16, StretchUnit: "mm", CeilingNm: 40, Grip: Grip{LengthMM: 40, Tapped: true}}, nil, ""},
		{"ten times the stretch", rod(""), Pull{TorqueNm: 12, StretchLowMM: 1.4, StretchHighMM: 1.6, StretchUnit: "mm", Grip: Grip{LengthMM: 40, Tapped: true}}, []string{"stretch"}, "point in the wrong place"},
		{"a tenth of the stretch", rod(""), Pull{TorqueNm: 12, StretchLowMM: 0.014, StretchHighMM: 0.016, StretchUnit: "mm", Grip: Grip{LengthMM: 40, Tapped: true}}, []string{"stretch"}, "point in the wrong place"},
		{"inches of stretch read as mm", rod(""), Pull{TorqueNm: 12, StretchLowMM: 0.0055, StretchHighMM: 0.006, StretchUnit: "mm", Grip: Grip{LengthMM: 40, Tapped: true}}, []string{"stretch"}, "a figure in in read as mm"},
		{"no grip: a stretch no bolt gives", rod(""), Pull{StretchLowMM: 0.81, StretchHighMM: 0.81}, []string{"stretch"}, "more than any M8x1 gives"},
		{"no grip: next to no stretch", rod(""), Pull{StretchLowMM: 0.0239, StretchHighMM: 0.03}, []string{"stretch"}, "next to nothing for M8x1"},
		{"no grip: any stretch between", rod(""), Pull{StretchLowMM: 0.024, StretchHighMM: 0.8}, nil, ""},
		{"a ceiling that guards nothing", rod(""), Pull{TorqueNm: 12, StretchLowMM: 0.14, StretchHighMM: 0.16, CeilingNm: 400}, []string{"ceiling"}, "guards nothing; it looks like a point in the wrong place: 40 would do"},
		{"a ceiling before the stretch", rod(""), Pull{TorqueNm: 12, StretchLowMM: 0.14, StretchHighMM: 0.16, CeilingNm: 4}, []string{"ceiling"}, "comes before the stretch"},
		{"a ceiling under the seating torque", rod(""), Pull{TorqueNm: 30, StretchLowMM: 0.14, StretchHighMM: 0.16, CeilingNm: 29}, []string{"ceiling"}, "comes before the stretch"},
		{"felt within what was pulled", oiled("M10", "8.8"), Pull{TorqueNm: 45, VerifyNm: 47}, nil, ""},
		{"felt beyond what was pulled", oiled("M10", "8.8"), Pull{TorqueNm: 45, VerifyNm: 48}, []string{"verify"}, "so it would turn"},
		{"felt for half", oiled("M10", "8.8"), Pull{TorqueNm: 45, VerifyNm: 22}, []string{"verify"}, "says nothing after 45 N·m"},
		{"felt after a turn, over its snug torque", oiled("M10", "10.9"), Pull{TorqueNm: 40, TurnDegrees: 90, OneUse: true, VerifyNm: 90}, nil, ""},
		{"felt after a turn, far past yield", oiled("M10", "10.9"), Pull{TorqueNm: 40, TurnDegrees: 90, OneUse: true, VerifyNm: 900}, []string{"verify"}, "point in the wrong place: 90 would do"},
	} {
		t.Run(c.name, func(t *testing.T) {
			doubts, err := c.joint.Plausible(c.stage)
			if err != nil {
				t.Fatal(err)
			}
			var kinds, texts []string
			for _, d := range doubts {
				kinds, texts = append(kinds, d.Kind), append(texts, d.Text)
				if d.Number <= 0 || d.Limit <= 0 || d.Unit == "" || d.Assumption == "" || !strings.Contains(d.Text, d.Assumption) {
					t.Errorf("doubt without number, limit or assumption: %+v", d)
				}
			}
			if !slices.Equal(kinds, c.kinds) || !strings.Contains(strings.Join(texts, "\n"), c.says) {
				t.Errorf("doubts %q:\n%s\nwant %q saying %q", kinds, strings.Join(texts, "\n"), c.kinds, c.says)
			}
		})
	}
}

// Common practice, no source: figures seen on many service sheets must not be called
// impossible.
func TestTradeFiguresAreNotDoubted(t *testing.T) {
	for _, c := range []struct {
		what, thread, class string
		torque              float64
	}{
		{"engine-case bolt near 25 N·m", "M8", "8.8", 25},
		{"small case bolt near 10 N·m", "M6", "8.8", 10},
		{"big clutch-centre nut near 180 N·m", "M20x1.5", "8.8", 180},
		{"crank or flywheel nut of 200 N·m", "M22x1.5", "8.8", 200},
	} {
		for _, friction := range []string{"dry", "oiled"} {
			doubts, err := preset(t, c.thread, c.class, friction).Plausible(Pull{TorqueNm: c.torque, Unit: "N·m"})
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range doubts {
				t.Errorf("%s, %s: %s", c.what, friction, d.Text)
			}
		}
	}
}

func TestRelubedGivesBothFigures(t *testing.T) {
	dry := preset(t, "M10", "8.8", "dry")
	oil, _ := ParseFriction("oiled")
	r, err := dry.Relubed(45, oil)
	if err != nil {
		t.Fatal(err)
	}
	if r.SheetNm != 45 || r.SamePreloadNm >= 45 || r.BenchN <= r.SheetN || !strings.Contains(r.Text, "sheet's figure stands") {
		t.Errorf("%+v: oiled threads need less torque for the same preload, and the sheet's figure must stand", r)
	}
	back := dry
	back.Friction = oil
	a, err := back.Assess(r.SamePreloadNm)
	if err != nil || math.Abs(a.PreloadN-r.SheetN) > 1e-6 {
		t.Errorf("%v N·m oiled gives %v N (%v), want the sheet's %v", r.SamePreloadNm, a.PreloadN, err, r.SheetN)
	}
}

// The drag of a locking nut adds to the wrench's figure and leaves the preload; but it twists the bolt
// all the same, so that less of the bolt is left for the preload (VDI 2230, from memory).
func TestPrevailingTorqueIsAddedAndTwistsTheBolt(t *testing.T) {
	j := preset(t, "M10", "8.8", "oiled")
	free, _ := j.Assess(40)
	j.PrevailingNm = 6
	dragged, err := j.Assess(46) // target + drag (FAA AC 43.13-1B para 7-40 d)
	if err != nil || math.Abs(dragged.PreloadN-free.PreloadN) > 1e-6 {
		t.Errorf("with 6 N·m of drag: %+v (%v); want the free joint's preload, %v N", dragged, err, free.PreloadN)
	}
	// M10: d2 9.026, d3 8.160, As 58.0, by hand with 1/cos 30° = 1.1547.
	const d2, d0 = 9.0257215, (9.0257215 + 8.1596965) / 2
	twist := free.PreloadN*d2/2*math.Tan(math.Atan(1.5/(math.Pi*d2))+math.Atan(0.12*2/math.Sqrt(3))) + 6000
	tension, shear := free.PreloadN/(math.Pi/4*d0*d0), twist/(math.Pi/12*d0*d0*d0)
	if want := math.Sqrt(tension*tension+3*shear*shear) / 640; math.Abs(dragged.Utilisation-want) > 1e-6 {
		t.Errorf("with 6 N·m of drag %.5f of yield, by hand %.5f; free of it %.5f", dragged.Utilisation, want, free.Utilisation)
	}
	full, err := j.Assess(dragged.YieldTorqueNm)
	if atYield := full.Utilisation; err != nil || math.Abs(atYield-1) > 1e-9 || dragged.YieldPreloadN >= free.YieldPreloadN {
		t.Errorf("yield at %v N is %v of yield (%v); free of drag it is %v N", dragged.YieldPreloadN, full.Utilisation, err, free.YieldPreloadN)
	}
	j.PrevailingNm = 60
	if a, err := j.Assess(80); err == nil || !strings.Contains(err.Error(), "alone twists the thread") {
		t.Errorf("60 N·m of drag on an M10: %+v, %v; want a refusal", a, err)
	}
	j.PrevailingNm = 15
	if at, err := j.PreloadAt(0.2); err == nil || !strings.Contains(err.Error(), "give a higher share") {
		t.Errorf("0.2 of yield with 15 N·m of drag: %v, %v; want a refusal", at, err)
	}
}

func TestBadInputSaysWhatToGive(t *testing.T) {
	good := preset(t, "M8", "8.8", "oiled")
	with := func(change func(*Joint)) Joint { j := good; change(&j); return j }
	for name, c := range map[string]struct {
		joint  Joint
		torque float64
		advice string
	}{
		"zero torque":        {good, 0, "give a number over 0"},
		"negative torque":    {good, -5, "give a number over 0"},
		"torque no number":   {good, math.NaN(), "give a number over 0"},
		"endless torque":     {good, math.Inf(1), "give a number over 0"},
		"no thread":          {with(func(j *Joint) { j.Thread = bolt.Thread{} }), 20, "give"},
		"no class":           {with(func(j *Joint) { j.Class = bolt.Class{} }), 20, "give one such as 8.8"},
		"bore over the root": {with(func(j *Joint) { j.BoreMM = 7 }), 20, "give a bore under it"},
		"negative bore":      {with(func(j *Joint) { j.BoreMM = -1 }), 20, "give 0 for a solid bolt"},
		"slick beyond sense": {with(func(j *Joint) { j.Friction = Friction{"given", 0.01, 0.01, 0.01, ""} }), 20, "from 0.04 to 0.5"},
		"friction no number": {with(func(j *Joint) { j.Friction = Friction{"given", math.NaN(), 0.1, 0.2, ""} }), 20, "from 0.04 to 0.5"},
		"range upside down":  {with(func(j *Joint) { j.Friction = Friction{"given", 0.2, 0.1, 0.1, ""} }), 20, "low, nominal, high"},
		"hole over the head": {with(func(j *Joint) { j.HoleMM = 20 }), 20, "give a hole under it"},
		"unknown form":       {with(func(j *Joint) { j.Form = "guess" }), 20, "VDI 2230"},
		"unknown edition":    {with(func(j *Joint) { j.Edition = "1066" }), 20, "VDI 2230 (1986)"},
		"short form, no K":   {with(func(j *Joint) { j.Form = Short }), 20, "needs one: give K such as 0.20"},
		"K beyond friction":  {with(func(j *Joint) { j.Form, j.NutFactor = Short, 0.9 }), 20, "give K such as"},
		"all drag":           {with(func(j *Joint) { j.PrevailingNm = 20 }), 20, "with the drag added"},
		"negative drag":      {with(func(j *Joint) { j.PrevailingNm = -1 }), 20, "give 0 for none"},
		"tool off by 100 %":  {with(func(j *Joint) { j.Tool = Tool{"hammer", 0, 100, ""} }), 20, "under 100 %"},
	} {
		if a, err := c.joint.Assess(c.torque); err == nil || !strings.Contains(err.Error(), c.advice) {
			t.Errorf("%s: %+v, %v; want an error that says %q", name, a, err, c.advice)
		}
	}
	for _, text := range []string{"0.01", "0.9", "NaN", "greasy", "-0.1", ""} {
		if f, err := ParseFriction(text); err == nil || !strings.Contains(err.Error(), "0.04 to 0.5") {
			t.Errorf("ParseFriction(%q) = %+v, %v; want a refusal with the limits", text, f, err)
		}
	}
	for name, g := range map[string]Grip{"no grip": {}, "shank over the grip": {LengthMM: 10, ShankMM: 20}, "parts inside the hole": {LengthMM: 10, OuterMM: 5}, "negative modulus": {LengthMM: 10, PartsGPa: -70}} {
		if s, err := good.Stiffness(g); err == nil || !strings.Contains(err.Error(), "give") {
			t.Errorf("%s: %+v, %v; want an error that says what to give", name, s, err)
		}
	}
}

func TestEveryAssumptionIsSaid(t *testing.T) {
	j := jointOf(t, "M8", "A2-70", 0.12)
	j.Friction = Friction{}
	a, err := j.Assess(15)
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(a.Assumptions, "\n")
	for _, want := range []string{"estimate only; the sheet's figure governs", "Rp0.2", "friction is not stated", "ISO 4014", "ISO 273", "torque wrench: torque ±4 %"} {
		if !strings.Contains(all, want) {
			t.Errorf("assumptions don't say %q:\n%s", want, all)
		}
	}
	if past, err := j.Assess(60); err != nil || past.Utilisation <= 1 || !strings.Contains(strings.Join(past.Assumptions, "\n"), "past yield") {
		t.Errorf("60 N·m on an M8 A2-70: %+v (%v); want it to say past yield", past, err)
	}
}
