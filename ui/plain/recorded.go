package plain

import (
	"evenpull/procedures/walk"
	"evenpull/ui/words"
)

// accepted says what was recorded: events is what a command came to.
func (w *walker) accepted(c walk.Command, item *walk.Item, events []walk.Event) {
	switch c.Do {
	case walk.FinishUp:
		w.printf("done: every stage, check, piece and part is accounted for\n")
		if at, ok := w.live.State.CuredAt(); ok {
			w.printf("no oil before %s: the sealant has to cure\n", at.Format("2006-01-02 15:04"))
		}
		return
	case walk.Confirm, walk.Measure, walk.Yes, walk.No:
		if found := words.FoundAt(w.live.State, item); found != "" {
			w.printf("recorded as a finding: %s; the close-up will ask what was done about it\n", found)
		} else if c.Do == walk.No {
			w.printf("noted as no; put it right, then answer yes\n")
		} else if item != nil {
			w.printf("confirmed: %s%s\n", item.Text(), withReading(c.Reading))
			if late := w.live.State.Late(); late != "" {
				w.printf("attention: %s; that is kept\n", late)
			}
		}
	case walk.Find:
		w.printf("recorded: %s\n", words.Found(w.live.State, c))
	case walk.Settle:
		w.printf("recorded: %s\n", words.Answered(w.live.State))
	case walk.Renew:
		for _, e := range events {
			w.printf("recorded: new: %s\n", words.NewPiece(e))
		}
	case walk.Refit, walk.Account, walk.Clean:
		for _, e := range events {
			w.printf("recorded: %s: %s\n", w.live.State.TopicText(e), e.Kind)
		}
	case walk.Change:
		w.printf("recorded: the wrench is set\n")
	case walk.Picture:
		w.printf("recorded: %s\n", words.Kept(w.live.State))
	default:
		w.printf("recorded: %s\n", c.Do)
	}
}

// leaving names what came off and is not back, when the walk is left before done.
func (w *walker) leaving() {
	const most = 12
	if w.live.State.Phase == walk.IsDone {
		return
	}
	if list := NotBack(w.live.State, most); len(list) > 0 {
		w.printf("\ncame off and not back:\n")
		for _, text := range list {
			w.printf("  - %s\n", text)
		}
	}
}

func withReading(r string) string {
	if r == "" {
		return ""
	}
	return ", read " + r
}
