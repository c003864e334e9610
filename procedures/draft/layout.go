package draft

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"evenpull/spec/pattern"
	"evenpull/spec/quantity"
)

// place is a bolt and where it sits, in mm: x right, y up.
type place struct {
	id   string
	x, y float64
}

// What is drawn when nobody says how far apart bolts sit. An order needs the shape alone.
const (
	usualPitch = 40.0 // mm between neighbours
	mostBolts  = 400  // in one answer
)

// layout is how the bolts of a group sit, as a person says it: "2 rows of 5", "rows of 4
// and 5", "5 pairs", "5 caps of 2", "circle of 8", "1"; "60 mm apart", "rows 90 mm apart", "120 mm across",
// "called B".
type layout struct {
	rows    []int // bolts in each, the lowest first
	columns bool  // numbered pair by pair, not row by row
	caps    bool  // those of a column hold one cap together
	circle  int
	pitch   float64 // 0: not said
	between float64 // of rows; 0: as the pitch
	across  float64 // of the circle; 0: by the pitch
	called  string
}

var (
	rowsOf   = pattern.Of(`^(\d+)\s*(?:rows?\s+of|x|×|by)\s*(\d+)$`)
	uneven   = pattern.Of(`^rows?\s+of\s+([\d ,and+]+)$`)
	pairs    = pattern.Of(`^(\d+)\s*(pair|cap)s?(?:\s+of\s+(\d+))?$`)
	circleOf = pattern.Of(`^(?:a\s+)?(?:circle|ring)\s+of\s+(\d+)$`)
	alone    = pattern.Of(`^(?:just\s+)?(one|\d+)$`)
	number   = pattern.Of(`\d+`)
)

const layoutRemedy = "write 2 rows of 5, rows of 4 and 5, 5 pairs, 5 caps of 2, circle of 8, or 1"

func readLayout(text string) (layout, *Refusal) {
	var l layout
	for i, piece := range splitList(text) {
		low := strings.ToLower(piece)
		var no *Refusal
		switch {
		case i == 0:
			no = l.shape(low)
		case strings.HasPrefix(low, "called "):
			l.called = strings.TrimSpace(piece[len("called "):])
		default:
			no = l.distance(low)
		}
		if no != nil {
			return l, no
		}
	}
	if n := l.count(); n < 1 || n > mostBolts {
		return l, refuse(layoutRemedy, "%s makes %d bolts", quote(text), n)
	}
	return l, nil
}

func (l *layout) shape(text string) *Refusal {
	whole := func(s string) int { n, _ := strconv.Atoi(s); return min(n, mostBolts+1) }
	if m := rowsOf.RE().FindStringSubmatch(text); m != nil {
		for range min(whole(m[1]), mostBolts+1) {
			l.rows = append(l.rows, whole(m[2]))
		}
	} else if m := uneven.RE().FindStringSubmatch(text); m != nil {
		for _, n := range number.RE().FindAllString(m[1], mostBolts+1) {
			l.rows = append(l.rows, whole(n))
		}
	} else if m := pairs.RE().FindStringSubmatch(text); m != nil {
		l.columns, l.caps = true, m[2] == "cap"
		deep := 2
		if m[3] != "" {
			deep = whole(m[3])
		}
		for range min(deep, mostBolts+1) {
			l.rows = append(l.rows, whole(m[1]))
		}
	} else if m := circleOf.RE().FindStringSubmatch(text); m != nil {
		l.circle = whole(m[1])
	} else if m := alone.RE().FindStringSubmatch(text); m != nil {
		l.rows = []int{max(1, whole(m[1]))}
		if m[1] == "0" {
			l.rows = nil
		}
	} else {
		return refuse(layoutRemedy, "%s says no shape", quote(text))
	}
	return nil
}

func (l *layout) count() int {
	n := l.circle
	for _, row := range l.rows {
		n += row
	}
	return n
}

func (l *layout) distance(text string) *Refusal {
	into := &l.pitch
	rest, ok := strings.CutSuffix(text, " apart")
	if inner, rows := strings.CutPrefix(rest, "rows "); rows {
		into, rest = &l.between, inner
	} else if inner, wide := strings.CutSuffix(text, " across"); wide {
		into, rest, ok = &l.across, inner, true
	}
	if !ok {
		return refuse(`write 60 mm apart, rows 90 mm apart, 120 mm across, or called B`, "%s is not understood", quote(text))
	}
	mm, no := millimetres(rest)
	if no == nil && (mm < 1 || mm > 5000) {
		no = refuse("give 1 mm to 5 m", "%s apart", quote(rest))
	}
	*into = mm
	return no
}

// millimetres reads a length to a tenth of a millimetre; a bare number is in mm, as places are.
func millimetres(text string) (float64, *Refusal) {
	text = strings.TrimSpace(text)
	if v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64); err == nil && !math.IsNaN(v) && !math.IsInf(v, 0) {
		return tenth(v), nil
	}
	l, err := quantity.ParseLength(text)
	if err != nil {
		return 0, unreadable(text, err)
	}
	return tenth(l.Mm()), nil
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// places gives each bolt its name and place. Rows go left to right, the lowest first; a
// circle goes clockwise from twelve o'clock.
func (l *layout) places(prefix string) []place {
	if l.called != "" {
		prefix = l.called
	}
	pitch := l.pitch
	if pitch == 0 {
		pitch = usualPitch
	}
	var list []place
	if l.circle > 0 {
		radius := l.across / 2
		if radius == 0 {
			radius = max(pitch/2, pitch/2/math.Sin(math.Pi/float64(max(2, l.circle))))
		}
		for i := range l.circle {
			a := 2 * math.Pi * float64(i) / float64(l.circle)
			list = append(list, place{x: tenth(radius * math.Sin(a)), y: tenth(radius * math.Cos(a))})
		}
		return named(list, prefix)
	}
	between := l.between
	if between == 0 {
		between = pitch
	}
	longest := 0
	for _, n := range l.rows {
		longest = max(longest, n)
	}
	for y, n := range l.rows {
		left := float64(longest-n) / 2 * pitch // a shorter row sits in the middle
		for x := range n {
			list = append(list, place{x: tenth(left + float64(x)*pitch), y: tenth(float64(y) * between)})
		}
	}
	if l.columns {
		list = byColumns(list, len(l.rows))
	}
	return named(list, prefix)
}

func byColumns(rows []place, deep int) []place {
	wide := len(rows) / deep
	list := make([]place, 0, len(rows))
	for x := range wide {
		for y := range deep {
			list = append(list, rows[y*wide+x])
		}
	}
	return list
}

func named(list []place, prefix string) []place {
	for i := range list {
		list[i].id = fmt.Sprint(prefix, i+1)
	}
	return list
}

// splitList splits at commas that are no decimal ones, at semicolons, and at "then".
func splitList(text string) []string {
	for _, mark := range []string{"; ", ";", ", ", " then "} {
		text = strings.ReplaceAll(text, mark, "\n")
	}
	var list []string
	for piece := range strings.SplitSeq(text, "\n") {
		if piece = strings.TrimSpace(strings.TrimPrefix(strings.TrimSuffix(strings.TrimSpace(piece), ","), "then ")); piece != "" {
			list = append(list, piece)
		}
	}
	return list
}
