package cli

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"evenpull/procedures/record"
	"evenpull/spec"
)

// picking is which records are wanted, as typed.
type picking struct {
	engine, procedure, state, since, until, word string
	newest                                       int
}

func (p *picking) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&p.engine, "engine", "", "only of the engine with this `TAG`")
	f.StringVar(&p.procedure, "procedure", "", "only of procedures with this `TEXT` in their name or file")
	f.StringVar(&p.state, "state", "", "only in this `STATE`: "+strings.Join(stateNames(), ", "))
	f.StringVar(&p.since, "since", "", "only begun on this `DATE` or later: 2026-11-25")
	f.StringVar(&p.until, "until", "", "only begun on this `DATE` or earlier")
	f.StringVar(&p.word, "search", "", "only with this `WORD` in a note, reading, number, name …: small, capital or as it is written")
	f.IntVar(&p.newest, "newest", 0, "only the newest `COUNT`")
}

func stateNames() []string {
	return []string{string(record.StateOpen), string(record.StateDone), string(record.StateStopped), string(record.StateBroken)}
}

func (p picking) filter() (record.Filter, error) {
	f := record.Filter{Engine: strings.TrimSpace(p.engine), Procedure: strings.TrimSpace(p.procedure), State: record.State(p.state), Word: p.word, Newest: p.newest}
	var errs []error
	if p.state != "" && !slices.Contains(stateNames(), p.state) {
		errs = append(errs, fmt.Errorf("--state: there is no state %q; use one of: %s", spec.Printable(p.state), strings.Join(stateNames(), ", ")))
	}
	if p.newest < 0 {
		errs = append(errs, fmt.Errorf("--newest: %d is no count; give one such as 20", p.newest))
	}
	var err error
	if f.Since, err = dateOf("--since", p.since); err != nil {
		errs = append(errs, err)
	}
	if f.Before, err = dateOf("--until", p.until); err != nil {
		errs = append(errs, err)
	} else if p.until != "" {
		f.Before = f.Before.AddDate(0, 0, 1) // that day too
	}
	return f, errors.Join(errs...)
}

// dateOf reads a day, as it begins where the program stands; zero when not given.
func dateOf(flag, text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	day, err := time.ParseInLocation(time.DateOnly, strings.TrimSpace(text), time.Local)
	if err != nil {
		return day, fmt.Errorf("%s: %q is no day; write it as 2026-11-25", flag, spec.Printable(text))
	}
	return day, nil
}
