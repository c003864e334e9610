package bolt

import (
	"fmt"
	"strings"
)

// Metal is what a bolt is made of, for its stretch and its growth with heat.
type Metal struct {
	Name           string
	ElasticGPa     float64 // modulus of elasticity
	ExpansionPerMK float64 // linear expansion, 10⁻⁶ for each kelvin
	Source         string
}

const callister = "Callister tables B.2 and B.6, read in print"

// metals: the first is that of ISO 898-1 and SAE J429. Its expansion is the middle of the table's
// carbon and alloy steels, 11.3 to 12.3.
var metals = []Metal{
	{"steel", 205, 11.7, callister + "; modulus common practice"},
	{"stainless steel", 193, 17.2, callister + " (alloy 304)"},
	{"titanium", 114, 8.6, callister + " (Ti-6Al-4V); modulus from memory"},
}

// Metal is what the bolts of a class are made of: stainless for the austenitic steel groups
// of ISO 3506-1, else steel.
func (c Class) Metal() Metal {
	if c.Standard == iso3506 && strings.HasPrefix(c.Name, "A") {
		return metals[1]
	}
	return metals[0]
}

// MetalNames lists the metals a bolt may be of.
func MetalNames() []string {
	names := make([]string, len(metals))
	for i, m := range metals {
		names[i] = m.Name
	}
	return names
}

// ParseMetal finds a bolt's metal by name, in any letter case; "stainless" alone will do.
// An unknown one is an error that lists them.
func ParseMetal(text string) (Metal, error) {
	name := fold(text)
	if name == "stainless" {
		name = "stainless steel"
	}
	for _, m := range metals {
		if m.Name == name {
			return m, nil
		}
	}
	return Metal{}, fmt.Errorf("no bolt metal %s; write %s", quoted(text), choice(MetalNames()))
}
