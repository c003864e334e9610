package measure

import (
	"fmt"
	"strings"
	"testing"

	"evenpull/spec/quantity"
)

// Every expected figure in this file is plain arithmetic done by hand, no outside source.

func at(text string) *quantity.Quantity {
	if text == "" {
		return nil
	}
	q, err := quantity.ParseAny(text)
	if err != nil {
		panic(err)
	}
	return &q
}

func mm(texts ...string) []quantity.Length {
	var list []quantity.Length
	for _, t := range texts {
		l, err := quantity.ParseLength(t)
		if err != nil {
			panic(err)
		}
		list = append(list, l)
	}
	return list
}

var stock = mm("0.80 mm", "0.85 mm", "0.90 mm", "0.95 mm", "1.00 mm", "1.05 mm")

// outcome is a result in one line.
func outcome(r Result) string {
	s := fmt.Sprintf("%s: %s", r.Verdict, r.Text())
	if r.Spread != nil {
		s += ", spread " + r.Spread.String()
	}
	if r.Choice != nil {
		s += ", fit " + r.ChoiceText() + " gives " + r.Resulting.String()
	}
	return s
}

func TestMeasurementsComeTo(t *testing.T) {
	endFloat := Setup{Kind: Float, Min: at("0.05 mm"), Max: at("0.20 mm"), Stock: stock}
	both := Setup{Kind: Float, Min: at("0.10 mm"), Max: at("0.30 mm"), Stock: mm("0.5 mm", "0.6 mm", "0.7 mm", "0.8 mm"), Ends: 2}
	valve := Setup{Kind: Valve, Min: at("0.10 mm"), Max: at("0.15 mm"), Stock: mm("2.40 mm", "2.45 mm", "2.50 mm", "2.55 mm")}
	gap := Setup{Kind: Gap, Min: at("0.20 mm"), Max: at("0.35 mm")}
	thrice := Setup{Min: at("0.05 mm"), Max: at("0.20 mm"), Readings: 3, Spread: at("0.02 mm")}
	for _, c := range []struct {
		name, reading, want string
		setup               Setup
	}{
		{"a figure is taken as read", "0.12 mm", "in range: 0.12 mm", Setup{Max: at("0.20 mm")}},
		{"limits are in range themselves", "0.20 mm", "in range: 0.2 mm", Setup{Max: at("0.20 mm")}},
		{"another unit is held against the same limit", "8 thou", "over: 8 thou", Setup{Max: at("0.20 mm")}},
		{"a torque is measured too", "0.9 N·m", "under: 0.9 N·m", Setup{Min: at("1 N·m")}},

		{"a label goes up to the point", "float .32 mm", "over: 0.32 mm", endFloat},
		{"or to the comma", "float ,32 mm", "over: 0.32 mm", endFloat},
		{"one letter of it will do", "f0.32 mm", "over: 0.32 mm", endFloat},

		{"bore less journal", "40.045 mm; 40.010 mm", "in range: 0.035 mm", Setup{Kind: Difference, Min: at("0.02 mm"), Max: at("0.05 mm")}},
		{"the labels decide, not the order", "journal 40.010 mm, bore 40.045 mm", "in range: 0.035 mm", Setup{Kind: Difference, Min: at("0.02 mm"), Max: at("0.05 mm")}},
		{"a journal over its bore is under any limit", "40 mm; 40.01 mm", "under: -0.01 mm", Setup{Kind: Difference, Min: at("0.02 mm")}},
		{"a decimal comma is no separator", "bore 40,05 mm, journal 40,01 mm", "in range: 0.04 mm", Setup{Kind: Difference, Max: at("0.05 mm")}},
		{"the worst pair of repeated sizes counts", "40.05 mm; 40.00 mm; 40.06 mm; 40.02 mm", "over: 0.03 mm to 0.06 mm, mean 0.045 mm, spread 0.02 mm", Setup{Kind: Difference, Max: at("0.05 mm"), Readings: 2}},

		{"a float in range needs no shim", "0.12 mm", "in range: 0.12 mm", endFloat},
		{"a float in range leaves its shim alone", "0.06 mm; 0.80 mm", "in range: 0.06 mm", endFloat},
		{"out of range without the shim there is no choice", "0.32 mm", "over: 0.32 mm", endFloat},
		{"the choice comes nearest the middle", "0.32 mm; 0.80 mm", "over: 0.32 mm, fit 1 mm gives 0.12 mm", endFloat},
		{"too tight takes a thinner one", "float 0.02 mm, shim 0.95 mm", "under: 0.02 mm, fit 0.85 mm gives 0.12 mm", endFloat},
		{"a float's tie takes the thicker", "0.30 mm; 0.80 mm", "over: 0.3 mm, fit 1 mm gives 0.1 mm", endFloat},
		{"nothing in stock fits", "0.60 mm; 0.80 mm", "over: 0.6 mm", endFloat},
		{"both ends share the change", "0.50 mm; 0.5 mm; 0.5 mm", "over: 0.5 mm, fit 0.6 mm and 0.7 mm gives 0.2 mm", both},
		{"both ends keep the shaft where it was", "0.60 mm; shim 0.5 mm; shim 0.6 mm", "over: 0.6 mm, fit 0.7 mm and 0.8 mm gives 0.2 mm", both},

		{"a valve aims at what is wanted", "0.05 mm; 2.55 mm", "under: 0.05 mm, fit 2.5 mm gives 0.1 mm", Setup{Kind: Valve, Min: at("0.10 mm"), Max: at("0.15 mm"), Wanted: &mm("0.10 mm")[0], Stock: valve.Stock}},
		{"a clearance too large takes a thicker one", "0.20 mm; 2.45 mm", "over: 0.2 mm, fit 2.55 mm gives 0.1 mm", Setup{Kind: Valve, Min: at("0.10 mm"), Max: at("0.15 mm"), Stock: mm("2.45 mm", "2.55 mm")}},
		{"a valve between two sizes keeps the larger clearance", "0.175 mm; 2.45 mm", "over: 0.175 mm, fit 2.5 mm gives 0.125 mm", valve},
		{"a valve's tie keeps the larger clearance", "0.20 mm; 2.45 mm", "over: 0.2 mm, fit 2.5 mm gives 0.15 mm", valve},

		{"backlash is referred to the pitch circle", "0.15 mm", "in range: 0.12 mm", Setup{Kind: Backlash, Max: at("0.12 mm"), PitchRadius: mm("32 mm")[0], DialRadius: mm("40 mm")[0]}},
		{"a dial inside the pitch circle shows too little", "0.15 mm", "over: 0.3 mm", Setup{Kind: Backlash, Max: at("0.12 mm"), PitchRadius: mm("40 mm")[0], DialRadius: mm("20 mm")[0]}},

		{"a gap is a figure", "0.25 mm", "in range: 0.25 mm", gap},
		{"or lies between two blades", "go 0.25 mm; no-go 0.30 mm", "in range: between 0.25 mm and 0.3 mm", gap},
		{"a blade that does not enter at the limit proves it", "no-go 0.35 mm; go 0.30 mm", "in range: between 0.3 mm and 0.35 mm", gap},
		{"blades across the limit settle nothing", "go 0.30 mm; no-go 0.40 mm", "unsettled: between 0.3 mm and 0.4 mm", gap},
		{"a blade that enters just at the limit does not", "go 0.35 mm; no-go 0.40 mm", "unsettled: between 0.35 mm and 0.4 mm", gap},
		{"blades beyond it do", "go 0.40 mm; no-go 0.45 mm", "over: between 0.4 mm and 0.45 mm", gap},
		{"blades short of it do", "go 0.15 mm; no-go 0.20 mm", "under: between 0.15 mm and 0.2 mm", gap},

		{"squish is the mean, and both sides count", "0.90 mm; 1.10 mm", "in range: 0.9 mm to 1.1 mm, mean 1 mm, spread 0.2 mm", Setup{Kind: Squish, Min: at("0.80 mm"), Max: at("1.20 mm")}},
		{"one side over is over", "left 0.90 mm, right 1.30 mm", "over: 0.9 mm to 1.3 mm, mean 1.1 mm, spread 0.4 mm", Setup{Kind: Squish, Min: at("0.80 mm"), Max: at("1.20 mm")}},
		{"too much tilt is scattered", "0.90 mm; 1.10 mm", "scattered: 0.9 mm to 1.1 mm, mean 1 mm, spread 0.2 mm", Setup{Kind: Squish, Max: at("1.20 mm"), Spread: at("0.1 mm")}},

		{"a strip is read at several places", "0.038 mm; 0.051 mm", "over: 0.038 mm to 0.051 mm, mean 0.0445 mm, spread 0.013 mm", Setup{Kind: Strip, Min: at("0.02 mm"), Max: at("0.05 mm"), Readings: 2}},
		{"out of round is the spread itself", "66.01 mm; 66.05 mm; 66.02 mm", "over: 0.04 mm, spread 0.04 mm", Setup{Kind: Spread, Max: at("0.03 mm"), Readings: 3}},

		{"readings close together are accepted", "0.12 mm; 0.13 mm; 0.11 mm", "in range: 0.11 mm to 0.13 mm, mean 0.12 mm, spread 0.02 mm", thrice},
		{"readings too far apart ask for more", "0.12 mm; 0.15 mm; 0.12 mm", "scattered: 0.12 mm to 0.15 mm, mean 0.13 mm, spread 0.03 mm", thrice},
		{"one reading out of range is out of range", "0.20 mm; 0.21 mm; 0.19 mm", "over: 0.19 mm to 0.21 mm, mean 0.2 mm, spread 0.02 mm", thrice},
		{"readings on both sides settle nothing", "0.04 mm; 0.21 mm", "under and over: 0.04 mm to 0.21 mm, mean 0.125 mm, spread 0.17 mm", Setup{Min: at("0.05 mm"), Max: at("0.20 mm"), Readings: 2}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := c.setup.Judge(c.reading)
			if err != nil {
				t.Fatalf("%s: %v", c.reading, err)
			}
			if got := outcome(r); got != c.want {
				t.Errorf("%s\ngot  %s\nwant %s", c.reading, got, c.want)
			}
		})
	}
}

