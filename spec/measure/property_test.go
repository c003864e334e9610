package measure

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"evenpull/spec/quantity"
)

// drawShimmed draws a float or valve clearance out of range, with shims fitted
// and a stock, in hundredths of a millimetre.
func drawShimmed(t *rapid.T) (s Setup, float int, now, stock []int) {
	lo := rapid.IntRange(0, 20).Draw(t, "min")
	hi := lo + rapid.IntRange(0, 20).Draw(t, "width")
	s = Setup{Kind: rapid.SampledFrom([]string{Float, Valve}).Draw(t, "kind"), Min: at(hundredths(lo)), Max: at(hundredths(hi)), Ends: rapid.IntRange(1, 2).Draw(t, "ends")}
	stock = rapid.SliceOfN(rapid.IntRange(20, 120), 1, 12).Draw(t, "stock")
	for _, size := range stock {
		s.Stock = append(s.Stock, mm(hundredths(size))...)
	}
	now = rapid.SliceOfN(rapid.IntRange(20, 120), s.Ends, s.Ends).Draw(t, "now")
	return s, rapid.IntRange(0, 100).Draw(t, "float"), now, stock
}

func hundredths(n int) string { return fmt.Sprintf("%d.%02d mm", n/100, n%100) }

func reading(float int, now []int, unit func(int) string) string {
	text := unit(float)
	for _, n := range now {
		text += "; shim " + unit(n)
	}
	return text
}

// The shim chosen, fitted and measured again, gives the float that was
// promised, in range; and no shim of the stock comes nearer the middle. Where
// none is chosen, none would do.
func TestAChosenShimMeasuredAgainIsInRangeAndTheNearest(t *testing.T) {
	chosen, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		s, float, now, stock := drawShimmed(t)
		r, err := s.Judge(reading(float, now, hundredths))
		if err != nil {
			t.Fatal(err)
		}
		if r.Verdict == InRange {
			return
		}
		total := float
		for _, n := range now {
			total += n
		}
		nearest, any := plainly(s, total, stock)
		if r.Choice == nil {
			refused++
			if any {
				t.Fatalf("nothing chosen, yet a shim comes within %d/200 mm of the middle", nearest)
			}
			return
		}
		chosen++
		sum := 0.0
		for _, l := range r.Choice {
			sum += l.Mm()
		}
		if got := r.Resulting.In(quantity.Millimetre); !close(got, float64(total)/100-sum) {
			t.Fatalf("promised %v, total %d less shims %v", got, total, sum)
		}
		again, err := s.Judge(r.Resulting.String())
		if err != nil || again.Verdict != InRange {
			t.Fatalf("measured again: %s, %v", again.Verdict, err)
		}
		off := r.Resulting.In(quantity.Millimetre)*200 - 100*(s.Min.In(quantity.Millimetre)+s.Max.In(quantity.Millimetre))
		if off < 0 {
			off = -off
		}
		if !close(off, float64(nearest)) {
			t.Fatalf("comes within %v/200 mm of the middle, the nearest within %d", off, nearest)
		}
	})
	if chosen == 0 || refused == 0 {
		t.Errorf("the draw never reached both: %d chosen, %d not", chosen, refused)
	}
}

func close(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }

// plainly tries everything in whole numbers: how near the middle, in 1/200 mm,
// any choice in range comes.
func plainly(s Setup, total int, stock []int) (nearest int, any bool) {
	lo, hi := int(s.Min.In(quantity.Millimetre)*100+0.5), int(s.Max.In(quantity.Millimetre)*100+0.5)
	second := []int{0}
	if s.Ends == 2 {
		second = stock
	}
	for _, a := range stock {
		for _, b := range second {
			f := total - a - b
			if f < lo || f > hi {
				continue
			}
			off := max(2*f-lo-hi, lo+hi-2*f)
			if !any || off < nearest {
				nearest, any = off, true
			}
		}
	}
	return nearest, any
}

// The same sizes said in inches lead to the same choice.
func TestInchesAndMillimetresChooseTheSame(t *testing.T) {
	inches := func(n int) string {
		l := mm(hundredths(n))[0]
		text := l.Exact(quantity.Inch).RatString()
		return text + " in"
	}
	rapid.Check(t, func(t *rapid.T) {
		s, float, now, _ := drawShimmed(t)
		metric, err := s.Judge(reading(float, now, hundredths))
		if err != nil {
			t.Fatal(err)
		}
		inch, err := s.Judge(reading(float, now, inches))
		if err != nil {
			t.Fatal(err)
		}
		if metric.Verdict != inch.Verdict || metric.ChoiceText() != inch.ChoiceText() {
			t.Fatalf("mm: %s %s; inch: %s %s", metric.Verdict, metric.ChoiceText(), inch.Verdict, inch.ChoiceText())
		}
	})
}

// However readings are ordered, they come to the same.
func TestTheOrderOfRepeatedReadingsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.IntRange(0, 50), 2, MaxReadings).Draw(t, "readings")
		mixed := rapid.Permutation(list).Draw(t, "mixed")
		kind := rapid.SampledFrom([]string{Direct, Strip, Spread, Gap, Float}).Draw(t, "kind")
		s := Setup{Kind: kind, Min: at("0.10 mm"), Max: at("0.30 mm"), Readings: len(list), Spread: at("0.2 mm")}
		text := func(list []int) (all string) {
			for _, n := range list {
				all += hundredths(n) + "; "
			}
			return all
		}
		a, errA := s.Judge(text(list))
		b, errB := s.Judge(text(mixed))
		if errA != nil || errB != nil || outcome(a) != outcome(b) {
			t.Fatalf("%s, %v\n%s, %v", outcome(a), errA, outcome(b), errB)
		}
	})
}

func FuzzReadings(f *testing.F) {
	for _, text := range []string{"0.12 mm", "float 0.32 mm; shim 0.80 mm", "0,32 mm, 0,80 mm", "go 1/4 in; no-go .3 in", ";;", "\x1b[2J 0.1 mm", "1½ mm", "a: 1 mm"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, k := range Kinds() {
			s := Setup{Kind: k.Name, Max: at("0.20 mm"), PitchRadius: stock[0], DialRadius: stock[1], Stock: stock}
			r, err := s.Judge(text)
			if err != nil {
				_ = err.Error()
				continue
			}
			if (s.Fault(r) == "") != (r.Verdict == InRange) {
				t.Fatalf("%q: %s but says %q", text, r.Verdict, s.Fault(r))
			}
		}
	})
}

// Two ends try every pair of the largest stock allowed.
func BenchmarkTheLargestStockAtBothEnds(b *testing.B) {
	s := Setup{Kind: Float, Min: at("0.05 mm"), Max: at("0.20 mm"), Ends: 2}
	for i := range MaxStock {
		s.Stock = append(s.Stock, mm(hundredths(50+i))...)
	}
	for b.Loop() {
		if _, err := s.Judge("0.50 mm; shim 0.80 mm; shim 0.90 mm"); err != nil {
			b.Fatal(err)
		}
	}
}
