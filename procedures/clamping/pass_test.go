package clamping

import (
	"math"
	"strings"
	"testing"

	"evenpull/spec/clamp/neighbours"
)

// By hand: shares of 90, 90 and 105 %, and one bolt that was never tightened.
func TestKeptSumsUpShares(t *testing.T) {
	s := of(t, sheetOf(t, "close", "paper", ring, twoPass))
	got := s.kept(Held{KeptBy: []float64{math.NaN(), 0.9, 1.05, 0.9}, ForcesN: []float64{0, 900, 1050, 1800}})
	want := Kept{Bolts: 3, Lowest: 0.9, LowestID: "M2", Mean: 0.95, Highest: 1.05, Spread: 0.15 / 0.95, LowestN: 900}
	if math.Abs(got.Mean-want.Mean) > 1e-12 || math.Abs(got.Spread-want.Spread) > 1e-12 {
		t.Errorf("mean %v, spread %v", got.Mean, got.Spread)
	}
	got.Mean, got.Spread = want.Mean, want.Spread
	if got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

// What a bolt keeps is counted from its own last stage, before that from the start; one let
// go to nothing has nothing to keep, though the cover may load it again.
func TestKeptByIsOfABoltsOwnLastStage(t *testing.T) {
	s := of(t, sheetOf(t, "open", "paper", "M1 = [0, 0]\nM2 = [25, 0]\nM3 = [50, 0]\n", takenOut))
	s.StartN = []float64{1000, 1000, 1000}
	stage := func(id string, forces ...float64) neighbours.After {
		return neighbours.After{Step: neighbours.Step{BoltID: id}, ForcesN: forces}
	}
	h := neighbours.History{Passes: []neighbours.RoundResult{{Stages: []neighbours.After{stage("M1", 0, 1100, 1000), stage("M2", 20, 500, 1200)}}}}
	got := s.results(h)[0].KeptBy
	if !math.IsNaN(got[0]) || got[1] != 1 || got[2] != 1.2 {
		t.Errorf("got %v, want none, 1 and 1.2", got)
	}
}

func TestBandOfALeastIsNoMoreThanAllThatWasSet(t *testing.T) {
	p := of(t, sheetOf(t, "close", "metal", ring, twoPass)).Passes[1]
	if p.Band.Low < 0.97 || p.Band.Low > 0.98 || p.Band.High < 1 || p.Band.High > 1.0001 {
		t.Errorf("on bare metal the least may be %+v", p.Band)
	}
}

// Without a figure of the sheet's an opening starts at 65 % of yield, and says so; the
// bolts it has not come to yet hold that.
func TestAnOpeningStartsFromTheSheetOrAnAssumption(t *testing.T) {
	p := sheetOf(t, "open", "paper", ring, takenOut)
	p.Groups[0].Torque = nil
	s := of(t, p)
	for i, n := range s.StartN {
		if math.Abs(n-0.65*s.Bolts[i].YieldN) > 1e-9 {
			t.Errorf("%s starts at %v of a yield of %v", s.Bolts[i].ID, n, s.Bolts[i].YieldN)
		}
	}
	if !strings.Contains(strings.Join(s.Assumptions(), "\n"), "start at 65 % of yield (assumed)") {
		t.Error("that is not said")
	}
	first := of(t, bundled(t, "crankcase-open")).Passes[0]
	if first.Kept.Bolts != 18 || first.Kept.Lowest < 0.9 {
		t.Errorf("with the feed bolt out, the others hold %+v", first.Kept)
	}
}

// An angle moves the thread by its share of the pitch (1 mm here), back when loosening; a
// torque past yield draws to yield.
func TestStagesBecomeSteps(t *testing.T) {
	s := of(t, sheetOf(t, "close", "paper", ring, `[[pass]]
name = "Seat"
groups = ["main"]
torque = "100 %"
[[pass]]
name = "On"
groups = ["main"]
turn = "180°"
[[pass]]
name = "Back"
groups = ["main"]
loosen = "90°"
[[pass]]
name = "Final"
groups = ["main"]
torque = "100 %"
`))
	passes, err := s.passes(s.plan)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []neighbours.Step{
		{BoltID: "M1", Kind: neighbours.Draw, ForceN: s.Bolts[0].forceAt(t, s, 9)},
		{BoltID: "M1", Kind: neighbours.Turn, TravelMM: 0.5},
		{BoltID: "M1", Kind: neighbours.Turn, TravelMM: -0.25},
	} {
		if got := passes[i].Steps[0]; got != want {
			t.Errorf("pass %d: %+v, want %+v", i+1, got, want)
		}
	}
	if n := s.Bolts[0].forceAt(t, s, 90); n != s.Bolts[0].YieldN {
		t.Errorf("90 N·m draws an M6 to %v N, want its yield, %v N", n, s.Bolts[0].YieldN)
	}
}

func (b Bolt) forceAt(t *testing.T, s *Study, nm float64) float64 {
	t.Helper()
	n, err := s.preload(b.Group, nm)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Turns that are held at yield are held in a copy: the sheet's passes stay as they are.
func TestHoldingATurnChangesNoPass(t *testing.T) {
	s := of(t, bundled(t, "head-torque-turn"))
	passes, err := s.passes(s.plan)
	if err != nil {
		t.Fatal(err)
	}
	_, held, err := s.run(s.models[middle], passes)
	if again, _ := s.passes(s.plan); err != nil || held == 0 || !same(passes, again) {
		t.Errorf("%d turns held (%v), passes changed: %v", held, err, !same(passes, again))
	}
}
