package estimate

import (
	"strings"

	"evenpull/spec"
	"evenpull/spec/clamp/neighbours"
)

// Plate finds the material by its last word: "cast aluminium" is aluminium.
func Plate(c *spec.Cover) (neighbours.MaterialPreset, error) {
	m, err := neighbours.MaterialByName(c.Material)
	if err == nil {
		return m, nil
	}
	if words := strings.Fields(c.Material); len(words) > 0 {
		if last, plain := neighbours.MaterialByName(words[len(words)-1]); plain == nil {
			return last, nil
		}
	}
	return m, err
}

// Seat finds the preset of the joint face. "metal" is bare metal.
func Seat(c *spec.Cover) (neighbours.FacePreset, error) {
	if strings.EqualFold(c.Face, "metal") {
		return neighbours.FaceByName("bare metal")
	}
	return neighbours.FaceByName(c.Face)
}
