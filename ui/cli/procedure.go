package cli

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"evenpull/procedures"
	"evenpull/procedures/plan"
	"evenpull/procedures/session"
	"evenpull/procedures/shell"
	"evenpull/spec"
)

// load reads a procedure by bundled name or file, and says all its problems.
func (a *app) load(name string) (*spec.Procedure, error) {
	p, problems, err := session.Desk{Library: a.library()}.Read(name)
	a.printProblems(problems)
	return p, problem(err)
}

func countOf(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (a *app) planCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "plan PROCEDURE",
		Short: "Every stage in order, and why in that order",
		Example: `  evenpull plan crankcase-close
  evenpull plan my-sheet.toml --json`,
		Args: exactly(1, "one procedure: a bundled name or a file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := a.load(args[0])
			if err != nil {
				return err
			}
			if asJSON {
				return problem(plan.Of(p).WriteJSON(a.Out))
			}
			return problem(plan.Of(p).WriteText(a.Out))
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	cmd.ValidArgsFunction = arguments(false, a.procedureNames)
	return cmd
}

func (a *app) newCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "new FILE",
		Short:   "Write a commented procedure to fill in",
		Example: `  evenpull new my-sheet.toml`,
		Args:    exactly(1, "one file name"),
		RunE: func(cmd *cobra.Command, args []string) error {
			f, err := os.OpenFile(args[0], os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
			if errors.Is(err, os.ErrExist) {
				return problem(fmt.Errorf("%s exists already and is left as it is; give another name", args[0]))
			}
			if err != nil {
				return problem(err)
			}
			_, err = f.WriteString(procedures.New())
			if closing := f.Close(); err == nil {
				err = closing
			}
			if err != nil {
				return problem(err)
			}
			fmt.Fprintf(a.Err, "wrote %s; fill it in, then: %s\n", spec.Printable(args[0]), shell.Line("check", []string{args[0]}))
			return nil
		},
	}
}
