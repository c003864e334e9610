package words

import (
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/boltmap"
)

// Places says in a few words where each fastener of a procedure sits on the joint, by its
// index. It looks at all of them for each: keep it as long as the procedure.
func Places(p *spec.Procedure) []string {
	bolts := make([]boltmap.Bolt, len(p.Fasteners))
	for i, fa := range p.Fasteners {
		bolts[i] = boltmap.Bolt{ID: fa.ID, Group: fa.Group.ID, X: fa.X, Y: fa.Y}
	}
	return boltmap.Places(bolts)
}

// InHand is the fastener that an item is of, or nil.
func InHand(it *walk.Item) *spec.Fastener {
	switch {
	case it == nil:
		return nil
	case it.Kind == walk.StageItem:
		return it.Stage.Fastener
	}
	return it.Fastener
}
