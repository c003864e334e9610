package words

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/procedures/walk"
)

// AnswerIn reads what was done about a finding: "repaired by the machine shop,
// seat recut", "replaced, new guide from lot 7", "measured 0.12 mm".
func AnswerIn(text string) (walk.Command, error) {
	c := walk.Command{Do: walk.Settle}
	how, rest, _ := strings.Cut(text, " ")
	how, rest = strings.ToLower(strings.TrimSuffix(how, ",")), strings.TrimSpace(rest)
	switch how {
	case walk.ByRepair:
		c.Facts = map[string]string{walk.How: walk.ByRepair}
		if who, ok := cutWord(rest, "by"); ok {
			who, c.Text, _ = strings.Cut(who, ",")
			c.Facts[walk.By] = strings.TrimSpace(who)
		}
	case walk.ByNew:
		c.Facts, c.Text = map[string]string{walk.How: walk.ByNew}, rest
	case "measure", walk.ByMeasure:
		c.Facts, c.Reading = map[string]string{walk.How: walk.ByMeasure}, rest
	case walk.ByFound:
		c.Facts, c.Text = map[string]string{walk.How: walk.ByFound}, rest
	case "not":
		proof, ok := strings.CutPrefix(rest, "inside")
		if !ok {
			return c, fmt.Errorf("%q does not say what was done; write it like: not inside, HOW YOU KNOW", text)
		}
		c.Facts, c.Text = map[string]string{walk.How: walk.ByProof}, strings.TrimLeft(proof, " ,:")
	default:
		return c, fmt.Errorf("%q does not say what was done; write it like: %s", text, AnswerExample)
	}
	c.Text = strings.TrimSpace(c.Text)
	return c, nil
}

// AnswerExample shows how a finding is answered.
const AnswerExample = "repaired by WHOM, WHAT  or: replaced WITH WHAT  or, of a figure: measured 0.12 mm"

// cutWord takes a word, in any case of letters, off the front of a text.
func cutWord(text, word string) (rest string, ok bool) {
	first, rest, _ := strings.Cut(text, " ")
	return strings.TrimSpace(rest), strings.EqualFold(first, word)
}

// AnswerOf splits "crank-end-float repaired by …" into the finding that is
// answered and what is said of it. Of names that fit, the longest wins.
func AnswerOf(text string, open []walk.Fault) (target, rest string) {
	said := strings.Fields(text)
	for n := len(said); n > 0; n-- {
		name := strings.TrimSuffix(strings.Join(said[:n], " "), ":")
		if slices.ContainsFunc(open, func(f walk.Fault) bool { return f.Called(name) }) {
			return name, strings.Join(said[n:], " ")
		}
	}
	return "", text
}

// FindingLines says of a finding where and when it was found, and how the figure lay.
func FindingLines(f walk.Fault) []string {
	lines := []string{"found " + f.At.Format(time.DateOnly) + ", " + f.Where}
	if f.Measured() {
		lines = append(lines, fmt.Sprintf("read %s, limits %s", f.Reading, f.Limits()))
	}
	if f.Work != "" && f.By != "" {
		lines = append(lines, fmt.Sprintf("since then %s, by %s; if that answers it, say no more than: repaired", f.Work, f.By))
	} else if f.Work != "" {
		lines = append(lines, fmt.Sprintf("since then %s; if that answers it, say no more than: repaired by WHOM", f.Work))
	}
	return lines
}

// Answered says what the newest event answered a finding with.
func Answered(s *walk.State) string {
	e := s.Events[len(s.Events)-1]
	return walk.AnswerText(e.Facts, e.Reading, e.Text)
}

// FoundAt is the finding that an item was closed with, or "".
func FoundAt(s *walk.State, it *walk.Item) string {
	if it == nil || it.Check == nil {
		return ""
	}
	for _, f := range s.Faults() {
		if f.ID == it.Check.ID {
			return f.Text()
		}
	}
	return ""
}
