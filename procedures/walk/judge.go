package walk

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/spec/quantity"
)

// Judge says whether an event is earned where it stands: nil, or why not.
// Records are replayed through it, so that an event a person could not have
// earned does not count when it is read either.
func (s *State) Judge(e Event) *Refusal {
	if e.Seq != s.events+1 {
		return &Refusal{What: fmt.Sprintf("event %d stands where %d belongs", e.Seq, s.events+1)}
	}
	if s.Phase != IsOpen {
		return &Refusal{What: "this walk is " + string(s.Phase), Remedy: "start a new one to go on"}
	}
	switch e.Kind {
	case Confirmed, Measured, Answered, Repaired:
		return s.judgeCurrent(e)
	case Renewed:
		return s.judgeRenewal(e)
	case Undone:
		return s.judgeUndo(e)
	case Lost:
		return s.judgeLost(e)
	case Trouble:
		return s.judgeTrouble(e)
	case Resealed:
		return s.judgeReseal(e)
	case Found:
		return s.judgeFound(e)
	case Brought:
		return nil // facts of other records; what follows from them is judged here
	case Refitted, Accounted, Cleaned:
		return s.judgeThing(e)
	case Settled:
		return s.judgeSettled(e)
	case PutOff:
		return s.judgePutOff(e)
	case Resheeted:
		return s.judgeSheet(e)
	case Stopped:
		return needReason(e)
	case Noted:
		if r := needReason(e); r != nil {
			return r
		}
		return s.judgeAbout(e)
	case Pictured:
		return s.judgePhoto(e)
	case Rejected:
		return s.judgeRejected(e)
	case Changed:
		return s.judgeChange(e)
	case Refused, Resumed:
		return nil
	case Done:
		return s.judgeDone(e.At)
	}
	return &Refusal{What: fmt.Sprintf("an event of kind %q is not known", spec.Printable(string(e.Kind)))}
}

func unknown(what string) *Refusal {
	return &Refusal{What: fmt.Sprintf("the procedure has no %q", spec.Printable(what))}
}

// verbOf is the command that makes a kind of event.
var verbOf = map[Kind]Verb{Undone: Undo, Lost: Lose, Trouble: Problem, Resealed: Reseal, Stopped: Stop, Noted: Note, Accounted: Account, Answered: No, PutOff: Later, Resheeted: Resheet}

func needReason(e Event) *Refusal {
	if strings.TrimSpace(e.Text) != "" {
		return nil
	}
	return &Refusal{What: "a reason is needed", Remedy: "say why, in a few words", Ways: []Way{{Do: verbOf[e.Kind], Target: e.Fastener, Needs: "a reason"}}}
}

func (s *State) judgeDone(now time.Time) *Refusal {
	open := s.Outstanding(now)
	if len(open) == 0 {
		return nil
	}
	return &Refusal{What: fmt.Sprintf("not done: %d outstanding", len(open)), Remedy: "confirm or renew what is listed; a walk that cannot be finished is stopped", Outstanding: open,
		Ways: []Way{{Do: Stop, Needs: "a reason"}}}
}

func (s *State) judgeUndo(e Event) *Refusal {
	if len(s.history) == 0 {
		return &Refusal{What: "there is nothing to undo"}
	}
	if final := s.history[len(s.history)-1].final(); final != "" {
		return &Refusal{What: final, Remedy: "fit a new one and go on"}
	}
	return needReason(e)
}

// judgeCurrent accepts only the current item, only as its kind asks, only in
// its time, and only once what goes on new is there.
func (s *State) judgeCurrent(e Event) *Refusal {
	i, ok := s.Find(e.Item)
	if !ok {
		return unknown(e.Item)
	}
	if i != s.next {
		return &Refusal{What: fmt.Sprintf("%s is not what comes next", e.Item), Remedy: "next is " + s.nextText()}
	}
	it := s.Items[i]
	if r := s.kindFits(it, e); r != nil {
		return r
	}
	if r := s.judgeClocks(i, e.At); r != nil {
		return r
	}
	if r := s.judgeNew(i); r != nil {
		return r
	}
	switch it.Kind {
	case PartItem:
		return s.judgePart(it.Part)
	case StageItem:
		if r := s.judgeHere(i); r != nil {
			return r
		}
		return s.judgeReading(it, e)
	case MeasureItem:
		if r := s.judgeMeasure(it.Check, e); r == nil || r.fault == "" || !s.finds() {
			return r
		}
	case RepairItem:
		return judgeRepair(it, e)
	case AskItem:
		return s.judgeAnswer(e)
	}
	return nil
}

