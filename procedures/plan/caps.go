package plan

import (
	"fmt"
	"slices"

	"evenpull/spec"
)

// arrangeBlock puts a block in the order that the pass gives, cap by cap where it says so,
// and turned round where the order is another one's reverse.
func (pl *planner) arrangeBlock(pass *spec.Pass, fs []*spec.Fastener) ([]*spec.Fastener, []string) {
	arrange := pl.arrange
	if pass.Order.By == spec.ByCap {
		arrange = pl.byCap
	}
	out, places := arrange(pass, fs)
	if pass.Order.Backwards && len(out) > 1 {
		return reversed(out), repeat(fmt.Sprintf("order %s: the other one, backwards", pass.Order.Name), len(out))
	}
	return out, places
}

// byCap orders caps as the rule orders bolts, each where the middle of its bolts is. The
// bolts of a cap follow each other, as the sheet names them. A bolt that holds no cap
// together with others goes for itself.
func (pl *planner) byCap(pass *spec.Pass, fs []*spec.Fastener) ([]*spec.Fastener, []string) {
	in, of := map[*spec.Fastener]bool{}, map[*spec.Fastener][]*spec.Fastener{} // what stands for a cap → its bolts
	for _, f := range fs {
		in[f] = true
	}
	var stand []*spec.Fastener
	seen := map[*spec.Cap]bool{}
	for _, f := range fs {
		switch {
		case f.Cap == nil:
			stand = append(stand, f)
		case !seen[f.Cap]:
			seen[f.Cap] = true
			members := slices.DeleteFunc(slices.Clone(f.Cap.Members), func(m *spec.Fastener) bool { return !in[m] })
			x, y := centroid(members)
			middle := &spec.Fastener{ID: "cap " + f.Cap.Name, Group: f.Group, X: x, Y: y}
			for _, m := range members {
				pl.last[middle] = max(pl.last[middle], pl.last[m])
			}
			stand, of[middle] = append(stand, middle), members
		}
	}
	ordered, reasons := pl.arrange(pass, stand)
	var out []*spec.Fastener
	var places []string
	for i, one := range ordered {
		members, isCap := of[one]
		if !isCap {
			out, places = append(out, one), append(places, reasons[i])
			continue
		}
		if pass.Order.Kind == "reverse" {
			members = reversed(members)
		}
		for k, f := range members {
			why := one.ID + ": " + reasons[i]
			if k > 0 {
				why = "the same cap as " + members[0].ID
			}
			out, places = append(out, f), append(places, why)
		}
	}
	return out, places
}
