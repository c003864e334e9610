package dial

import (
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"evenpull/ui/theme"
)

// The dial is about round: a cell is twice as high as wide.
const (
	greatestWidth, greatestHeight = 19, 9
	leastHeight                   = 5 // and so 11 wide
)

// Draw draws the dial in at most w × h cells, and never more than 19 × 9: a
// thin ring, the way of the mark drawn thick from the top ("○") to its end (an
// arrowhead), the angle in the middle. Where there is no room for a ring it
// gives what Line gives.
func Draw(t Turn, w, h int) string { return draw(t, w, h, theme.ASCII()) }

func draw(t Turn, w, h int, ascii bool) string {
	if h <= 0 {
		return ""
	}
	height := min(h, greatestHeight, (min(w, greatestWidth)-1)/2)
	if height < leastHeight {
		return line(t, w, ascii)
	}
	c := newCanvas(2*height+1, height, ascii)
	c.ring(t)
	c.marks(t)
	c.middle(t)
	return c.String()
}

// canvas is a grid of cells, each with dots of its own: 2 × 4 in Braille
// patterns, or a single one in ASCII.
type canvas struct {
	w, h      int
	ascii     bool
	dots      []uint8 // Braille dots, or 1 and 2 for a thin and a thick ring in ASCII
	thick     []bool  // the cell belongs to the way of the mark
	text      []string
	roles     []theme.Role
	cx, cy, r float64 // in dots of Braille, whatever is drawn
}

func newCanvas(w, h int, ascii bool) *canvas {
	n := w * h
	return &canvas{
		w: w, h: h, ascii: ascii, dots: make([]uint8, n), thick: make([]bool, n), text: make([]string, n), roles: make([]theme.Role, n),
		cx: float64(2*w-1) / 2, cy: float64(4*h-1) / 2, r: float64(min(2*w, 4*h))/2 - 1,
	}
}

// point is the place of the mark, in dots, after it went angle degrees from
// the top at the given radius.
func (c *canvas) point(angle, radius float64, clockwise bool) (x, y float64) {
	a := angle * math.Pi / 180
	if !clockwise {
		a = -a
	}
	return c.cx + radius*math.Sin(a), c.cy - radius*math.Cos(a)
}

// cell is the index of the cell that holds a dot.
func (c *canvas) cell(x, y float64) int {
	col := max(0, min(c.w-1, int(math.Round(x))/2))
	row := max(0, min(c.h-1, int(math.Round(y))/4))
	return row*c.w + col
}

// brailleDots is the bit of each dot of a Braille pattern, by row and column
// (Unicode, block U+2800).
var brailleDots = [4][2]uint8{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

func (c *canvas) dot(x, y float64, thick bool) {
	i := c.cell(x, y)
	c.dots[i] |= brailleDots[int(math.Round(y))&3][int(math.Round(x))&1]
	c.thick[i] = c.thick[i] || thick
}

// headRoom is where the thick way stops short of the end, in degrees, so that
// the arrowhead there stands clear.
const headRoom = 5

// ring draws the whole round thin, with a gap between hours, and the way of
// the mark thick.
func (c *canvas) ring(t Turn) {
	for angle := 0.0; angle < 360; angle += 15 {
		x, y := c.point(angle, c.r, true)
		c.dot(x, y, false)
	}
	for angle := 0.0; angle <= min(t.degrees(), 360)-headRoom; angle++ {
		for depth := 0.0; depth <= 2; depth++ {
			x, y := c.point(angle, c.r-depth, t.Clockwise())
			c.dot(x, y, true)
		}
	}
}

// marks sets the start and the end of the way.
func (c *canvas) marks(t Turn) {
	x, y := c.point(0, c.r-1, true)
	c.set(c.cell(x, y), pick(c.ascii, "o", "○"), theme.Figure)
	x, y = c.point(math.Mod(t.degrees(), 360), c.r-1, t.Clockwise())
	c.set(c.cell(x, y), c.head(t), theme.Figure)
}

// head is the arrowhead nearest to the way the mark goes when it arrives.
func (c *canvas) head(t Turn) string {
	heading := t.degrees() + 90
	if !t.Clockwise() {
		heading = -t.degrees() - 90
	}
	eighth := (int(math.Round(math.Mod(heading, 360)/45)) + 8) % 8
	if c.ascii {
		return []string{"^", "^", ">", "v", "v", "v", "<", "^"}[eighth]
	}
	return []string{"▲", "◥", "▶", "◢", "▼", "◣", "◀", "◤"}[eighth]
}

// middle writes the angle, and the way where there is room.
func (c *canvas) middle(t Turn) {
	degrees := number(t.degrees()) + "°"
	lines := []string{degrees}
	if c.h >= 7 {
		lines = []string{t.Arrow(), degrees, strings.TrimPrefix(count(t.degrees()/360, "turn"), "= ")}
	}
	top := (c.h - len(lines)) / 2
	for k, text := range lines {
		if c.ascii {
			text = theme.Fold(text)
		}
		role := theme.Quiet
		if k == len(lines)/2 {
			role = theme.Figure
		}
		if n := ansi.StringWidth(text); n <= c.w-6 {
			c.write((c.w-n)/2, top+k, text, role)
		}
	}
}

func (c *canvas) set(i int, sign string, role theme.Role) { c.text[i], c.roles[i] = sign, role }

func (c *canvas) write(x, y int, text string, role theme.Role) {
	for _, r := range text {
		c.set(y*c.w+x, string(r), role)
		x++
	}
}

func pick(ascii bool, a, u string) string {
	if ascii {
		return a
	}
	return u
}

// String gives the lines, each as wide as the canvas.
func (c *canvas) String() string {
	lines := make([]string, c.h)
	for y := range lines {
		var line strings.Builder
		for i := y * c.w; i < (y+1)*c.w; i++ {
			switch {
			case c.text[i] != "":
				line.WriteString(theme.Render(c.roles[i], c.text[i]))
			case c.dots[i] == 0:
				line.WriteByte(' ')
			case c.thick[i]:
				line.WriteString(theme.Render(theme.Figure, pick(c.ascii, "#", string(rune(0x2800+int(c.dots[i]))))))
			default:
				line.WriteString(theme.Render(theme.Quiet, pick(c.ascii, ".", string(rune(0x2800+int(c.dots[i]))))))
			}
		}
		lines[y] = line.String()
	}
	return strings.Join(lines, "\n")
}
