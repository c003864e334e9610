package spec

import (
	"strings"

	"evenpull/spec/clamp/neighbours"
	"evenpull/spec/quantity"
)

// Cover is the clamped part as a plate on its joint face, for the estimate of
// what one bolt does to its neighbours.
type Cover struct {
	Part      string
	Material  string
	Thickness quantity.Length
	Face      string   // what lies between the faces: metal, sealant film, paper …
	Groups    []*Group // whose bolts hold it; all of the file's when it names none
}

// Plate finds the material by its last word: "cast aluminium" is aluminium.
func (c *Cover) Plate() (neighbours.MaterialPreset, error) {
	m, err := neighbours.MaterialByName(c.Material)
	if err == nil {
		return m, nil
	}
	if words := strings.Fields(c.Material); len(words) > 1 {
		if last, plain := neighbours.MaterialByName(words[len(words)-1]); plain == nil {
			return last, nil
		}
	}
	return m, err
}

// Seat finds the preset of the joint face. "metal" is bare metal.
func (c *Cover) Seat() (neighbours.FacePreset, error) {
	if strings.EqualFold(c.Face, "metal") {
		return neighbours.FaceByName("bare metal")
	}
	return neighbours.FaceByName(c.Face)
}

func (b *binder) cover(top table) {
	t, ok := b.section(top, "cover", false)
	if !ok {
		return
	}
	c := &Cover{
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
	if _, err := c.Plate(); err != nil && c.Material != "" {
		t.warn(t.at("material"), "use one of: "+strings.Join(neighbours.MaterialNames(), ", "), "[cover]: no estimate for material %s", quote(c.Material))
	}
	if _, err := c.Seat(); err != nil && c.Face != "" {
		t.warn(t.at("face"), "use one of: "+strings.Join(neighbours.FaceNames(), ", "), "[cover]: no estimate for face %s", quote(c.Face))
	}
	b.at[c] = t.at("thickness")
	t.rest()
	b.p.Cover = c
}

// coverGroups reads groups = ["head"]: on a long sheet not every bolt holds the cover.
func (b *binder) coverGroups(t table) []*Group {
	v := t.get("groups", arrayKind, `["head"]`)
	if v == nil {
		return b.p.Groups
	}
	if len(v.items) == 0 {
		t.wrong(v.at, "name at least one, or leave it out for all", "%s: the list is empty", t.name)
	}
	named := map[*Group]bool{}
	for _, item := range v.items {
		if item.kind != stringKind {
			t.wrong(item.at, `write it in quotes, such as "head"`, "%s: the list must hold texts, not %s", t.name, item.kind)
			continue
		}
		if g := b.groupNamed(t, item.at, item.text); g != nil {
			named[g] = true
		}
	}
	var list []*Group
	for _, g := range b.p.Groups {
		if named[g] {
			list = append(list, g)
		}
	}
	return list
}
