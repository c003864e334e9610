package clamp

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"evenpull/spec/bolt"
	"evenpull/spec/quantity"
)

// unitNm is each unit a sheet may use, in N·m.
var unitNm = sync.OnceValue(func() map[string]float64 {
	sizes := map[string]float64{}
	for _, u := range quantity.Units(quantity.TorqueKind) {
		sizes[u.Symbol()] = u.Size()
	}
	return sizes
})

// slip is one way a figure goes wrong: the number was meant in one unit and read in another.
// How often is a guess (common practice, no source); it only orders the causes that fit.
type slip struct {
	read, meant string
	often       float64
}

var slips = []slip{
	{"N·m", "lbf·ft", 0.35}, {"N·m", "kgf·m", 0.20}, {"N·m", "lbf·in", 0.15}, {"N·m", "kgf·cm", 0.06},
	{"lbf·ft", "lbf·in", 0.35}, {"lbf·ft", "N·m", 0.35}, {"lbf·ft", "kgf·m", 0.05},
	{"lbf·in", "lbf·ft", 0.35}, {"lbf·in", "N·m", 0.15}, {"lbf·in", "kgf·cm", 0.05},
	{"kgf·m", "N·m", 0.30}, {"kgf·m", "lbf·ft", 0.10}, {"kgf·m", "kgf·cm", 0.20},
	{"kgf·cm", "kgf·m", 0.20}, {"kgf·cm", "N·m", 0.10}, {"kgf·cm", "lbf·in", 0.05},
	{"cN·m", "N·m", 0.30}, {"N·m", "cN·m", 0.04}, {"daN·m", "N·m", 0.30},
}

// A mistaken figure is taken for another that a sheet may well ask for: within these shares
// of yield, and less likely outside the usual ones (common practice, no source).
const (
	likelyLow = 0.45
	usualLow  = 0.65
	usualTop  = 0.92 // tables print 90 %
	likelyTop = 1.0

	lightSnug = 0.20 // before a turn or a stretch
	lightPlug = 0.08 // for what is light on purpose
)

// cause is one explanation of a figure that is far off.
type cause struct {
	kind   string // "unit", "point", "class", "size"
	text   string
	weight float64
}

// likelyFrom are the shares of yield from which a stage's right figure is to be looked for,
// and from which it is a usual one.
func (j Joint) likelyFrom(s Pull) (low, usual float64) {
	switch {
	case s.Light != "":
		return lightPlug, lightPlug
	case s.TurnDegrees > 0 || s.StretchHighMM > 0:
		return lightSnug, lightSnug
	case j.least(s) < likelyLow:
		return j.least(s), j.least(s)
	}
	return likelyLow, usualLow
}

// fits weighs a cause by how usual it is and how usual the share of yield it leads to; 0 when
// it leads outside what a sheet asks for.
func (j Joint) fits(s Pull, often, share float64) float64 {
	low, usual := j.likelyFrom(s)
	if share < low || share > likelyTop {
		return 0
	}
	off := 0.0
	switch {
	case share < usual:
		off = math.Log(usual/share) / 0.15
	case share > usualTop:
		off = math.Log(share/usualTop) / 0.06
	}
	return often * math.Exp(-off*off/2)
}

// hint offers the likeliest causes of a figure that is far too high or too low, the first of
// them first: a unit misread, a point in the wrong place, another size's or class's figure.
// "" if nothing fits.
func (j Joint) hint(s Pull, a Assessment) string {
	causes := slices.Concat(j.otherUnits(s, a), j.movedPoints(s, a), j.otherClasses(s, a), j.otherSizes(s))
	causes = slices.DeleteFunc(causes, func(c cause) bool { return c.weight == 0 })
	slices.SortStableFunc(causes, func(x, y cause) int { return cmp.Compare(y.weight, x.weight) })
	if len(causes) == 0 {
		return ""
	}
	first := causes[0]
	for _, second := range causes[1:] {
		if second.weight < first.weight/6 {
			break
		}
		if second.kind != first.kind || first.kind == "unit" {
			return "; it looks like " + first.text + ", or " + second.text
		}
	}
	return "; it looks like " + first.text
}

// written is the figure in the unit of the sheet; in N·m when that is not known.
func written(s Pull) (float64, string) {
	if by := unitNm()[s.Unit]; by > 0 {
		return math.Round(s.TorqueNm/by*1e6) / 1e6, s.Unit // 30 lbf·ft, not 30.000000000000004
	}
	return s.TorqueNm, "N·m"
}

// perNm is the share of yield for each N·m on the bolt.
func (j Joint) perNm(s Pull, a Assessment) float64 {
	return a.Utilisation / (s.TorqueNm - j.PrevailingNm)
}

