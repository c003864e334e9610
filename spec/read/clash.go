package read

import (
	"strings"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// clashes refuses names that could mean two things: in a record, where a pass
// is named as it is called, and where a person types a name.
func (b *binder) clashes() {
	if b.recorded {
		return // a walk through such a sheet may have been begun before this was asked
	}
	b.reservedPasses()
	b.passesLikeStages()
	b.partsLikeOthers()
}

func (b *binder) reservedPasses() {
	for _, pass := range b.p.Passes {
		if ident.Reserved(pass.Name) {
			b.wrong(b.at[nameOf{pass}], "choose another name", "a pass cannot be called %s: a record would take it for something else", spec.Quote(pass.Name))
		}
	}
}

// passesLikeStages finds a pass called like a fastener in another one: both
// would be "Final/M1" in a record.
func (b *binder) passesLikeStages() {
	for _, long := range b.p.Passes {
		if !strings.Contains(long.Name, "/") {
			continue
		}
		for _, short := range b.p.Passes {
			rest, ok := strings.CutPrefix(long.Name, short.Name+"/")
			if !ok {
				continue
			}
			id, _, _ := strings.Cut(rest, "/")
			for _, f := range short.Fasteners {
				if f.ID == id {
					b.wrong(b.at[nameOf{long}], "choose another name", "a pass cannot be called %s: that is %s in pass %s", spec.Quote(long.Name), f.ID, spec.Quote(short.Name))
				}
			}
		}
	}
}

// nameOf is where the name of a pass stands, among the places of a binder.
type nameOf struct{ pass *spec.Pass }

// partsLikeOthers finds a part whose id or name is that of a fastener or of
// another part. Two parts of one name are refused where they are read.
func (b *binder) partsLikeOthers() {
	fasteners, parts := map[string]*spec.Fastener{}, map[string]*spec.Part{}
	for _, f := range b.p.Fasteners {
		fasteners[strings.ToLower(f.ID)] = f
	}
	for _, p := range b.p.Parts {
		for _, word := range []string{p.ID, p.Name} {
			key := strings.ToLower(word)
			if f := fasteners[key]; f != nil {
				b.wrong(b.at[p], "choose another name or id", "part %s could be mistaken for fastener %s", spec.Quote(p.Name), f.ID)
				break
			}
			if other := parts[key]; other != nil && other != p && !strings.EqualFold(other.Name, p.Name) {
				b.wrong(b.at[p], "choose another name or id", "part %s could be mistaken for part %s", spec.Quote(p.Name), spec.Quote(other.Name))
				break
			}
			parts[key] = p
		}
	}
}
