package words

import (
	"evenpull/spec"
	"evenpull/ui/boltmap"
)

// Where says in a few words where a fastener sits on the joint.
func Where(p *spec.Procedure, f *spec.Fastener) string {
	bolts := make([]boltmap.Bolt, len(p.Fasteners))
	for i, fa := range p.Fasteners {
		bolts[i] = boltmap.Bolt{ID: fa.ID, Group: fa.Group.ID, X: fa.X, Y: fa.Y}
	}
	return boltmap.Where(bolts, f.ID)
}
