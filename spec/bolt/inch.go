package bolt

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"evenpull/spec/pattern"
)

// inchThread is one Unified thread: size as printed, diameter in inches, threads per inch.
type inchThread struct {
	size     string
	diameter float64
	perInch  float64
	series   string
}

// The standard series of ASME B1.1 (from memory; those in the published stress-area
// tables also read in print), as "size-threads" words.
var inchSeries = []struct{ series, words string }{
	{"UNC", "#1-64 #2-56 #3-48 #4-40 #5-40 #6-32 #8-32 #10-24 #12-24 1/4-20 5/16-18 3/8-16 7/16-14 1/2-13 9/16-12 5/8-11 3/4-10 " +
		"7/8-9 1-8 1-1/8-7 1-1/4-7 1-3/8-6 1-1/2-6 1-3/4-5 2-4.5 2-1/4-4.5 2-1/2-4 2-3/4-4 3-4 3-1/4-4 3-1/2-4 3-3/4-4 4-4"},
	{"UNF", "#0-80 #1-72 #2-64 #3-56 #4-48 #5-44 #6-40 #8-36 #10-32 #12-28 1/4-28 5/16-24 3/8-24 7/16-20 1/2-20 9/16-18 5/8-18 3/4-16 " +
		"7/8-14 1-12 1-1/8-12 1-1/4-12 1-3/8-12 1-1/2-12"},
	{"UNEF", "#12-32 1/4-32 5/16-32 3/8-32 7/16-28 1/2-28 9/16-24 5/8-24 11/16-24 3/4-20 13/16-20 7/8-20 15/16-20 1-20 1-1/16-18 1-1/8-18 " +
		"1-3/16-18 1-1/4-18 1-5/16-18 1-3/8-18 1-7/16-18 1-1/2-18 1-9/16-18 1-5/8-18 1-11/16-18"},
	{"UN", "1-1/8-8 1-1/4-8 1-3/8-8 1-1/2-8 1-5/8-8 1-3/4-8 1-7/8-8 2-8 2-1/4-8 2-1/2-8 5/8-12 3/4-12 7/8-12 1-5/8-12 1-3/4-12 2-12 " +
		"3/8-20 7/16-16 1/2-16 9/16-16 5/8-16 7/8-16 1-16 1-1/8-16 1-1/4-16 1-3/8-16 1-1/2-16 1-3/4-16 2-16"},
	{"UNS", "1/4-24 3/8-18 7/16-24 1/2-12 1/2-18 5/8-14 3/4-14 1-14 1-1/8-14 1-1/4-14 1-1/2-14"},
}

// inchThreads is worked out when the first inch thread is read.
var inchThreads = sync.OnceValue(inchTable)

func inchTable() []inchThread {
	var table []inchThread
	for _, s := range inchSeries {
		for _, word := range strings.Fields(s.words) {
			cut := strings.LastIndexByte(word, '-')
			n, _ := strconv.ParseFloat(word[cut+1:], 64)
			diameter, _ := inchDiameter(word[:cut])
			table = append(table, inchThread{word[:cut], diameter, n, s.series})
		}
	}
	return table
}

func (t inchThread) name() string { return t.size + "-" + number(t.perInch) + " " + t.series }

func (t inchThread) thread() Thread {
	diameter := math.Round(t.diameter*inchMM*1e6) / 1e6 // sizes are exact decimals of a millimetre
	return Thread{Name: t.name(), Series: t.series, DiameterMM: diameter, PitchMM: inchMM / t.perInch, Inch: true}
}

// sized reports whether the thread has that diameter in inches; ".312" is 5/16.
func (t inchThread) sized(diameter float64) bool { return math.Abs(t.diameter-diameter) < 0.0006 }

// fits reports whether threads per inch (0: not given) and series ("": not given) agree.
func (t inchThread) fits(perInch float64, series string) bool {
	return (perInch == 0 || t.perInch == perInch) && (series == "" || t.series == series || perInch > 0 && series == "UN")
}

// size, then threads per inch, then series, each but the first perhaps left out.
var inchForm = pattern.Of(`^(#?\d+|\d+/\d+|\d+[- ]\d+/\d+|\d*\.\d+)(?:[-x](\d+(?:\.\d+)?))?(?:-?(un|unc|unf|unef|uns|unr|unrc|unrf|unref))?(?:-\d[ab])?$`)

