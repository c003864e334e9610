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
// next to nothing: what a whole per cent cannot show.
const smallChange = 0.005

// NoReason closes every word on neighbours.
const NoReason = "No reason to skip a pass or change the order"

// Whole is a share in whole per cents: the estimate of neighbours is good for no more.
func Whole(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// within is a band in whole per cents.
func within(b clamping.Band) string {
	return fmt.Sprintf("%.0f to %.0f %%", 100*b.Low, 100*b.High)
}

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
	for _, line := range append(Summary(s, p), momentsIn(s, pass)...) {
		head = append(head, fit.Wrap(theme.Text(line), w)...)
	}
	closing := fit.Wrap(theme.Text(NoReason+"."), w)
	assumed := bullets("-", s.Assumptions(), w)
	room := h - len(head) - len(closing)
	below := max(0, min(len(assumed), room-12, room/2))
	lines := append(head, fit.Lines(Map(s, p, w, max(0, room-below)))...)
	lines = fit.Box(append(lines, assumed[:below]...), w, max(0, h-len(closing)))
	return strings.Join(fit.Box(append(lines, closing...), w, h), "\n")
}

// Summary is a pass in two or three lines: who keeps least, within what band, the mean
// and the spread; for an opening, how many are still tight and what they carry.
func Summary(s *clamping.Study, p clamping.Held) []string {
	k := p.Kept
	if k.Bolts == 0 {
		return []string{"no bolt carries anything any more"}
	}
	lines := []string{
		fmt.Sprintf("keeps least: %s, %s of its own setting (may be %s)", k.LowestID, Whole(k.Lowest), within(p.Band)),
		fmt.Sprintf("mean %s, spread %s", Whole(k.Mean), Whole(k.Spread)),
	}
	if s.Procedure.Direction == spec.Open {
		lines = []string{
			fmt.Sprintf("still tight: %d of %d; they carry %s to %s of what they held before", k.Bolts, len(s.Bolts), Whole(k.Lowest), Whole(k.Highest)),
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
func Map(s *clamping.Study, p clamping.Held, w, h int) string {
	list := make([]boltmap.Bolt, len(s.Bolts))
	for i, b := range s.Bolts {
		m := boltmap.Bolt{ID: b.ID, X: b.X, Y: b.Y, Hollow: b.Group.Hollow()}
		if p.ForcesN[i] > 0 {
			m.State, m.Note = boltmap.Done, wholeKN(p.ForcesN[i])
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
func Table(s *clamping.Study, p clamping.Held, w int) []string {
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
			text = Whole(share)
			bar = fit.Bar(int(math.Round(1000*min(share, 1))), 1000, max(0, min(40, w-widest-24)))
		}
		mark := " "
		if b.ID == p.Kept.LowestID {
			mark = "!"
		}
		lines = append(lines, fit.Cut(fmt.Sprintf("%s %s %6s kN %6s  %s", mark, fit.Pad(b.ID, widest), wholeKN(p.ForcesN[i]), text, bar), w))
	}
	return lines
}

// wholeKN is a clamp in kN with two digits, as good as the estimate is.
func wholeKN(n float64) string {
	if n < 9950 {
		return fmt.Sprintf("%.1f", n/1000)
	}
	return fmt.Sprintf("%.0f", n/1000)
}

// Moments says what the bolts that must not be left to carry the joint alone carry at
// their worst moment, as shares of their own proof load: a line each, none when closing.
func Moments(s *clamping.Study) []string {
	var lines []string
	for _, m := range s.Moments() {
		lines = append(lines, moment(m))
	}
	return lines
}

// momentsIn are the moments that come in a pass; those of before the first stage come
// with the first.
func momentsIn(s *clamping.Study, pass int) []string {
	var lines []string
	for _, m := range s.Moments() {
		if m.PassName == s.Passes[pass].Name || m.Moved == "" && pass == 0 {
			lines = append(lines, moment(m))
		}
	}
	return lines
}

func moment(m clamping.Moment) string {
	when := "before the first stage, and no more than that later"
	if m.Moved != "" {
		when = fmt.Sprintf("as %s moves in %s, %s of what it held before", m.Moved, m.PassName, Whole(m.OfStart))
	}
	return fmt.Sprintf("%s: %s carries %s of its own proof load (may be %s; %s kN) %s", m.What, m.ID, Whole(m.OfProof), within(m.Band), wholeKN(m.ForceN), when)
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
