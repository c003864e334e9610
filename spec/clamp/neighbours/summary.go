package neighbours

import "math"

// Summary is the clamp on the bolts that are in at one moment (drawn at least
// once and not taken out; a slack bolt counts with 0 N).
type Summary struct {
	Bolts       int // how many are in; all else is zero if none
	LowestN     float64
	LowestID    string
	HighestN    float64
	HighestID   string
	MeanN       float64
	SpreadRatio float64 // (highest − lowest)/mean; 0.1 is 10 %
	// ShareOfTarget is the lowest clamp over the bolt's own last target force, 1
	// when every bolt holds what it was set to. A bolt last turned by travel has
	// none; 0 if that goes for all.
	ShareOfTarget float64
	SlackIDs      []string // in, but hanging loose
}

func (m *Model) summary(s *state, targets []float64) Summary {
	sum := Summary{LowestN: math.Inf(1), HighestN: math.Inf(-1), ShareOfTarget: math.Inf(1)}
	for i, f := range s.force {
		if s.hold[i] == out {
			continue
		}
		id := m.bolts[i].ID
		sum.Bolts++
		sum.MeanN += f
		if f < sum.LowestN {
			sum.LowestN, sum.LowestID = f, id
		}
		if f > sum.HighestN {
			sum.HighestN, sum.HighestID = f, id
		}
		if targets[i] > 0 {
			sum.ShareOfTarget = min(sum.ShareOfTarget, f/targets[i])
		}
		if s.hold[i] == slack {
			sum.SlackIDs = append(sum.SlackIDs, id)
		}
	}
	if sum.Bolts == 0 {
		return Summary{}
	}
	sum.MeanN /= float64(sum.Bolts)
	if sum.MeanN > 0 {
		sum.SpreadRatio = (sum.HighestN - sum.LowestN) / sum.MeanN
	}
	if math.IsInf(sum.ShareOfTarget, 1) {
		sum.ShareOfTarget = 0
	}
	return sum
}

// Peak is the most one bolt carried, and when.
type Peak struct {
	ForceN      float64
	Pass, Stage int // from 0; −1, −1 if it never carried anything
}

// Peaks returns for every bolt, in the order of BoltIDs, the most it carried
// after any stage: in an opening, what the last ones in have to hold.
func (h History) Peaks() []Peak {
	peaks := make([]Peak, len(h.BoltIDs))
	for i := range peaks {
		peaks[i] = Peak{Pass: -1, Stage: -1}
	}
	for p, pass := range h.Passes {
		for s, stage := range pass.Stages {
			for i, f := range stage.ForcesN {
				if f > peaks[i].ForceN {
					peaks[i].ForceN, peaks[i].Pass, peaks[i].Stage = f, p, s
				}
			}
		}
	}
	return peaks
}
