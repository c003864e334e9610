package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"evenpull/spec"
)

func (a *app) checkCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "check FILE...",
		Short: "Problems and warnings of procedure files",
		Example: `  evenpull check my-sheet.toml
  evenpull check --json - < my-sheet.toml`,
		Args: atLeast(1, "one file or more, or - for standard input"),
		RunE: func(cmd *cobra.Command, args []string) error {
			var list []jsonChecked
			bad := false
			for _, name := range args {
				_, problems, err := a.library().Load(name)
				bad = bad || err != nil || len(problems.Errors()) > 0
				if asJSON {
					list = append(list, checkedJSON(name, problems, err))
				} else {
					a.printChecked(name, problems, err)
				}
			}
			if asJSON {
				if err := writeJSON(a.Out, list); err != nil {
					return problem(err)
				}
			}
			if bad {
				return &exit{code: ExitProblem}
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON, with line and column for editors")
	cmd.ValidArgsFunction = arguments(true, a.procedureNames)
	return cmd
}

func (a *app) printChecked(name string, problems spec.Problems, err error) {
	if err != nil {
		fmt.Fprintf(a.Err, "evenpull: %s\n", spec.Printable(a.pointed(err.Error())))
		return
	}
	for _, p := range problems {
		fmt.Fprintln(a.Out, p.Error())
	}
	if len(problems) == 0 {
		fmt.Fprintf(a.Out, "%s: no problems\n", spec.Printable(name))
	}
}

// jsonChecked is one file of check --json.
type jsonChecked struct {
	File     string        `json:"file"` // as it was named
	OK       bool          `json:"ok"`   // it can be walked
	Problems []jsonProblem `json:"problems"`
}

// jsonProblem is one thing wrong in a file. Line and column count from 1, in
// characters; both are 0 for a file that cannot be read at all.
type jsonProblem struct {
	Line     int    `json:"line"`
	Column   int    `json:"column"`
	Severity string `json:"severity"` // error or warning
	What     string `json:"what"`
	Remedy   string `json:"remedy"`
	Text     string `json:"text"` // FILE:LINE:COLUMN: all of it in one line
}

func checkedJSON(name string, problems spec.Problems, err error) jsonChecked {
	c := jsonChecked{File: spec.Printable(name), OK: err == nil && len(problems.Errors()) == 0, Problems: []jsonProblem{}}
	if err != nil {
		text := spec.Printable(err.Error())
		c.Problems = append(c.Problems, jsonProblem{Severity: "error", What: text, Text: text})
	}
	for _, p := range problems {
		severity := "error"
		if p.Warning {
			severity = "warning"
		}
		c.Problems = append(c.Problems, jsonProblem{p.Line, p.Column, severity, p.What, p.Remedy, p.Error()})
	}
	return c
}
