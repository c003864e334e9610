package cli

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"evenpull/procedures"
	"evenpull/procedures/plan"
	"evenpull/procedures/session"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/report"
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

// toward is a procedure's name with the direction that is wanted of it.
func toward(name, way string) (string, error) {
	_, named := procedures.Split(name)
	switch {
	case way == "":
		return name, nil
	case way != string(spec.Open) && way != string(spec.Close):
		return "", usage("--direction is open or close, not %q", spec.Printable(way))
	case named != "" && string(named) != way:
		return "", usage("%s and --direction %s do not go together; keep one of them", spec.Printable(name), way)
	case named != "":
		return name, nil
	}
	return name + ":" + way, nil
}

// directionFlag is for the commands that walk or plan one way.
func directionFlag(cmd *cobra.Command, way *string) {
	cmd.Flags().StringVar(way, "direction", "", "`WAY`, open or close, of a procedure that goes both ways; NAME:open says the same")
	completeFlags(cmd, map[string]offer{"direction": func() []string { return []string{string(spec.Open), string(spec.Close)} }})
}

func (a *app) planCommand() *cobra.Command {
	var asJSON, asCard, ready bool
	var paper, way string
	var to destination
	cmd := &cobra.Command{
		Use:   "plan PROCEDURE",
		Short: "Every stage in order, and why in that order; what to have ready; a work card to tick on paper",
		Example: `  evenpull plan crankcase-close
  evenpull plan my-sheet.toml --json
  evenpull plan crankcase-close --ready
  evenpull plan crankcase-close --card -o card.html`,
		Args: exactly(1, "one procedure: a bundled name or a file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case asJSON && asCard:
				return usage("--json and --card are both given; keep one")
			case ready && asCard:
				return usage("--ready and --card are both given; keep one")
			}
			on, err := paperOf(paper)
			if err != nil {
				return err
			}
			name, err := toward(args[0], way)
			if err != nil {
				return err
			}
			p, err := a.load(name)
			if err != nil {
				return err
			}
			write := func(w io.Writer) error { return writePlan(w, plan.Of(p)) }
			switch {
			case ready && asJSON:
				write = func(w io.Writer) error { return writeJSON(w, plan.Of(p).Ready()) }
			case ready:
				write = plan.Of(p).WriteReady
			case asJSON:
				write = plan.Of(p).WriteJSON
			case asCard:
				write = func(w io.Writer) error { return report.WriteCard(w, walk.New(plan.Of(p)), fromPaper(name), on) }
			}
			return a.deliver(to, write)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	cmd.Flags().BoolVar(&ready, "ready", false, "what to have ready and to know before a bolt is touched")
	cmd.Flags().BoolVar(&asCard, "card", false, "as a work card to print and tick, in HTML")
	paperFlag(cmd, &paper)
	directionFlag(cmd, &way)
	to.flags(cmd)
	completeFlags(cmd, map[string]offer{"paper": paperNames})
	cmd.ValidArgsFunction = arguments(false, a.procedureNames)
	return cmd
}

// writePlan gives a plan for a person; of a sheet with parts only, which has no
// stages, all that it asks for.
func writePlan(w io.Writer, p *plan.Plan) error {
	if err := p.WriteText(w); err != nil || len(p.Stages) > 0 {
		return err
	}
	for i, it := range walk.CourseOf(p, walk.Rules).Items {
		if _, err := fmt.Fprintf(w, "%4d  %s\n", i+1, it.Text()); err != nil {
			return err
		}
	}
	return nil
}

// fromPaper is the command that enters the ticks of a work card.
func fromPaper(name string) string {
	return shell.Line("walk", []string{name}, "--engine", "TAG") + " --from-paper"
}

func (a *app) newCommand() *cobra.Command {
	var asking, plain bool
	cmd := &cobra.Command{
		Use:   "new FILE",
		Short: "Write a commented procedure to fill in, or be asked for all of it",
		Long: `Writes a commented procedure to fill in. With --ask it asks for the engine, the joint,
its bolts and where they sit, figures, passes, checks and parts, shows the order as it
grows, and writes the file at the end. A file that is there is opened the same way:
answers change it where they belong, comments and keys that are not asked about stay.`,
		Example: `  evenpull new my-sheet.toml
  evenpull new my-sheet.toml --ask`,
		Args: exactly(1, "one file name"),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case asking:
				return a.ask(args[0], plain)
			case plain:
				return usage("--plain goes with --ask")
			}
			return a.newFile(args[0])
		},
	}
	cmd.Flags().BoolVar(&asking, "ask", false, "ask for everything, also about a file that is there")
	cmd.Flags().BoolVar(&plain, "plain", false, "with --ask: as lines of text, as without a terminal")
	return cmd
}

func (a *app) newFile(name string) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, os.ErrExist) {
		return problem(fmt.Errorf("%s exists already and is left as it is; give another name, or change it by answering: %s", name, shell.Line("new", []string{name})+" --ask"))
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
	fmt.Fprintf(a.Err, "wrote %s; fill it in, then: %s\n", spec.Printable(name), shell.Line("check", []string{name}))
	return nil
}
