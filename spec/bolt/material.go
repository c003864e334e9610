package bolt

import (
	"fmt"
	"slices"

	"evenpull/spec/near"
)

// Material is what a thread is cut into, or what is clamped.
type Material struct {
	Name           string
	ShearMPa       float64 // shear strength, typical
	TensileMPa     float64 // tensile strength Rm, typical
	LeastMPa       float64 // tensile strength Rm, minimum of its standard
	ElasticGPa     float64 // modulus of elasticity
	ExpansionPerMK float64 // linear expansion, 10⁻⁶ for each kelvin
	Source         string  // of the typical strengths
}

// Sources of the figures below. The minimums are those of ASTM B26, B108, B209 and B221, EN 1561
// and ASTM A36, from memory; expansion is read in print (Callister, Materials Science
// and Engineering, table B.6), for an alloy that the table hasn't got that of its nearest.
const (
	alloyTable = "typical-properties handbook table, read in print"
	castTable  = "Materials for Civil and Construction Engineers table 4.6, read in print"
	ratioVDI   = "tensile strength from memory, shear by the VDI 2230 ratio (from memory)"
)

// materials: the plain words first; each stands for the weaker of the usual alloys.
var materials = []Material{
	{"cast aluminium", 179, 228, 207, 72, 21.5, castTable + " (356.0-T6, sand cast)"},
	{"wrought aluminium", 205, 310, 260, 69, 23.6, alloyTable + " (6061-T6)"},
	{"magnesium", 145, 230, 195, 45, 26.0, "cast AZ91, typical, from memory; minimum taken as 0.85 of it"},
	{"grey iron", 248, 275, 250, 110, 11.4, ratioVDI + ": 0.90 of 275 MPa"},
	{"steel", 264, 440, 400, 205, 11.7, ratioVDI + ": 0.60 of 440 MPa"},
	{"356.0-T6 permanent mould", 221, 276, 228, 72, 21.5, castTable},
	{"356.0-T6 sand", 179, 228, 207, 72, 21.5, castTable},
	{"356.0-T7 permanent mould", 172, 228, 194, 72, 21.5, castTable + "; minimum taken as 0.85 of it"},
	{"356.0-T7 sand", 165, 234, 214, 72, 21.5, castTable},
	{"A357.0-T6 permanent mould", 296, 345, 310, 72, 21.5, castTable},
	{"2024-T3", 285, 485, 435, 73, 22.9, alloyTable},
	{"2024-T4", 285, 470, 425, 73, 22.9, alloyTable},
	{"6061-T6", 205, 310, 260, 69, 23.6, alloyTable},
	{"6063-T5", 115, 185, 150, 69, 23.6, alloyTable},
	{"7075-T6", 330, 570, 538, 72, 23.4, alloyTable},
}

// LeastShearMPa is the shear strength at the minimum tensile strength: the typical one,
// less in the same proportion.
func (m Material) LeastShearMPa() float64 { return m.ShearMPa * m.LeastMPa / m.TensileMPa }

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
	if !(m.ShearMPa > 0 && m.LeastMPa > 0 && m.TensileMPa >= m.LeastMPa) {
		return fmt.Errorf("material %s has shear strength %v, tensile strength %v and at least %v MPa; give all over 0, the least no higher than the typical", quoted(m.Name), m.ShearMPa, m.TensileMPa, m.LeastMPa)
	}
	return nil
}
