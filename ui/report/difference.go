package report

import (
	"slices"
	"time"

	"evenpull/spec"
)

// Comparison is two records held against each other, and each against its
// procedure as it is today. Its JSON is the contract of `compare --json`.
type Comparison struct {
	Records    []Compared        `json:"records"`    // A, then B; or A alone, held against its procedure
	Procedures string            `json:"procedures"` // same, versions (of one procedure), different; "" with one record
	Matched    int               `json:"matched"`    // stages of A that were looked for in B
	Stages     []StageDifference `json:"stages"`
	Times      []Difference      `json:"times"` // from first to last stage of a pass
	Checks     []Difference      `json:"checks"`
	Parts      []Difference      `json:"parts"`
	Renewed    Sides             `json:"renewed"`
	Deviations Sides             `json:"deviations"`
	Today      []Today           `json:"today"` // one for each record
}

// Compared is one of the records.
type Compared struct {
	ID          string    `json:"id"`
	Procedure   string    `json:"procedure"`
	Engine      string    `json:"engine"`
	State       string    `json:"state"`
	Chain       string    `json:"chain"`
	Started     time.Time `json:"started"`
	Took        string    `json:"took"` // from first to last event
	Standing    string    `json:"standing"`
	Alarms      []string  `json:"alarms"`
	ClosingHash string    `json:"closing_hash"`
}

// Difference is what goes by one name and is not alike; "" has no such thing.
type Difference struct {
	Name string `json:"name"`
	A    string `json:"a"`
	B    string `json:"b"`
}

// StageDifference is a stage that is not alike.
type StageDifference struct {
	Fastener string `json:"fastener"`
	Pass     string `json:"pass"`
	Step     int    `json:"step"`
	A        string `json:"a"`
	B        string `json:"b"`
}

// Sides are two lists that are compared as a whole.
type Sides struct {
	A []string `json:"a"`
	B []string `json:"b"`
}

// Today is a record's procedure as it is now: same, changed, or unknown where
// it cannot be found or read. In its differences A is then, B is now.
type Today struct {
	Record    string            `json:"record"`
	Source    string            `json:"source"`
	State     string            `json:"state"`
	Note      string            `json:"note,omitempty"` // why it is unknown
	Stages    []StageDifference `json:"stages"`
	Checks    []Difference      `json:"checks"`
	Parts     []Difference      `json:"parts"`
	Reordered bool              `json:"reordered"` // the same stages in another order
}

// Compare holds two records against each other. Stages are matched by
// fastener, pass and step, so that another version of the procedure can be
// compared too.
func Compare(a, b Sheet) Comparison {
	c := Comparison{
		Records: []Compared{compared(a), compared(b)}, Procedures: "different", Today: []Today{},
		Times: timesThatDiffer(a, b), Checks: differences(checksOf(a), checksOf(b)), Parts: differences(partsOf(a), partsOf(b)),
		Renewed: Sides{renewed(a), renewed(b)}, Deviations: Sides{deviated(a), deviated(b)},
	}
	switch {
	case a.SHA256 == b.SHA256 && a.Direction == b.Direction: // one text may go both ways
		c.Procedures = "same"
	case a.Procedure == b.Procedure:
		c.Procedures = "versions"
	}
	c.Stages, c.Matched = stagesThatDiffer(a, b, (*Stage).sum)
	return c
}

// Alone is a record that is only held against its procedure.
func Alone(a Sheet) Comparison {
	return Comparison{Records: []Compared{compared(a)}, Stages: []StageDifference{}, Times: []Difference{}, Checks: []Difference{}, Parts: []Difference{},
		Renewed: Sides{renewed(a), []string{}}, Deviations: Sides{deviated(a), []string{}}, Today: []Today{}}
}

func compared(s Sheet) Compared {
	return Compared{s.ID, s.Procedure, s.Engine, s.State, s.Chain, s.Started, took(s), s.Standing(), append([]string{}, s.Alarms()...), s.ClosingHash}
}

// AgainstToday holds a record against the sheet of its procedure as it is now,
// not walked.
func AgainstToday(then, now Sheet) Today {
	t := Today{Record: then.ID, Source: then.Source, State: "changed"}
	if then.SHA256 == now.SHA256 {
		t.State = "same"
	}
	t.Stages, _ = stagesThatDiffer(then, now, (*Stage).asked)
	t.Checks = differences(checksAsked(then), checksAsked(now))
	t.Parts = differences(partsAsked(then), partsAsked(now))
	_, before := stagesByKey(then)
	_, after := stagesByKey(now)
	t.Reordered = len(t.Stages) == 0 && !slices.Equal(before, after)
	return t
}

// UnknownToday says why a record's procedure cannot be held against today's.
func UnknownToday(then Sheet, why string) Today {
	return Today{Record: then.ID, Source: then.Source, State: "unknown", Note: clean(why), Stages: []StageDifference{}, Checks: []Difference{}, Parts: []Difference{}}
}

type stageKey struct {
	fastener, pass string
	step           int
}

