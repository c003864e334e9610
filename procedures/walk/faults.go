package walk

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/spec/ident"
	"evenpull/spec/measure"
	"evenpull/spec/quantity"
)

// Fault is a finding: a question answered no, or a figure out of its limits, on
// the way apart. It holds nothing up there; the close-up has to answer it.
type Fault struct {
	ID      string    `json:"id"`                // of the check
	What    string    `json:"what"`              // the question, or what was measured
	Found   string    `json:"found"`             // why it was answered no, or how the figure lies to its limits
	Where   string    `json:"where,omitempty"`   // what the check is about, or else the pass it belongs to
	Reading string    `json:"reading,omitempty"` // as read, with its unit
	Min     string    `json:"min,omitempty"`     // limits with their units; without either it was a question
	Max     string    `json:"max,omitempty"`
	Inside  bool      `json:"inside,omitempty"` // something that may be in the engine
	Work    string    `json:"work,omitempty"`   // what it is of has been away for since, and is back from
	By      string    `json:"by,omitempty"`     // with whom it was for that
	Record  string    `json:"record,omitempty"` // where it was found; empty within that walk
	At      time.Time `json:"at"`
	Said    []Said    `json:"said,omitempty"` // noted and photographed where it was found
}

// Text gives it in one line: "crank end float is 0.32 mm, over the limit of 0.2 mm".
func (f Fault) Text() string {
	switch {
	case f.Inside && f.Found == "":
		return f.What + " may be in the engine"
	case f.Inside:
		return fmt.Sprintf("%s may be in the engine (%s)", f.What, f.Found)
	case f.Measured():
		return f.What + " " + f.Found
	}
	return f.What + " no: " + f.Found
}

// Measured tells a figure out of its limits from a question answered no.
func (f Fault) Measured() bool { return f.Min != "" || f.Max != "" }

// Limits gives what a figure taken again has to keep to: "0.05 mm to 0.2 mm".
func (f Fault) Limits() string {
	switch {
	case f.Min == "":
		return "at most " + f.Max
	case f.Max == "":
		return "at least " + f.Min
	}
	return f.Min + " to " + f.Max
}

// Step is the question it is in a close-up.
func (f Fault) Step() ident.Step { return ident.FindingStep(f.Record, f.ID) }

// How a finding was answered: a fact of the event that says so, with By where it
// was repaired.
const (
	How       = "how"
	ByRepair  = "repaired"
	ByNew     = "replaced"
	ByMeasure = "measured"
	By        = "by"
)

// Faults lists what was found wrong in this walk, in the order of the agenda.
func (s *State) Faults() []Fault {
	var list []Fault
	for i, it := range s.Items {
		if m := s.marks[i]; m.Closed && m.Fault != "" {
			f := Fault{ID: it.Check.ID, What: it.Check.Ask + it.Check.Measure, Found: m.Fault, Where: s.whereOf(it.Check), Reading: m.Reading, At: m.At}
			if it.Check.Min != nil {
				f.Min = it.Check.Min.String()
			}
			if it.Check.Max != nil {
				f.Max = it.Check.Max.String()
			}
			list = append(list, f)
		}
	}
	return append(list, s.insideFaults()...)
}

// whereOf names what a check is about.
func (s *State) whereOf(c *spec.Check) string {
	var names []string
	for _, t := range c.Of {
		names = append(names, s.nameOfThing(t))
	}
	switch {
	case len(names) > 0:
		return strings.Join(names, ", ")
	case c.Before != nil:
		return "before " + c.Before.Name
	}
	return "after " + c.After.Name
}

// asked is a finding that a close-up has to answer.
type asked struct {
	Fault
	last bool // put off to the end
}

