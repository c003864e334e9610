package cli

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/plan"
	"evenpull/procedures/record"
	"evenpull/procedures/session"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/ui/convert"
	"evenpull/ui/page"
	"evenpull/ui/program"
	"evenpull/ui/start"
	"evenpull/ui/words"
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
	case start.Ready:
		p, _, err := a.library().Load(c.Ref)
		if err == nil && p == nil {
			err = fmt.Errorf("%s cannot be read any more; see: %s", c.Ref, shell.Line("check", []string{c.Ref}))
		}
		if err != nil {
			return program.Layer{}, err
		}
		return program.Layer{Screen: readyPage(plan.Of(p).Ready())}, nil
	case start.Review:
		m, err := a.reviewed(c.ID)
		return program.Layer{Screen: m}, err
	case start.Write:
		return a.askedOwn(c.Ref)
	case start.Resume, start.Begin:
		r := session.Request{Record: c.ID, Procedure: c.Ref, Engine: c.Engine, Fresh: c.Fresh, Despite: c.Despite}
		if c.Edited {
			r.Resheet = func(makes walk.Resheeting) (string, error) {
				if c.Because == "" || c.Shown != strings.Join(words.Resheeting(makes), "\n") { // edited once more meanwhile
					return "", &session.EditedError{Makes: makes}
				}
				return c.Because, nil
			}
		}
		s, err := a.deskAt(store).Open(r)
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

// startLists are what there is to choose from, as the start screen shows it.
func (a *app) startLists(store *record.Store) (start.Lists, error) {
	var lists start.Lists
	b, err := a.deskAt(store).Board()
	if err != nil {
		return lists, err
	}
	for _, w := range b.Open {
		lists.Open = append(lists.Open, start.Walk{ID: w.ID, Procedure: placed(w.Procedure, w.Place), Engine: w.Engine, Ref: w.Sheet, Next: w.Next, Confirmed: w.Confirmed, Of: w.Stages, Last: w.Last, HeldBy: w.HeldBy})
	}
	for _, s := range b.Over {
		lists.Records = append(lists.Records, start.Record{ID: s.ID, Procedure: placed(s.Procedure, s.Place), Engine: s.Engine, State: string(s.State), Started: s.Started, Last: s.Last, Problem: s.Problem})
	}
	for _, e := range b.Engines {
		lists.Engines = append(lists.Engines, start.Engine{Tag: e.Tag, Name: e.Name, Headline: a.pointed(e.Line(a.Now()))})
	}
	for _, s := range b.Sheets {
		lists.Procedures = append(lists.Procedures, a.startProcedure(s))
	}
	return lists, nil
}

func (a *app) startProcedure(s session.Sheet) start.Procedure {
	row := start.Procedure{Ref: s.Ref, Name: s.Ref, Own: s.Own, Command: a.walkLine(s.Ref, "", "")}
	switch p := s.Procedure; {
	case s.Err != nil:
		row.Problem = s.Err.Error()
	case p == nil:
		row.Problem = countOf(len(s.Problems.Errors()), "problem") + "; see: " + shell.Line("check", []string{s.Ref})
	default:
		row.Name, row.Engine, row.Direction, row.Stages, row.Parts = p.Name, p.Engine, string(p.Direction), len(plan.Of(p).Stages), len(p.Parts)
	}
	return row
}
