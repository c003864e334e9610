package neighbours

import (
	"fmt"
	"testing"
	"time"
)

// wideCover has side×(n/side) bolts 40 mm apart, each an invented M8.
func wideCover(t testing.TB, n, side int) *Model {
	t.Helper()
	bolts := make([]Bolt, n)
	for i := range bolts {
		bolts[i] = Bolt{ID: fmt.Sprintf("B%d", i+1), XMM: 40 * float64(i%side), YMM: 40 * float64(i/side), StiffnessNPerMM: 2e5}
	}
	m, err := New(Joint{Plate{70000, 0.33, 8}, Face{200}, bolts})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// plainHistory is the baseline: after every step a dense system of all bolts that
// are in is set up and solved anew (Gauss, n³/3 a step). No bolt may fall slack.
func plainHistory(m *Model, passes []Round) []float64 {
	n := len(m.bolts)
	drawn, force, isIn := make([]float64, n), make([]float64, n), make([]bool, n)
	give := m.Influence()
	for i, b := range m.bolts {
		give[i][i] += 1 / b.StiffnessNPerMM
	}
	for _, p := range passes {
		for _, step := range p.Steps {
			k := m.index[step.BoltID]
			var in []int
			for i := range n {
				if isIn[i] && i != k {
					in = append(in, i)
				}
			}
			rows := make([][]float64, len(in))
			for r, i := range in {
				rows[r] = make([]float64, len(in)+1)
				for c, j := range in {
					rows[r][c] = give[i][j]
				}
				rows[r][len(in)] = drawn[i] - give[i][k]*step.ForceN
			}
			for r, f := range gauss(rows) {
				force[in[r]] = f
			}
			force[k], isIn[k], drawn[k] = step.ForceN, true, 0
			for j, f := range force {
				drawn[k] += give[k][j] * f
			}
		}
	}
	return force
}

// gauss solves a positive definite system, the right side in the last column.
func gauss(rows [][]float64) []float64 {
	n := len(rows)
	for k := range n {
		for i := k + 1; i < n; i++ {
			f := rows[i][k] / rows[k][k]
			for j := k; j <= n; j++ {
				rows[i][j] -= f * rows[k][j]
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = rows[i][n]
		for j := i + 1; j < n; j++ {
			x[i] -= rows[i][j] * x[j]
		}
		x[i] /= rows[i][i]
	}
	return x
}

// The fast way must agree with the baseline, which it leaves far behind: see
// the benchmark.
func TestHistoryAgreesWithSolvingEveryStepAnew(t *testing.T) {
	m := wideCover(t, 60, 10)
	passes := repeat(5, Set, m.ids(), 15000)
	h, plain := tighten(t, m, passes...), plainHistory(m, passes)
	for i, f := range h.EndN() {
		if !about(f, plain[i], 1e-9) {
			t.Fatalf("%s carries %v N, solved anew %v N", h.BoltIDs[i], f, plain[i])
		}
	}
}

// 200 bolts, 5 passes, the influence matrix included. Reports the share of the
// 100 ms that are allowed and how many times longer the baseline takes.
func BenchmarkHistoryOf200BoltsIn5Passes(b *testing.B) {
	var passes []Round
	for b.Loop() {
		m := wideCover(b, 200, 20)
		passes = repeat(5, Set, m.ids(), 15000)
		tighten(b, m, passes...)
	}
	each := b.Elapsed().Seconds() / float64(b.N)
	m := wideCover(b, 200, 20)
	start := time.Now()
	plainHistory(m, passes)
	b.ReportMetric(time.Since(start).Seconds()/each, "baseline/ours")
	b.ReportMetric(each/0.1, "of-100ms")
}
