package estimate

import (
	"fmt"
	"math"
	"strings"

	"evenpull/procedures/clamping"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// leastBar is the width under which a bar says nothing.
const leastBar = 16

// Bar draws a load from 0 to yield in w cells: the band of the preload as a solid
// stretch, the nominal figure in it, the mark at 90 %, and yield at the end, which
// is ">" when the band goes on past it. Two lines; none when w is too small.
func Bar(l clamping.Load, w int) []string {
	if w < leastBar || !(l.YieldN > 0) {
		return nil
	}
	room := w - 2 // the ends
	at := func(n float64) int {
		return max(0, min(room-1, int(math.Floor(n/l.YieldN*float64(room)))))
	}
	cells := make([]string, room)
	for i := range cells {
		cells[i] = theme.Text("·")
	}
	for i := at(l.LowN); i <= at(l.HighN); i++ {
		cells[i] = pick("▒", "=")
	}
	cells[at(0.9*l.YieldN)] = theme.Text("│")
	cells[at(l.NominalN)] = pick("█", "#")
	end := "]"
	if l.MayYield {
		end = ">" // the band goes on past yield
	}
	bar := "[" + strings.Join(cells, "") + end
	ninety := 1 + at(0.9*l.YieldN)
	return []string{theme.Render(theme.Figure, bar), labels(w, ninety, l.YieldN)}
}

// labels stand under the bar: 0, 90 % under its mark, yield at the end.
func labels(w, ninety int, yieldN float64) string {
	line := []rune(strings.Repeat(" ", w))
	put := func(at int, text string) {
		if at < 0 || at+len([]rune(text)) > w {
			return
		}
		copy(line[at:], []rune(text))
	}
	end := "yield " + KN(yieldN)
	if w < 40 {
		end = "yield"
	}
	put(0, "0")
	put(w-len([]rune(end)), end)
	if at := ninety - 3; at > 1 && at+5 < w-len([]rune(end)) {
		put(at, "90 %")
	} else if at := w - len([]rune(end)) - 6; at > 1 {
		put(at, "90 %")
	}
	return theme.Render(theme.Quiet, strings.TrimRight(string(line), " "))
}

func pick(unicode, ascii string) string {
	if theme.ASCII() {
		return ascii
	}
	return unicode
}

// KN prints a force in kN to three figures.
func KN(n float64) string {
	switch kn := n / 1000; {
	case kn >= 100:
		return fmt.Sprintf("%.0f kN", kn)
	case kn >= 10:
		return fmt.Sprintf("%.1f kN", kn)
	default:
		return fmt.Sprintf("%.2f kN", kn)
	}
}

// Percent prints a share to a whole per cent, with one decimal where less than
// half of one would vanish.
func Percent(share float64) string {
	p := 100 * share
	if off := math.Abs(p - 100); off > 0.05 && off < 0.95 {
		return fmt.Sprintf("%.1f %%", p)
	}
	return fmt.Sprintf("%.0f %%", p)
}

// bullets wraps texts into lines of w cells, each text with a mark before it.
func bullets(mark string, texts []string, w int) []string {
	var lines []string
	for _, text := range texts {
		for i, line := range fit.Wrap(theme.Text(text), w-len([]rune(mark))-1) {
			if i == 0 {
				line = mark + " " + line
			} else {
				line = strings.Repeat(" ", len([]rune(mark))+1) + line
			}
			lines = append(lines, line)
		}
	}
	return lines
}
