package measure

import (
	"fmt"
	"math/big"
	"sort"

	"evenpull/spec/quantity"
)

// shimmed is a float or clearance that shims set. In range it is left alone.
// Out of range, and with the shims fitted now given, a choice is made.
//
// thicker is how a tie is decided when two choices lie as far from the middle:
// a float opens with wear, so the thicker; a valve's clearance closes as its
// seat beds in, so the thinner (common practice, no source).
func shimmed(label string, thicker bool) func(Setup, Readings) (Result, error) {
	return func(s Setup, r Readings) (Result, error) {
		if len(s.Stock) > MaxStock {
			return Result{}, wrong("", fmt.Sprintf("%d sizes of shim are too many", len(s.Stock)), fmt.Sprintf("list at most %d", MaxStock))
		}
		w := single(r, label)
		res := s.judged(w)
		if res.Verdict != Under && res.Verdict != Over {
			return res, nil
		}
		now := r.exact("shim")
		if len(now) == 0 {
			res.Advice += "; give the shim fitted now as well and the size is worked out: " + s.Example()
			return res, nil
		}
		s.choose(&res, w, now, thicker)
		return res, nil
	}
}

// chooser knows what is looked for: new float = float + shims now − new shims.
type chooser struct {
	window
	aim     *big.Rat
	total   *big.Rat // float + shims now
	now     []*big.Rat
	thicker bool
}

// fit is one choice of shims and how good it is.
type fit struct {
	at      []int // indexes into the stock, one for each end
	sum     *big.Rat
	comesTo *big.Rat
	outside *big.Rat // how far out of range; 0 in it
	off     *big.Rat // how far from what is aimed at
	uneven  *big.Rat // two ends: how unequally the change is shared, which moves the shaft
}

func (s Setup) choose(res *Result, w worked, now []*big.Rat, thicker bool) {
	c := chooser{window: s.window(w.unit), aim: s.aim(w.unit), total: add(w.value, sum(now)), now: now, thicker: thicker}
	if c.lo == nil {
		c.lo = new(big.Rat) // less than nothing would be a squeeze
	}
	stock, sizes := s.sorted(w.unit)
	best := c.best(sizes)
	if best == nil || best.outside.Sign() > 0 {
		res.Advice = c.noneFits(w.unit, best, stock)
		return
	}
	for _, i := range best.at {
		res.Choice = append(res.Choice, stock[i])
	}
	q := quantity.Of(best.comesTo, w.unit)
	res.Resulting = &q
	old := fitted(now, w.unit)
	res.Why = fmt.Sprintf("%s + %s now − %s new is %s", quantity.Of(w.value, w.unit), old, quantity.Of(best.sum, w.unit), q)
	res.Advice = fmt.Sprintf("fit %s in place of %s: it comes to %s (estimate), nearest of the stock to %s; then measure again", res.ChoiceText(), old, q, quantity.Of(c.aim, w.unit))
	if best.sum.Cmp(sum(now)) == 0 {
		res.Advice = "measure again: by their mean the shims fitted now are the best there are"
	}
}

func fitted(now []*big.Rat, u quantity.Unit) string {
	text := quantity.Of(now[0], u).String()
	for _, r := range now[1:] {
		text += " and " + quantity.Of(r, u).String()
	}
	return text
}

// sorted gives the stock from thin to thick, each size once.
func (s Setup) sorted(u quantity.Unit) (stock []quantity.Length, sizes []*big.Rat) {
	all := append([]quantity.Length(nil), s.Stock...)
	sort.SliceStable(all, func(i, j int) bool { return all[i].Cmp(all[j]) < 0 })
	for _, l := range all {
		if n := len(stock); n == 0 || stock[n-1].Cmp(l) != 0 {
			stock, sizes = append(stock, l), append(sizes, l.Exact(u))
		}
	}
	return stock, sizes
}

// best tries every size, or every pair for two ends; nil without a stock.
func (c chooser) best(sizes []*big.Rat) *fit {
	var best *fit
	keep := func(at ...int) {
		if f := c.weigh(sizes, at); best == nil || c.better(f, best) {
			best = f
		}
	}
	for i := range sizes {
		if len(c.now) == 1 {
			keep(i)
			continue
		}
		for j := range sizes {
			keep(i, j)
		}
	}
	return best
}

func (c chooser) weigh(sizes []*big.Rat, at []int) *fit {
	f := &fit{at: at, sum: new(big.Rat), outside: new(big.Rat), uneven: new(big.Rat)}
	for _, i := range at {
		f.sum.Add(f.sum, sizes[i])
	}
	f.comesTo = sub(c.total, f.sum)
	f.off = apart(f.comesTo, c.aim)
	switch {
	case f.comesTo.Cmp(c.lo) < 0:
		f.outside = sub(c.lo, f.comesTo)
	case c.hi != nil && f.comesTo.Cmp(c.hi) > 0:
		f.outside = sub(f.comesTo, c.hi)
	}
	if len(at) == 2 {
		f.uneven = apart(sub(sizes[at[0]], c.now[0]), sub(sizes[at[1]], c.now[1]))
	}
	return f
}

// better: in range first, then nearest the aim, then as a tie is decided, then
// with the change shared evenly between the ends.
func (c chooser) better(a, b *fit) bool {
	if d := a.outside.Cmp(b.outside); d != 0 {
		return d < 0
	}
	if d := a.off.Cmp(b.off); d != 0 {
		return d < 0
	}
	if d := a.sum.Cmp(b.sum); d != 0 {
		return d > 0 == c.thicker
	}
	return a.uneven.Cmp(b.uneven) < 0
}

// noneFits says which sizes would do, and which of the stock comes nearest.
func (c chooser) noneFits(u quantity.Unit, nearest *fit, stock []quantity.Length) string {
	most := sub(c.total, c.lo)
	if most.Sign() < 0 {
		return fmt.Sprintf("no shim is thin enough: even without, it comes to %s (estimate); look for what stands proud", quantity.Of(c.total, u))
	}
	would := "at most " + quantity.Of(most, u).String()
	if c.hi != nil {
		if least := sub(c.total, c.hi); least.Sign() > 0 {
			would = fmt.Sprintf("%s to %s", quantity.Of(least, u), quantity.Of(most, u))
		}
	}
	if len(c.now) == 2 {
		would += ", both ends together"
	}
	would += " (estimate)"
	if nearest == nil {
		return "a shim that would do: " + would
	}
	var sizes []quantity.Length
	for _, i := range nearest.at {
		sizes = append(sizes, stock[i])
	}
	return fmt.Sprintf("no shim of the stock brings it in; one that would: %s; the nearest, %s, comes to %s", would, join(sizes), quantity.Of(nearest.comesTo, u))
}
