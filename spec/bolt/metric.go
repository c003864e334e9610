package bolt

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"evenpull/spec/pattern"
)

// metricSize is one nominal diameter with its standard pitches in mm.
type metricSize struct {
	diameter float64
	coarse   float64   // 0: the size has no coarse pitch
	fine     []float64 // coarsest first
}

// metricSizes are the sizes of ISO 261 up to 100 mm, read in print (testdata/published/sizes.csv).
var metricSizes = []metricSize{
	{1, 0.25, []float64{0.2}}, {1.1, 0.25, []float64{0.2}}, {1.2, 0.25, []float64{0.2}}, {1.4, 0.3, []float64{0.2}}, {1.6, 0.35, []float64{0.2}},
	{1.8, 0.35, []float64{0.2}}, {2, 0.4, []float64{0.25}}, {2.2, 0.45, []float64{0.25}}, {2.5, 0.45, []float64{0.35}},
	{3, 0.5, []float64{0.35}}, {3.5, 0.6, []float64{0.35}}, {4, 0.7, []float64{0.5}}, {4.5, 0.75, []float64{0.5}},
	{5, 0.8, []float64{0.5}}, {5.5, 0, []float64{0.5}}, {6, 1, []float64{0.75}}, {7, 1, []float64{0.75}},
	{8, 1.25, []float64{1, 0.75}}, {9, 1.25, []float64{1, 0.75}}, {10, 1.5, []float64{1.25, 1, 0.75}}, {11, 1.5, []float64{1, 0.75}},
	{12, 1.75, []float64{1.5, 1.25, 1}}, {14, 2, []float64{1.5, 1.25, 1}}, {15, 0, []float64{1.5, 1}}, {16, 2, []float64{1.5, 1}},
	{17, 0, []float64{1.5, 1}}, {18, 2.5, []float64{2, 1.5, 1}}, {20, 2.5, []float64{2, 1.5, 1}}, {22, 2.5, []float64{2, 1.5, 1}},
	{24, 3, []float64{2, 1.5, 1}}, {25, 0, []float64{2, 1.5, 1}}, {26, 0, []float64{1.5}}, {27, 3, []float64{2, 1.5, 1}},
	{28, 0, []float64{2, 1.5, 1}}, {30, 3.5, []float64{3, 2, 1.5, 1}}, {32, 0, []float64{2, 1.5}}, {33, 3.5, []float64{3, 2, 1.5}},
	{35, 0, []float64{1.5}}, {36, 4, []float64{3, 2, 1.5}}, {38, 0, []float64{1.5}}, {39, 4, []float64{3, 2, 1.5}},
	{40, 0, []float64{3, 2, 1.5}}, {42, 4.5, []float64{4, 3, 2, 1.5}}, {45, 4.5, []float64{4, 3, 2, 1.5}}, {48, 5, []float64{4, 3, 2, 1.5}},
	{50, 0, []float64{3, 2, 1.5}}, {52, 5, []float64{4, 3, 2, 1.5}}, {55, 0, []float64{4, 3, 2, 1.5}}, {56, 5.5, []float64{4, 3, 2, 1.5}},
	{58, 0, []float64{4, 3, 2, 1.5}}, {60, 5.5, []float64{4, 3, 2, 1.5}}, {62, 0, []float64{4, 3, 2, 1.5}}, {64, 6, []float64{4, 3, 2, 1.5}},
	{65, 0, []float64{4, 3, 2, 1.5}}, {68, 6, []float64{4, 3, 2, 1.5}}, {70, 0, []float64{6, 4, 3, 2, 1.5}}, {72, 0, []float64{6, 4, 3, 2, 1.5}},
	{75, 0, []float64{4, 3, 2, 1.5}}, {76, 0, []float64{6, 4, 3, 2, 1.5}}, {78, 0, []float64{2}}, {80, 0, []float64{6, 4, 3, 2, 1.5}}, {82, 0, []float64{2}}, {85, 0, []float64{6, 4, 3, 2}},
	{90, 0, []float64{6, 4, 3, 2}}, {95, 0, []float64{6, 4, 3, 2}}, {100, 0, []float64{6, 4, 3, 2}},
}

// metricPitches are the pitches of ISO 261, in mm.
var metricPitches = []float64{0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6, 0.7, 0.75, 0.8, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6}

var metricForm = pattern.Of(`^m(\d+(?:\.\d+)?)(?:[x*-](\d+(?:\.\d+)?))?(?:-\d[a-h](?:\d[a-h])?)?$`)

// coarsest is the widest standard pitch of the size.
func (s metricSize) coarsest() float64 {
	if s.coarse > 0 {
		return s.coarse
	}
	return s.fine[0]
}

func (s metricSize) thread(pitch float64) Thread {
	series := "ISO special pitch"
	switch {
	case pitch == s.coarse:
		series = "ISO coarse"
	case slices.Contains(s.fine, pitch):
		series = "ISO fine"
	}
	name := "M" + number(s.diameter) + "x" + number(pitch)
	return Thread{Name: name, Series: series, DiameterMM: s.diameter, PitchMM: pitch}
}

// parseMetric reads a metric thread. A pitch that ISO 261 doesn't list for the size
// passes only if it is a standard pitch finer than the size's coarsest (a special
// fine thread); a coarser one is a slip.
func parseMetric(text, s string) (Thread, error) {
	s = strings.NewReplacer(" ", "", "×", "x", ",", ".").Replace(s)
	found := metricForm.RE().FindStringSubmatch(s)
	if found == nil {
		return Thread{}, fmt.Errorf("thread %s cannot be read; write a metric one as M8x1.25, or M8 for coarse", quoted(text))
	}
	diameter, _ := strconv.ParseFloat(found[1], 64) // the form leaves only digits
	pitch, _ := strconv.ParseFloat(found[2], 64)    // 0 if not given
	i := slices.IndexFunc(metricSizes, func(m metricSize) bool { return m.diameter == diameter })
	if i < 0 {
		return Thread{}, unknownMetric(text, diameter, pitch)
	}
	size := metricSizes[i]
	switch {
	case found[2] == "" && size.coarse > 0:
		return size.thread(size.coarse), nil
	case found[2] == "":
		return Thread{}, fmt.Errorf("thread %s has no coarse pitch; write %s", quoted(text), choice(nearestMetric(diameter, size.fine[0])))
	case slices.Contains(metricPitches, pitch) && pitch <= size.coarsest():
		return size.thread(pitch), nil
	}
	return Thread{}, unknownMetric(text, diameter, pitch)
}

func unknownMetric(text string, diameter, pitch float64) error {
	return fmt.Errorf("no standard thread %s; the nearest are %s", quoted(text), choice(nearestMetric(diameter, pitch)))
}

// nearestMetric names the three standard threads nearest in size and pitch; pitch 0
// looks at coarse threads only.
func nearestMetric(diameter, pitch float64) []string {
	type candidate struct {
		name string
		off  float64
	}
	var all []candidate
	add := func(m metricSize, p float64) {
		off := 4 * math.Abs(math.Log(m.diameter/diameter))
		if pitch > 0 {
			off += math.Abs(math.Log(p / pitch))
		}
		all = append(all, candidate{m.thread(p).Name, off})
	}
	for _, m := range metricSizes {
		if m.coarse > 0 {
			add(m, m.coarse)
		}
		for _, p := range m.fine {
			if pitch > 0 {
				add(m, p)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(a.off, b.off) })
	names := make([]string, 3)
	for i := range names {
		names[i] = all[i].name
	}
	return names
}

// number prints a size without needless zeros.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
