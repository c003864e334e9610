package bolt

import (
	"fmt"
	"math"
	"slices"
)

// Head names a head form.
type Head string

// The head forms with a table here.
const (
	Hexagon Head = "hexagon" // ISO 4014, ISO 4017; ASME B18.2.1 for inch sizes
	Socket  Head = "socket"  // ISO 4762
	Flange  Head = "flange"  // EN 1665
)

// Fit names a series of clearance holes (ISO 273).
type Fit string

// The series of ISO 273.
const (
	Fine   Fit = "fine"
	Medium Fit = "medium"
	Coarse Fit = "coarse"
)

// bySize is a table by size. Go lays it out in the program as it is, where a
// map would be filled again at every start.
type bySize[T any] []struct {
	size  float64
	value T
}

func (t bySize[T]) at(size float64) (value T, listed bool) {
	for _, row := range t {
		if row.size == size {
			return row.value, true
		}
	}
	return value, false
}

// hexagonBearing is the smallest bearing diameter dw of ISO 4014 and ISO 4017 by size: grade A to
// M24, grade B above. Read in print to M24, or the rule of ISO 4759-1 (head_test.go).
var hexagonBearing = bySize[float64]{
	{1.6, 2.27}, {2, 3.07}, {2.5, 4.07}, {3, 4.57}, {3.5, 5.07}, {4, 5.88}, {5, 6.88}, {6, 8.88}, {8, 11.63}, {10, 14.63}, {12, 16.63}, {14, 19.64}, {16, 22.49}, {18, 25.34},
	{20, 28.19}, {22, 31.71}, {24, 33.61}, {27, 38}, {30, 42.75}, {33, 46.55}, {36, 51.11}, {39, 55.86}, {42, 59.95}, {45, 64.7}, {48, 69.45}, {52, 74.2}, {56, 78.66}, {60, 83.41}, {64, 88.16},
}

// socketBearing is the smallest dw of ISO 4762, read in print.
var socketBearing = bySize[float64]{
	{1.6, 2.72}, {2, 3.48}, {2.5, 4.18}, {3, 5.07}, {4, 6.53}, {5, 8.03}, {6, 9.38}, {8, 12.33}, {10, 15.33}, {12, 17.23}, {14, 20.17}, {16, 23.17}, {20, 28.87}, {24, 34.81}, {30, 43.61}, {36, 52.54},
	{42, 61.34}, {48, 70.34}, {56, 82.26}, {64, 94.26},
}

// flangeBearing is the smallest dw of EN 1665, read in print.
var flangeBearing = bySize[float64]{{5, 9.8}, {6, 12.2}, {8, 15.8}, {10, 19.6}, {12, 23.8}, {14, 27.6}, {16, 31.9}, {20, 39.9}}

// clearance holes of ISO 273: fine, medium, coarse; read in print.
var metricHoles = bySize[[3]float64]{
	{1.6, [3]float64{1.7, 1.8, 2}}, {2, [3]float64{2.2, 2.4, 2.6}}, {2.5, [3]float64{2.7, 2.9, 3.1}}, {3, [3]float64{3.2, 3.4, 3.6}}, {3.5, [3]float64{3.7, 3.9, 4.2}}, {4, [3]float64{4.3, 4.5, 4.8}},
	{5, [3]float64{5.3, 5.5, 5.8}}, {6, [3]float64{6.4, 6.6, 7}}, {7, [3]float64{7.4, 7.6, 8}}, {8, [3]float64{8.4, 9, 10}}, {10, [3]float64{10.5, 11, 12}}, {12, [3]float64{13, 13.5, 14.5}}, {14, [3]float64{15, 15.5, 16.5}},
	{16, [3]float64{17, 17.5, 18.5}}, {18, [3]float64{19, 20, 21}}, {20, [3]float64{21, 22, 24}}, {22, [3]float64{23, 24, 26}}, {24, [3]float64{25, 26, 28}}, {27, [3]float64{28, 30, 32}}, {30, [3]float64{31, 33, 35}}, {33, [3]float64{34, 36, 38}},
	{36, [3]float64{37, 39, 42}}, {39, [3]float64{40, 42, 45}}, {42, [3]float64{43, 45, 48}}, {45, [3]float64{46, 48, 52}}, {48, [3]float64{50, 52, 56}}, {52, [3]float64{54, 56, 62}}, {56, [3]float64{58, 62, 66}}, {60, [3]float64{62, 66, 70}}, {64, [3]float64{66, 70, 74}},
}

