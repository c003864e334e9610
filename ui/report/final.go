package report

import (
	"slices"
	"strings"

	"evenpull/procedures/plan"
	"evenpull/spec"
)

// shortFigure is a stage's figure without its verb where the figure says
// enough: "20 N·m", "90°", "back 90°", "out".
func shortFigure(st *plan.Stage) string {
	switch st.Action {
	case spec.Turn:
		return st.Target.Turn.Text()
	case spec.Stretch:
		return st.Target.Stretch.Text()
	case spec.Remove:
		return "out"
	case spec.Loosen:
		if st.Target.Fully {
			return "loose"
		}
		return "back " + st.Target.Turn.Text()
	}
	return st.TargetText()
}

// Final is what a fastener ends at: its last torque or stretch and the turns
// after it, "30 N·m + 90° + 90°"; on the way apart, its last step.
func (f Fastener) Final() string {
	var parts []string
	for _, st := range f.Stages {
		switch spec.Action(st.Action) {
		case spec.Verify:
		case spec.Turn:
			if n := len(parts); n > 0 && slices.Contains([]string{"out", "loose"}, parts[n-1]) {
				parts = nil
			}
			parts = append(parts, st.figure())
		default:
			parts = []string{st.figure()}
		}
	}
	return strings.Join(parts, " + ")
}

func (st Stage) figure() string {
	if st.Figure == "" {
		return st.Target
	}
	return st.Figure
}

// Orders numbers the fasteners by when the plan brings each to its final
// figure: 1 is the first; 0 has no stage. The slice goes with Fasteners.
func (s Sheet) Orders() []int {
	orders := make([]int, len(s.Fasteners))
	var round []int // indexes of fasteners that have stages
	begins := make([]int, len(s.Fasteners))
	for i, f := range s.Fasteners {
		if begins[i] = f.lastRound(); begins[i] > 0 {
			round = append(round, i)
		}
	}
	slices.SortStableFunc(round, func(a, b int) int { return begins[a] - begins[b] })
	for n, i := range round {
		orders[i] = n + 1
	}
	return orders
}

// lastRound is the number of the stage that begins the fastener's last pass
// that moves it; 0 when it has none. A pass that only feels it moves nothing.
func (f Fastener) lastRound() int {
	pass, begins := "", 0
	for _, st := range f.Stages {
		if spec.Action(st.Action) == spec.Verify && begins > 0 {
			continue
		}
		if st.Pass != pass || begins == 0 {
			pass, begins = st.Pass, st.Number
		}
	}
	return begins
}
