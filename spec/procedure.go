// Package spec is what a procedure says: the model, what each piece of it means to
// the work, and what two versions of a sheet differ in.
//
// How a file is read is spec/read, and what its figures come to in a bolt
// spec/estimate. A procedure that was read without errors is complete and
// consistent, so the packages above never have to check it again.
package spec

import (
	"fmt"
	"strings"
)

// Direction says whether a procedure tightens a joint or takes it apart.
type Direction string

const (
	Close Direction = "close"
	Open  Direction = "open"
	Both  Direction = "both" // of a file alone: a procedure is one or the other
)

// Procedure is a file of format 1, read and checked.
type Procedure struct {
	File      string
	Name      string
	Engine    string
	Direction Direction
	Source    string // empty: figures without a source of their own are unsourced
	Cautions  []string
	Sealant   *Sealant
	Cover     *Cover
	Groups    []*Group
	Fasteners []*Fastener // in file order
	Passes    []*Pass
	Checks    []*Check
	Parts     []*Part
	Callouts  []*Callout
	Text      []byte // the file as read
	// Other is how the same file opens the joint, on the procedure that closes it: set
	// where the file goes both ways and nobody has said which. See Toward.
	Other *Procedure
}

// Toward is the procedure of one direction; an error where its file has not got it.
func (p *Procedure) Toward(way Direction) (*Procedure, error) {
	one := *p
	switch {
	case p.Direction == way:
	case p.Other != nil && p.Other.Direction == way:
		one = *p.Other
	default:
		return nil, fmt.Errorf("%s only goes one way: %s", Quote(p.Name), p.Direction)
	}
	one.Other = nil
	return &one, nil
}

// HollowFirst reports whether hollow fasteners go before the others in a pass: in
// one that leaves its fasteners loose, so that they don't carry the joint alone as
// the others let go. In one that leaves them tight they go last. A pass that moves
// nothing goes as the procedure does.
func (p *Procedure) HollowFirst(pass *Pass) bool {
	for i := len(pass.Steps) - 1; i >= 0; i-- {
		if a := pass.Steps[i].Action; a.Tightens() || a.Frees() {
			return a.Frees()
		}
	}
	return p.Direction == Open
}

// Group finds a group by its id, or nil.
func (p *Procedure) Group(id string) *Group {
	for _, g := range p.Groups {
		if g.ID == id {
			return g
		}
	}
	return nil
}

// Fastener finds a fastener by its id, in any case of letters, or nil.
func (p *Procedure) Fastener(id string) *Fastener {
	var folded *Fastener
	for _, f := range p.Fasteners {
		if f.ID == id {
			return f
		}
		if strings.EqualFold(f.ID, id) {
			folded = f
		}
	}
	return folded
}

// Part finds a part by its id or name, or nil.
func (p *Procedure) Part(name string) *Part {
	for _, part := range p.Parts {
		if strings.EqualFold(part.ID, name) || strings.EqualFold(part.Name, name) {
			return part
		}
	}
	return nil
}

// SourceOf says where the figures of a group in a pass come from: the pass's
// own source, the group's, or the file's. Empty means unsourced.
func (p *Procedure) SourceOf(pass *Pass, g *Group) string {
	for _, s := range []string{pass.Source, g.Source, p.Source} {
		if s != "" {
			return s
		}
	}
	return ""
}
