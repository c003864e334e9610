package cli

import (
	"errors"
	"fmt"

	"evenpull/procedures"
	"evenpull/procedures/engine"
	"evenpull/procedures/plan"
	"evenpull/procedures/record"
	"evenpull/procedures/session"
	"evenpull/procedures/shell"
	"evenpull/ui/convert"
	"evenpull/ui/page"
	"evenpull/ui/start"
)

// start shows the start screen, runs what is chosen there, and comes back to it.
func (a *app) start() error {
	if !a.onTerminal() {
		return usage("the start screen needs a terminal on input and output; see: evenpull --help")
	}
	store, err := a.store()
	if err != nil {
		return err
	}
	notice := ""
	var answer *start.Answer
	for {
		lists, err := a.startLists(store)
		if err != nil {
			return problem(err)
		}
		last, err := a.show(start.New(start.Config{Lists: lists, Reload: func() (start.Lists, error) { return a.startLists(store) }, Now: a.Now, Notice: notice, Answer: answer}))
		if err != nil {
			return err
		}
		choice := last.(start.Model).Choice()
		if choice.Do == start.Leave {
			return nil
		}
		notice, answer = a.comeTo(choice, a.carryOut(store, choice))
	}
}

// comeTo is what the start screen says, or asks first, after a choice: what went
// wrong, which walk is meant, why one can go on without what is damaged.
func (a *app) comeTo(c start.Choice, err error) (notice string, answer *start.Answer) {
	var which *session.WhichError
	var damage *session.DamageError
	switch {
	case err == nil:
		return "", nil
	case errors.As(err, &which) && which.File == nil:
		return which.Why() + ": go on with it under Left open, or start a new one with ctrl+n at the tag", nil
	case errors.As(err, &damage):
		answer = &start.Answer{Choice: c}
		for _, d := range damage.List {
			answer.Lines = append(answer.Lines, d.Text())
		}
		return "", answer
	}
	return a.pointed(err.Error()), nil
}

// carryOut runs one choice. What went wrong is shown on the start screen.
func (a *app) carryOut(store *record.Store, c start.Choice) error {
	switch c.Do {
	case start.Convert:
		_, err := a.show(convert.New())
		return err
	case start.Stands:
		e, err := a.known(store, c.Engine)
		if err != nil {
			return err
		}
		sections := append([]page.Section{{Lines: []string{a.pointed(e.Headline(a.Now()))}}}, a.engineSections(e)...)
		_, err = a.show(page.New(engineTitle(e), sections...))
		return err
	case start.Review:
		return a.review(c.ID)
	case start.Resume:
		s, err := a.deskAt(store).Resume(c.ID, c.Despite)
		return a.atStand(s, err)
	case start.Begin:
		s, err := a.deskAt(store).Open(session.Request{Procedure: c.Ref, Engine: c.Engine, Fresh: c.Fresh, Despite: c.Despite})
		return a.atStand(s, err)
	}
	return fmt.Errorf("%q is not something to do", c.Do)
}

// atStand walks an opened walk; leaving it open is no problem here.
func (a *app) atStand(s *session.Session, err error) error {
	if err != nil {
		return err
	}
	defer s.Close()
	w := atWork{Session: s}
	if b, err := a.walkBench(tools{}); err == nil {
		w.bench = b
	}
	err = a.walkAtStand(w)
	var coded *exit
	if errors.As(err, &coded) && coded.code == ExitOutstanding {
		return nil
	}
	return err
}

// startLists reads what there is to choose from.
func (a *app) startLists(store *record.Store) (start.Lists, error) {
	var lists start.Lists
	records, err := store.List()
	if err != nil {
		return lists, err
	}
	for _, s := range records {
		if s.State == record.StateOpen {
			lists.Open = append(lists.Open, start.Walk{ID: s.ID, Procedure: s.Procedure, Engine: s.Engine, Ref: s.Source, Next: nextOf(s.Path), Confirmed: s.Confirmed, Of: s.Stages, Last: s.Last, HeldBy: heldBy(store, s.ID)})
			continue
		}
		lists.Records = append(lists.Records, start.Record{ID: s.ID, Procedure: s.Procedure, Engine: s.Engine, State: string(s.State), Started: s.Started, Last: s.Last, Problem: s.Problem})
	}
	ledgers, _, err := store.Ledgers() // what is wrong with one is said on its engine's page
	if err != nil {
		return lists, err
	}
	for _, b := range engine.Overview(records, ledgers) {
		lists.Engines = append(lists.Engines, start.Engine{Tag: b.Tag, Name: b.Name, Headline: a.pointed(b.Line(a.Now()))})
	}
	library := a.library()
	bundled := len(procedures.Bundled())
	for i, name := range library.Names() {
		lists.Procedures = append(lists.Procedures, a.startProcedure(library, name, i >= bundled))
	}
	return lists, nil
}

// nextOf says what an open walk asks for, or nothing if it cannot be read.
func nextOf(path string) string {
	f, err := record.Read(path)
	if err != nil {
		return ""
	}
	state, _, err := f.Replay()
	if err != nil || state.CurrentItem() == nil {
		return ""
	}
	return state.CurrentItem().Text()
}

func (a *app) startProcedure(library procedures.Library, name string, own bool) start.Procedure {
	row := start.Procedure{Ref: name, Name: name, Own: own, Command: a.walkLine(name, "")}
	p, problems, err := library.Load(name)
	switch {
	case err != nil:
		row.Problem = err.Error()
	case p == nil:
		row.Problem = countOf(len(problems.Errors()), "problem") + "; see: " + shell.Line("check", []string{name})
	default:
		row.Name, row.Engine, row.Direction, row.Stages = p.Name, p.Engine, string(p.Direction), len(plan.Of(p).Stages)
	}
	return row
}
