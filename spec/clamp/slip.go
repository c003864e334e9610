package clamp

import (
	"fmt"
	"math"

	"evenpull/spec/bolt"
)

// unitNm is each unit a sheet may use, in N·m (exact: pound-force, foot and standard gravity).
var unitNm = map[string]float64{
	"N·m": 1, "lbf·ft": 1.3558179483314004, "lbf·in": 0.1129848290276167, "kgf·m": 9.80665, "kgf·cm": 0.0980665,
}

// slip is one way a figure goes wrong: the number was meant in one unit and read in another.
type slip struct{ read, meant string }

// slips are the usual ones, the likeliest first (common practice, no source).
var slips = []slip{
	{"N·m", "lbf·ft"}, {"lbf·ft", "lbf·in"}, {"lbf·ft", "N·m"}, {"lbf·in", "lbf·ft"}, {"N·m", "lbf·in"},
	{"N·m", "kgf·m"}, {"N·m", "kgf·cm"}, {"kgf·m", "N·m"}, {"kgf·m", "lbf·ft"}, {"kgf·m", "kgf·cm"}, {"lbf·in", "N·m"}, {"kgf·cm", "kgf·m"},
}

// explain offers the nearest cause of a figure that is far too high or too low: a unit misread,
// else another size's figure, else a point in the wrong place. "" if nothing fits.
func (j Joint) explain(s Stage, a Assessment) string {
	perNm := a.Utilisation / (s.TorqueNm - j.PrevailingNm)
	middle := (likelyLow + likelyTop) / 2
	best, far := "", math.Inf(1)
	for _, slip := range slips {
		if s.Unit != "" && slip.read != s.Unit {
			continue
		}
		meant := s.TorqueNm * unitNm[slip.meant] / unitNm[slip.read]
		share := meant * perNm
		if off := math.Abs(math.Log(share / middle)); share >= likelyLow && share <= likelyTop && off < far {
			far = off
			best = fmt.Sprintf("it looks like a figure in %s read as %s: %s %s is %s N·m, %.0f %% of yield",
				slip.meant, slip.read, Digits(s.TorqueNm/unitNm[slip.read], 4), slip.meant, Digits(meant, 3), 100*share)
		}
	}
	if best != "" {
		return best
	}
	return j.otherSize(s)
}

// usualSizes are the coarse threads whose figures stand beside each other on a sheet.
var usualSizes = []string{"M5", "M6", "M8", "M10", "M12", "M14", "M16", "M18", "M20"}

// otherSize names the usual size, of the same class, that the figure would suit best.
func (j Joint) otherSize(s Stage) string {
	middle := (likelyLow + likelyTop) / 2
	best, far := "", math.Inf(1)
	for _, size := range usualSizes {
		t, err := bolt.ParseThread(size)
		if err != nil || t.DiameterMM == j.Thread.DiameterMM {
			continue
		}
		a, err := Joint{Thread: t, Class: j.Class, Friction: j.Friction, HeadFriction: j.HeadFriction}.Assess(s.TorqueNm)
		if err != nil || a.Utilisation < likelyLow || a.Utilisation > likelyTop {
			continue
		}
		if off := math.Abs(math.Log(a.Utilisation / middle)); off < far {
			far = off
			best = fmt.Sprintf("it looks like the figure of another size: it suits %s (%.0f %% of yield)", size, 100*a.Utilisation)
		}
	}
	return best
}
