package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"evenpull/procedures"
	"evenpull/procedures/plan"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/report"
)

func (a *app) compareCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "compare RECORD [RECORD]",
		Short: "Two records side by side, and each against its procedure as it is today",
		Long: `Two records side by side, and each against its procedure as it is today.
With one record: that record against its procedure.`,
		Example: `  evenpull compare 2026-11-25-stand-2-close-the-crankcase-1 last
  evenpull compare last --json`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 2 {
				return nil
			}
			return exactly(1, "one record or two")(cmd, args)
		},
		ValidArgsFunction: arguments(false, a.recordNames, a.recordNames),
		RunE: func(cmd *cobra.Command, args []string) error {
			var sheets []report.Sheet
			for _, name := range args {
				s, err := a.sheet(name)
				if err != nil {
					return err
				}
				sheets = append(sheets, s)
			}
			c := report.Alone(sheets[0])
			if len(sheets) == 2 {
				c = report.Compare(sheets[0], sheets[1])
			}
			for _, s := range sheets {
				c.Today = append(c.Today, a.againstToday(s))
			}
			if asJSON {
				return problem(writeJSON(a.Out, c))
			}
			return problem(report.WriteComparison(a.Out, c))
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return cmd
}

// againstToday reads the procedure a record was walked from as it is now. What
// is wrong inside the file is for check to say: a record may name any file.
func (a *app) againstToday(then report.Sheet) report.Today {
	if procedures.IsPiped(then.Source) {
		return report.UnknownToday(then, "it came from standard input")
	}
	p, problems, err := a.library().Load(then.Source)
	switch {
	case err != nil:
		return report.UnknownToday(then, err.Error())
	case p == nil:
		return report.UnknownToday(then, fmt.Sprintf("it has %s now", countOf(len(problems.Errors()), "problem")))
	}
	if p.Other != nil { // it goes both ways now
		if p, err = p.Toward(spec.Direction(then.Direction)); err != nil {
			return report.UnknownToday(then, err.Error())
		}
	}
	return report.AgainstToday(then, unwalked(p))
}

// unwalked is the sheet of a procedure before anything is done.
func unwalked(p *spec.Procedure) report.Sheet {
	return report.New(report.Input{State: walk.New(plan.Of(p)), SHA256: record.TextHash(p.Text), Whole: true})
}
