package read

import (
	"strings"

	"evenpull/spec"
	"evenpull/spec/clamp/neighbours"
	"evenpull/spec/estimate"
)

func (b *binder) cover(top table) {
	t, ok := b.section(top, "cover", false)
	if !ok {
		return
	}
	c := &spec.Cover{
		Part:      t.str("part", "cylinder head"),
		Material:  t.must("material", "cast aluminium"),
		Thickness: t.length("thickness", "18 mm"),
		Face:      t.must("face", "multi-layer steel"),
		Groups:    b.coverGroups(t),
	}
	if c.Thickness.IsZero() && t.has("thickness") {
		t.wrong(t.at("thickness"), `give thickness = "18 mm"`, "[cover]: thickness must be over 0")
	} else if !t.has("thickness") {
		t.wrong(t.n.at, `add thickness = "18 mm"`, "[cover] has no thickness")
	}
	// A name the estimate doesn't know costs the estimate, not the walk.
	if _, err := estimate.Plate(c); err != nil && c.Material != "" {
		t.warn(t.at("material"), "use one of: "+strings.Join(neighbours.MaterialNames(), ", "), "[cover]: no estimate for material %s", spec.Quote(c.Material))
	}
	if _, err := estimate.Seat(c); err != nil && c.Face != "" {
		t.warn(t.at("face"), "use one of: "+strings.Join(neighbours.FaceNames(), ", "), "[cover]: no estimate for face %s", spec.Quote(c.Face))
	}
	b.at[c] = t.at("thickness")
	t.rest()
	b.p.Cover = c
}

// coverGroups reads groups = ["head"]: on a long sheet not every bolt holds the cover.
func (b *binder) coverGroups(t table) []*spec.Group {
	v := t.get("groups", arrayKind, `["head"]`)
	if v == nil {
		return b.p.Groups
	}
	if len(v.items) == 0 {
		t.wrong(v.at, "name at least one, or leave it out for all", "%s: the list is empty", t.name)
	}
	named := map[*spec.Group]bool{}
	for _, item := range v.items {
		if item.kind != stringKind {
			t.wrong(item.at, `write it in quotes, such as "head"`, "%s: the list must hold texts, not %s", t.name, item.kind)
			continue
		}
		if g := b.groupNamed(t, item.at, item.text); g != nil {
			named[g] = true
		}
	}
	var list []*spec.Group
	for _, g := range b.p.Groups {
		if named[g] {
			list = append(list, g)
		}
	}
	return list
}