func (j Joint) otherUnits(s Pull, a Assessment) []cause {
	var list []cause
	for _, slip := range slips {
		if s.Unit != "" && slip.read != s.Unit {
			continue
		}
		meant := s.TorqueNm * unitNm()[slip.meant] / unitNm()[slip.read]
		share := meant * j.perNm(s, a)
		figure := fmt.Sprintf("%s %s is %s N·m", Digits(s.TorqueNm/unitNm()[slip.read], 4), slip.meant, Digits(meant, 3))
		if slip.meant == "N·m" {
			figure = Digits(meant, 4) + " N·m"
		}
		list = append(list, cause{"unit", fmt.Sprintf("a figure in %s read as %s: %s, %.0f %% of yield", slip.meant, slip.read, figure, 100*share), j.fits(s, slip.often, share)})
	}
	return list
}

// movedPoints moves the point. Ten times too much is likelier for a figure that ends in 0, and
// too little for one with a point; a thousand times too little is a thousands mark read as a decimal point.
func (j Joint) movedPoints(s Pull, a Assessment) []cause {
	figure, unit := written(s)
	var list []cause
	for _, moved := range []struct{ by, often float64 }{{0.1, 0.20}, {10, 0.20}, {0.01, 0.05}, {100, 0.05}, {1000, 0.05}} {
		often := moved.often
		if moved.by == 0.1 && math.Mod(figure, 10) != 0 || moved.by == 10 && math.Mod(figure, 1) == 0 {
			often /= 2
		}
		share := a.Utilisation * moved.by
		list = append(list, cause{"point", fmt.Sprintf("a point in the wrong place: %s %s would be %.0f %% of yield", Digits(figure*moved.by, 5), unit, 100*share), j.fits(s, often, share)})
	}
	return list
}

// ladders are the classes a shop stocks beside each other, weakest first.
var ladders = [][]string{{"4.6", "5.8", "8.8", "10.9", "12.9"}, {"SAE 2", "SAE 5", "SAE 8"}}

// ladder is the classes beside a joint's own, of the same kind.
func (j Joint) ladder() []string {
	if steel, _, ok := strings.Cut(j.Class.Name, "-"); ok && j.Class.Standard == stainless {
		return []string{steel + "-50", steel + "-70", steel + "-80"}
	}
	if j.Thread.Inch {
		return ladders[1]
	}
	return ladders[0]
}

// otherClasses offers the stronger classes of the same thread, for a figure that is too high;
// the next one up is the likeliest.
func (j Joint) otherClasses(s Pull, a Assessment) []cause {
	var list []cause
	for _, name := range j.ladder() {
		other := j
		class, err := bolt.ParseClass(name)
		if err != nil {
			continue
		}
		other.Class = class
		b, err := other.Assess(s.TorqueNm)
		if err != nil || a.Utilisation < 1 || b.Utilisation >= a.Utilisation {
			continue
		}
		often := []float64{0.30, 0.12, 0.04}[min(len(list), 2)]
		list = append(list, cause{"class", fmt.Sprintf("the figure of a stronger class: it suits %s (%.0f %% of yield)", name, 100*b.Utilisation), j.fits(s, often, b.Utilisation)})
	}
	return list
}

// The usual threads whose figures stand beside each other on a sheet.
var (
	usualMetric = []string{"M5", "M6", "M8", "M10", "M12", "M14", "M16", "M18", "M20", "M22", "M24"}
	usualUNC    = []string{"1/4-20 UNC", "5/16-18 UNC", "3/8-16 UNC", "7/16-14 UNC", "1/2-13 UNC", "9/16-12 UNC", "5/8-11 UNC", "3/4-10 UNC"}
	usualUNF    = []string{"1/4-28 UNF", "5/16-24 UNF", "3/8-24 UNF", "7/16-20 UNF", "1/2-20 UNF", "9/16-18 UNF", "5/8-18 UNF", "3/4-16 UNF"}
)

// otherSizes offers the usual sizes of the same class; the next one up or down is the likeliest.
func (j Joint) otherSizes(s Pull) []cause {
	sizes := usualMetric
	switch j.Thread.Series {
	case "UNC":
		sizes = usualUNC
	case "UNF", "UNEF", "UN", "UNS":
		sizes = usualUNF
	}
	type sized struct {
		joint Joint
		share float64
	}
	var all []sized
	here := 0 // how many are smaller
	for _, size := range sizes {
		t, err := bolt.ParseThread(size)
		if err != nil || t.DiameterMM == j.Thread.DiameterMM {
			continue
		}
		if t.DiameterMM < j.Thread.DiameterMM {
			here++
		}
		other := Joint{Thread: t, Class: j.Class, Friction: j.Friction, HeadFriction: j.HeadFriction}
		a, err := other.Assess(s.TorqueNm)
		if err != nil {
			continue
		}
		all = append(all, sized{other, a.Utilisation})
	}
	var list []cause
	for i, o := range all {
		away := here - i // smaller ones end at here-1, larger ones begin at here
		if i >= here {
			away = i - here + 1
		}
		name := o.joint.Thread.Name
		if !o.joint.Thread.Inch {
			name = "M" + Digits(o.joint.Thread.DiameterMM, 4)
		}
		often := []float64{0.25, 0.25, 0.10, 0.04}[min(away, 3)]
		list = append(list, cause{"size", fmt.Sprintf("the figure of another size: it suits %s (%.0f %% of yield)", name, 100*o.share), o.joint.fits(s, often, o.share)})
	}
	return list
}
