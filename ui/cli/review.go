package cli

import (
	"github.com/spf13/cobra"

	"evenpull/procedures/record"
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
			if !a.onTerminal() {
				return usage("the review needs a terminal on input and output; see: evenpull records, evenpull show RECORD")
			}
			if len(args) == 1 {
				return a.review(args[0])
			}
			store, err := a.store()
			if err != nil {
				return err
			}
			return a.reviewList(store)
		},
	}
	cmd.ValidArgsFunction = arguments(false, a.recordNames)
	return cmd
}

// reviewList shows all records, each that is chosen, and the list again.
func (a *app) reviewList(store *record.Store) error {
	at, notice := "", ""
	for {
		entries, err := reviewEntries(store)
		if err != nil {
			return problem(err)
		}
		last, err := a.show(review.NewList(review.ListConfig{Entries: entries, At: at, Notice: notice}))
		if err != nil {
			return err
		}
		if at = last.(review.List).Chosen(); at == "" {
			return nil
		}
		notice = ""
		if err := a.review(at); err != nil {
			notice = a.pointed(err.Error()) // a broken record keeps nobody from the others
		}
	}
}

func reviewEntries(store *record.Store) ([]review.Entry, error) {
	list, err := store.List()
	if err != nil {
		return nil, err
	}
	entries := make([]review.Entry, len(list))
	for i, s := range list {
		entries[i] = review.Entry{ID: s.ID, Engine: s.Engine, Procedure: s.Procedure, State: string(s.State), Started: s.Started, Last: s.Last, Confirmed: s.Confirmed, Of: s.Stages, Problem: s.Problem}
		if s.State == record.StateOpen {
			entries[i].HeldBy = heldBy(store, s.ID)
		}
	}
	return entries, nil
}

// heldBy says who has a walk open, or nothing.
func heldBy(store *record.Store, id string) string {
	if h, held := store.HeldBy(id); held {
		return h.String()
	}
	return ""
}

// review shows one record, and its walk again on the map.
func (a *app) review(name string) error {
	in, err := a.recorded(name)
	if err != nil {
		return err
	}
	_, err = a.show(review.New(review.Config{Sheet: report.New(in), Frames: report.Frames(in.State, in.Findings)}))
	return err
}
