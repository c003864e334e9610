package plain

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/words"
)

// splitThing splits "thrust washer scored" into the thing and what follows. Of
// names that fit, the longest wins; without one the thing is empty.
func splitThing(text string, s *walk.State) (thing, rest string) {
	said := strings.Fields(text)
	for n := len(said); n > 0; n-- {
		name := strings.Join(said[:n], " ")
		if bare := strings.TrimSuffix(name, ","); isThing(bare, s) {
			return bare, strings.Join(said[n:], " ")
		}
	}
	return "", text
}

func isThing(name string, s *walk.State) bool {
	if s.Part(name) != nil || s.Plan.Procedure.Fastener(name) != nil {
		return true
	}
	return slices.ContainsFunc(s.LeftOver(), func(c walk.Carried) bool {
		return strings.EqualFold(c.ID, name) || strings.EqualFold(c.Name, name)
	})
}

// finding reads found. Without a thing it is about the one in hand.
func finding(rest string, s *walk.State) (walk.Command, error) {
	if word, more, _ := strings.Cut(rest, " "); word == "NEW" || strings.EqualFold(word, "new") && strings.ContainsAny(more, `"“'`) {
		return words.NewIn(more)
	}
	thing, said := splitThing(rest, s)
	piece, said := words.PieceIn(said, s.Part(thing))
	if before, more, ok := words.PieceBefore(rest); thing == "" && ok {
		if named, after := splitThing(more, s); named != "" && several(s, named) {
			thing, said, piece = named, after, before
		}
	}
	if first, _, _ := strings.Cut(said, ","); thing == "" && !startsFacts(strings.TrimSpace(first)) {
		return walk.Command{}, fmt.Errorf("found %s: no fastener or part is called that, and it is no condition; write: found THING CONDITION, such as: found %s scored, box 2; words on what is in hand stand in quotes", rest, someThing(s))
	}
	facts, because, err := words.FactsIn(said)
	if err == nil && piece != "" {
		facts[walk.OfPiece] = piece
	}
	return walk.Command{Do: walk.Find, Target: thing, Facts: facts, Text: because}, err
}

func several(s *walk.State, name string) bool {
	p := s.Part(name)
	return p != nil && p.Count > 1
}

func startsFacts(text string) bool {
	word, _, _ := strings.Cut(strings.ToLower(text), " ")
	return slices.Contains(walk.Conditions, word) || slices.Contains(walk.FactKeys, word) || walk.Condemning(word) || words.SaysInside(text) || strings.HasPrefix(word, `"`)
}

func someThing(s *walk.State) string {
	p := s.Plan.Procedure
	if len(p.Parts) > 0 {
		return p.Parts[0].ID
	}
	return p.Fasteners[0].ID
}

// aboutThing reads refit, account and clean.
func aboutThing(do walk.Verb, rest string, s *walk.State) (walk.Command, error) {
	if rest == "" {
		return walk.Command{}, fmt.Errorf("%s needs the name of a thing: %s %s", do, do, someThing(s))
	}
	thing, text := splitThing(rest, s)
	if thing == "" {
		thing, text, _ = strings.Cut(rest, " ") // let the walk say that there is no such thing
	}
	text = strings.TrimSpace(text)
	if do != walk.Account && text != "" {
		return walk.Command{}, fmt.Errorf("%s takes the name of a thing and no more; a remark goes in with: note %s", do, text)
	}
	return walk.Command{Do: do, Target: thing, Text: text}, nil
}

