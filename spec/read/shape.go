package read

import (
	"evenpull/spec/bolt"

	"evenpull/spec"
)

// shape reads what a bolt looks like between its head and its thread, and what it clamps.
func (b *binder) shape(t table, g *spec.Group) {
	g.Clamps = t.material("clamps")
	if shank := t.length("shank", "30 mm"); t.has("shank") {
		g.Shank = &shank
	}
	g.Waist = spec.Waist{Diameter: t.length("waist", "6.5 mm"), Length: t.length("waist_length", "20 mm")}
	g.CrossHole = t.length("cross_hole", "2.5 mm")
	if g.Thread.DiameterMM == 0 {
		return // already reported
	}
	room, of := g.Grip, "grip"
	if g.Shank != nil {
		room, of = *g.Shank, "shank"
	}
	switch {
	case g.Shank != nil && g.Grip.Mm() > 0 && g.Shank.Mm() > g.Grip.Mm():
		t.wrong(t.at("shank"), "give the plain shank that lies within the grip", "%s: the shank %s is longer than the grip %s", t.name, g.Shank, g.Grip)
	case t.has("waist_length") && g.Waist.Diameter.IsZero():
		t.wrong(t.at("waist_length"), `add its diameter: waist = "6.5 mm"`, "%s has a waist_length but no waist", t.name)
	case (g.Shank != nil || room.Mm() > 0) && g.Waist.Length.Mm() > room.Mm():
		t.wrong(t.at("waist_length"), "the waist is part of the shank", "%s: the waist is %s long, the %s %s", t.name, g.Waist.Length, of, room)
	case g.Waist.Diameter.Mm() > g.Thread.DiameterMM:
		t.wrong(t.at("waist"), "give the diameter of the turned-down part", "%s: the waist %s is wider than the thread, %s", t.name, g.Waist.Diameter, g.Thread.Name)
	default:
		b.sections(t, g)
	}
}

// sections refuses a waist or an oil hole that leaves nothing of the bolt.
func (b *binder) sections(t table, g *spec.Group) {
	if g.Bore.Mm() >= g.Thread.RootDiameterMM() {
		return // reported with the strength
	}
	outer, bore := g.Thread.RootDiameterMM(), g.Bore.Mm()
	if waist := g.Waist.Diameter.Mm(); waist > 0 {
		outer = waist
		if _, err := bolt.WaistSection(waist, bore); err != nil {
			t.wrong(t.at("waist"), "give a waist over the bore", "%s: the waist %s leaves nothing about the bore %s", t.name, g.Waist.Diameter, g.Bore)
			return
		}
	}
	if g.CrossHole.IsZero() {
		return
	}
	if _, err := bolt.CrossHoleSection(outer, bore, g.CrossHole.Mm()); err != nil {
		t.wrong(t.at("cross_hole"), "give the diameter of the hole through the side", "%s: the cross_hole %s leaves nothing of the bolt, %.4g mm with a bore of %s", t.name, g.CrossHole, outer, g.Bore)
	}
}