func (s *State) nextText() string {
	if it := s.CurrentItem(); it != nil {
		return it.Text()
	}
	return "done"
}

// asking is what an item takes: one kind of event, with a reading or not, and
// the command that makes it.
type asking struct {
	kind    Kind
	reading bool
	verb    Verb
}

// asks is what each kind of item takes; a stage has its figures to judge by.
var asks = map[ItemKind]asking{
	StageItem:   {Confirmed, true, Confirm},
	WaitItem:    {Confirmed, false, Confirm},
	AskItem:     {Answered, false, Yes},
	MeasureItem: {Measured, true, Measure},
	PartItem:    {Confirmed, false, Confirm},
	CalloutItem: {Confirmed, false, Confirm},
	SealItem:    {Confirmed, false, Confirm},
	PrepItem:    {Confirmed, false, Confirm},
	SlackenItem: {Confirmed, false, Confirm},
	RepairItem:  {Repaired, false, Repair},
	FaultItem:   {Settled, true, Settle},
}

// kindFits refuses what the item in hand does not take.
func (s *State) kindFits(it Item, e Event) *Refusal {
	want := asks[it.Kind]
	switch {
	case e.Kind == want.kind && e.Reading != "" && !want.reading && !s.lenient():
		return &Refusal{What: fmt.Sprintf("%s is no figure of this: %s", e.Reading, it.Text()), Remedy: "nothing is read here; it is confirmed", Ways: []Way{{Do: want.verb}}}
	case e.Kind == Answered && want.kind == Answered && e.Answer != "yes" && e.Answer != "no":
	case e.Kind == want.kind:
		return nil
	}
	switch it.Kind {
	case MeasureItem:
		return needFigure(it.Check)
	case AskItem:
		return &Refusal{What: "this is a question: " + it.Check.Ask, Remedy: "answer yes, or no and why", Ways: []Way{{Do: Yes}, {Do: No, Needs: "a reason"}}}
	case RepairItem:
		return judgeRepair(it, Event{})
	case FaultItem:
		return needAnswer(it.Fault)
	}
	return &Refusal{What: "this is no question: " + it.Text(), Remedy: "do it, then confirm it", Ways: []Way{{Do: Confirm}}}
}

// judgeAnswer: a no needs a reason, and what it says came loose must have been tight.
func (s *State) judgeAnswer(e Event) *Refusal {
	if e.Answer == "no" {
		if r := needReason(e); r != nil {
			return r
		}
	} else if len(e.Restarts) > 0 {
		return &Refusal{What: "nothing comes loose by a yes", Remedy: "answer no, and name what came loose"}
	}
	for _, id := range e.Restarts {
		if s.byID[id] == nil {
			return unknown(id)
		}
		if !s.tightened(id) {
			return &Refusal{What: id + " has not been tightened yet, so it cannot have come loose", Remedy: "leave it out"}
		}
	}
	return nil
}

// judgeReading holds a stage's reading against its window. A stage may be
// confirmed without one, but for a stretch, which nobody can feel.
func (s *State) judgeReading(it Item, e Event) *Refusal {
	if e.Reading == "" {
		if it.Stage.Action == spec.Stretch && !s.lenient() {
			return needStretch(it.Stage, WindowOf(it.Stage))
		}
		return nil
	}
	w := s.window(it.Stage)
	v, err := w.read(e.Reading)
	if s.lenient() && it.Stage.Action == spec.Stretch && v == unreadable {
		v, err = w.readPlainLength(e.Reading)
	}
	switch v {
	case inRange:
		return nil
	case unreadable:
		return unreadableReading(err)
	}
	what, remedy := w.advice(v, e.Reading)
	return &Refusal{What: fmt.Sprintf("%s at %s is %s (%s)", it.Stage.Fastener.ID, e.Reading, what, w.Basis), Remedy: remedy, misses: true}
}

