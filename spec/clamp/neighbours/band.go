package neighbours

import (
	"fmt"
	"math"
	"slices"
)

// How far the models were from solids, set from the rows and rims of the grid and held
// against the heads and pans (grid_test.go): two hundredths, and a quarter of what the
// neighbours take or give.
const (
	bandFloor = 0.02
	bandPart  = 0.25
)

// Band gives the least and the most that a share of clamp may really be (1: all that
// was set) when models of the same joint, from the one end of what is not known of
// it to the other, give these shares. It never goes under 0.
func Band(shares ...float64) (low, high float64) {
	low, high = shares[0], shares[0]
	for _, s := range shares[1:] {
		low, high = min(low, s), max(high, s)
	}
	return max(0, low-slop(low)), high + slop(high)
}

func slop(share float64) float64 {
	off := 1 - share
	return bandFloor + bandPart*max(off, -off)
}

// Where the models were compared with solids and held (grid_test.go). Bolts closer to each
// other than the cover is thick are coupled by more than its bending; closer than a
// third of λ of the rim, the cover moves as one piece, and its outline decides.
const (
	leastThickness, mostThickness = 0.75, 5.0 // in bolt diameters
	leastSpacing                  = 3.0       // in bolt diameters
	leastShare                    = 1.0 / 3   // of λ
)

// Uncompared says how a joint lies outside of what was compared with solids, given the
// diameter of each bolt in mm; "" if it doesn't. A Band of such a joint says nothing.
func (j Joint) Uncompared(diametersMM []float64) string {
	thin, thick := slices.Min(diametersMM), slices.Max(diametersMM)
	t := j.Plate.ThicknessMM
	if t < leastThickness*thick || t > mostThickness*thin {
		return fmt.Sprintf("cover %.3g mm thick on bolts of %.3g to %.3g mm: outside %.3g to %.3g diameters", t, thin, thick, leastThickness, mostThickness)
	}
	span := newRimBeam(j.Plate, j.Face, 1).lengthMM * leastShare
	for i, b := range j.Bolts {
		for k, c := range j.Bolts[:i] {
			apart := math.Hypot(b.XMM-c.XMM, b.YMM-c.YMM)
			why := ""
			switch d := max(diametersMM[i], diametersMM[k]); {
			case apart < leastSpacing*d:
				why = fmt.Sprintf("under %.3g diameters", leastSpacing)
			case apart < t:
				why = "closer than the cover is thick"
			case apart < span:
				why = fmt.Sprintf("so close on so soft a face (under %.3g mm) that the cover moves as one piece", span)
			default:
				continue
			}
			return fmt.Sprintf("%s and %s are %.3g mm apart: %s", c.ID, b.ID, apart, why)
		}
	}
	return ""
}
