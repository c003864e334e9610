package measure

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"evenpull/spec/quantity"
)

const maxText = 1000 // bytes in one reading with all its figures

// slot is a place for one figure.
type slot struct {
	in   Input
	used bool
}

// slots in the order figures without a label fill them: every figure once,
// then again for the next reading, and what is fitted now last.
func (s Setup) slots() []slot {
	var list []slot
	inputs := s.Inputs()
	for range s.readings() {
		for _, in := range inputs {
			if !in.Optional && in.Instead == "" {
				list = append(list, slot{in: in})
			}
		}
	}
	for _, in := range inputs {
		for range in.Count {
			if in.Optional || in.Instead != "" {
				list = append(list, slot{in: in})
			}
		}
	}
	return list
}

// Read takes the figures out of a text: "0.12 mm", "0.32 mm; 0.80 mm", or with
// their labels, "float 0.32 mm, shim 0.80 mm". Figures are parted by ";" or by
// a comma and a space. The error is a *quantity.ParseError.
func (s Setup) Read(text string) (Readings, error) {
	r := Readings{Of: map[string][]quantity.Quantity{}}
	if len(text) > maxText {
		return r, wrong(text[:40], fmt.Sprintf("it is %d bytes long", len(text)), "give only the figures: "+s.Example())
	}
	slots := s.slots()
	for _, part := range strings.Split(strings.ReplaceAll(text, ", ", ";"), ";") {
		if strings.TrimSpace(part) == "" && r.Unit != 0 {
			continue // a ";" at the end
		}
		label, figure := cutLabel(strings.TrimSpace(part))
		q, err := quantity.ParseAny(figure)
		if err != nil {
			return r, err
		}
		if want := s.Dimension(); q.Dimension() != want {
			return r, wrong(text, fmt.Sprintf("%s is %s, and %s is measured", q, q.Dimension(), want), "give it in a unit like "+s.unitExample())
		}
		i, err := s.place(slots, label, text)
		if err != nil {
			return r, err
		}
		slots[i].used = true
		if r.Unit == 0 {
			r.Unit = q.Unit()
		}
		name := slots[i].in.Label
		r.Of[name] = append(r.Of[name], q)
	}
	return r, s.complete(slots, r, text)
}

func wrong(input, problem, remedy string) error {
	return &quantity.ParseError{Input: input, What: problem, Remedy: remedy}
}

func (s Setup) unitExample() string {
	aim, unit := s.inside()
	return quantity.Of(aim, unit).String()
}

// cutLabel parts "float 0.32 mm" before its first digit. Without letters before
// it there is no label, and without digits there is no figure.
func cutLabel(s string) (label, figure string) {
	i := strings.IndexFunc(s, func(r rune) bool { return unicode.IsNumber(r) })
	if i <= 0 {
		return "", s
	}
	if s[i-1] == '.' || s[i-1] == ',' || s[i-1] == '-' || s[i-1] == '+' {
		i--
	}
	label = strings.TrimSpace(strings.TrimRight(strings.TrimSpace(s[:i]), ":="))
	if !strings.ContainsFunc(label, unicode.IsLetter) {
		return "", s
	}
	return label, s[i:]
}

// place finds the slot for a figure: the next of its label, or the next of all.
func (s Setup) place(slots []slot, label, text string) (int, error) {
	label, err := s.known(label, text)
	if err != nil {
		return 0, err
	}
	for i, at := range slots {
		if !at.used && (at.in.Label == label || label == "" && at.in.Instead == "") {
			return i, nil
		}
	}
	what := "there are more figures than asked for"
	if label != "" {
		what = fmt.Sprintf("there is more than asked for of %q", label)
	}
	return 0, wrong(text, what, "write it as: "+s.Example())
}

// known finds the input that a label, or the start of it, names.
func (s Setup) known(label, text string) (string, error) {
	if label == "" {
		return "", nil
	}
	var names, begin []string
	for _, in := range s.Inputs() {
		names = append(names, in.Label)
		if strings.EqualFold(in.Label, label) {
			return in.Label, nil
		}
		if strings.HasPrefix(strings.ToLower(in.Label), strings.ToLower(label)) {
			begin = append(begin, in.Label)
		}
	}
	if len(begin) == 1 {
		return begin[0], nil
	}
	return "", wrong(text, "nothing here is called "+strconv.Quote(label), "leave the word out, or use: "+strings.Join(names, ", "))
}

// complete refuses readings with a figure missing.
func (s Setup) complete(slots []slot, r Readings, text string) error {
	instead := ""
	for _, at := range slots {
		if at.used && at.in.Instead != "" {
			instead = at.in.Instead
		}
	}
	if instead != "" && len(r.Of[instead]) > 0 {
		return wrong(text, "it gives "+instead+" twice over", "give "+instead+" alone, or the pair of blades")
	}
	for _, at := range slots {
		have := len(r.Of[at.in.Label])
		need := at.in.Instead == "" && !at.in.Optional && at.in.Label != instead ||
			at.in.Optional && have > 0 || at.in.Instead != "" && at.in.Instead == instead
		if need && !at.used {
			return wrong(text, fmt.Sprintf("it gives %d of %d: %s", have, at.in.Count, at.in.Label), "give all of them together: "+s.Example())
		}
	}
	return nil
}
