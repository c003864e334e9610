package walk

import (
	"fmt"
	"strings"
	"time"

	"evenpull/spec"
	"evenpull/spec/quantity"
)

// Judge says whether an event is earned where it stands: nil, or why not.
// Records are replayed through it, so that an event a person could not have
// earned does not count when it is read either.
func (s *State) Judge(e Event) *Refusal {
	if e.Seq != len(s.Events)+1 {
		return &Refusal{What: fmt.Sprintf("event %d stands where %d belongs", e.Seq, len(s.Events)+1)}
	}
	if s.Phase != IsOpen {
		return &Refusal{What: "this walk is " + string(s.Phase), Remedy: "start a new one to go on"}
	}
	switch e.Kind {
	case Confirmed, Measured, Answered:
		return s.judgeCurrent(e)
	case Renewed:
		return s.judgeRenewal(e)
	case Undone:
		if len(s.history) == 0 {
			return &Refusal{What: "there is nothing to undo"}
		}
		return needReason(e, "undo")
	case Lost:
		return s.judgeLost(e)
	case Trouble:
		if s.byID[e.Fastener] == nil || len(s.stagesOf[e.Fastener]) == 0 {
			return unknown(e.Fastener)
		}
		return needReason(e, "problem "+e.Fastener)
	case Resealed:
		return s.judgeReseal(e)
	case Found:
		return s.judgeFound(e)
	case Brought:
		return nil // facts of other records; what follows from them is judged here
	case Refitted, Accounted, Cleaned:
		return s.judgeThing(e)
	case Stopped:
		return needReason(e, "stop")
	case Noted:
		return needReason(e, "note")
	case Rejected:
		if _, ok := s.at[e.Item]; !ok {
			return unknown(e.Item)
		}
		return nil
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

func needReason(e Event, verb string) *Refusal {
	if e.Text != "" {
		return nil
	}
	return &Refusal{What: "a reason is needed", Remedy: "write " + verb + " and why, in a few words"}
}

func (s *State) judgeDone(now time.Time) *Refusal {
	open := s.Outstanding(now)
	if len(open) == 0 {
		return nil
	}
	return &Refusal{What: fmt.Sprintf("not done: %d outstanding", len(open)), Remedy: "confirm or renew what is listed; a walk that cannot be finished is stopped: stop REASON", Outstanding: open}
}

// judgeCurrent accepts only the current item, only as its kind asks.
func (s *State) judgeCurrent(e Event) *Refusal {
	i, ok := s.at[e.Item]
	if !ok {
		return unknown(e.Item)
	}
	if i != s.next {
		return &Refusal{What: fmt.Sprintf("%s is not what comes next", e.Item), Remedy: "next is " + s.nextText()}
	}
	it := s.Items[i]
	if r := kindFits(it, e); r != nil {
		return r
	}
	if r := s.judgeClocks(i, e.At); r != nil {
		return r
	}
	switch it.Kind {
	case PartItem:
		return s.judgePart(it.Part)
	case StageItem:
		return judgeReading(it, e)
	case MeasureItem:
		return judgeMeasure(it.Check, e)
	case AskItem:
		if e.Answer == "no" {
			return needReason(e, "no")
		}
	}
	return nil
}

func (s *State) nextText() string {
	if it := s.CurrentItem(); it != nil {
		return it.Text()
	}
	return "done"
}

func kindFits(it Item, e Event) *Refusal {
	want := Confirmed
	switch it.Kind {
	case MeasureItem:
		want = Measured
	case AskItem:
		want = Answered
	}
	if e.Kind == want && (want != Answered || e.Answer == "yes" || e.Answer == "no") {
		return nil
	}
	switch want {
	case Measured:
		return &Refusal{What: it.Check.Measure + " needs a figure", Remedy: "measure it and give the figure: measure " + it.Check.How.Example()}
	case Answered:
		return &Refusal{What: "this is a question: " + it.Check.Ask, Remedy: "answer yes, or no and why"}
	}
	return &Refusal{What: "this is no question: " + it.Text(), Remedy: "confirm it with ok"}
}

// judgeClocks holds waits and the sealant's work time, both from recorded times.
func (s *State) judgeClocks(i int, now time.Time) *Refusal {
	if s.Items[i].Kind == WaitItem {
		if left := s.WaitLeft(i, now); left > 0 {
			return &Refusal{What: fmt.Sprintf("the wait of %s is not over", spec.Span(s.Items[i].Pass.Wait)), Remedy: fmt.Sprintf("%s to go", spec.Span(left))}
		}
	}
	if left, running := s.SealantLeft(now); running && left < 0 && i <= s.sealEnd {
		name := s.Plan.Procedure.Sealant.Name
		return &Refusal{
			What:   fmt.Sprintf("%s is past its work time by %s", name, spec.Span(-left)),
			Remedy: "open the joint, clean both faces and seal it again: reseal REASON",
		}
	}
	return nil
}

// WaitLeft is how long wait item i still has to run; it starts when everything
// before it is closed.
func (s *State) WaitLeft(i int, now time.Time) time.Duration {
	var start time.Time
	for _, m := range s.marks[:i] {
		if m.At.After(start) {
			start = m.At
		}
	}
	if start.IsZero() {
		start = now // nothing came before: it starts when it is reached
		if len(s.Events) > 0 {
			start = s.Events[0].At
		}
	}
	return s.Items[i].Pass.Wait - now.Sub(start)
}

// SealantLeft is the work time left, and whether the clock is running: from
// first smear until the last stage it covers is confirmed.
func (s *State) SealantLeft(now time.Time) (left time.Duration, running bool) {
	i, ok := s.at["sealant"]
	if !ok || !s.marks[i].Closed || !s.sealHeld.IsZero() {
		return 0, false
	}
	return s.Plan.Procedure.Sealant.WorkTime - now.Sub(s.marks[i].At), true
}

// CuredAt is when the sealant has cured, and whether that clock has started.
func (s *State) CuredAt() (time.Time, bool) {
	if s.sealHeld.IsZero() || s.Plan.Procedure.Sealant.CureTime == 0 {
		return time.Time{}, false
	}
	return s.sealHeld.Add(s.Plan.Procedure.Sealant.CureTime), true
}

// judgeReading holds a stage's reading against its window; a stage may be
// confirmed without one.
func judgeReading(it Item, e Event) *Refusal {
	if e.Reading == "" {
		return nil
	}
	w := WindowOf(it.Stage)
	v, err := w.read(e.Reading)
	switch v {
	case inRange:
		return nil
	case unreadable:
		return unreadableReading(err)
	}
	what, remedy := w.advice(v)
	return &Refusal{What: fmt.Sprintf("%s at %s is %s (%s)", it.Stage.Fastener.ID, e.Reading, what, w.Basis), Remedy: remedy}
}

func unreadableReading(err error) *Refusal {
	if pe, ok := err.(*quantity.ParseError); ok {
		return &Refusal{What: pe.Problem, Remedy: pe.Remedy}
	}
	return &Refusal{What: err.Error()}
}

// outOfRange tells a reading that was understood and refused from one that was not understood.
func (s *State) outOfRange(e Event) bool {
	i, ok := s.at[e.Item]
	if !ok || i != s.next {
		return false
	}
	if it := s.Items[i]; it.Kind == StageItem {
		v, _ := WindowOf(it.Stage).read(e.Reading)
		return v == short || v == beyond
	} else if it.Kind == MeasureItem {
		return missed(it.Check, e.Reading)
	}
	return false
}

func (s *State) judgeRenewal(e Event) *Refusal {
	owner := e.Fastener
	if owner == "" {
		owner = e.Item
	}
	for _, i := range s.piecesOf[owner] {
		if s.pieces[i].Name == e.Piece {
			return nil
		}
	}
	return unknown(strings.TrimSpace(owner + " " + e.Piece))
}

// judgeLost: an angle can only be lost where one is being turned.
func (s *State) judgeLost(e Event) *Refusal {
	stages := s.stagesOf[e.Fastener]
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
		return &Refusal{What: e.Fastener + " is not at an angle", Remedy: "take the last step back with: undo REASON"}
	}
	return needReason(e, "lost")
}

func (s *State) judgeReseal(e Event) *Refusal {
	i, ok := s.at["sealant"]
	if !ok || !s.marks[i].Closed {
		return &Refusal{What: "no sealant is on the joint", Remedy: "carry on"}
	}
	return needReason(e, "reseal")
}
