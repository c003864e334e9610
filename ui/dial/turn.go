// Package dial shows an angle stage: where the mark on the socket starts,
// which way it goes and where it must come to rest.
package dial

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"evenpull/ui/theme"
)

// Turn is an angle to turn a fastener through.
type Turn struct {
	Degrees float64 // how far; over 360 is more than a full turn
	UpTo    float64 // no further than this, degrees; 0 is no upper limit given
	Left    bool    // left-hand thread
	Loosen  bool    // the loosening way
	Corners int     // of the drive, that can be counted: 6 flats, 12 points; 0 for none
}

// Clockwise reports which way the socket goes, seen from its handle: a
// right-hand thread tightens clockwise.
func (t Turn) Clockwise() bool { return t.Left == t.Loosen }

// degrees keeps what is no angle from being drawn.
func (t Turn) degrees() float64 {
	if math.IsNaN(t.Degrees) || math.IsInf(t.Degrees, 0) {
		return 0
	}
	return max(0, min(t.Degrees, 1e6))
}

// Arrow is the sign of the way: ↻ or ↺.
func (t Turn) Arrow() string {
	if t.Clockwise() {
		return "↻"
	}
	return "↺"
}

// Way is which way the socket goes, seen from its handle.
func (t Turn) Way() string {
	if t.Clockwise() {
		return "clockwise"
	}
	return "anticlockwise"
}

// text says the angle in degrees, flats of a hexagon or points of a twelve-point,
// and turns: "90° = 1½ flats = ¼ turn". What is no simple fraction is given to two
// places with "≈".
func (t Turn) text() string {
	other := count(t.degrees()/360, "turn")
	switch t.Corners {
	case 6:
		other = count(t.degrees()/60, "flat") + " " + other
	case 12:
		other = count(t.degrees()/30, "point") + " " + other
	}
	if t.UpTo > t.degrees() {
		return fmt.Sprintf("%s° to %s°, from %s", number(t.degrees()), number(t.UpTo), strings.TrimPrefix(other, "= "))
	}
	return number(t.degrees()) + "° " + other
}

// count gives "= 1½ flats" or "≈ 1.57 flats".
func count(v float64, unit string) string {
	sign, figure := "=", fraction(v)
	if figure == "" {
		sign, figure = "≈", strconv.FormatFloat(v, 'f', 2, 64)
	}
	if v > 1 {
		unit += "s"
	}
	return sign + " " + figure + " " + unit
}

var fractionSigns = map[[2]int]string{
	{1, 2}: "½", {1, 3}: "⅓", {2, 3}: "⅔", {1, 4}: "¼", {3, 4}: "¾", {1, 6}: "⅙", {5, 6}: "⅚",
}

// fraction writes a whole number, or one with halves, thirds, quarters, sixths,
// eighths or twelfths, or "" for any other value.
func fraction(v float64) string {
	for _, d := range []int{1, 2, 3, 4, 6, 8, 12} {
		n := math.Round(v * float64(d))
		if math.Abs(v*float64(d)-n) > 1e-9*max(1, v) || n > 1e9 {
			continue
		}
		whole, rest := int(n)/d, int(n)%d
		switch {
		case rest == 0:
			return strconv.Itoa(whole)
		case fractionSigns[[2]int{rest, d}] == "":
			return mixed(whole, fmt.Sprintf(" %d/%d", rest, d))
		}
		return mixed(whole, fractionSigns[[2]int{rest, d}])
	}
	return ""
}

func mixed(whole int, rest string) string {
	if whole > 0 {
		return strconv.Itoa(whole) + rest
	}
	if rest[0] == ' ' {
		return rest[1:]
	}
	return rest
}

// number prints degrees without needless places.
func number(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

// mark says how a mark that starts at the top goes, in words of the clock.
func (t Turn) mark() string {
	switch rounds := int(t.degrees() / 360); rounds {
	case 0:
		return "mark from 12 to " + t.clock()
	case 1:
		return "mark once round to " + t.clock()
	default:
		return fmt.Sprintf("mark %d times round to %s", rounds, t.clock())
	}
}

// clock says where the mark ends, as the hand of a clock. "About" stands
// before what is rounded to an hour.
func (t Turn) clock() string {
	angle := math.Mod(t.degrees(), 360)
	if !t.Clockwise() {
		angle = 360 - angle
	}
	hour := int(math.Round(angle/30)) % 12
	about := ""
	if math.Abs(math.Remainder(angle, 30)) > 1e-6 {
		about = "about "
	}
	return fmt.Sprintf("%s%d o'clock", about, (hour+11)%12+1)
}

// Line says the turn in one line of at most w cells: as much as there is room
// for, but never a figure cut short.
func Line(t Turn, w int) string { return line(t, w, theme.ASCII()) }

func line(t Turn, w int, ascii bool) string {
	degrees := number(t.degrees()) + "°"
	for _, text := range []string{
		t.Arrow() + " " + t.text() + ", " + t.Way() + ", " + t.mark(),
		t.Arrow() + " " + t.text() + ", " + t.mark(),
		t.Arrow() + " " + t.text() + ", " + t.Way(),
		t.Arrow() + " " + t.text(),
		t.Arrow() + " " + degrees,
		degrees,
		"…",
	} {
		if ascii {
			text = theme.Fold(text)
		}
		if ansi.StringWidth(text) <= w {
			return text
		}
	}
	return ""
}
