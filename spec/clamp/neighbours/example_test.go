package neighbours_test

import (
	"fmt"

	"evenpull/spec/clamp/neighbours"
)

// Six invented bolts of an Osier side cover on a paper gasket: what one pass
// leaves, what three leave.
func ExampleModel_Tighten() {
	face, err := neighbours.FaceByName("paper")
	if err != nil {
		panic(err)
	}
	cover, err := neighbours.MaterialByName("aluminium")
	if err != nil {
		panic(err)
	}
	model, err := neighbours.New(neighbours.Joint{
		Plate: neighbours.Plate{ElasticMPa: cover.ElasticMPa, Poisson: cover.Poisson, ThicknessMM: 8},
		Face:  face.Face,
		Bolts: []neighbours.Bolt{
			{ID: "C1", XMM: 0, YMM: 0, StiffnessNPerMM: 2e5}, {ID: "C2", XMM: 30, YMM: 0, StiffnessNPerMM: 2e5},
			{ID: "C3", XMM: 60, YMM: 0, StiffnessNPerMM: 2e5}, {ID: "C4", XMM: 60, YMM: 30, StiffnessNPerMM: 2e5},
			{ID: "C5", XMM: 30, YMM: 30, StiffnessNPerMM: 2e5}, {ID: "C6", XMM: 0, YMM: 30, StiffnessNPerMM: 2e5},
		},
	})
	if err != nil {
		panic(err)
	}
	var once neighbours.Round
	for _, id := range []string{"C1", "C2", "C3", "C4", "C5", "C6"} {
		once.Steps = append(once.Steps, neighbours.Step{BoltID: id, Kind: neighbours.Draw, ForceN: 9000})
	}
	for _, passes := range [][]neighbours.Round{{once}, {once, once, once}} {
		h, err := model.Tighten(passes)
		if err != nil {
			panic(err)
		}
		end := h.Passes[len(passes)-1].End
		fmt.Printf("passes: %d, lowest %s with %.0f %% of target\n", len(passes), end.LowestID, 100*end.ShareOfTarget)
	}
	// Output:
	// passes: 1, lowest C2 with 88 % of target
	// passes: 3, lowest C1 with 100 % of target
}
