package stand

import (
	"errors"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"evenpull/procedures/walk"
	"evenpull/ui/entry"
	"evenpull/ui/keys"
	"evenpull/ui/overlay"
	"evenpull/ui/question"
	"evenpull/ui/words"
)

// reasonKey is a key that asks for words first, or one that means nothing now.
func (m Model) reasonKey(k tea.KeyMsg, km keymap) Model {
	about := "the fastener, then a colon: M7: stripped"
	if it := m.facts.item; it != nil && it.Kind == walk.StageItem {
		about = it.Stage.Fastener.ID + "; another one: its id, a colon, then what"
	}
	switch {
	case key.Matches(k, km.Gauge):
		return m.lay(m.askGauge())
	case key.Matches(k, km.No):
		return m.lay(m.askWhyNot())
	case key.Matches(k, km.Undo):
		return m.lay(asking(walk.Undo, "Take back \""+m.facts.lastDone+"\", because", "why", said).With("pressed by mistake", "wrong fastener", "wrong setting on the wrench", "not sure it was done"))
	case key.Matches(k, km.Lost):
		return m.lay(asking(walk.Lose, "Angle lost on "+about, "what happened", m.saidOf).With("phone rang", "socket slipped", "mark rubbed off", "lost count"))
	case key.Matches(k, km.Problem):
		return m.lay(asking(walk.Problem, "Problem with "+about, "what happened", m.saidOf).With("stripped, bolt", "stripped, case", "overshot", "seized", "broken", "bent", "thread damaged"))
	case key.Matches(k, km.Reseal):
		return m.lay(asking(walk.Reseal, "Opened, cleaned and sealed afresh, because", "why", said).With("work time ran out", "sealant smeared off", "joint had to come apart"))
	case key.Matches(k, km.Later):
		return m.lay(asking(walk.Later, "Asked at the end instead, because", "why", said).With("measured once it is in", "still out for work", "the place is further on"))
	case key.Matches(k, km.Note):
		return m.lay(asking(walk.Note, "Note on what is in hand; of another thing: its name, a colon, then what", "anything worth keeping", m.saidAbout))
	case key.Matches(k, km.Photo):
		return m.lay(asking(walk.Picture, "Photo of what is in hand: the path of its file, then what it shows", words.PhotoExample, m.photo))
	case key.Matches(k, km.Stop):
		return m.lay(askToStop())
	}
	return m.otherKey(k)
}

// asking is a text field for what a command of the walk needs in words; fill puts the
// words into the command.
func asking(do walk.Verb, title, hint string, fill func(c *walk.Command, text string) error) entry.Field {
	return entry.New(title, hint, func(text string) (overlay.Model, overlay.Answer, error) {
		c := walk.Command{Do: do}
		if err := fill(&c, text); err != nil {
			return nil, overlay.Answer{}, err
		}
		return nil, overlay.Answer{Close: true, Commands: []walk.Command{c}}, nil
	})
}

// said keeps the words as they are.
func said(c *walk.Command, text string) error {
	if text == "" {
		return entry.ErrNoWords
	}
	if c.Do == walk.Problem || c.Do == walk.Note || c.Do == walk.Repair {
		c.Text = text
		return nil
	}
	var err error
	c.Text, err = words.Reason(text)
	return err
}

// saidOf keeps the words, and apart from them which fastener they are of.
func (m Model) saidOf(c *walk.Command, text string) error {
	c.Target, text = m.named(text)
	if c.Do == walk.Problem {
		text, c.Facts = words.TroubleIn(text)
	}
	return said(c, text)
}

// saidAbout keeps the words, and apart from them which thing they are of.
func (m Model) saidAbout(c *walk.Command, text string) error {
	c.Target, text = words.AboutIn(text, m.cfg.State)
	return said(c, text)
}

// photo reads the picture, so that what is wrong with it is said in the field.
func (m Model) photo(c *walk.Command, text string) error {
	path, target, caption, err := words.PhotoIn(text, m.cfg.State)
	if err != nil {
		return err
	}
	c.Target, c.Text = target, caption
	c.Facts, err = m.cfg.Look(path)
	return err
}

// named splits "M7: stripped" into fastener and words; without an id that the
// procedure knows, all of it is words on the one in hand.
func (m Model) named(text string) (target, words string) {
	id, rest, ok := strings.Cut(text, ":")
	if f := m.cfg.State.Plan.Procedure.Fastener(strings.TrimSpace(id)); ok && f != nil {
		return f.ID, strings.TrimSpace(rest)
	}
	return "", text
}

// askWhyNot asks why the answer is no.
func (m Model) askWhyNot() entry.Field {
	return asking(walk.No, "No, because; what came loose first: M3, M4: it rattles", "what is wrong", func(c *walk.Command, text string) error {
		c.Restarts, text = words.LooseIn(text, m.cfg.State.Plan.Procedure)
		return said(c, text)
	}).With("not there yet", "missing", "damaged", "not sure")
}

