package session

import (
	"errors"
	"fmt"
	"strings"

	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

// Why is asked for the reason a sheet was edited for, with what that makes of the walk;
// no reason leaves the walk as it is.
type Why func(walk.Resheeting) (string, error)

// ErrLeft is returned where no reason was given: nothing has been written.
var ErrLeft = errors.New("no reason was given: the walk is left as it is, and goes on by the sheet it has")

// EditedError asks why a sheet was edited, with what that makes of the walk: what a Why
// returns where somebody has to be asked first. Nothing has been written.
type EditedError struct{ Makes walk.Resheeting }

func (e *EditedError) Error() string { return "it has to be said why the sheet was edited" }

// edit is a sheet to go over to.
type edit struct {
	sheet  *spec.Procedure
	why    Why
	reason string
	makes  walk.Resheeting
}

// resheet goes on with an open walk by its sheet as it is now. Which walk: that of a
// record, or the one that was begun from this procedure, or else the only one that is
// open on the engine.
func (d Desk) resheet(r Request) (s *Session, err error) {
	by := &edit{why: r.Resheet}
	var problems read.Problems
	if r.Procedure != "" {
		if by.sheet, problems, err = d.Read(r.Procedure); err != nil {
			return nil, err
		}
	}
	id := ""
	if r.Record != "" {
		id, err = d.named(r.Record)
	} else {
		id, err = d.begunFrom(r, by.sheet)
	}
	if err != nil {
		return nil, err
	}
	if by.sheet == nil {
		f, err := record.Read(d.Store.Path(id))
		if err != nil {
			return nil, err
		}
		if f.Header.From == "" {
			return nil, fmt.Errorf("nobody knows where the sheet of %s lies; name it: %s", id, shell.Line("walk --resheet", []string{"FILE"}, "--resume", id))
		}
		if by.sheet, problems, err = d.fileOf(f.Header); err != nil {
			return nil, err
		}
	}
	if s, err = d.resume(id, r.Despite, by); err != nil {
		return nil, err
	}
	s.ByID, s.Problems = r.Record != "", problems
	return s, nil
}

// begunFrom finds the open walk of an engine that is meant: begun from where a sheet
// lies, or the only one.
func (d Desk) begunFrom(r Request, p *spec.Procedure) (string, error) {
	list, err := d.Store.List()
	if err != nil {
		return "", err
	}
	if p == nil {
		return onlyOpen(list, r)
	}
	w := d.wanted(r, p)
	same, others := w.openWalks(list)
	var edited []Candidate
	for _, c := range others {
		if c.Relation == Edited {
			edited = append(edited, c)
		}
	}
	if len(edited) == 0 {
		edited = same // to be told that nothing was edited
	}
	switch name := spec.Printable(r.Procedure); {
	case len(edited) == 1:
		return edited[0].ID, nil
	case len(edited) > 1:
		return "", whichOf(edited, nil)
	case len(others) > 0:
		return "", whichOf(others, []string{r.Procedure})
	default:
		for _, sum := range list {
			if record.SameTag(sum.Engine, r.Engine) && w.placeOf(sum) && sum.State != record.StateOpen {
				return "", fmt.Errorf("%s is %s, and a sheet edited since changes nothing of it; begin a new walk of %s", sum.ID, sum.State, name)
			}
		}
		return "", fmt.Errorf("no open walk was begun from %s; without --resheet one is begun", name)
	}
}

func onlyOpen(list []record.Summary, r Request) (string, error) {
	var open []Candidate
	for _, sum := range list {
		if sum.State == record.StateOpen && record.SameTag(sum.Engine, r.Engine) && (r.Place == "" || record.PlaceKey(sum.Place) == record.PlaceKey(r.Place)) {
			open = append(open, Candidate{ID: sum.ID, Procedure: sum.Procedure, Place: sum.Place, Started: sum.Started, Confirmed: sum.Confirmed, Stages: sum.Stages, Relation: "open"})
		}
	}
	switch len(open) {
	case 0:
		return "", fmt.Errorf("no walk is open on engine %s", spec.Printable(r.Engine))
	case 1:
		return open[0].ID, nil
	}
	return "", whichOf(open, nil)
}

// whichOf asks which walk is to go over to the sheet.
func whichOf(list []Candidate, sheet []string) error {
	lines := []string{"which walk is to go over to the sheet as it is now?"}
	for _, c := range list {
		lines = append(lines, "  "+c.Text(), "      "+shell.Line("walk --resheet", sheet, "--resume", c.ID))
	}
	return errors.New(strings.Join(lines, "\n"))
}

// ask says what the sheet makes of the walk and takes the reason, before anything is
// written.
func (e *edit) ask(s *Session) error {
	if e == nil {
		return nil
	}
	makes, refusal := s.Live.State.Resheeting(string(e.sheet.Text))
	if refusal != nil {
		return refusal
	}
	reason, err := e.why(makes)
	if err != nil {
		return err
	}
	if e.reason = strings.TrimSpace(reason); e.reason == "" {
		return ErrLeft
	}
	e.makes = makes
	return nil
}

// goOver writes down that the walk goes on by the sheet.
func (e *edit) goOver(s *Session) error {
	if e == nil {
		return nil
	}
	if err := s.do(walk.Command{Do: walk.Resheet, Sheet: string(e.sheet.Text), Text: e.reason}); err != nil {
		return err
	}
	n := len(e.makes.Changes)
	s.tell(fmt.Sprintf("this walk goes on by the sheet as it is now: %d %s, %d %s open again", n, plural(n, "difference"), len(e.makes.Open), plural(len(e.makes.Open), "step")))
	return nil
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}