func unreadableReading(err error) *Refusal {
	if pe, ok := err.(*quantity.ParseError); ok {
		return &Refusal{What: pe.What, Remedy: pe.Remedy}
	}
	return &Refusal{What: err.Error()}
}

// judgeRejected: what is kept as refused must have been refused, here and for
// its reading.
func (s *State) judgeRejected(e Event) *Refusal {
	i, ok := s.Find(e.Item)
	if !ok {
		return unknown(e.Item)
	}
	if s.lenient() {
		return nil
	}
	said := e
	said.Kind = asks[s.Items[i].Kind].kind
	judge := s.judgeCurrent
	if said.Kind == Settled {
		judge = s.judgeSettled
	}
	switch r := judge(said); {
	case r == nil:
		return &Refusal{What: fmt.Sprintf("%s is in range and was refused all the same", e.Reading)}
	case !r.misses:
		return r
	}
	return nil
}

// judgeLost: an angle can only be lost where one is being turned.
func (s *State) judgeLost(e Event) *Refusal {
	stages := s.StagesOf(e.Fastener)
	if len(stages) == 0 {
		return unknown(e.Fastener)
	}
	turned := false
	for _, i := range stages {
		if s.Items[i].Stage.Action == spec.Turn && (s.marks[i].Closed || i == s.next) {
			turned = true
		}
	}
	if !turned {
		return &Refusal{What: e.Fastener + " is not at an angle", Remedy: "take the last step back", Ways: []Way{{Do: Undo, Needs: "a reason"}}}
	}
	return needReason(e)
}

// judgeTrouble: what went wrong needs words, and of a stripped thread which one.
func (s *State) judgeTrouble(e Event) *Refusal {
	if s.byID[e.Fastener] == nil || len(s.StagesOf(e.Fastener)) == 0 {
		return unknown(e.Fastener)
	}
	if r := needReason(e); r != nil {
		return r
	}
	if s.lenient() {
		return nil
	}
	switch at := e.Facts[StrippedAt]; {
	case at == InBolt || at == InCase:
	case at != "":
		return &Refusal{What: fmt.Sprintf("%q is not where a thread strips", spec.Printable(at)), Remedy: "say bolt or case", Ways: strippedWays(e.Fastener)}
	case speaksOfStripping(e.Text):
		return &Refusal{What: "which thread stripped at " + e.Fastener + ": the bolt's, or the one in the case?", Remedy: "a thread in the case is repaired before it is tightened again", Ways: strippedWays(e.Fastener)}
	}
	return nil
}

func speaksOfStripping(text string) bool { return strings.Contains(strings.ToLower(text), "strip") }

func strippedWays(fastener string) []Way {
	return []Way{{Do: Problem, Target: fastener, Needs: "stripped, bolt"}, {Do: Problem, Target: fastener, Needs: "stripped, case"}}
}

// judgeRepair: a thread in the case counts as good once it is known what is in
// it now, who did it, and what that changes.
func judgeRepair(it Item, e Event) *Refusal {
	var missing []string
	for _, key := range RepairFacts {
		if strings.TrimSpace(e.Facts[key]) == "" {
			missing = append(missing, key)
		}
	}
	for key := range e.Facts {
		if !slices.Contains(RepairFacts, key) {
			return &Refusal{What: fmt.Sprintf("%q is not kept of a repaired thread", spec.Printable(key)), Remedy: "one of: " + strings.Join(RepairFacts, ", ")}
		}
	}
	if len(missing) == 0 {
		return nil
	}
	return &Refusal{What: fmt.Sprintf("the thread in the case at %s stripped; it is good again once it is said: %s", it.Fastener.ID, strings.Join(missing, ", ")),
		Remedy: `torque, engagement and drive may be "as the sheet"`, Ways: []Way{{Do: Repair, Target: it.Fastener.ID, Needs: strings.Join(missing, ", ")}}}
}

func (s *State) judgeReseal(e Event) *Refusal {
	if s.smear < 0 || !s.marks[s.smear].Closed {
		return &Refusal{What: "no sealant is on the joint", Remedy: "carry on"}
	}
	return needReason(e)
}
