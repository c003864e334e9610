package report

import (
	"testing"

	"evenpull/procedures"
	"evenpull/procedures/plan"
)

// A sheet counts the stages of the plan and nothing else: threads made ready,
// questions and parts are no stages.
func TestASheetCountsThePlansStages(t *testing.T) {
	for _, name := range procedures.Bundled() {
		p, _, err := procedures.Library{}.Load(name)
		if err != nil || p == nil {
			t.Fatalf("%s: %v", name, err)
		}
		want := map[string]int{}
		for _, s := range plan.Of(p).Stages {
			if s.Fastener != nil {
				want[s.Pass.Name]++
			}
		}
		for _, pass := range newBench(t, p.Text).sheet("7").Passes {
			if pass.Stages.Of != want[pass.Name] {
				t.Errorf("%s, %s: the sheet counts %d stages, the plan has %d", name, pass.Name, pass.Stages.Of, want[pass.Name])
			}
		}
	}
}
