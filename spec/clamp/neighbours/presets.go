package neighbours

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/spec/near"
)

// FacePreset is a kind of joint face. Real faces differ by more than a factor of
// two either way, so a page should show what Low and High give as well.
type FacePreset struct {
	Name     string
	Face     Face
	LowFace  Face // softest to expect
	HighFace Face // stiffest to expect
	Basis    string
}

// MaterialPreset is a cover material with typical elastic constants.
type MaterialPreset struct {
	Name       string
	ElasticMPa float64
	Poisson    float64
	Basis      string
}

func face(name string, k, low, high float64, basis string) FacePreset {
	return FacePreset{Name: name, Face: Face{k}, LowFace: Face{low}, HighFace: Face{high}, Basis: basis}
}

// The moduli are pressure over closing in N/mm³: 1000 N/mm³ is 1 MPa for each µm.
var facePresets = []FacePreset{
	face("bare metal", 10000, 3500, 50000, "assumed; published tests of machined faces give 3500 to 8800 N/mm³ already at 6.3 MPa "+
		"(read second-hand in an encyclopaedia article on normal contact stiffness), and more under bolt pressure"),
	face("sealant film", 8000, 2000, 30000, "assumed: the film is squeezed out of the high spots, so near bare metal"),
	face("multi-layer steel", 3000, 1000, 10000, "assumed: flattened beads closing about 10 µm more under 30 MPa"),
	face("paper", 200, 50, 1000, "assumed: 0.5 mm thick, 100 MPa in compression"),
	face("rubber", 5, 1, 30, "assumed: 2 mm thick, 10 MPa in compression, held at the sides"),
}

const textbook = "typical; Shigley, Mechanical Engineering Design, table A-5, from memory"

var materialPresets = []MaterialPreset{
	{"aluminium", 71700, 0.333, textbook},
	{"iron", 100000, 0.211, textbook + " (grey cast iron; other irons are stiffer)"},
	{"steel", 207000, 0.292, textbook + " (carbon steel)"},
	{"magnesium", 44800, 0.350, textbook},
}

// FaceNames lists the joint-face presets, stiffest first.
func FaceNames() []string {
	return names(facePresets, func(p FacePreset) string { return p.Name })
}

// MaterialNames lists the cover materials.
func MaterialNames() []string {
	return names(materialPresets, func(p MaterialPreset) string { return p.Name })
}

// FaceByName finds a joint-face preset, in any letter case. An unknown name is
// an error that gives the nearest one.
func FaceByName(name string) (FacePreset, error) {
	return find("joint face", name, facePresets, FaceNames())
}

// MaterialByName finds a cover material as FaceByName does a face.
func MaterialByName(name string) (MaterialPreset, error) {
	return find("cover material", name, materialPresets, MaterialNames())
}

func names[P any](presets []P, name func(P) string) []string {
	list := make([]string, len(presets))
	for i, p := range presets {
		list[i] = name(p)
	}
	return list
}

func find[P any](what, name string, presets []P, list []string) (P, error) {
	i := slices.Index(list, strings.ToLower(strings.TrimSpace(name)))
	if i < 0 {
		var none P
		return none, fmt.Errorf("no %s %q; %s", what, name, suggestion(name, list))
	}
	return presets[i], nil
}

// suggestion ends an error: the nearest of the names if one is near, and what
// there is to choose from, cut short when there is much.
func suggestion(name string, list []string) string {
	if best := near.Best(name, list); best != "" {
		return fmt.Sprintf("did you mean %q?", best)
	}
	if len(list) > 8 {
		list = append(slices.Clone(list[:8]), "…")
	}
	return "known are " + strings.Join(list, ", ")
}