func TestAdviceSaysWhatToDo(t *testing.T) {
	endFloat := Setup{Kind: Float, Min: at("0.05 mm"), Max: at("0.20 mm"), Stock: stock}
	for _, c := range []struct {
		name, reading, want string
		setup               Setup
	}{
		{"the choice, and where it comes to", "0.32 mm; 0.80 mm", "fit 1 mm in place of 0.8 mm: it comes to 0.12 mm (estimate), nearest of the stock to 0.125 mm; then measure again", endFloat},
		{"how to get a choice", "0.32 mm", "fit a thicker shim; give the shim fitted now as well and the size is worked out: float 0.125 mm; shim 0.8 mm", endFloat},
		{"the sizes that would do", "0.60 mm; 0.80 mm", "no shim of the stock brings it in; one that would: 1.2 mm to 1.35 mm (estimate); the nearest, 1.05 mm, comes to 0.35 mm", endFloat},
		{"without a stock, any size that would do", "0.32 mm; 0.80 mm", "a shim that would do: 0.92 mm to 1.07 mm (estimate)", Setup{Kind: Float, Min: at("0.05 mm"), Max: at("0.20 mm")}},
		{"no shim is thin enough", "0 mm; 0.01 mm", "no shim is thin enough: even without, it comes to 0.01 mm (estimate); look for what stands proud", endFloat},
		{"a worn bore", "0.45 mm", "try another ring, then measure the bore: with a good ring the bore is about 0.0318 mm past the size for that limit (0.1 mm / π)", Setup{Kind: Gap, Max: at("0.35 mm")}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := c.setup.Judge(c.reading)
			if err != nil {
				t.Fatal(err)
			}
			if r.Advice != c.want {
				t.Errorf("got  %s\nwant %s", r.Advice, c.want)
			}
		})
	}
}

