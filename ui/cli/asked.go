package cli

import (
	"errors"
	"strings"

	"evenpull/procedures/session"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
)

// again is a walk command as it was given, to propose others like it.
type again struct {
	session.Request
	asPlain   bool
	fromPaper bool
	watch     bool
	tools     tools
}

// resume is the command that goes on with the walk of an id.
func (g again) resume(id string) string {
	return shell.Line("walk"+g.switches(false), nil, append([]string{"--resume", id}, g.values()...)...)
}

// begin is the command that asks for the same procedure, or for a new walk of it.
func (g again) begin(fresh bool) string {
	return shell.Line("walk"+g.switches(fresh), []string{g.Procedure}, append([]string{"--engine", g.Engine, "--place", g.Place}, g.values()...)...)
}

func (g again) switches(fresh bool) string {
	text := ""
	if fresh {
		text += " --new"
	}
	if g.asPlain {
		text += " --plain"
	}
	if g.watch {
		text += " --watch"
	}
	if g.Resheet != nil {
		text += " --resheet"
	}
	if g.fromPaper {
		text += " --from-paper"
	}
	return text
}

// values are its other flags, as pairs of flag and value.
func (g again) values() []string {
	pairs := []string{"--at", g.At, "--despite", g.Despite, "--adapter", g.tools.adapter, "--wrenches", g.tools.file}
	for _, w := range g.tools.wrench {
		pairs = append(pairs, "--wrench", w)
	}
	return pairs
}

// asked words what has to be said before a walk is opened: every answer with
// the command that gives it.
func (a *app) asked(err error, g again) error {
	var which *session.WhichError
	var damage *session.DamageError
	switch {
	case errors.As(err, &which):
		return problem(errors.New(strings.Join(a.whichLines(which, g), "\n")))
	case errors.As(err, &damage):
		g.Despite = "REASON"
		line := g.begin(g.Fresh)
		if g.Record != "" {
			line = g.resume(g.Record)
		}
		return problem(errors.New(strings.Join(append(damage.Lines(), "      "+line), "\n")))
	}
	return err
}

func (a *app) whichLines(which *session.WhichError, g again) []string {
	if which.File != nil {
		a.printProblems(which.File.Problems)
	}
	lines := []string{which.Why()}
	for _, c := range which.Candidates {
		lines = append(lines, "  "+c.Text(), "      "+g.resume(c.ID))
		if c.Relation == session.Edited && which.File == nil && !g.watch {
			over := g
			over.Resheet = func(walk.Resheeting) (string, error) { return "", nil } // for its switch
			lines = append(lines, "  that one, by the sheet as it is now", "      "+over.resume(c.ID))
		}
	}
	if which.File == nil && !g.watch {
		lines = append(lines, "  a new walk", "      "+g.begin(true))
	}
	return lines
}
