package read

import (
	"fmt"
	"sort"
	"strings"
)

// Problem is one thing wrong, or worth a second look, in a procedure file.
//
// Line and Column count from 1; Column counts characters, not bytes, so that
// an editor's caret lands where the text is wrong after "N·m" or "µ" too.
type Problem struct {
	File    string
	Line    int
	Column  int
	What    string // what is wrong, lower case
	Remedy  string // what to write instead
	Warning bool   // the file can be walked all the same
}

// Error gives the one-line form "FILE:LINE:COLUMN: what is wrong; what to write instead".
func (p Problem) Error() string {
	text := fmt.Sprintf("%s:%d:%d: ", p.File, p.Line, p.Column)
	if p.Warning {
		text += "warning: "
	}
	text += p.What
	if p.Remedy != "" {
		text += "; " + p.Remedy
	}
	return text
}

// Problems is a file's problems in the order they stand in it.
type Problems []Problem

// Error lists every problem, one a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Errors are the problems that keep the file from being walked.
func (ps Problems) Errors() Problems { return ps.only(false) }

func (ps Problems) only(warning bool) Problems {
	var kept Problems
	for _, p := range ps {
		if p.Warning == warning {
			kept = append(kept, p)
		}
	}
	return kept
}

func (ps Problems) sorted() Problems {
	sort.SliceStable(ps, func(i, j int) bool {
		if ps[i].Line != ps[j].Line {
			return ps[i].Line < ps[j].Line
		}
		return ps[i].Column < ps[j].Column
	})
	return ps
}
