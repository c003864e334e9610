package cli

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures"
	"evenpull/procedures/engine"
	"evenpull/procedures/plan"
	"evenpull/procedures/record"
	"evenpull/procedures/session"
	"evenpull/procedures/shell"
	"evenpull/spec"
	"evenpull/ui/convert"
	"evenpull/ui/page"
	"evenpull/ui/program"
	"evenpull/ui/start"
)

// start shows the start screen, and over it what is chosen there.
func (a *app) start() error {
	if err := a.needScreen("the start screen", "evenpull --help"); err != nil {
		return err
	}
	first, err := a.startScreen()
	if err != nil {
		return err
	}
	return a.show(first)
}

func (a *app) startScreen() (program.Layer, error) {
	store, err := a.store()
	if err != nil {
		return program.Layer{}, err
	}
	lists, err := a.startLists(store)
	if err != nil {
		return program.Layer{}, problem(err)
	}
	return program.Layer{Screen: start.New(start.Config{
		Lists: lists, Reload: func() (start.Lists, error) { return a.startLists(store) }, Now: a.Now,
		Go: func(c start.Choice) tea.Cmd { return a.carryOut(store, c) },
	})}, nil
}

// carryOut opens what is chosen on the start screen.
func (a *app) carryOut(store *record.Store, c start.Choice) tea.Cmd {
	if c.Do == start.Leave {
		return program.Back
	}
	return func() tea.Msg {
		l, err := a.chosen(store, c)
		if err != nil {
			return start.FailedMsg{Choice: c, Err: pointedError{a.pointed(err.Error()), err}}
		}
		return program.OpenMsg(l)
	}
}

// pointedError is an error whose commands name the folder of records.
type pointedError struct {
	text string
	error
}

func (e pointedError) Error() string { return e.text }
func (e pointedError) Unwrap() error { return e.error }

// chosen makes the screen of a choice.
func (a *app) chosen(store *record.Store, c start.Choice) (program.Layer, error) {
	switch c.Do {
	case start.Convert:
		return program.Layer{Screen: convert.NewWith("", program.Back)}, nil
	case start.Stands:
		e, err := a.known(store, c.Engine)
		if err != nil {
			return program.Layer{}, err
		}
		sections := append([]page.Section{{Lines: []string{a.pointed(e.Headline(a.Now()))}}}, a.engineSections(e)...)
		return program.Layer{Screen: page.New(engineTitle(e), program.Back, sections...)}, nil
	case start.Review:
		m, err := a.reviewed(c.ID)
		return program.Layer{Screen: m}, err
	case start.Write:
		return a.askedOwn(c.Ref)
	case start.Resume:
		s, err := a.deskAt(store).Resume(c.ID, c.Despite)
		return a.atStand(s, err)
	case start.Begin:
		s, err := a.deskAt(store).Open(session.Request{Procedure: c.Ref, Engine: c.Engine, Fresh: c.Fresh, Despite: c.Despite})
		return a.atStand(s, err)
	}
	return program.Layer{}, fmt.Errorf("%q is not something to do", c.Do)
}

// atStand is the stand of an opened walk; leaving it open is no problem here.
func (a *app) atStand(s *session.Session, err error) (program.Layer, error) {
	if err != nil {
		return program.Layer{}, err
	}
	ear, quiet, err := a.ear(hearing{}.set(a, noFlags))
	if err != nil {
		s.Close()
		return program.Layer{}, err
	}
	g, err := a.gaugeOf(nil, false)
	if err != nil {
		s.Close()
		return program.Layer{}, err
	}
	w := atWork{Session: s, ear: ear, quiet: quiet, gauge: g}
	if b, err := a.walkBench(tools{}); err == nil {
		w.bench = b
	}
	return a.stand(w), nil
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
			lists.Open = append(lists.Open, start.Walk{ID: s.ID, Procedure: placed(s.Procedure, s.Place), Engine: s.Engine, Ref: s.Source, Next: nextOf(s.Path), Confirmed: s.Confirmed, Of: s.Stages, Last: s.Last, HeldBy: heldBy(store, s.ID)})
			continue
		}
		lists.Records = append(lists.Records, start.Record{ID: s.ID, Procedure: placed(s.Procedure, s.Place), Engine: s.Engine, State: string(s.State), Started: s.Started, Last: s.Last, Problem: s.Problem})
	}
	ledgers, _, err := store.Ledgers() // what is wrong with one is said on its engine's page
	if err != nil {
		return lists, err
	}
	for _, b := range engine.Overview(records, ledgers) {
		lists.Engines = append(lists.Engines, start.Engine{Tag: b.Tag, Name: b.Name, Headline: a.pointed(b.Line(a.Now()))})
	}
	library := a.library()
	names, bundled := library.Names(), len(procedures.Bundled())
	for i, name := range slices.Concat(names[bundled:], names[:bundled]) { // the person's own come first
		lists.Procedures = append(lists.Procedures, a.startProcedures(library, name, i < len(names)-bundled)...)
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

// startProcedures are the rows of a procedure: one, or one for each direction of a file that
// goes both ways.
func (a *app) startProcedures(library procedures.Library, name string, own bool) []start.Procedure {
	p, problems, err := library.Load(name)
	if p != nil && p.Other != nil {
		return []start.Procedure{a.startProcedure(p.Other, name+":"+string(spec.Open), own), a.startProcedure(p, name+":"+string(spec.Close), own)}
	}
	row := a.startProcedure(p, name, own)
	switch {
	case err != nil:
		row.Problem = err.Error()
	case p == nil:
		row.Problem = countOf(len(problems.Errors()), "problem") + "; see: " + shell.Line("check", []string{name})
	}
	return []start.Procedure{row}
}

func (a *app) startProcedure(p *spec.Procedure, name string, own bool) start.Procedure {
	row := start.Procedure{Ref: name, Name: name, Own: own, Command: a.walkLine(name, "", "")}
	if p != nil {
		row.Name, row.Engine, row.Direction, row.Stages = p.Name, p.Engine, string(p.Direction), len(plan.Of(p).Stages)
		row.Parts = len(p.Parts)
	}
	return row
}
