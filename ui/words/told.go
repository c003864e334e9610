package words

import (
	"fmt"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// ToldOf is what was said of the thing or the finding in hand, oldest first: at
// strip-down, since, and in this walk. Of a bolt that has been begun only the last.
func ToldOf(s *walk.State, it *walk.Item) (lines []string) {
	if it == nil {
		return nil
	}
	var told []walk.Said
	t := it.Thing()
	_, replaced := s.Fitted(t)
	if c, ok := s.CarriedOf(t); ok && !replaced && !begun(s, it) {
		told = append(told, c.Said...)
	}
	switch {
	case it.Kind == walk.FaultItem:
		told = append(append(told, it.Fault.Said...), s.SaidAt(it.Key())...)
	case !t.IsZero():
		told = append(told, s.SaidOf(t)...)
	case it.Check != nil:
		told = append(told, s.SaidAt(it.Key())...)
	}
	for _, said := range told {
		lines = append(lines, spec.Printable(said.Line()))
	}
	return lines
}

// Buried says of a thing that no sheet foresaw, and that was found late, what is in
// already and lies over its place; "" where nothing does.
func Buried(s *walk.State, it *walk.Item) string {
	if it == nil || !it.Unforeseen || s.Plan.Procedure.Direction != spec.Close {
		return ""
	}
	for i := s.Current() + 1; i < len(s.Items); i++ {
		over := s.Items[i]
		name := ""
		switch {
		case !s.Mark(i).Closed:
		case over.Kind == walk.PartItem:
			name = over.Part.Name
		case over.Kind == walk.StageItem && over.Stage.Action.Tightens():
			name = over.Stage.Fastener.ID
		}
		if name != "" {
			return fmt.Sprintf("it goes in before %s, which is in already: take out what lies over it first, with the sheet for opening, so that it is done again", spec.Printable(name))
		}
	}
	return ""
}

// begun: some stage of the bolt in hand stands confirmed.
func begun(s *walk.State, it *walk.Item) bool {
	if it.Kind != walk.StageItem {
		return false
	}
	for _, i := range s.StagesOf(it.Stage.Fastener.ID) {
		if s.Mark(i).Closed {
			return true
		}
	}
	return false
}

// AboutIn reads "camshaft: scored on its base circle": what a remark is of, when it
// is named, and the remark.
func AboutIn(text string, s *walk.State) (target, rest string) {
	name, after, ok := strings.Cut(text, ":")
	if name = strings.TrimSpace(name); ok && (s.Knows(name) || strings.EqualFold(name, walk.Whole)) {
		return thingNamed(name), strings.TrimSpace(after)
	}
	return "", text
}

// thingNamed reads the whole as such.
func thingNamed(name string) string {
	if strings.EqualFold(name, walk.Whole) {
		return walk.Whole
	}
	return name
}

// Kept says of the picture that was recorded last what it is of.
func Kept(s *walk.State) string {
	e := s.Events[len(s.Events)-1]
	p, _ := walk.PhotoOf(e)
	text := p.Text(e.Text)
	if of := s.TopicText(e); of != "" {
		text += ", of " + of
	}
	return spec.Printable(text)
}

// PhotoExample shows how a picture is named.
const PhotoExample = "FILE of THING, what it shows"

// PhotoIn reads "lobe.jpg of camshaft, scored on the second lobe": a file, what it
// is of, and a caption. A name that itself has a comma or " of " goes in quotes.
func PhotoIn(text string, s *walk.State) (path, target, caption string, err error) {
	path, rest, quoted := inQuotes(text)
	if !quoted {
		end := len(text)
		for _, mark := range []string{" of ", ", "} {
			if at := strings.Index(text, mark); at >= 0 {
				end = min(end, at)
			}
		}
		path, rest = strings.TrimSpace(text[:end]), strings.TrimSpace(text[end:])
	}
	if path == "" {
		return "", "", "", fmt.Errorf("the picture is not named; write: %s", PhotoExample)
	}
	of, named := cutWord(rest, "of")
	if !named {
		return path, "", strings.TrimSpace(strings.TrimPrefix(rest, ",")), nil
	}
	for cut := len(of); cut > 0; cut = strings.LastIndex(of[:cut], ",") {
		name := strings.TrimSpace(of[:cut])
		if s.Knows(name) || strings.EqualFold(name, walk.Whole) {
			return path, thingNamed(name), strings.TrimSpace(strings.TrimPrefix(of[cut:], ",")), nil
		}
	}
	name, _, _ := strings.Cut(of, ",")
	return "", "", "", fmt.Errorf("nothing here is called %q; write: %s, or of whole; a file name with \" of \" in it goes in quotes", name, PhotoExample)
}

// inQuotes takes a quoted text off the front of another.
func inQuotes(text string) (quoted, rest string, ok bool) {
	for _, q := range []string{`"`, `'`} {
		if after, is := strings.CutPrefix(text, q); is {
			quoted, rest, ok = strings.Cut(after, q)
			return quoted, strings.TrimSpace(rest), ok
		}
	}
	return "", text, false
}