// thingLines says what is known of the thing in hand: on the way apart what to
// look for, on the way together how it came off and where it lies.
func thingLines(s *walk.State, it *walk.Item) []string {
	if s.Plan.Procedure.Direction == spec.Open {
		return apart(s, it)
	}
	c, ok := s.CarriedOf(it.Thing())
	if !ok || c.Fastener && len(c.Facts) == 0 && words.NotReady(c) == "" {
		return nil // of most bolts there is nothing to say
	}
	if p, ok := s.Fitted(it.Thing()); ok { // the old one does not matter any more
		return []string{strings.TrimSuffix("  new, number "+p.Number, ", number ")}
	}
	said := c.Facts.Text()
	switch {
	case said != "":
	case len(c.Pieces)+len(c.Said) > 0:
		said = "what follows was said of it"
	default:
		said = "nothing was noted of it"
	}
	lines := []string{fmt.Sprintf("  off %s: %s", c.At.Format(time.DateOnly), said)}
	for _, p := range c.Pieces {
		lines = append(lines, "  "+p.Text())
	}
	if it.Unforeseen && s.CanPutOff() {
		lines = append(lines, "  no sheet has it; if it goes in further on: later REASON")
	} else if it.Unforeseen {
		lines = append(lines, "  no sheet has it")
	}
	if over := words.Buried(s, it); over != "" {
		lines = append(lines, "  caution: "+over)
	}
	if c.Count > 1 && it.Kind == walk.PartItem {
		lines[0] += fmt.Sprintf(" (%d came off)", c.Count)
	}
	switch not := words.NotReady(c); {
	case c.Away != "":
		lines = append(lines, "  "+not)
	case c.Unclean != "":
		lines = append(lines, fmt.Sprintf("  %s then: clean %s", not, c.ID))
	}
	return lines
}

func apart(s *walk.State, it *walk.Item) []string {
	var lines []string
	look, condemn, measure := []string(nil), []string(nil), ""
	switch {
	case it.Kind == walk.PartItem:
		look, condemn, measure = it.Part.LookFor, it.Part.Condemn, it.Part.Measure
	case it.Stage.Action == spec.Remove && firstOut(s, it):
		look, condemn = it.Stage.Fastener.Group.LookFor, it.Stage.Fastener.Group.Condemn
	}
	for _, line := range words.Inspection(look, condemn, measure) {
		lines = append(lines, "  "+line)
	}
	if it.Kind == walk.PartItem && it.Part.Work != "" {
		lines = append(lines, fmt.Sprintf("  may go out for %s; if so: found good, goes %s", it.Part.Work, it.Part.Work))
	}
	for _, p := range s.PiecesFound(it.Thing()) {
		lines = append(lines, "  found: "+p.Text())
	}
	if f := s.FoundOf(it.Thing()); f != nil {
		lines = append(lines, "  found: "+f.Text())
	} else if it.Kind == walk.PartItem && it.Part.Count > 1 {
		lines = append(lines, fmt.Sprintf("  how it is and where it goes: found good, box 2; of one of them: found %s 2 worn, measured 0.8 mm", it.Part.ID))
	} else if it.Kind == walk.PartItem {
		lines = append(lines, "  how it is and where it goes: found good, box 2, bag 7")
	}
	return lines
}

// firstOut tells the first fastener of its group to come out in a pass, where
// what to look for is said once for all of them.
func firstOut(s *walk.State, it *walk.Item) bool {
	for _, other := range s.Items {
		if other.Kind == walk.StageItem && other.Pass == it.Pass && other.Stage.Action == spec.Remove && other.Stage.Fastener.Group == it.Stage.Fastener.Group {
			return other.Key() == it.Key()
		}
	}
	return false
}

// NotBack names what came off and has not gone back in this walk, at most so
// many, and says how many more there are. What is fitted new each time is left out.
func NotBack(s *walk.State, most int) []string {
	var list []string
	for i, it := range s.Items {
		if c, ok := s.CarriedOf(it.Thing()); ok && it.Kind == walk.PartItem && !it.Part.OneUse && !s.Mark(i).Closed {
			list = append(list, c.Text()+", not refitted")
		}
	}
	for _, c := range s.LeftOver() {
		list = append(list, c.Text()+", left over, not refitted")
	}
	if len(list) > most {
		list = append(list[:most], fmt.Sprintf("and %d more", len(list)-most))
	}
	return list
}
