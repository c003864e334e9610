package session

import (
	"sync"

	"evenpull/procedures"
	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/spec"
)

// shelf is what lies in the folder of records at one moment.
type shelf struct {
	records []record.Summary
	ledgers []*record.File
	damaged []error // of ledgers that cannot be read at all
}

func (d Desk) look() (shelf, error) {
	var on shelf
	var err error
	if on.records, err = d.Store.List(); err != nil {
		return on, err
	}
	on.ledgers, on.damaged, err = d.Store.Ledgers()
	return on, err
}

// engine folds everything on record of a tag but one record, which may be empty.
func (on shelf) engine(tag, except string, closers func() []*spec.Procedure) engine.Engine {
	var walks []engine.Walk
	for _, sum := range on.records {
		if sum.ID == except || sum.CopyOf != "" || !record.SameTag(sum.Engine, tag) {
			continue
		}
		if f, err := record.Read(sum.Path); err == nil { // else it is gone since it was listed
			walks = append(walks, engine.WalkOf(f))
		}
	}
	e := engine.Fold(tag, walks, on.ledgers, closers)
	for _, d := range on.damage(wanted{tag: tag}, true) {
		if d.Unnamed { // the others are said by the fold
			e.Problems = append(e.Problems, d.Text())
		}
	}
	return e
}

// Engine folds everything on record of a tag.
func (d Desk) Engine(tag string) (engine.Engine, error) {
	on, err := d.look()
	if err != nil {
		return engine.Engine{}, err
	}
	return on.engine(tag, "", d.closers), nil
}

// Engines folds every engine there is something on record of, the one last
// worked on first.
func (d Desk) Engines() ([]engine.Engine, error) {
	on, err := d.look()
	if err != nil {
		return nil, err
	}
	var list []engine.Engine
	closers := sync.OnceValue(d.closers)
	for _, b := range engine.Overview(on.records, on.ledgers) {
		list = append(list, on.engine(b.Tag, "", closers))
	}
	return list, nil
}

// closers are the close procedures there are to walk, bundled and the person's
// own. Files with problems are for check, not for here.
func (d Desk) closers() []*spec.Procedure {
	var list []*spec.Procedure
	for _, name := range append(procedures.BundledToClose(), d.Library.Own()...) {
		if p, _, err := d.Library.Load(name); err == nil && p != nil && p.Direction == spec.Close {
			if p.Other != nil {
				name += ":" + string(spec.Close)
			}
			p.File = name // as the person would type it
			list = append(list, p)
		}
	}
	return list
}