func TestReadingsThatAreNotUnderstoodSayHow(t *testing.T) {
	endFloat := Setup{Kind: Float, Min: at("0.05 mm"), Max: at("0.20 mm"), Stock: stock}
	thrice := Setup{Max: at("0.20 mm"), Readings: 3}
	for _, c := range []struct {
		name, reading, want string
		setup               Setup
	}{
		{"no unit", "0.12", "it has no unit", endFloat},
		{"no unit for the second", "0.12 mm; 0.8", "it has no unit", endFloat},
		{"another kind of unit", "0.12 mm; 8 N·m", "8 N·m is torque, and length is measured", endFloat},
		{"a word that is no input", "float 0.12 mm; washer 0.8 mm", `nothing here is called "washer"; leave the word out, or use: float, shim`, endFloat},
		{"too many", "0.12 mm; 0.8 mm; 0.9 mm", "more figures than asked for", endFloat},
		{"the same twice", "float 0.12 mm; float 0.13 mm", `more than asked for of "float"`, endFloat},
		{"too few", "0.12 mm; 0.13 mm", "it gives 2 of 3: reading; give all of them together: 0.1 mm; 0.1 mm; 0.1 mm", thrice},
		{"one shim of two", "0.40 mm; 0.5 mm", "it gives 1 of 2: shim", Setup{Kind: Float, Max: at("0.3 mm"), Ends: 2}},
		{"one blade of two", "go 0.25 mm", "it gives 0 of 1: no-go", Setup{Kind: Gap, Max: at("0.3 mm")}},
		{"blades and a gap", "gap 0.25 mm; go 0.25 mm; no-go 0.3 mm", "it gives gap twice over", Setup{Kind: Gap, Max: at("0.3 mm")}},
		{"blades the wrong way round", "go 0.30 mm; no-go 0.25 mm", "is not thinner", Setup{Kind: Gap, Max: at("0.3 mm")}},
		{"a sign", "-0.05 mm", "starts with a sign", endFloat},
		{"a sign behind a label", "float -0.05 mm", "starts with a sign", endFloat},
		{"the other one", "float +0.05 mm", "starts with a sign", endFloat},
		{"a mark that is no label", "# 0.12 mm", "does not start with a figure", endFloat},
		{"nothing", "", "it is empty", endFloat},
		{"words", "nonsense", "does not start with a figure", endFloat},
		{"a control character in a label", "fl\x1boat 0.1 mm", `"fl\x1boat"`, endFloat},
		{"far too long", strings.Repeat("0.1 mm; ", 200), "bytes long", endFloat},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := c.setup.Judge(c.reading)
			if err == nil {
				t.Fatalf("understood as %s", outcome(r))
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("got  %v\nwant %s in it", err, c.want)
			}
		})
	}
}

