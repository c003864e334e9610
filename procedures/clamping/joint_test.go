package clamping

import (
	"evenpull/spec/estimate"
	"reflect"
	"strings"
	"testing"

	"evenpull/spec/clamp/neighbours"
	"evenpull/spec/read"
)

// A study goes from a rim of 2.5 diameters of its thinnest bolt to a face without end, and
// from the softest to the stiffest face of its kind; the middle is between the outlines on
// the face itself. A bolt's spring is itself and its parts in series.
func TestAStudyCoversEveryFaceAndOutline(t *testing.T) {
	s := openedWith(t, "M6x1", "0 mm", lastIn)
	face, err := neighbours.FaceByName("paper")
	if err != nil {
		t.Fatal(err)
	}
	plate, err := estimate.Plate(s.Procedure.Cover)
	if err != nil {
		t.Fatal(err)
	}
	j := neighbours.Joint{Plate: neighbours.Plate{ElasticMPa: plate.ElasticMPa, Poisson: plate.Poisson, ThicknessMM: 12}}
	for _, b := range s.Bolts {
		joint, _ := estimate.Joint(b.Group)
		springs, err := joint.Stiffness(estimate.Grip(s.Procedure, b.Group))
		if err != nil {
			t.Fatal(err)
		}
		stiffness := 1 / (springs.BoltMMPerN + springs.PartsMMPerN)
		if b.StiffnessNPerMM != stiffness {
			t.Errorf("%s is a spring of %v N/mm, want %v", b.ID, b.StiffnessNPerMM, stiffness)
		}
		j.Bolts = append(j.Bolts, neighbours.Bolt{ID: b.ID, XMM: b.X, YMM: b.Y, StiffnessNPerMM: stiffness})
	}
	wide := func(j neighbours.Joint, _ float64) (*neighbours.Model, error) { return neighbours.New(j) }
	for i, want := range []struct {
		make func(neighbours.Joint, float64) (*neighbours.Model, error)
		face neighbours.Face
	}{{neighbours.NewBetween, face.Face}, {neighbours.NewRim, face.LowFace}, {wide, face.HighFace}, {wide, face.LowFace}, {neighbours.NewRim, face.HighFace}} {
		j.Face = want.face
		m, err := want.make(j, 2.5*6)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(m.Influence(), s.models[i].Influence()) {
			t.Errorf("model %d is another", i)
		}
	}
}

// What is outside of the grid on the softest face to expect is outside.
func TestTheSoftestFaceDecidesWhatWasCompared(t *testing.T) {
	const line = "M1 = [0, 0]\nM2 = [22, 0]\n" // λ/3 on rubber 12 mm thick: 18 mm, on the softest 27 mm
	for face, want := range map[string]bool{"rubber": true, "paper": false} {
		text := strings.NewReplacer("DIRECTION", "close", "FACE", face, "PLACES", line, "PASSES", onePass, `"6 mm"`, `"12 mm"`).Replace(sheet)
		p, problems := read.Procedure("cover.toml", []byte(text))
		if p == nil {
			t.Fatal(problems)
		}
		if s := of(t, p); strings.Contains(s.uncompared, "moves as one piece") != want {
			t.Errorf("%s: %q", face, s.uncompared)
		}
	}
}
