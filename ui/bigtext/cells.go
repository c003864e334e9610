package bigtext

import "strings"

// cells is how pixels become characters: so many cells a pixel, or pixels a cell.
type cells struct {
	wide, high     int // cells that a pixel takes
	inWide, inHigh int // pixels that a cell holds
	draw           func(bitmap) []string
}

// extent is the cells that so many pixels take.
func (c cells) extent(width, height int) (w, h int) {
	return (width*c.wide + c.inWide - 1) / c.inWide, (height*c.high + c.inHigh - 1) / c.inHigh
}

// leads reports whether a drawing of that height ends in a blank by itself.
func (c cells) leads(height int) bool { return height*c.high%c.inHigh != 0 }

var (
	halfBlocks    = cells{1, 1, 1, 2, halves{"▀", "▄", "█"}.cells}
	asciiHalves   = cells{1, 1, 1, 2, halves{`"`, "o", "#"}.cells} // of seven bits, what fills half a cell best
	quarterBlocks = cells{1, 1, 2, 2, inQuarters}
)

// halves is how a drawing becomes cells two pixels high, one above the other:
// as a cell is about twice as high as wide, pixels come out square.
type halves struct{ upper, lower, both string }

func (h halves) cells(b bitmap) []string {
	lines := make([]string, (len(b)+1)/2)
	for i := range lines {
		var line strings.Builder
		for x := range b.width() {
			switch upper, lower := b.at(x, 2*i), b.at(x, 2*i+1); {
			case upper && lower:
				line.WriteString(h.both)
			case upper:
				line.WriteString(h.upper)
			case lower:
				line.WriteString(h.lower)
			default:
				line.WriteByte(' ')
			}
		}
		lines[i] = line.String()
	}
	return lines
}

// quarters are the signs for four pixels in a cell: bits of upper left, upper
// right, lower left and lower right (Unicode, block U+2580).
var quarters = []rune(" ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█")

// inQuarters draws narrow letters, four pixels a cell.
func inQuarters(b bitmap) []string {
	lines := make([]string, (len(b)+1)/2)
	for y := range lines {
		var line strings.Builder
		for x := range (b.width() + 1) / 2 {
			bits := 0
			for k, on := range [4]bool{b.at(2*x, 2*y), b.at(2*x+1, 2*y), b.at(2*x, 2*y+1), b.at(2*x+1, 2*y+1)} {
				if on {
					bits |= 1 << k
				}
			}
			line.WriteRune(quarters[bits])
		}
		lines[y] = line.String()
	}
	return lines
}

// hashes draws a pixel as a block of "#".
func hashes(width, height int) cells {
	return cells{width, height, 1, 1, func(b bitmap) []string {
		lines := make([]string, 0, len(b)*height)
		for _, row := range b {
			var line strings.Builder
			for _, on := range row {
				pixel := " "
				if on {
					pixel = "#"
				}
				line.WriteString(strings.Repeat(pixel, width))
			}
			for range height {
				lines = append(lines, line.String())
			}
		}
		return lines
	}}
}