// inchFlats is the width across flats of ASME B18.2.1 hexagon cap screws, in 1/16 in by
// diameter in 1/16 in; inchHoles the normal clearance hole of ASME B18.2.8 in 1/32 in, which has no 9/16.
// Both are read in print.
var (
	inchFlats = bySize[float64]{{4, 7}, {5, 8}, {6, 9}, {7, 10}, {8, 12}, {9, 13}, {10, 15}, {12, 18}, {14, 21}, {16, 24}, {18, 27}, {20, 30}, {22, 33}, {24, 36}}
	inchHoles = bySize[float64]{{4, 9}, {5, 11}, {6, 13}, {7, 15}, {8, 18}, {10, 22}, {12, 26}, {14, 30}, {16, 35}, {18, 39}, {20, 43}, {22, 48}, {24, 52}}
)

// ParseHead reads a head form; unknown ones are refused with the list.
func ParseHead(text string) (Head, error) {
	switch fold(text) {
	case "hexagon", "hex", "hex head":
		return Hexagon, nil
	case "socket", "socket head", "cap":
		return Socket, nil
	case "flange", "flanged", "hex flange":
		return Flange, nil
	}
	return "", fmt.Errorf("no head form %s; write hexagon, socket or flange, or give the bearing diameter", quoted(text))
}

// BearingMM is the smallest outside diameter of the ring the head bears on, in mm, and
// where the figure comes from. A size that the head's standard doesn't list is estimated
// and said to be.
func (h Head) BearingMM(t Thread) (mm float64, source string) {
	if t.Inch {
		if flats, ok := inchFlats.at(sixteenths(t)); ok && h == Hexagon {
			return 0.95 * flats * inchMM / 16, "0.95 (from memory) of the width across flats of ASME B18.2.1"
		}
		return h.guess(t)
	}
	table, standard := hexagonBearing, "ISO 4014, read in print or by the rule of ISO 4759-1"
	switch h {
	case Socket:
		table, standard = socketBearing, "ISO 4762, read in print"
	case Flange:
		table, standard = flangeBearing, "EN 1665, read in print"
	}
	if mm, ok := table.at(t.DiameterMM); ok {
		return mm, standard
	}
	return h.guess(t)
}

// guess takes the usual ratio of bearing to thread diameter for a size no table lists.
func (h Head) guess(t Thread) (float64, string) {
	ratio := map[Head]float64{Hexagon: 1.42, Socket: 1.48, Flange: 1.97}[h]
	return ratio * t.DiameterMM, fmt.Sprintf("assumed %.2f × the thread diameter, the usual ratio; no %s head of this size is listed", ratio, h)
}

// ClearanceMM is the hole under the head in mm, and where the figure comes from. Inch sizes
// have the normal fit only.
func (f Fit) ClearanceMM(t Thread) (mm float64, source string) {
	if t.Inch {
		if hole, ok := inchHoles.at(sixteenths(t)); ok {
			return hole * inchMM / 32, "ASME B18.2.8 normal, read in print"
		}
	}
	i := max(0, slices.Index([]Fit{Fine, Medium, Coarse}, f))
	if holes, ok := metricHoles.at(t.DiameterMM); ok && !t.Inch {
		return holes[i], "ISO 273 " + string(f) + ", read in print"
	}
	ratio := []float64{1.06, 1.1, 1.18}[i]
	return ratio * t.DiameterMM, fmt.Sprintf("assumed %.2f × the thread diameter; no clearance hole of this size is listed", ratio)
}

func sixteenths(t Thread) float64 { return math.Round(t.DiameterMM/inchMM*16*1e6) / 1e6 }
