package estimate

import (
	"fmt"
	"math"
	"strings"

	"evenpull/procedures/clamping"
	"evenpull/spec"
	"evenpull/ui/boltmap"
	"evenpull/ui/fit"
	"evenpull/ui/theme"
)

// smallChange is the share under which the neighbours may be said to change
// next to nothing: far below what friction alone does to a preload.
const smallChange = 0.005

// Neighbours is a page of exactly h lines of at most w cells: the clamp that every
// bolt keeps after a pass (from 0), as a map, with the figures above and what was
// assumed below as far as there is room.
func Neighbours(s *clamping.Study, pass, w, h int) string {
	if w <= 0 || h <= 0 || pass < 0 || pass >= len(s.Passes) {
		return strings.Repeat("\n", max(0, h-1))
	}
	p := s.Passes[pass]
	head := []string{
		fit.Ends(theme.Render(theme.Title, theme.Text("after "+p.Name)), theme.Text(fmt.Sprintf("estimate %d/%d", pass+1, len(s.Passes))), w),
	}
	for _, line := range Summary(s, p) {
		head = append(head, fit.Wrap(theme.Text(line), w)...)
	}
	assumed := bullets("-", s.Assumptions(), w)
	room := h - len(head)
	below := max(0, min(len(assumed), room-12, room/2))
	lines := append(head, fit.Lines(Map(s, p, w, max(0, room-below)))...)
	return strings.Join(fit.Box(append(lines, assumed[:below]...), w, h), "\n")
}

// Summary is a pass in two or three lines: who keeps least, the mean, the spread,
// and how far the joint face may move that.
func Summary(s *clamping.Study, p clamping.Pass) []string {
	k := p.Kept
	if k.Bolts == 0 {
		return []string{"no bolt carries anything any more"}
	}
	lines := []string{
		fmt.Sprintf("keeps least: %s, %s of its own setting (%s)", k.LowestID, Percent(k.Lowest), KN(k.LowestN)),
		fmt.Sprintf("mean %s, spread %s; by the joint face the least is %s to %s", Percent(k.Mean), Percent(k.Spread), Percent(min(p.Soft.Lowest, p.Stiff.Lowest)), Percent(max(p.Soft.Lowest, p.Stiff.Lowest))),
	}
	if s.Procedure.Direction == spec.Open {
		lines = []string{
			fmt.Sprintf("still tight: %d of %d; they carry %s to %s of what they held before", k.Bolts, len(s.Bolts), Percent(k.Lowest), Percent(k.Highest)),
		}
	}
	if slack := p.End.SlackIDs; len(slack) > 0 {
		lines = append(lines, "hanging loose: "+strings.Join(slack, " "))
	}
	return lines
}

// Small reports whether the neighbours change next to nothing in any pass, on any
// face to expect.
func Small(s *clamping.Study) bool {
	for _, p := range s.Passes {
		for _, k := range []clamping.Kept{p.Kept, p.Soft, p.Stiff} {
			if k.Bolts > 0 && (1-k.Lowest > smallChange || k.Highest-1 > smallChange) {
				return false
			}
		}
	}
	return true
}

// Map draws the joint with each bolt's clamp in kN beside it; the one that keeps
// least is marked with "!".
func Map(s *clamping.Study, p clamping.Pass, w, h int) string {
	list := make([]boltmap.Bolt, len(s.Bolts))
	for i, b := range s.Bolts {
		m := boltmap.Bolt{ID: b.ID, X: b.X, Y: b.Y, Hollow: b.Group.Hollow()}
		if p.ForcesN[i] > 0 {
			m.State, m.Note = boltmap.Done, fmt.Sprintf("%.3g", p.ForcesN[i]/1000)
		}
		if b.ID == p.Kept.LowestID {
			m.State = boltmap.Trouble
		}
		list[i] = m
	}
	return boltmap.Draw(list, w, h)
}

// Table lists every bolt after a pass in at most w cells: its clamp, the share it
// keeps, and a bar of that.
func Table(s *clamping.Study, p clamping.Pass, w int) []string {
	widest := 0
	for _, b := range s.Bolts {
		widest = max(widest, fit.Width(b.ID))
	}
	var lines []string
	for i, b := range s.Bolts {
		share, text, bar := p.KeptBy[i], "out", ""
		if p.ForcesN[i] == 0 && contains(p.End.SlackIDs, b.ID) {
			text = "loose"
		}
		if !math.IsNaN(share) {
			text = Percent(share)
			bar = fit.Bar(int(math.Round(1000*min(share, 1))), 1000, max(0, min(40, w-widest-24)))
		}
		mark := " "
		if b.ID == p.Kept.LowestID {
			mark = "!"
		}
		lines = append(lines, fit.Cut(fmt.Sprintf("%s %s %9s %7s  %s", mark, fit.Pad(b.ID, widest), KN(p.ForcesN[i]), text, bar), w))
	}
	return lines
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
