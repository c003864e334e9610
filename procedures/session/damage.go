package session

import (
	"fmt"
	"path/filepath"
	"strings"

	"evenpull/procedures/record"
	"evenpull/spec"
)

// Damage is a record or ledger that cannot be relied on as a whole.
type Damage struct {
	File     string // its name in the folder of records
	What     string // is wrong with it
	Unnamed  bool   // even its tag cannot be relied on: it may be of any engine
	ThisWalk bool   // it may be the very walk that is asked for
}

// Text says what is wrong, and what that may hide.
func (d Damage) Text() string {
	text := fmt.Sprintf("%s is damaged (%s)", d.File, d.What)
	if d.Unnamed {
		text += " and may be of this engine"
	}
	if d.ThisWalk {
		text += "; it may be this very walk"
	}
	return text + "; what it held of things condemned, missing or sent out is not known from there on"
}

// DamageError says that something of the engine is damaged, and that nobody has
// answered for what it may have held.
type DamageError struct{ List []Damage }

// Error names every file.
func (e *DamageError) Error() string { return strings.Join(e.Lines(), ". ") }

// Lines names every file in a line of its own, with the remedy last.
func (e *DamageError) Lines() []string {
	var lines []string
	for _, d := range e.List {
		lines = append(lines, d.Text())
	}
	return append(lines, "take the files from a backup, or look at the engine and say why the walk can go on without what they held")
}

// answerPrefix begins the remark that answers for a damaged file. Damage that has
// changed since has to be answered for again.
func (d Damage) answerPrefix() string { return fmt.Sprintf("despite %s (%s): ", d.File, d.What) }

// answered reports whether the walk has answered for a damaged file before.
func (s *Session) answered(d Damage) bool {
	for _, ev := range s.Live.State.Events {
		if strings.HasPrefix(ev.Text, d.answerPrefix()) {
			return true
		}
	}
	return false
}

// unanswered are those the walk has not answered for; a nil walk has none.
func unanswered(s *Session, list []Damage) []Damage {
	var open []Damage
	for _, d := range list {
		if s == nil || !s.answered(d) {
			open = append(open, d)
		}
	}
	return open
}

// answer keeps the reason for every damaged file it has to be given for, and
// names all of them.
func (s *Session) answer(list []Damage, reason string) error {
	for _, d := range unanswered(s, list) {
		if err := s.note(d.answerPrefix() + reason); err != nil {
			return err
		}
	}
	for _, d := range list {
		s.tell(d.Text())
	}
	return nil
}

// damage lists what is damaged of the engine of a walk. Unless its own record is
// known, anything may be that too. Without a tag there is no engine: only what may
// be the walk itself counts.
func (on shelf) damage(w wanted, known bool) []Damage {
	tagged := record.TagKey(w.tag) != ""
	var list []Damage
	for _, sum := range on.records {
		if sum.State != record.StateBroken {
			continue
		}
		d := Damage{File: filepath.Base(sum.Path), What: sum.Problem, Unnamed: unnamed(sum)}
		d.ThisWalk = !known && (d.Unnamed || record.SameTag(sum.Engine, w.tag) && w.relation(sum) != Unrelated)
		if d.ThisWalk || tagged && d.Unnamed || tagged && record.SameTag(sum.Engine, w.tag) {
			list = append(list, d)
		}
	}
	if tagged {
		list = append(list, on.ledgerDamage(w.tag)...)
	}
	for i := range list {
		list[i].File = spec.Printable(list[i].File)
	}
	return list
}

// unnamed reports whether the header of a broken record, and so its tag, cannot
// be relied on.
func unnamed(sum record.Summary) bool {
	f, err := record.Read(sum.Path)
	return err != nil || f.Chain.Line == 1
}

func (on shelf) ledgerDamage(tag string) []Damage {
	var list []Damage
	for _, err := range on.damaged {
		d := Damage{File: "a ledger", What: err.Error(), Unnamed: true}
		if e, ok := err.(*record.Error); ok {
			d.File, d.What = filepath.Base(e.Path), e.What
		}
		list = append(list, d)
	}
	for _, l := range on.ledgers {
		if l.Chain.Whole() || l.Chain.Torn {
			continue
		}
		if first := l.Chain.Line == 1; first || record.SameTag(l.Header.Engine, tag) {
			list = append(list, Damage{File: filepath.Base(l.Path), What: l.Chain.String(), Unnamed: first})
		}
	}
	return list
}
