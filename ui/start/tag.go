package start

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/record"
)

func (m Model) pressTag(msg tea.KeyMsg) (Model, tea.Cmd) {
	k := m.tagKeys()
	switch {
	case key.Matches(msg, k.Suspend):
		return m, tea.Suspend
	case key.Matches(msg, k.Quit):
		return m.leaveWith(Choice{})
	case key.Matches(msg, k.Back):
		m.face = onList
		m.tag = m.tag.Blur()
	case key.Matches(msg, k.Known):
		m.tag = m.tag.With(m.nextKnown())
	case key.Matches(msg, k.Fresh):
		return m.begin(true)
	case key.Matches(msg, k.Begin):
		return m.begin(false)
	default:
		m.tag = m.tag.Key(msg)
	}
	return m, nil
}

// begin asks for the walk of this procedure on an engine: the one that is open, if there
// is one, unless a new one is asked for.
func (m Model) begin(fresh bool) (Model, tea.Cmd) {
	tag := m.typedTag()
	if tag == "" {
		m.say, m.wrong = "an engine needs a tag; a number on masking tape is fine", true
		return m, nil
	}
	return m.leaveWith(Choice{Do: Begin, Ref: m.asked.Ref, Engine: tag, Fresh: fresh})
}

func (m Model) typedTag() string { return strings.Join(strings.Fields(clean(m.tag.Value())), " ") }

// leftOpen finds the open walk that asking for the procedure on an engine goes on with.
func (m Model) leftOpen(tag string) *Walk {
	for i, w := range m.lists.Open {
		if w.Ref != "" && w.Ref == m.asked.Ref && record.SameTag(w.Engine, tag) {
			return &m.lists.Open[i]
		}
	}
	return nil
}

// anyOpen reports whether anything is open on an engine: a walk of another file
// may be meant, and then a new one has to be asked for.
func (m Model) anyOpen(tag string) bool {
	return slices.ContainsFunc(m.lists.Open, func(w Walk) bool { return record.SameTag(w.Engine, tag) })
}

// known lists the tags of earlier walks, the last used first.
func (m Model) known() []string {
	var tags []string
	seen := map[string]bool{"": true}
	add := func(tag string) {
		if !seen[tag] {
			seen[tag] = true
			tags = append(tags, tag)
		}
	}
	for _, w := range m.lists.Open {
		add(clean(w.Engine))
	}
	for _, r := range m.lists.Records {
		add(clean(r.Engine))
	}
	return tags
}

// nextKnown goes round the known tags.
func (m Model) nextKnown() string {
	tags, now := m.known(), m.typedTag()
	for i, t := range tags {
		if t == now {
			return tags[(i+1)%len(tags)]
		}
	}
	if len(tags) > 0 {
		return tags[0]
	}
	return now
}
