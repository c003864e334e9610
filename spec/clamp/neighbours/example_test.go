package neighbours_test

import (
	"fmt"

	"evenpull/spec/clamp/neighbours"
)

// Six invented bolts of an Osier side cover on a paper gasket: what one pass
// leaves, what three leave.
func ExampleModel_Compare() {
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
	round := []string{"C1", "C2", "C3", "C4", "C5", "C6"}
	outcomes, err := model.Compare([]neighbours.Order{
		{Name: "one pass round", Passes: neighbours.Repeat(1, neighbours.Draw, round, 9000)},
		{Name: "three passes round", Passes: neighbours.Repeat(3, neighbours.Draw, round, 9000)},
	})
	if err != nil {
		panic(err)
	}
	for _, o := range outcomes {
		fmt.Printf("%s: lowest %s %.0f N (%.1f %% of target), mean %.0f N, spread %.1f %%\n",
			o.Name, o.End.LowestID, o.End.LowestN, 100*o.End.ShareOfTarget, o.End.MeanN, 100*o.End.SpreadRatio)
	}
	// Output:
	// one pass round: lowest C2 7957 N (88.4 % of target), mean 8433 N, spread 12.4 %
	// three passes round: lowest C1 8996 N (100.0 % of target), mean 8999 N, spread 0.0 %
}
