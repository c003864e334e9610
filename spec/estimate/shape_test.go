package estimate_test

import (
	"testing"

	"evenpull/spec"
	"evenpull/spec/bolt"
	"evenpull/spec/estimate"
	"evenpull/spec/quantity"
)

func mm(t *testing.T, text string) quantity.Length {
	t.Helper()
	l, err := quantity.ParseLength(text)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// A group is estimated with what its sheet says of it, and not without a class.
func TestWhatASheetSaysOfAJoint(t *testing.T) {
	class, err := bolt.ParseClass("12.9")
	if err != nil {
		t.Fatal(err)
	}
	g := &spec.Group{Class: class, HasClass: true, Bore: mm(t, "2 mm"), CrossHole: mm(t, "1 mm"), Waist: spec.Waist{Diameter: mm(t, "6.5 mm")}}
	for _, c := range []struct {
		friction spec.Friction
		want     float64 // nominal; 0: not stated
	}{{spec.Friction{}, 0}, {spec.Friction{Word: "oiled"}, 0.12}, {spec.Friction{Coefficient: 0.2}, 0.2}} {
		g.Friction = c.friction
		j, known := estimate.Joint(g)
		if !known || j.Friction.Nominal != c.want || j.BoreMM != 2 || j.CrossHoleMM != 1 || j.WaistMM != 6.5 || j.Class != class {
			t.Errorf("%+v: %+v, %v", c.friction, j, known)
		}
	}
	g.HasClass = false
	if _, known := estimate.Joint(g); known {
		t.Error("nothing is known of the strength of a bolt without a class, and it is estimated")
	}
}

// What lies under the head is what the sheet says, else the cover if the group holds it.
// Moduli and expansion are those of the materials by name.
func TestWhatAGroupClamps(t *testing.T) {
	held, other := &spec.Group{ID: "head"}, &spec.Group{ID: "side"}
	said := &spec.Group{ID: "rod", Clamps: "magnesium", Into: "cast iron", Engagement: mm(t, "16 mm"), Grip: mm(t, "40 mm"), Waist: spec.Waist{Length: mm(t, "20 mm")}}
	unknown := &spec.Group{ID: "old", Clamps: "unobtainium"}
	shank := mm(t, "0 mm")
	said.Shank = &shank
	p := &spec.Procedure{Groups: []*spec.Group{held, other, said, unknown}, Cover: &spec.Cover{Material: "cast aluminium", Face: "metal", Groups: []*spec.Group{held, said, unknown}}}
	iron, err := bolt.ParseMaterial("cast iron")
	if err != nil {
		t.Fatal(err)
	}
	if c := estimate.Grip(p, said); c.Parts != "magnesium" || c.PartsGPa != 45 || c.PartsPerMK != 26 || c.HoleGPa != iron.ElasticGPa || !c.Tapped || c.LengthMM != 40 || c.WaistMM != 20 || !c.ShankKnown || c.ShankMM != 0 {
		t.Errorf("as it says: %+v", c)
	}
	for _, g := range []*spec.Group{held, unknown} {
		if c := estimate.Grip(p, g); c.Parts != "aluminium" || c.PartsGPa != 71.7 || c.PartsPerMK != 21.5 || c.Tapped || c.ShankKnown {
			t.Errorf("%s, on the cover: %+v", g.ID, c)
		}
	}
	if c := estimate.Grip(p, other); c.Parts != "" || c.PartsGPa != 0 {
		t.Errorf("elsewhere: %+v", c)
	}
	p.Cover.Material = "unobtainium"
	if c := estimate.Grip(p, held); c.Parts != "" || c.PartsGPa != 0 {
		t.Errorf("under a cover of nothing that is known: %+v", c)
	}
}

// A cover is known by the last word of its material, and "metal" is bare metal.
func TestPlateAndSeatOfACover(t *testing.T) {
	for material, want := range map[string]string{"aluminium": "aluminium", "cast aluminium": "aluminium", "Cast Aluminium": "aluminium", "unobtainium": "", "": "", "cast unobtainium": ""} {
		got, err := estimate.Plate(&spec.Cover{Material: material})
		if (err == nil) != (want != "") || got.Name != want {
			t.Errorf("%s: %q, %v", material, got.Name, err)
		}
	}
	bare, err := estimate.Seat(&spec.Cover{Face: "bare metal"})
	if err != nil {
		t.Fatal(err)
	}
	if got, err := estimate.Seat(&spec.Cover{Face: "Metal"}); err != nil || got != bare {
		t.Errorf("metal: %+v, %v", got, err)
	}
	if _, err := estimate.Seat(&spec.Cover{Face: "cheese"}); err == nil {
		t.Error("cheese is a face")
	}
}
