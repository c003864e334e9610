package quantity

import (
	"testing"
	"time"
)

var (
	sinkFloat float64
	sinkText  string
)

// BenchmarkConvert times reading a figure, converting it and printing it in three units against
// one float multiplication, and reports the ratios.
func BenchmarkConvert(b *testing.B) {
	parsed, err := ParseTorque("18.4 ft-lb")
	if err != nil {
		b.Fatal(err)
	}
	plain, read, convert, show := timed(func(i int) { sinkFloat = float64(i) * 1.3558179483314004 }),
		timed(func(int) { parsed, _ = ParseTorque("18.4 ft-lb") }),
		timed(func(int) { sinkFloat = parsed.Nm() }),
		timed(func(int) {
			sinkText = parsed.Text(NewtonMetre) + parsed.Text(PoundForceFoot) + parsed.Text(KilogramForceMetre)
		})
	for b.Loop() {
		parsed, _ = ParseTorque("18.4 ft-lb")
		sinkFloat = parsed.Nm()
	}
	b.ReportMetric(read/plain, "parse/multiply")
	b.ReportMetric(convert/plain, "convert/multiply")
	b.ReportMetric(show/plain, "print3/multiply")
	b.ReportMetric(read, "ns/parse")
	b.ReportMetric(convert, "ns/convert")
	b.ReportMetric(show, "ns/print3")
}

// timed is the mean time of one call, in ns.
func timed(f func(int)) float64 {
	const calls = 50_000
	start := time.Now()
	for i := range calls {
		f(i)
	}
	return float64(time.Since(start).Nanoseconds()) / calls
}
