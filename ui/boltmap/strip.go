package boltmap

import (
	"slices"
	"strings"

	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// Strip draws the row that a fastener stands in with those of its group, or alone
// of it with the others of the joint, on one line of at
// most w cells, without styling: a mark for each, from the left, a column from the
// top. It is "" for one that stands in no row, or where there is no room.
func Strip(bolts []Bolt, id string, w int) string { return strip(bolts, id, w, theme.ASCII()) }

func strip(bolts []Bolt, id string, w int, ascii bool) string {
	i := slices.IndexFunc(bolts, func(b Bolt) bool { return b.ID == id })
	if i < 0 {
		return ""
	}
	group := slices.DeleteFunc(slices.Clone(bolts), func(b Bolt) bool { return b.Group != bolts[i].Group })
	if len(group) == 1 {
		group = bolts
	}
	f := newFace(group)
	if f.inCircle() != nil || f.inRows() == nil && f.inRing() != nil {
		return ""
	}
	lanes := f.rows()
	if f.width <= alike && f.height > alike {
		lanes = [][]int{byValue(f.y)}
		slices.Reverse(lanes[0])
	}
	for _, lane := range lanes {
		at := slices.IndexFunc(lane, func(k int) bool { return group[k].ID == id })
		if at < 0 || len(lane) < 2 {
			continue
		}
		marks := make([]string, len(lane))
		for k, of := range lane {
			marks[k], _ = glyph(group[of], ascii)
		}
		for _, between := range []string{" ", ""} {
			if line := strings.Join(marks, between); fit.Width(line) <= w {
				return line
			}
		}
	}
	return ""
}
