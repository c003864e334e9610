package bigtext

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"
)

// The two alphabets are drawn by hand, seven and five pixels high. Each block
// of a sheet is a line of characters and below it their pixels, side by side.
// The decimal point and comma are two and three strokes wide: a point overlooked
// from two metres is a figure ten times too high.
var (
	//go:embed font7.txt
	sheet7 string
	//go:embed font5.txt
	sheet5 string

	font7 = sync.OnceValue(func() font { return mustRead(sheet7, 7, 3) })
	font5 = sync.OnceValue(func() font { return mustRead(sheet5, 5, 2) })
)

// font is an alphabet of pixel glyphs of one height.
type font struct {
	height int
	glyphs map[rune]bitmap
}

// bitmap is rows of pixels, all of one length. Square pixels.
type bitmap [][]bool

func newBitmap(width, height int) bitmap {
	b := make(bitmap, height)
	for y := range b {
		b[y] = make([]bool, width)
	}
	return b
}

func (b bitmap) width() int {
	if len(b) == 0 {
		return 0
	}
	return len(b[0])
}

// at is false outside the bitmap.
func (b bitmap) at(x, y int) bool {
	return y >= 0 && y < len(b) && x >= 0 && x < len(b[y]) && b[y][x]
}

func mustRead(sheet string, height, space int) font {
	f, err := readSheet(sheet, height)
	if err != nil {
		panic("bigtext: " + err.Error()) // the sheet is part of the program
	}
	f.glyphs[' '] = newBitmap(space, height)
	return f
}

// readSheet reads a sheet of glyphs of the given height in pixels.
func readSheet(sheet string, height int) (font, error) {
	f := font{height: height, glyphs: map[rune]bitmap{}}
	for block := range strings.SplitSeq(strings.TrimSpace(sheet), "\n\n") {
		lines := strings.Split(block, "\n")
		names := strings.Fields(lines[0])
		if len(lines) != height+1 {
			return f, fmt.Errorf("block %q has %d rows of pixels, want %d", lines[0], len(lines)-1, height)
		}
		for i, name := range names {
			glyph, err := readGlyph(lines[1:], i, len(names))
			if err != nil {
				return f, fmt.Errorf("glyph %q: %w", name, err)
			}
			if r := []rune(name)[0]; f.glyphs[r] == nil {
				f.glyphs[r] = glyph
			} else {
				return f, fmt.Errorf("glyph %q is drawn twice", name)
			}
		}
	}
	return f, nil
}

func readGlyph(lines []string, column, columns int) (bitmap, error) {
	var b bitmap
	for y, line := range lines {
		cells := strings.Fields(line)
		if len(cells) != columns {
			return nil, fmt.Errorf("row %d has %d glyphs, want %d", y+1, len(cells), columns)
		}
		row := make([]bool, len(cells[column]))
		for x, c := range cells[column] {
			row[x] = c == '#'
		}
		if y > 0 && len(row) != b.width() {
			return nil, fmt.Errorf("row %d is %d pixels wide, want %d as above", y+1, len(row), b.width())
		}
		b = append(b, row)
	}
	return b, nil
}

// width is that of text with so many pixels between glyphs; it is not ok if a
// character has no glyph.
func (f font) width(text string, between int) (w int, ok bool) {
	for i, r := range text {
		glyph, known := f.glyphs[r]
		if !known {
			return 0, false
		}
		if i > 0 {
			w += between
		}
		w += glyph.width()
	}
	return w, true
}

// set sets text, all of which has glyphs, with so many pixels between them.
func (f font) set(text string, between int) bitmap {
	line := make(bitmap, f.height)
	for i, r := range text {
		for y := range line {
			if i > 0 {
				line[y] = append(line[y], make([]bool, between)...)
			}
			line[y] = append(line[y], f.glyphs[r][y]...)
		}
	}
	return line
}

// smooth doubles a bitmap and fills the steps of its diagonals and curves: a
// quarter of an empty pixel is filled where its two neighbours on that side
// are set and touch only at the corner. Right angles stay sharp.
func (b bitmap) smooth() bitmap {
	return b.double(func(x, y, dx, dy int) bool {
		return b.at(x, y) || b.at(x+dx, y) && b.at(x, y+dy) && !b.at(x+dx, y+dy) &&
			!b.at(x-dx, y) && !b.at(x, y-dy)
	})
}

// round doubles a bitmap of strokes two pixels wide or more and rounds what
// stands out or in: a quarter takes the colour of its two neighbours where
// those agree and the ones opposite don't. This is the rule known as Scale2x.
func (b bitmap) round() bitmap {
	return b.double(func(x, y, dx, dy int) bool {
		side, ahead := b.at(x+dx, y), b.at(x, y+dy)
		if side == ahead && side != b.at(x-dx, y) && ahead != b.at(x, y-dy) {
			return side
		}
		return b.at(x, y)
	})
}

// double asks for each quarter of each pixel whether it is set; dx and dy,
// -1 or 1, say which quarter.
func (b bitmap) double(set func(x, y, dx, dy int) bool) bitmap {
	out := newBitmap(2*b.width(), 2*len(b))
	for y := range out {
		for x := range out[y] {
			out[y][x] = set(x/2, y/2, x%2*2-1, y%2*2-1)
		}
	}
	return out
}

// cutOut is the bitmap as holes in a plate.
func (b bitmap) cutOut(m margin) bitmap {
	out := newBitmap(b.width()+2*m.x, len(b)+2*m.y)
	for y := range out {
		for x := range out[y] {
			out[y][x] = !b.at(x-m.x, y-m.y)
		}
	}
	return out
}