// bringFaults takes in the findings that are open now. One that was answered
// here stays answered, unless it was found anew since: those are given.
func (s *State) bringFaults(list []Fault) (anew []ident.Step) {
	if !s.answers() || len(list)+len(s.faults) == 0 {
		return nil
	}
	var now []asked
	for _, a := range s.faults {
		again := slices.ContainsFunc(list, func(f Fault) bool { return f.Step() == a.Step() })
		if i, ok := s.Find(a.Step().String()); ok && s.marks[i].Closed && !again {
			now = append(now, a)
		}
	}
	for _, f := range list {
		a := asked{Fault: f}
		if i := slices.IndexFunc(s.faults, func(old asked) bool { return old.Step() == f.Step() }); i >= 0 {
			if a.last = s.faults[i].last; !s.faults[i].At.Equal(f.At) {
				anew = append(anew, f.Step())
			}
		}
		if !slices.ContainsFunc(now, func(other asked) bool { return other.Step() == f.Step() }) {
			now = append(now, a)
		}
	}
	s.faults = now
	return anew
}

// FaultsOpen lists the findings that this walk has to answer and has not.
func (s *State) FaultsOpen() []Fault {
	var list []Fault
	for _, a := range s.faults {
		if i, ok := s.Find(a.Step().String()); ok && !s.marks[i].Closed {
			list = append(list, a.Fault)
		}
	}
	return list
}

// draftSettled names the finding that is answered: the one named, the one in
// hand, or the only one open.
func (s *State) draftSettled(c Command, e Event) (Event, *Refusal) {
	e.Kind, e.Facts = Settled, c.Facts
	it := s.CurrentItem()
	if c.Target == "" && it != nil && it.Kind == FaultItem {
		e.Item = it.Key().String()
		it.Fault.knownRepair(&e)
		return e, nil
	}
	open := slices.DeleteFunc(s.FaultsOpen(), func(f Fault) bool { return c.Target != "" && !f.Called(c.Target) })
	switch len(open) {
	case 0:
		return e, &Refusal{What: "no finding is open here" + ofName(c.Target), Remedy: "carry on"}
	case 1:
		e.Item = open[0].Step().String()
		open[0].knownRepair(&e)
		return e, nil
	}
	var names []string
	for _, a := range open {
		names = append(names, a.ID)
	}
	return e, &Refusal{What: "which finding is answered?", Remedy: "name one of: " + strings.Join(names, ", ")}
}

// knownRepair puts into an answer what is on record of the work: nobody has to say
// again what was said when it was sent away.
func (f *Fault) knownRepair(e *Event) {
	if e.Facts[How] != ByRepair || f.Work == "" {
		return
	}
	by := strings.TrimSpace(e.Facts[By])
	if by == "" && f.By != "" {
		by = f.By
		e.Facts = merged(e.Facts, map[string]string{By: by})
	}
	if e.Text == "" && strings.EqualFold(by, f.By) {
		e.Text = f.Work
	}
}

func ofName(name string) string {
	if name == "" {
		return ""
	}
	return fmt.Sprintf(" of the name %q", spec.Printable(name))
}

// Called reports whether a person means this finding by a name.
func (f Fault) Called(name string) bool {
	return strings.EqualFold(f.ID, name) || strings.EqualFold(f.What, name) || strings.EqualFold(f.Step().String(), name)
}

// judgeSettled: a finding is answered in words, or by a figure within the limits
// it was outside of.
func (s *State) judgeSettled(e Event) *Refusal {
	i, ok := s.Find(e.Item)
	if !ok || s.Items[i].Kind != FaultItem {
		return unknown(e.Item)
	}
	f := s.Items[i].Fault
	if s.marks[i].Closed {
		return &Refusal{What: f.What + " has been answered", Remedy: "carry on"}
	}
	switch how := e.Facts[How]; {
	case f.Inside:
		return judgeInside(f, e)
	case how == ByRepair && strings.TrimSpace(e.Facts[By]) == "":
		return &Refusal{What: "repaired by whom?", Remedy: "say who did it", Ways: []Way{{Do: Settle, Needs: ByRepair}}}
	case how == ByRepair, how == ByNew:
		return nil
	case how == ByMeasure && f.Measured():
		return f.judgeAgain(e.Reading)
	case how == ByMeasure:
		return &Refusal{What: "nothing was measured there: " + f.Text(), Remedy: "say what was done about it", Ways: f.Ways()}
	}
	return needAnswer(f)
}