// askRepair asks what is in a thread now that was stripped.
func (m Model) askRepair() entry.Field {
	return asking(walk.Repair, "Repaired at "+m.facts.item.Fastener.ID+": "+words.RepairExample, "insert …, size …, by …, torque …, engagement …, drive …", func(c *walk.Command, text string) (err error) {
		if c.Facts, err = words.RepairIn(text); err != nil {
			return err
		}
		return said(c, text)
	})
}

// askAnswer asks what was done about a finding.
func askAnswer(f *walk.Fault) entry.Field {
	title, reasons := "What was done: repaired by whom, what; or replaced, with what", []string{"repaired by me", "replaced"}
	if f.Measured() {
		title, reasons = "What was done: repaired by whom; replaced; or measured "+f.Limits(), append(reasons, "measured ")
	}
	if f.Work != "" && f.By != "" { // as it stands on the screen
		reasons = append([]string{walk.ByRepair}, reasons...)
	}
	example := "repaired by …"
	if f.Inside {
		title, example, reasons = "Found where; or not inside, and how you know", "found in …", []string{"found ", "not inside, "}
	}
	return asking(walk.Settle, title, example, func(c *walk.Command, text string) (err error) {
		*c, err = words.AnswerIn(text)
		return err
	}).With(reasons...)
}

// askToStop asks why, and then once more: a stop can't be taken back.
func askToStop() entry.Field {
	take := func(text string) (overlay.Model, overlay.Answer, error) {
		if text == "" {
			return nil, overlay.Answer{}, entry.ErrNoWords
		}
		stop := overlay.Answer{Close: true, Commands: []walk.Command{{Do: walk.Stop, Text: text}}}
		goOn := overlay.Answer{Close: true, Say: "not stopped; the walk goes on"}
		return question.Model{
			Word: "STOP FOR GOOD?", Text: "The record ends as stopped, not as done, and can't be gone on with.",
			Choices: []question.Choice{{Key: keys.New("stop it", "y"), Answer: stop}, {Key: keys.Other("go on"), Answer: goOn}},
			Other:   goOn,
		}, overlay.Answer{}, nil
	}
	return entry.New("Stop for good, unfinished, because", "why it can't be finished", take).With("part to be replaced", "wrong procedure", "engine goes elsewhere")
}

// askYesNo asks what the walk wants to know before it records something. Only y and
// n answer it.
func askYesNo(r *walk.Refusal) question.Model {
	return question.Model{
		Word: "QUESTION", Text: printable(r.What),
		Choices: []question.Choice{
			{Key: keys.New("yes", "y"), Answer: overlay.Answer{Close: true, Commands: []walk.Command{*r.Yes}}},
			{Key: keys.New("no", "n"), Answer: overlay.Answer{Close: true, Commands: []walk.Command{*r.No}}},
			{Key: keys.New("back", "esc"), Answer: overlay.Answer{Close: true, Say: "not answered, and nothing was recorded of it"}},
		},
	}
}

// askToLeave says how to come back.
func (m Model) askToLeave() question.Model {
	return question.Model{
		Word: "LEAVE?", Text: "Everything confirmed so far is on disk. To come back:", Below: m.cfg.Back,
		Choices: []question.Choice{
			{Key: keys.New("leave", "q", "enter", " ", "pgdown", "y", "ctrl+c"), Answer: overlay.Answer{Leave: true}},
			{Key: keys.New("stay", "esc", "n"), Answer: overlay.Answer{Close: true}},
		},
	}
}

// notSaved says that a write did not succeed: nothing has moved. Trying again is offered
// only where it can succeed.
func (m Model) notSaved(again []walk.Command, err error) question.Model {
	q := question.Model{Word: "NOT SAVED", Text: printable(err.Error()) + ". Nothing has moved on."}
	leave := question.Choice{Key: keys.New("leave", "q", "ctrl+c"), Answer: overlay.Answer{Leave: true}}
	if errors.Is(err, walk.ErrLost) {
		q.Text, q.Below = q.Text+" To come back:", m.cfg.Back
		q.Choices = []question.Choice{leave, {Key: keys.New("look on", "esc"), Answer: overlay.Answer{Close: true, Say: "it was not recorded, and nothing more can be"}}}
		return q
	}
	q.Choices = []question.Choice{
		{Key: keys.Confirm("try again"), Answer: overlay.Answer{Close: true, Commands: again}},
		{Key: keys.New("give up this step", "esc"), Answer: overlay.Answer{Close: true, Say: "given up; it was not recorded"}},
		leave,
	}
	return q
}
