package engine

import (
	"fmt"
	"math/big"
	"slices"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
	"evenpull/spec/measure"
)

// advice is which shims a measurement asked for, until it is taken again and in range.
type advice struct {
	check string
	needs []need
}

// advises notes the shims that the measurements of a walk asked for. It is worked
// out from the readings, as the walk does.
func (f *folder) advises(w *Walk) {
	for _, ev := range w.State.Events {
		it, ok := w.State.ItemAt(ev.Seq, ev.Item)
		if !ok || ev.Kind != walk.Rejected && ev.Kind != walk.Measured {
			continue
		}
		if it.Kind != walk.MeasureItem || it.Check.Shim == nil || ev.Kind == walk.Measured && !stands(w.State, ev) {
			continue
		}
		res, err := it.Check.How.Judge(ev.Reading)
		if err != nil {
			continue
		}
		key := it.Key().String() + lastAt(w.Place)
		why := fmt.Sprintf("advised on %s, %s %s (%s)", ev.At.Format(time.DateOnly), it.Check.Measure, it.Check.How.Fault(res), w.Procedure)
		f.add(f.moments.of(ev.Seq), w.ID, func() {
			if res.Verdict == measure.InRange {
				f.shop.advised = slices.DeleteFunc(f.shop.advised, func(a advice) bool { return a.check == key })
				return
			}
			if len(res.Choice) == 0 {
				return
			}
			f.shop.advised = slices.DeleteFunc(f.shop.advised, func(a advice) bool { return a.check == key })
			f.shop.advised = append(f.shop.advised, advice{key, shimNeeds(it.Check, ev.Reading, res, w.Place, why)})
		})
	}
}

// stands reports whether a measurement is the one that stands at its check.
func stands(s *walk.State, ev walk.Event) bool {
	i, ok := s.Find(ev.Item)
	return ok && s.Mark(i).Seq == ev.Seq
}

// shimNeeds are the shims of a choice that are not the ones fitted now.
func shimNeeds(c *spec.Check, reading string, res measure.Result, place, why string) []need {
	r, err := c.How.Read(reading)
	if err != nil {
		return nil
	}
	var now []*big.Rat
	for _, q := range r.Of["shim"] {
		now = append(now, q.Exact(r.Unit))
	}
	var list []need
	for _, l := range res.Choice {
		size := l.Exact(r.Unit)
		if i := slices.IndexFunc(now, func(n *big.Rat) bool { return n.Cmp(size) == 0 }); i >= 0 {
			now = slices.Delete(now, i, i+1)
			continue
		}
		name := fmt.Sprintf("%s %s", c.Shim.Part.Name, l)
		if i := slices.IndexFunc(list, func(n need) bool { return n.called == name }); i >= 0 {
			list[i].count++
			continue
		}
		list = append(list, need{piece{ident.Part(c.Shim.Part.ID).At(place), name}, name, "", 1, why})
	}
	return list
}

// advisedNeeds are the shims still to be fitted, in the order they were asked for.
func (f *folder) advisedNeeds() []need {
	var list []need
	for _, a := range f.shop.advised {
		for _, n := range a.needs {
			n.name += " by " + a.check
			list = append(list, n)
		}
	}
	return list
}
