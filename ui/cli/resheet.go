package cli

import (
	"fmt"
	"io"
	"strings"

	"evenpull/procedures/session"
	"evenpull/procedures/walk"
	"evenpull/ui/words"
)

// editing is what is given for a sheet that was edited while it is walked.
type editing struct {
	resheet bool
	because string
}

func (e editing) usage(r session.Request, watch bool) error {
	switch {
	case e.because != "" && !e.resheet:
		return usage("--because is the reason a sheet was edited for: it goes with --resheet")
	case e.resheet && r.Fresh:
		return usage("--resheet goes on with an open walk; leave out --new")
	case e.resheet && watch:
		return usage("--resheet changes what is walked, and --watch only looks on")
	}
	return nil
}

// names reports whether it is said which walk is to go over, by its record, its sheet or
// its engine.
func (e editing) names(r session.Request, args []string, way string) bool {
	switch {
	case !e.resheet || len(args) > 1:
		return false
	case r.Record != "":
		return r.Engine == "" && r.Place == "" && way == ""
	}
	return len(args) == 1 || r.Engine != ""
}

// asking shows what another sheet makes of a walk and gives the reason, or asks for it;
// nil: the sheet stays.
func (e editing) asking(a *app, answers io.Reader) session.Why {
	if !e.resheet {
		return nil
	}
	return func(r walk.Resheeting) (string, error) {
		for _, line := range words.Resheeting(r) {
			fmt.Fprintln(a.Err, line)
		}
		switch {
		case strings.TrimSpace(e.because) != "":
			return e.because, nil
		case !isTerminal(answers):
			return "", usage("nobody can be asked here why the sheet was edited; add --because REASON")
		}
		fmt.Fprint(a.Err, "why was it edited? (empty: leave the walk as it is) ")
		return oneLine(answers)
	}
}

// oneLine reads a line and nothing behind it: what follows is for the walk.
func oneLine(in io.Reader) (string, error) {
	var line []byte
	for b := make([]byte, 1); ; {
		n, err := in.Read(b)
		if n > 0 && b[0] == '\n' || err == io.EOF {
			return string(line), nil
		}
		if err != nil {
			return "", err
		}
		line = append(line, b[:n]...)
	}
}
