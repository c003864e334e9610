package cli

import (
	"errors"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/spf13/cobra"

	"evenpull/procedures/record"
	"evenpull/ui/program"
	"evenpull/ui/report"
	"evenpull/ui/review"
)

func (a *app) reviewCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "review [RECORD]",
		Short: "Look through records on the screen: sort, filter, replay a walk on the map",
		Example: `  evenpull review
  evenpull review last`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := a.needScreen("the review", "evenpull records, evenpull show RECORD"); err != nil {
				return err
			}
			if len(args) == 1 {
				m, err := a.reviewed(args[0])
				if err != nil {
					return err
				}
				return a.show(program.Layer{Screen: m})
			}
			store, err := a.store()
			if err != nil {
				return err
			}
			l, err := a.reviewList(store)
			if err != nil {
				return err
			}
			return a.show(l)
		},
	}
	cmd.ValidArgsFunction = arguments(false, a.recordNames)
	return cmd
}

// reviewList is all records, and over them the one that is looked at.
func (a *app) reviewList(store *record.Store) (program.Layer, error) {
	read := func() ([]review.Entry, error) { return a.reviewEntries(store) }
	entries, err := read()
	if err != nil {
		return program.Layer{}, problem(err)
	}
	look := func(id string) tea.Cmd {
		return func() tea.Msg {
			m, err := a.reviewed(id)
			if err != nil {
				return review.FailedMsg{Err: errors.New(a.pointed(err.Error()))}
			}
			return program.OpenMsg{Screen: m}
		}
	}
	return program.Layer{Screen: review.NewList(review.ListConfig{Entries: entries, Reload: read, Look: look, Leave: program.Back})}, nil
}

func (a *app) reviewEntries(store *record.Store) ([]review.Entry, error) {
	list, err := store.List()
	if err != nil {
		return nil, err
	}
	entries := make([]review.Entry, len(list))
	for i, s := range list {
		entries[i] = review.Entry{ID: s.ID, Engine: s.Engine, Procedure: s.Procedure, State: string(s.State), Started: s.Started, Last: s.Last, Confirmed: s.Confirmed, Of: s.Stages, Problem: s.Problem}
		if s.State == record.StateOpen {
			entries[i].HeldBy = a.deskAt(store).HeldBy(s.ID)
		}
	}
	return entries, nil
}

// reviewed is the screen of one record, and its walk again on the map.
func (a *app) reviewed(name string) (review.Model, error) {
	in, err := a.recorded(name)
	if err != nil {
		return review.Model{}, err
	}
	return review.New(review.Config{Sheet: report.New(in), Frames: report.Frames(in.State, in.Findings), Leave: program.Back}), nil
}
