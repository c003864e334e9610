package bolt

import (
	"fmt"
	"slices"

	"evenpull/spec/near"
)

// Material is what a thread is cut into. The strengths are typical, not minimums.
type Material struct {
	Name       string
	ShearMPa   float64 // shear strength
	TensileMPa float64 // tensile strength Rm
	ElasticGPa float64 // modulus of elasticity
	Source     string
}

// Sources of the figures below.
const (
	alloyTable = "typical-properties handbook table, read in print"
	castTable  = "Materials for Civil and Construction Engineers table 4.6, read in print"
	ratioVDI   = "tensile strength from memory, shear by the VDI 2230 ratio (from memory)"
)

// materials: the plain words first; each stands for the weaker of the usual alloys.
var materials = []Material{
	{"cast aluminium", 179, 228, 72, castTable + " (356.0-T6, sand cast)"},
	{"wrought aluminium", 205, 310, 69, alloyTable + " (6061-T6)"},
	{"magnesium", 145, 230, 45, "cast AZ91, typical, from memory"},
	{"grey iron", 225, 250, 110, ratioVDI + ": 0.90 of 250 MPa"},
	{"steel", 240, 400, 205, ratioVDI + ": 0.60 of 400 MPa"},
	{"356.0-T6 permanent mould", 221, 276, 72, castTable},
	{"356.0-T6 sand", 179, 228, 72, castTable},
	{"356.0-T7 permanent mould", 172, 228, 72, castTable},
	{"356.0-T7 sand", 165, 234, 72, castTable},
	{"A357.0-T6 permanent mould", 296, 345, 72, castTable},
	{"2024-T3", 285, 485, 73, alloyTable},
	{"2024-T4", 285, 470, 73, alloyTable},
	{"6061-T6", 205, 310, 69, alloyTable},
	{"6063-T5", 115, 185, 69, alloyTable},
	{"7075-T6", 330, 570, 72, alloyTable},
}

// alsoCalled maps other usual words to a name above.
var alsoCalled = map[string]string{
	"aluminium": "cast aluminium", "aluminum": "cast aluminium", "cast aluminum": "cast aluminium", "aluminium casting": "cast aluminium",
	"wrought aluminum": "wrought aluminium", "forged aluminium": "wrought aluminium", "billet aluminium": "wrought aluminium",
	"cast magnesium": "magnesium", "iron": "grey iron", "cast iron": "grey iron", "gray iron": "grey iron", "grey cast iron": "grey iron",
	"mild steel": "steel",
}

// MaterialNames lists the materials, the plain words first.
func MaterialNames() []string {
	names := make([]string, len(materials))
	for i, m := range materials {
		names[i] = m.Name
	}
	return names
}

// ParseMaterial finds a material by name, in any letter case. "aluminium" alone means cast.
// An unknown name is an error that gives the nearest.
func ParseMaterial(text string) (Material, error) {
	name := fold(text)
	if other, ok := alsoCalled[name]; ok {
		name = other
	}
	i := slices.IndexFunc(materials, func(m Material) bool { return fold(m.Name) == name })
	if i < 0 {
		return Material{}, fmt.Errorf("no material %s; the nearest are %s", quoted(text), choice(near.Ranked(text, MaterialNames(), 3)))
	}
	return materials[i], nil
}

// check says what is wrong with a material made by hand.
func (m Material) check() error {
	if !(m.ShearMPa > 0 && m.TensileMPa > 0) {
		return fmt.Errorf("material %s has shear strength %v and tensile strength %v MPa; give both over 0", quoted(m.Name), m.ShearMPa, m.TensileMPa)
	}
	return nil
}