// inchDiameter reads "3/8", "1-1/8", "#10", "1" or ".375" as inches. Numbered sizes are
// 0.060 in + 0.013 in for each number (ASME B1.1).
func inchDiameter(size string) (float64, bool) {
	if number, ok := strings.CutPrefix(size, "#"); ok {
		n, err := strconv.Atoi(number)
		return 0.060 + 0.013*float64(n), err == nil && n <= 12
	}
	total := 0.0
	for _, part := range strings.FieldsFunc(size, func(r rune) bool { return r == '-' || r == ' ' }) {
		top, bottom, split := strings.Cut(part, "/")
		v, err := strconv.ParseFloat(top, 64)
		if err != nil {
			return 0, false
		}
		if split {
			b, err := strconv.ParseFloat(bottom, 64)
			if err != nil || b == 0 {
				return 0, false
			}
			v /= b
		}
		total += v
	}
	return total, total > 0
}

var (
	inchMarks   = strings.NewReplacer("×", "x", ",", ".", "″", "", "\"", "", "–", "-", "number", "#", "no.", "#", "no", "#", "№", "#", "in.", "")
	aroundMarks = pattern.Of(`\s*([-x#/])\s*`)
	beforeWords = pattern.Of(`\s+(u|tpi)`)
)

// tidyInch brings the spellings of a Unified thread to one: "3/8-16unc", "#10-32".
func tidyInch(s string) string {
	s = inchMarks.Replace(s)
	s = aroundMarks.RE().ReplaceAllString(s, "$1")
	s = beforeWords.RE().ReplaceAllString(s, "$1")
	return strings.TrimSuffix(strings.Replace(s, "tpi", "", 1), "-")
}

// parseInch reads a Unified thread. A size alone is refused when it could be coarse or
// fine; a series that contradicts the threads per inch is refused.
func parseInch(text, s string) (Thread, error) {
	found := inchForm.RE().FindStringSubmatch(tidyInch(s))
	if found == nil {
		return Thread{}, fmt.Errorf("thread %s cannot be read; write one such as M8x1.25, M8, 3/8-16 UNC or #10-32 UNF", quoted(text))
	}
	size, series := found[1], strings.ToUpper(strings.Replace(found[3], "unr", "un", 1))
	perInch, _ := strconv.ParseFloat(found[2], 64)
	diameter, ok := inchDiameter(size)
	numbered, bare := inchDiameter("#" + size) // "10-32" is #10, for there is no ten-inch thread here
	if bare && (!ok || diameter > 4) {
		diameter, ok = numbered, true
	}
	if !ok {
		return Thread{}, fmt.Errorf("no standard thread %s; write a size such as 3/8-16 UNC or #10-32 UNF", quoted(text))
	}
	var match []inchThread
	for _, t := range inchThreads() {
		if (t.sized(diameter) || bare && t.sized(numbered)) && t.fits(perInch, series) {
			match = append(match, t)
		}
	}
	if len(match) == 1 {
		return match[0].thread(), nil
	}
	if perInch == 0 && len(match) > 1 {
		return Thread{}, fmt.Errorf("thread %s has no threads per inch; write %s", quoted(text), choice(inchNames(match)))
	}
	return Thread{}, fmt.Errorf("no standard thread %s; the nearest are %s", quoted(text), choice(nearestInch(diameter, perInch)))
}

func inchNames(threads []inchThread) []string {
	names := make([]string, 0, 3)
	for _, t := range threads[:min(3, len(threads))] {
		names = append(names, t.name())
	}
	return names
}

// nearestInch names the three standard threads nearest in size and threads per inch.
func nearestInch(diameter, perInch float64) []string {
	ranked := slices.Clone(inchThreads())
	off := func(t inchThread) float64 {
		far := 4 * math.Abs(math.Log(t.diameter/diameter))
		if perInch > 0 {
			far += math.Abs(math.Log(t.perInch / perInch))
		}
		return far
	}
	slices.SortStableFunc(ranked, func(a, b inchThread) int { return cmp.Compare(off(a), off(b)) })
	return inchNames(ranked)
}
