package stand

import (
	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// layout is where things go on a screen of one size. It depends on the size
// alone, so nothing jumps about while the walk goes on.
type layout struct {
	w, h     int
	tiny     bool // figure and id only
	heading  int  // lines above the body
	messages int  // lines kept free for a message
	left     int  // width of the left column
	gap      int
	right    int // width of the right column; 0: there is none
	listNext int // lines of the right column for what comes next
}

// The smallest screen that still gets the whole set of lines, and the smallest
// one with a column for the map.
const (
	smallW, smallH = 36, 12
	mapW, mapH     = 70, 18
	wideW          = 100
)

func layoutFor(w, h int) layout {
	l := layout{w: w, h: h, left: w, heading: 2, messages: 1}
	if w < smallW || h < smallH {
		l.tiny = true
		return l
	}
	if h >= 20 {
		l.heading, l.messages = 3, 2
	}
	if h >= 24 {
		l.heading = 4 // the sealant's bar must not touch the letters below it
	}
	if w < mapW || h < mapH {
		return l
	}
	l.gap = 3
	l.right = w * 2 / 5
	if w >= wideW {
		l.right = w * 45 / 100
		l.listNext = min(lookAhead+1, (h-10)/3)
	}
	l.left = w - l.gap - l.right
	return l
}

// narrow reports whether words have to be short.
func (l layout) narrow() bool { return l.w < 60 }

// block is some lines of a column that stay or go together.
type block struct {
	lines []string
	keep  int // the lowest go first when there is no room
}

// stack sets blocks below each other in h lines. Those worth least go until
// the rest fits.
func stack(blocks []block, w, h int) []string {
	total := 0
	for _, b := range blocks {
		total += len(b.lines)
	}
	for total > h {
		worst := -1
		for i, b := range blocks {
			if len(b.lines) > 0 && (worst < 0 || b.keep <= blocks[worst].keep) {
				worst = i
			}
		}
		if worst < 0 || blocks[worst].keep == always {
			break
		}
		last := len(blocks[worst].lines) - 1
		if over := total - h; blocks[worst].keep == spare || over > last {
			total -= len(blocks[worst].lines)
			blocks[worst].lines = nil
		} else {
			total -= over
			blocks[worst].lines = shortened(blocks[worst].lines, len(blocks[worst].lines)-over, w)
		}
	}
	var out []string
	for _, b := range blocks {
		out = append(out, b.lines...)
	}
	return out
}

// shortened keeps n lines and says that there was more: half a caution must
// not read as a whole one.
func shortened(lines []string, n, w int) []string {
	out := append([]string{}, lines[:n]...)
	more := theme.Text("…")
	out[n-1] = fit.Clip(out[n-1], w-fit.Width(more)-1) + " " + more
	return out
}

// what a block is worth.
const (
	spare  = 0 // a blank line
	always = 100
)

// overlaid lays lines over the end of a body: a message or a text field covers
// what matters least, and nothing else moves.
func overlaid(body, over []string, w, h int) []string {
	body = fit.Box(body, w, h)
	over = fit.Box(over, w, min(len(over), h))
	copy(body[h-len(over):], over)
	return body
}