// judgeAgain holds a figure taken again against the limits of then.
func (f *Fault) judgeAgain(reading string) *Refusal {
	how, err := f.setup()
	if err != nil {
		return unreadableReading(err)
	}
	res, err := how.Judge(reading)
	if err != nil {
		return unreadableReading(err)
	}
	if res.Verdict == measure.InRange {
		return nil
	}
	return &Refusal{What: f.What + " " + how.Fault(res), Remedy: "repair or replace it, or measure it again", Ways: f.Ways(), misses: true}
}

func (f *Fault) setup() (measure.Setup, error) {
	how := measure.Setup{Kind: measure.Direct}
	for text, to := range map[string]**quantity.Quantity{f.Min: &how.Min, f.Max: &how.Max} {
		if text == "" {
			continue
		}
		q, err := quantity.ParseAny(text)
		if err != nil {
			return how, err
		}
		*to = &q
	}
	return how, nil
}

func needAnswer(f *Fault) *Refusal {
	return &Refusal{What: "found at strip-down: " + f.Text(), Remedy: "say what was done about it", Ways: f.Ways()}
}

// Ways are the answers to a finding.
func (f *Fault) Ways() []Way {
	ways := []Way{{Do: Settle, Needs: ByRepair}, {Do: Settle, Needs: ByNew}}
	if f.Inside {
		ways = []Way{{Do: Settle, Needs: ByFound}, {Do: Settle, Needs: ByProof}}
	}
	if how, err := f.setup(); err == nil && f.Measured() {
		ways = append(ways, Way{Do: Measure, Needs: how.Example()})
	}
	return append(ways, Way{Do: Later, Needs: "a reason"})
}

func (s *State) settle(c *change, e Event) {
	i := s.itemOf(e.Item)
	s.setMark(c, i, markOf(e))
	s.deviate(e, s.Items[i].Text()+": "+AnswerText(e.Facts, e.Reading, e.Text))
}

// AnswerText says how a finding was answered: "repaired by the machine shop, new seat".
func AnswerText(facts map[string]string, reading, text string) string {
	words := facts[How]
	switch {
	case words == ByMeasure:
		words = "measured again, " + reading
	case facts[By] != "":
		words += " by " + facts[By]
	}
	if text != "" {
		words += ", " + text
	}
	return words
}

// measure closes a check. Out of its limits on the way apart it is a finding; in
// range in a close-up it answers the finding of the same check, if it keeps to
// the limits of then as well.
func (s *State) measure(c *change, e Event) {
	i := s.itemOf(e.Item)
	it, m := s.Items[i], markOf(e)
	if r := s.judgeMeasure(it.Check, e); r != nil {
		m.Fault = r.fault
		s.deviate(e, fmt.Sprintf("found wrong: %s %s", it.Check.Measure, r.fault))
	}
	s.setMark(c, i, m)
	if m.Fault != "" || len(s.faults) == 0 {
		return
	}
	res, err := it.Check.How.Judge(e.Reading)
	for _, a := range s.faults {
		at, ok := s.Find(a.Step().String())
		if err == nil && ok && a.ID == it.Check.ID && !s.marks[at].Closed && a.keeps(res) {
			done := markOf(e)
			done.Facts = map[string]string{How: ByMeasure, "check": it.Check.ID}
			s.setMark(c, at, done)
		}
	}
}

// keeps reports whether a result lies within the limits of then.
func (f Fault) keeps(res measure.Result) bool {
	how, err := f.setup()
	if err != nil || !f.Measured() {
		return false
	}
	if how.Min != nil {
		if c, err := res.Low.Compare(*how.Min); err != nil || c < 0 {
			return false
		}
	}
	if how.Max != nil {
		if c, err := res.High.Compare(*how.Max); err != nil || c > 0 {
			return false
		}
	}
	return true
}

func markOf(e Event) Mark {
	return Mark{Closed: true, Seq: e.Seq, At: e.At, Reading: e.Reading, Facts: e.Facts}
}

func merged(list ...map[string]string) map[string]string {
	all := map[string]string{}
	for _, facts := range list {
		maps.Copy(all, facts)
	}
	return all
}
