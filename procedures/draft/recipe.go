package draft

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/spec"
	"evenpull/spec/quantity"
	"evenpull/spec/sheet"
)

// Shapes of tightening, as they are offered.
const (
	Staged  = "staged torque"
	Turns   = "torque and turns"
	Stretch = "stretch"
	EachOne = "one at a time"
	Loosen  = "loosen"
)

// Shapes in the order they are offered.
var Shapes = []string{Staged, Turns, Stretch, EachOne, Loosen}

// figuresHint says what to write for a shape.
var figuresHint = map[string]string{
	Staged:  "each torque in turn, the last one final: 40 %, 100 %   or   8 N·m, 15 N·m, 22 N·m",
	Turns:   "torque first, then the turns: 20 N·m, 90°, 90°",
	Stretch: "snug torque, stretch, ceiling: 12 N·m, 0.12 mm to 0.15 mm, at most 36 N·m",
	EachOne: "all that is done to one bolt before the next: loosen 90°, 20 N·m, 90°",
	Loosen:  "how far each time: 90°, fully   or   90°, take out",
}

// step is one thing done to a bolt, as it stands in the file.
type step struct {
	action  spec.Action
	figure  string // as it was typed
	ceiling string // of a stretch
}

// entries are the keys of a step.
func (s step) entries() []sheet.Entry {
	if s.action == spec.Remove {
		return []sheet.Entry{{Key: "remove", Value: "true"}}
	}
	list := []sheet.Entry{{Key: string(s.action), Value: sheet.Text(s.figure)}}
	if s.ceiling != "" {
		list = append(list, sheet.Entry{Key: "ceiling", Value: sheet.Text(s.ceiling)})
	}
	return list
}

// text is the step as a person would type it.
func (s step) text() string {
	switch {
	case s.action == spec.Remove:
		return "take out"
	case s.action == spec.Stretch && s.ceiling != "":
		return s.figure + ", at most " + s.ceiling
	case slices.Contains([]spec.Action{spec.Loosen, spec.Verify, spec.Wait}, s.action):
		return string(s.action) + " " + s.figure
	}
	return s.figure
}

var words = []struct {
	word   string
	action spec.Action
}{
	{"torque ", spec.Torque}, {"turn ", spec.Turn}, {"angle ", spec.Turn}, {"loosen ", spec.Loosen}, {"slacken ", spec.Loosen}, {"stretch ", spec.Stretch},
	{"verify ", spec.Verify}, {"feel ", spec.Verify}, {"wait ", spec.Wait},
}

// readSteps reads figures one after the other. What each does is told by its unit, or by a
// word before it.
func readSteps(text string, loosening bool) ([]step, *Refusal) {
	var steps []step
	for _, piece := range splitList(text) {
		if last := len(steps) - 1; last >= 0 && steps[last].action == spec.Stretch && steps[last].ceiling == "" {
			if limit, ok := ceilingOf(piece); ok {
				steps[last].ceiling = limit
				continue
			}
		}
		s, no := readStep(piece, loosening)
		if no != nil {
			return nil, no
		}
		steps = append(steps, s)
	}
	if len(steps) == 0 {
		return nil, refuse("write a figure with its unit, such as 22 N·m or 90°", "there is no figure")
	}
	return steps, nil
}

func ceilingOf(text string) (string, bool) {
	for _, word := range []string{"at most ", "ceiling ", "up to ", "max "} {
		if rest, ok := cutWord(text, word); ok {
			_, err := quantity.ParseTorque(rest)
			return rest, err == nil
		}
	}
	return "", false
}

func cutWord(text, word string) (string, bool) {
	if len(text) > len(word) && strings.EqualFold(text[:len(word)], word) {
		return strings.TrimSpace(text[len(word):]), true
	}
	return text, false
}

func readStep(text string, loosening bool) (step, *Refusal) {
	switch strings.ToLower(text) {
	case "remove", "take out", "out":
		return step{action: spec.Remove}, nil
	case "fully", "loosen", "loosen fully":
		return step{action: spec.Loosen, figure: "fully"}, nil
	}
	for _, w := range words {
		if rest, ok := cutWord(text, w.word); ok {
			return step{action: w.action, figure: rest}, readable(w.action, rest)
		}
	}
	action, no := actionOf(text)
	if action == spec.Turn && loosening {
		action = spec.Loosen
	}
	return step{action: action, figure: text}, no
}

