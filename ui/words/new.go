package words

import (
	"fmt"
	"maps"
	"strconv"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// NewIn reads what was found and is on no sheet: "thin washer under the cam
// sprocket" good, box 3. The name stands in quotes, or before the first comma;
// "2 ×" before it says how many there are.
func NewIn(text string) (walk.Command, error) {
	c := walk.Command{Do: walk.Find}
	text = strings.TrimSpace(text)
	if n, rest, ok := countOf(text); ok {
		c.Count, text = n, rest
	}
	var rest string
	if open, shut, ok := quoted(text); ok {
		name, more, closed := strings.Cut(text[len(open):], shut)
		if !closed {
			return c, fmt.Errorf("the name is not closed with %s; write it like: %s", shut, NewExample)
		}
		c.New, rest = name, strings.TrimPrefix(strings.TrimSpace(more), ",")
	} else {
		c.New, rest, _ = strings.Cut(text, ",")
	}
	if c.New = strings.TrimSpace(c.New); c.New == "" {
		return c, fmt.Errorf("say what it is, and how it was found; write it like: %s", NewExample)
	}
	var err error
	c.Facts, c.Text, err = FactsIn(rest)
	return c, err
}

// NewExample shows how a thing is said that no sheet has.
const NewExample = `"thin washer under the cam sprocket" good, box 3`

// quoted finds the quotes that a text begins with.
func quoted(text string) (open, shut string, ok bool) {
	for _, q := range [][2]string{{`"`, `"`}, {"“", "”"}, {"„", "“"}, {"'", "'"}} {
		if strings.HasPrefix(text, q[0]) {
			return q[0], q[1], true
		}
	}
	return "", "", false
}

// countOf reads "2 × " or "2 x " off the front of a text.
func countOf(text string) (n int, rest string, ok bool) {
	said := strings.Fields(text)
	if len(said) < 3 || said[1] != "×" && said[1] != "x" {
		return 0, text, false
	}
	n, err := strconv.Atoi(said[0])
	_, rest, _ = strings.Cut(text, said[1])
	return n, strings.TrimSpace(rest), err == nil
}

// NewPiece says which new piece an event is of: "H3, the fastener itself, number lot 88".
func NewPiece(e walk.Event) string {
	text := e.Piece
	if e.Fastener != "" && text == walk.Itself {
		text = "the fastener itself"
	}
	if e.Fastener != "" {
		text = e.Fastener + ", " + text
	}
	if e.Number != "" {
		text += ", number " + e.Number
	}
	return text
}

// Found says what was just recorded of how a thing was found.
func Found(s *walk.State, c walk.Command) string {
	if piece := c.Facts[walk.OfPiece]; c.New == "" && piece != "" {
		facts := maps.Clone(c.Facts)
		delete(facts, walk.OfPiece)
		return "found " + walk.PieceFound{Piece: strings.TrimSpace(c.Target + " " + piece), Facts: facts}.Text()
	}
	if c.New == "" {
		e := s.Events[len(s.Events)-1]
		return "found " + strings.TrimSuffix(s.TopicText(e)+": "+walk.Facts(e.Facts).Text(), ": ")
	}
	said := walk.Carried{Name: c.New, Count: c.Count, Facts: c.Facts}.Text()
	if s.Plan.Procedure.Direction == spec.Close {
		return said + "; it is on no sheet, and is asked for before done"
	}
	return said + "; it is on no sheet, and the close-up will ask for it"
}
