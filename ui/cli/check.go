package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"evenpull/procedures"
	"evenpull/spec"
	"evenpull/spec/estimate"
	"evenpull/spec/read"
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
			list := []jsonChecked{}
			var read []named
			bad := false
			for _, name := range args {
				p, problems, err := a.library().Load(name)
				bad = bad || err != nil || len(problems.Errors()) > 0
				if !asJSON {
					a.printChecked(name, p, problems, err)
				}
				list = append(list, checkedJSON(name, p, problems, err))
				if p != nil {
					read = append(read, named{name, p, len(list) - 1})
				}
			}
			for _, pair := range a.pairs(read) {
				for _, advice := range procedures.Unmatched(pair[0].p, pair[1].p, pair[0].name, pair[1].name) {
					list[pair[0].at].Advice = append(list[pair[0].at].Advice, advice)
					if !asJSON {
						fmt.Fprintf(a.Out, "advice: %s; see whether that is meant\n", advice)
					}
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

// named is a procedure that can be walked, as it was named, and its place in what is written.
type named struct {
	name string
	p    *spec.Procedure
	at   int
}

// pairs are those that open and close one joint, the one that opens first: of the ones that
// were named, and of one alone with the one called like it, -open for -close.
func (a *app) pairs(read []named) [][2]named {
	var list [][2]named
	pair := func(one, other named) bool {
		if !procedures.ArePair(one.p, other.p) {
			return false
		}
		if one.p.Direction == spec.Close {
			one, other = other, one
		}
		other.at, one.at = min(one.at, other.at), min(one.at, other.at)
		list = append(list, [2]named{one, other})
		return true
	}
	for i, one := range read {
		paired := false
		for k, other := range read {
			if k > i {
				paired = pair(one, other) || paired
			}
			paired = paired || k < i && procedures.ArePair(one.p, other.p)
		}
		if name := procedures.Counterpart(one.name); name != "" && !paired {
			if p, _, err := a.library().Load(name); err == nil && p != nil {
				pair(one, named{name, p, one.at})
			}
		}
	}
	return list
}

func (a *app) printChecked(name string, p *spec.Procedure, problems read.Problems, err error) {
	if err != nil {
		fmt.Fprintf(a.Err, "evenpull: %s\n", spec.Printable(a.pointed(err.Error())))
		return
	}
	for _, p := range problems {
		fmt.Fprintln(a.Out, p.Error())
	}
	a.printVerdicts(spec.Printable(name), p, len(problems))
}

// printVerdicts says of each group what was judged and what was not, and closes with a
// word on the whole file; nothing for a file that cannot be read.
func (a *app) printVerdicts(name string, p *spec.Procedure, problems int) {
	if p == nil {
		return
	}
	part := 0
	for _, v := range estimate.Verdicts(p) {
		fmt.Fprintf(a.Out, "%s: group %s: %s\n", name, spec.Printable(v.Group.ID), spec.Printable(v.Text()))
		if !v.Whole() {
			part++
		}
	}
	switch {
	case problems > 0:
	case part == 0:
		fmt.Fprintf(a.Out, "%s: no problems\n", name)
	case p.Direction == spec.Open:
		fmt.Fprintf(a.Out, "%s: no problems; it takes apart, so there is no figure to judge\n", name)
	default:
		fmt.Fprintf(a.Out, "%s: no problems in what was judged; %s not judged in full, as said above\n", name, countOf(part, "group"))
	}
}

// jsonChecked is one file of check --json.
type jsonChecked struct {
	File     string        `json:"file"` // as it was named
	OK       bool          `json:"ok"`   // it can be walked
	Problems []jsonProblem `json:"problems"`
	Groups   []jsonVerdict `json:"groups"` // none for a file with errors
	Advice   []string      `json:"advice"` // where it and the sheet that opens or closes the same joint disagree
}

// jsonVerdict is what was held against the bolts of a group; what is doubted is among the problems.
type jsonVerdict struct {
	Group     string   `json:"group"`
	Judged    []string `json:"judged"`
	Notes     []string `json:"notes"`
	NotJudged []string `json:"not_judged"`
	Doubted   int      `json:"doubted"`
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

func checkedJSON(name string, p *spec.Procedure, problems read.Problems, err error) jsonChecked {
	c := jsonChecked{File: spec.Printable(name), OK: err == nil && len(problems.Errors()) == 0, Problems: []jsonProblem{}, Groups: []jsonVerdict{}, Advice: []string{}}
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
	if p == nil {
		return c
	}
	none := []string{} // [] in JSON, not null
	for _, v := range estimate.Verdicts(p) {
		c.Groups = append(c.Groups, jsonVerdict{v.Group.ID, append(none, v.Judged...), append(none, v.Notes...), append(none, v.NotJudged...), len(v.Doubts)})
	}
	return c
}