// readable refuses a figure that cannot be what a step is said to do.
func readable(action spec.Action, text string) *Refusal {
	var err error
	switch action {
	case spec.Torque, spec.Verify:
		if _, err = quantity.ParseTorqueSpan(text); isShare(text) {
			err = nil
		}
	case spec.Turn:
		_, err = quantity.ParseAngleSpan(text)
	case spec.Loosen:
		if _, err = quantity.ParseAngleSpan(text); strings.EqualFold(text, "fully") {
			err = nil
		}
	case spec.Stretch:
		_, err = quantity.ParseLengthSpan(text)
	case spec.Wait:
		_, err = quantity.ParseDuration(text)
	}
	if err != nil {
		return unreadable(text, err)
	}
	return nil
}

func isShare(text string) bool { return strings.HasSuffix(text, "%") && !strings.Contains(text, "±") }

// actionOf tells by the unit what a figure is for.
func actionOf(text string) (spec.Action, *Refusal) {
	torque, err := quantity.ParseTorqueSpan(text)
	if isShare(text) || err == nil {
		if torque.Low != nil && torque.High == nil {
			return spec.Verify, nil // at least so much: felt, not turned
		}
		return spec.Torque, nil
	}
	if _, other := quantity.ParseAngleSpan(text); other == nil {
		return spec.Turn, nil
	}
	if _, other := quantity.ParseLengthSpan(text); other == nil {
		return spec.Stretch, nil
	}
	if _, other := quantity.ParseDuration(text); other == nil {
		return spec.Wait, nil
	}
	if _, other := quantity.ParseAny(text); other == nil {
		return "", refuse("write a torque, an angle, a length for a stretch, or a time to wait", "%s is none of what is done to a bolt", quote(text))
	}
	return "", unreadable(text, err)
}

// pass is a new pass before it is written.
type pass struct {
	name  string
	steps []step // more than one only one at a time
}

// passesOf gives the passes that steps of a shape make, each with a name nobody has yet.
func passesOf(shape string, steps []step, taken []string) []pass {
	var list []pass
	if shape == EachOne {
		list = []pass{{"One at a time", steps}}
	} else {
		for i := range steps {
			list = append(list, pass{nameOf(steps, i), steps[i : i+1]})
		}
	}
	for i := range list {
		list[i].name = fresh(list[i].name, taken)
		taken = append(taken, list[i].name)
	}
	return list
}

var ordinals = []string{"First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth"}

// nameOf is what a step is called among the others.
func nameOf(steps []step, i int) string {
	action := steps[i].action
	of, nth := 0, 0
	for k, s := range steps {
		if s.action == action {
			if of++; k < i {
				nth++
			}
		}
	}
	switch action {
	case spec.Torque:
		switch {
		case i+1 < len(steps) && (steps[i+1].action == spec.Turn || steps[i+1].action == spec.Stretch):
			return "Snug"
		case nth == of-1:
			return "Final"
		case of == 2:
			return "Draw down"
		}
		return numbered(nth, "pull")
	case spec.Turn:
		if of == 1 {
			return "Turn"
		}
		return numbered(nth, "turn")
	case spec.Loosen:
		if of == 1 || nth == 0 {
			return "Slacken"
		}
		return "Loosen"
	}
	return map[spec.Action]string{spec.Remove: "Take out", spec.Stretch: "Stretch", spec.Verify: "Feel", spec.Wait: "Wait"}[action]
}

func numbered(nth int, what string) string {
	if nth < len(ordinals) {
		return ordinals[nth] + " " + what
	}
	return fmt.Sprintf("%s %d", what, nth+1)
}

// fresh is a name that nothing in a list has, in any case of letters.
func fresh(name string, taken []string) string {
	used := func(n string) bool {
		return slices.ContainsFunc(taken, func(t string) bool { return strings.EqualFold(t, n) })
	}
	for n, base := 2, name; used(name); n++ {
		name = fmt.Sprintf("%s %d", base, n)
	}
	return name
}