func stagesByKey(s Sheet) (map[stageKey]*Stage, []stageKey) {
	m, keys := map[stageKey]*Stage{}, []stageKey{}
	for _, p := range s.inPlanOrder() {
		k := stageKey{p.f.ID, p.st.Pass, p.st.Step}
		m[k], keys = p.st, append(keys, k)
	}
	return m, keys
}

// stagesThatDiffer compares stages by what is said of each; "" is no such stage.
func stagesThatDiffer(a, b Sheet, say func(*Stage) string) (list []StageDifference, matched int) {
	list = []StageDifference{}
	inA, keysA := stagesByKey(a)
	inB, keysB := stagesByKey(b)
	add := func(k stageKey) {
		if first, second := say(inA[k]), say(inB[k]); first != second {
			list = append(list, StageDifference{k.fastener, k.pass, k.step, first, second})
		}
	}
	for _, k := range keysA {
		add(k)
	}
	for _, k := range keysB {
		if inA[k] == nil {
			add(k)
		}
	}
	return list, len(keysA)
}

// asked is what the sheet wants of a stage.
func (st *Stage) asked() string {
	if st == nil {
		return ""
	}
	return st.Target
}

// sum is all of a stage that two records are compared by; times are not.
func (st *Stage) sum() string {
	if st == nil {
		return ""
	}
	text := st.Target
	switch {
	case !st.Confirmed:
		text += ": open"
	case st.Reading != "":
		text += ": read " + st.Reading
	default:
		text += ": confirmed, no reading"
	}
	if st.FromPaper {
		text += ", from paper"
	}
	if st.Wrench != "" {
		text += ", with " + st.Wrench
	}
	for _, r := range st.Refused {
		text += ", refused " + r.Reading
	}
	return text
}

// named is what is said of things that go by a name, in order.
type named struct{ name, says string }

func checksOf(s Sheet) []named {
	var list []named
	for _, c := range s.Checks {
		result := c.Result()
		for _, r := range c.Refused {
			result += ", refused " + r.Reading
		}
		list = append(list, named{c.Ask + c.Measure, result})
	}
	return list
}

func partsOf(s Sheet) []named {
	var list []named
	for _, p := range s.Parts {
		list = append(list, named{p.Name, p.Result()})
	}
	return list
}

func checksAsked(s Sheet) []named {
	var list []named
	for _, c := range s.Checks {
		list = append(list, named{c.Ask + c.Measure, said(c.When, orElse(c.Limits, "asked"))})
	}
	return list
}

func partsAsked(s Sheet) []named {
	var list []named
	for _, p := range s.Parts {
		text := p.Text()
		if p.OneUse {
			text += ", one-use"
		}
		list = append(list, named{p.Name, text})
	}
	return list
}

func orElse(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// differences are what is not alike: in the order of a, then what only b has.
func differences(a, b []named) []Difference {
	list := []Difference{}
	inA, inB := map[string]string{}, map[string]string{}
	for _, n := range a {
		inA[n.name] = n.says
	}
	for _, n := range b {
		inB[n.name] = n.says
	}
	for _, n := range a {
		if inA[n.name] != inB[n.name] {
			list = append(list, Difference{n.name, inA[n.name], inB[n.name]})
		}
	}
	for _, n := range b {
		if _, both := inA[n.name]; !both && n.says != "" {
			list = append(list, Difference{n.name, "", n.says})
		}
	}
	return list
}

// timesThatDiffer tells how long each pass took, from its first confirmation
// that still stands to its last.
func timesThatDiffer(a, b Sheet) []Difference {
	times := func(s Sheet) []named {
		took, list := passTimes(s), []named{}
		for _, p := range s.Passes {
			list = append(list, named{p.Name, took[p.Name]})
		}
		return list
	}
	return differences(times(a), times(b))
}

// passTimes gives every pass of the record, "" where no time is known.
func passTimes(s Sheet) map[string]string {
	first, last := map[string]time.Time{}, map[string]time.Time{}
	for _, f := range s.Fasteners {
		for _, st := range f.Stages {
			if st.At == nil {
				continue
			}
			if t, ok := first[st.Pass]; !ok || st.At.Before(t) {
				first[st.Pass] = *st.At
			}
			if st.At.After(last[st.Pass]) {
				last[st.Pass] = *st.At
			}
		}
	}
	times := map[string]string{}
	for _, p := range s.Passes {
		times[p.Name] = ""
		if from, ok := first[p.Name]; ok {
			times[p.Name] = spec.Span(last[p.Name].Sub(from))
		}
	}
	return times
}

func took(s Sheet) string {
	if len(s.Timeline) == 0 {
		return "no time"
	}
	first, last := s.Timeline[0].At, s.Timeline[len(s.Timeline)-1].At
	return spec.Span(last.Sub(first))
}

func renewed(s Sheet) []string {
	list := []string{}
	for _, r := range s.Renewals {
		list = append(list, r.Text())
	}
	return list
}

func deviated(s Sheet) []string {
	list := []string{}
	for _, d := range s.Deviations {
		list = append(list, d.Text)
	}
	return list
}