// Every kind has its advice, and its example can be read.
func TestEveryKindHasAdviceAndItsExampleIsRead(t *testing.T) {
	for _, k := range Kinds() {
		t.Run(k.Name, func(t *testing.T) {
			if k.Name != Direct && (k.Under == "" || k.Over == "") {
				t.Error("no advice")
			}
			for _, ends := range []int{1, 2} {
				for _, limits := range [][2]*quantity.Quantity{{at("0 mm"), at("0.20 mm")}, {at("0.05 mm"), at("0.20 mm")}, {nil, at("0.20 mm")}, {at("0.05 mm"), nil}, {at("0 mm"), nil}} {
					s := Setup{Kind: k.Name, Min: limits[0], Max: limits[1], Readings: 2, Ends: ends, PitchRadius: stock[0], DialRadius: stock[1]}
					r, err := s.Judge(s.Example())
					if err != nil || r.Verdict != InRange {
						t.Fatalf("%s for %v to %v: verdict %v, %v", s.Example(), limits[0], limits[1], r.Verdict, err)
					}
					for _, limit := range limits { // on the limit is not inside
						if limit == nil {
							continue
						}
						for _, end := range []quantity.Quantity{r.Low, r.High} {
							if c, _ := end.Compare(*limit); c == 0 {
								t.Errorf("%s comes to %s, on the limit", s.Example(), end)
							}
						}
					}
				}
			}
		})
	}
}

// A temperature of nothing, and below it, has an inside too.
func TestAnExampleOfOtherThanLength(t *testing.T) {
	for _, c := range []struct {
		min, max *quantity.Quantity
		want     string
	}{
		{nil, at("80 °C"), "40 °C"}, {at("-10 °C"), at("-4 °C"), "-7 °C"}, {nil, at("-10 °C"), "-15 °C"}, {at("2 bar"), nil, "3 bar"}, {at("0.05 mm"), at("0.10 mm"), "0.075 mm"},
	} {
		if got := (Setup{Min: c.min, Max: c.max}).Example(); got != c.want {
			t.Errorf("an example for %v to %v is %s, want %s", c.min, c.max, got, c.want)
		}
	}
}

