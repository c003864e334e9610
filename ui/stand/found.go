package stand

import (
	"errors"
	"fmt"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/ui/entry"
	"evenpull/ui/words"
)

// canDescribe reports whether what is in hand is coming off, so that it can be
// said how it was found.
func (m Model) canDescribe() bool {
	it := m.facts.item
	return it != nil && (it.Kind == walk.PartItem || it.Kind == walk.StageItem && it.Stage.Action.Frees())
}

// openFound asks how a thing was found: a condition under a number key, and
// where it goes.
func (m Model) openFound() Model {
	it := m.facts.item
	name := ""
	var inspect []string
	if it.Kind == walk.StageItem {
		g := it.Stage.Fastener.Group
		name = it.Stage.Fastener.ID
		inspect = words.Inspection(g.LookFor, g.Condemn, "")
	} else {
		name = walk.PartText(it.Part)
		inspect = words.Inspection(it.Part.LookFor, it.Part.Condemn, it.Part.Measure)
	}
	title := name + ", found how?"
	if m.width >= mapW {
		title = strings.Join(append(inspect, title), "\n")
	}
	if was := m.cfg.State.FoundOf(it.Thing()); len(was) > 0 {
		title += " So far: " + was.Text()
	}
	take := func(c *walk.Command, text string) error {
		c.Target = it.Thing().ID
		return found(c, text)
	}
	return m.lay(asking(walk.Find, title, "for example: scored, box 2, bag 7, measured 0.8 mm", take).With(walk.Conditions...))
}

// askNew asks what was found that no sheet has.
func askNew() entry.Field {
	return asking(walk.Find, "Found, and on no sheet: what, how it is, and where it is put", words.NewExample, func(c *walk.Command, text string) (err error) {
		*c, err = words.NewIn(text)
		return err
	})
}

// found makes facts of "scored, box 2, because it was the other one".
func found(c *walk.Command, text string) error {
	facts, reason, err := words.FactsIn(text)
	if err != nil {
		return fmt.Errorf("%w; write it like: scored, box 2, bag 7", err)
	}
	if len(facts) == 0 {
		return errors.New("say how it was found, by a number key or in your own words, or " + entry.Back())
	}
	c.Facts, c.Text = facts, strings.TrimSpace(reason)
	return nil
}
