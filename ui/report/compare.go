package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"evenpull/spec"
)

// WriteComparison writes two records beside each other in 80 columns. Stages are
// matched by fastener, pass and step, so that another version of the procedure
// can be compared too; what has no counterpart is listed.
func WriteComparison(w io.Writer, a, b Sheet) error {
	return writeBlocks(w, compareBlocks(a, b))
}

func compareBlocks(a, b Sheet) []block {
	list := []block{compareHeads(a, b), compareStages(a, b), compareTimes(a, b), compareChecks(a, b), compareParts(a, b),
		compareLists("Renewed", renewed(a), renewed(b)), compareLists("Deviations", deviated(a), deviated(b)), governsBlock()}
	var full []block
	for _, bl := range list {
		if len(bl.rows) > 0 {
			full = append(full, bl)
		}
	}
	return full
}

// pair adds what stands in either record under a name, when it differs.
func (b *block) pair(name, first, second string) {
	if first == second {
		return
	}
	b.item("", name)
	b.item("    A  ", orNone(first))
	b.item("    B  ", orNone(second))
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

func compareHeads(a, b Sheet) block {
	bl := block{title: "Two records"}
	for i, s := range []Sheet{a, b} {
		bl.item("AB"[i:i+1]+"  ", fmt.Sprintf("%s: %s, engine %s", s.ID, s.Procedure, s.Engine))
		bl.item("   ", s.Standing())
		bl.item("   ", fmt.Sprintf("started %s, %s from first to last event", Stamp(s.Started), took(s)))
		for _, alarm := range s.Alarms() {
			bl.item("   ! ", alarm)
		}
	}
	switch {
	case a.SHA256 == b.SHA256:
		bl.item("", "The same procedure, word for word.")
	case a.Procedure == b.Procedure:
		bl.item("", "Two versions of one procedure: fasteners are matched by id and pass.")
	default:
		bl.item("", "Two procedures: fasteners are matched by id and pass, which may mean nothing.")
	}
	return bl
}

func took(s Sheet) string {
	if len(s.Timeline) == 0 {
		return "no time"
	}
	first, last := s.Timeline[0].At, s.Timeline[len(s.Timeline)-1].At
	return spec.Span(last.Sub(first))
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

func compareStages(a, b Sheet) block {
	bl := block{title: "Stages that differ"}
	inA, keysA := stagesByKey(a)
	inB, keysB := stagesByKey(b)
	for _, k := range keysA {
		bl.pair(k.text(), inA[k].sum(), inB[k].sum())
	}
	for _, k := range keysB {
		if inA[k] == nil {
			bl.pair(k.text(), "", inB[k].sum())
		}
	}
	if len(bl.rows) == 0 {
		bl.item("", fmt.Sprintf("None: all %d have the same figure, are confirmed alike and read the same.", len(keysA)))
	}
	return bl
}

func (k stageKey) text() string {
	text := fmt.Sprintf("%s, %s", k.fastener, k.pass)
	if k.step > 1 {
		text += fmt.Sprintf(", step %d", k.step)
	}
	return text
}

// sum is all of a stage that two records are compared by; times are not.
func (st *Stage) sum() string {
	if st == nil {
		return "not in this record's procedure"
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

// compareTimes tells how long each pass took, from its first confirmation that
// still stands to its last.
func compareTimes(a, b Sheet) block {
	bl := block{title: "Time from first to last stage of a pass"}
	inA, inB := passTimes(a), passTimes(b)
	for _, p := range a.Passes {
		bl.pair(p.Name, inA[p.Name], inB[p.Name])
	}
	for _, p := range b.Passes {
		if _, both := inA[p.Name]; !both {
			bl.pair(p.Name, "", inB[p.Name])
		}
	}
	return bl
}

// passTimes gives every pass of the record, "" where nothing stands confirmed.
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

func compareChecks(a, b Sheet) block {
	bl := block{title: "Checks that differ"}
	texts := func(s Sheet) ([]string, []string) {
		var names, results []string
		for _, c := range s.Checks {
			result := c.Result()
			for _, r := range c.Refused {
				result += ", refused " + r.Reading
			}
			names, results = append(names, c.Ask+c.Measure), append(results, result)
		}
		return names, results
	}
	bl.named(texts, a, b)
	return bl
}

func compareParts(a, b Sheet) block {
	bl := block{title: "Parts that differ"}
	bl.named(func(s Sheet) ([]string, []string) {
		var names, results []string
		for _, p := range s.Parts {
			names, results = append(names, p.Name), append(results, p.Result())
		}
		return names, results
	}, a, b)
	return bl
}

// named compares what goes by a name in both: in the order of a, then what only b has.
func (b *block) named(list func(Sheet) (names, results []string), first, second Sheet) {
	names, results := list(first)
	others, otherResults := list(second)
	in := func(names, results []string) map[string]string {
		m := map[string]string{}
		for i, n := range names {
			m[n] = results[i]
		}
		return m
	}
	inA, inB := in(names, results), in(others, otherResults)
	for _, n := range names {
		b.pair(n, inA[n], inB[n])
	}
	for _, n := range others {
		if _, both := inA[n]; !both {
			b.pair(n, "", inB[n])
		}
	}
}

func renewed(s Sheet) []string {
	var list []string
	for _, r := range s.Renewals {
		list = append(list, r.Text())
	}
	return list
}

func deviated(s Sheet) []string {
	var list []string
	for _, d := range s.Deviations {
		list = append(list, d.Text)
	}
	return list
}

// compareLists gives both lists where they are not the same.
func compareLists(title string, a, b []string) block {
	bl := block{title: title}
	if strings.Join(a, "\n") == strings.Join(b, "\n") {
		return bl
	}
	for i, list := range [][]string{a, b} {
		lead := "AB"[i:i+1] + "  "
		if len(list) == 0 {
			bl.item(lead, "none")
		}
		for _, text := range list {
			bl.item(lead, text)
		}
	}
	return bl
}