func TestThePrintedFaultNamesTheLimitThatWasPassed(t *testing.T) {
	for reading, want := range map[string]string{
		"go 0.40 mm; no-go 0.45 mm": "lies between 0.4 mm and 0.45 mm, over the limit of 0.35 mm",
		"go 0.30 mm; no-go 0.40 mm": "lies between 0.3 mm and 0.4 mm, which leaves its limits open",
		"0.1 mm":                    "is 0.1 mm, under the limit of 0.2 mm",
	} {
		s := Setup{Kind: Gap, Min: at("0.20 mm"), Max: at("0.35 mm")}
		r, err := s.Judge(reading)
		if err != nil || s.Fault(r) != want {
			t.Errorf("%s: got %q, %v, want %q", reading, s.Fault(r), err, want)
		}
	}
}

// The arithmetic is shown in a line, so that a person can do it again.
func TestWhyShowsTheArithmetic(t *testing.T) {
	for _, c := range []struct {
		reading, want string
		setup         Setup
	}{
		{"40.045 mm; 40.010 mm", "bore 40.045 mm less journal 40.01 mm is 0.035 mm", Setup{Kind: Difference, Max: at("0.05 mm")}},
		{"0.15 mm", "0.15 mm at 40 mm is 0.12 mm at the pitch radius of 32 mm", Setup{Kind: Backlash, Max: at("0.12 mm"), PitchRadius: mm("32 mm")[0], DialRadius: mm("40 mm")[0]}},
		{"go 0.25 mm; no-go 0.30 mm", "0.25 mm enters, 0.3 mm does not", Setup{Kind: Gap, Max: at("0.35 mm")}},
	} {
		if r, err := c.setup.Judge(c.reading); err != nil || r.Why != c.want {
			t.Errorf("%s: %q (%v), want %q", c.reading, r.Why, err, c.want)
		}
	}
}

// A gap that is in range says nothing of its bore.
func TestAGapInRangeAdvisesNothing(t *testing.T) {
	for _, reading := range []string{"0.25 mm", "go 0.25 mm; no-go 0.30 mm"} {
		if r, err := (Setup{Kind: Gap, Min: at("0.20 mm"), Max: at("0.35 mm")}).Judge(reading); err != nil || r.Advice != "" {
			t.Errorf("%s: %q, %v", reading, r.Advice, err)
		}
	}
}

// A blade cannot enter and not enter.
func TestOneBladeIsNoPair(t *testing.T) {
	if r, err := (Setup{Kind: Gap, Max: at("0.35 mm")}).Judge("go 0.30 mm; no-go 0.30 mm"); err == nil || !strings.Contains(err.Error(), "go is the thickest blade that enters") {
		t.Errorf("%+v, %v", r, err)
	}
}

// One radius is no ratio.
func TestABacklashNeedsBothRadii(t *testing.T) {
	for _, s := range []Setup{{PitchRadius: mm("32 mm")[0]}, {DialRadius: mm("40 mm")[0]}, {}} {
		s.Kind, s.Max = Backlash, at("0.12 mm")
		if r, err := s.Judge("0.15 mm"); err == nil || !strings.Contains(err.Error(), "give pitch_radius and dial_radius") {
			t.Errorf("%+v: %+v, %v", s, r, err)
		}
	}
}

// What each kind takes from a sheet, and whether its result is worked out of what was read.
func TestWhatTheKindsTake(t *testing.T) {
	got := ""
	for _, k := range Kinds() {
		got += k.Name
		for _, key := range []string{"inputs", "wanted", "shim", "pitch_radius", "dial_radius", "colour"} {
			if k.MayTake(key) {
				got += " " + key
			}
		}
		if k.Length {
			got += ", of lengths"
		}
		if k.Derived {
			got += ", worked out"
		}
		got += "\n"
	}
	const want = `direct
difference inputs, worked out
float wanted shim, of lengths
valve wanted shim, of lengths
backlash pitch_radius dial_radius, of lengths, worked out
gap, of lengths
squish inputs, of lengths, worked out
strip, of lengths
spread, worked out
`
	if got != want {
		t.Errorf("got\n%s", got)
	}
}

// Beside a limit of nothing an example lies one unit inside.
func TestAnExampleBesideNothing(t *testing.T) {
	for _, c := range []struct {
		setup Setup
		want  string
	}{{Setup{Max: at("0 mm")}, "-1 mm"}, {Setup{Min: at("0 °")}, "1°"}, {Setup{Max: at("0.2 mm")}, "0.1 mm"}, {Setup{Min: at("0.2 mm")}, "0.3 mm"}} {
		if got := c.setup.Example(); got != c.want {
			t.Errorf("%+v: %s, want %s", c.setup, got, c.want)
		}
	}
}
