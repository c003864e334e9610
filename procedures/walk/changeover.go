package walk

import (
	"evenpull/procedures/plan"
	"evenpull/spec"
)

// Changeover is what has to be done to the wrench before a stage: set it to
// another figure, put another socket on.
type Changeover struct {
	Stage  *plan.Stage
	Pull   *plan.Stage // the one with the figure: the same, or what follows on the bolt it lets go; nil: none
	Wrench bool        // it is set to that figure
	Socket bool        // the stage's goes on
	// Again: both have been in hand in this pass before, so that bolts take turns.
	// It is worth a word and no step of its own.
	Again bool

	SetTo *spec.TorqueSpan // what the wrench was set to; nil: nobody knows
	On    string           // the socket that was on; "": nobody knows
}

// tool is what a step of a pass takes for one group.
type tool struct {
	pass  *spec.Pass
	step  int
	group *spec.Group
}

func toolFor(st *plan.Stage) tool { return tool{st.Pass, st.Step, st.Fastener.Group} }

// torque is the figure to set a wrench to; nil: none, as for an angle. Where a bolt is
// first let go and then tightened, the wrench is set before it is let go.
func (t tool) torque() *spec.TorqueSpan {
	step := t.pass.Steps[t.step]
	if t.step == 0 && step.Action.Frees() && len(t.pass.Steps) > 1 {
		step = t.pass.Steps[1]
	}
	if step.Action != spec.Torque && step.Action != spec.Verify {
		return nil
	}
	target := step.Target(t.group)
	return &target.Torque
}

// sameFigure: a wrench set to one is set to the other.
func sameFigure(a, b *spec.TorqueSpan) bool { return a.Aim().Cmp(b.Aim()) == 0 }

// does reports whether what is in hand for t does for u as well.
func (t tool) does(u tool) bool {
	want := u.torque()
	if have := t.torque(); want != nil && (have == nil || !sameFigure(have, want)) {
		return false
	}
	return u.group.Drive == "" || t.group.Drive == u.group.Drive
}

// hand is what the wrench is set to and what is on it, as far as the events tell:
// what a stage was confirmed with, or it was said to be changed for. Undo turns no
// wrench back; after a pause nobody knows what has been done with it.
type hand struct {
	last  tool
	setTo *spec.TorqueSpan
	on    string
	pass  *spec.Pass
	met   map[tool]bool // what has been in hand in this pass
}

func (h *hand) take(st *plan.Stage) {
	t := toolFor(st)
	if t == h.last {
		return
	}
	if h.pass != st.Pass {
		h.pass, h.met = st.Pass, map[tool]bool{}
	}
	h.last, h.met[t] = t, true
	if torque := t.torque(); torque != nil {
		h.setTo = torque
	}
	if t.group.Drive != "" {
		h.on = t.group.Drive
	}
}

// Changeover says what has to be changed before the stage in hand. Before the first
// smear it is for the stage that follows, so that it takes nothing of the sealant's
// time. False when nothing has to be: the wrench is set and the socket on, or the
// stage takes no figure and the socket was never said.
func (s *State) Changeover() (Changeover, bool) {
	st := s.stageAhead()
	if st == nil {
		return Changeover{}, false
	}
	t := toolFor(st)
	want := t.torque()
	c := Changeover{Stage: st, Pull: s.pulls(st), SetTo: s.hand.setTo, On: s.hand.on}
	c.Wrench = want != nil && (c.SetTo == nil || !sameFigure(c.SetTo, want))
	c.Socket = t.group.Drive != "" && t.group.Drive != c.On && (c.On != "" || c.Wrench)
	if !c.Wrench && !c.Socket {
		return Changeover{}, false
	}
	if s.hand.pass == st.Pass {
		for met := range s.hand.met {
			c.Again = c.Again || met.does(t)
		}
	}
	return c, true
}

// pulls is the stage a wrench is set for before another: itself, or the first of the
// same bolt in the same pass that takes a figure.
func (s *State) pulls(st *plan.Stage) *plan.Stage {
	if toolFor(st).torque() == nil {
		return nil
	}
	for _, i := range s.StagesOf(st.Fastener.ID) {
		of := s.Items[i].Stage
		if of.Pass == st.Pass && of.Step >= st.Step && (of.Action == spec.Torque || of.Action == spec.Verify) {
			return of
		}
	}
	return nil
}

// stageAhead is the stage in hand, or behind the smear that is; nil when neither is.
func (s *State) stageAhead() *plan.Stage {
	it := s.CurrentItem()
	if it == nil || it.Kind != StageItem && it.Kind != SealItem {
		return nil
	}
	for i := s.next; i < len(s.Items); i++ {
		if s.Items[i].Kind == StageItem && !s.marks[i].Closed {
			return s.Items[i].Stage
		}
	}
	return nil
}

// draftChange is the wrench set and the socket on for the stage ahead.
func (s *State) draftChange(c Command, e Event) (Event, *Refusal) {
	e.Kind = Changed
	st := s.stageAhead()
	if st == nil {
		return e, nothingToSet()
	}
	e.Item = st.Key().String()
	e.Facts = map[string]string{}
	for key, value := range c.Facts {
		e.Facts[key] = value
	}
	t := toolFor(st)
	if torque := t.torque(); torque != nil {
		e.Facts[SetFor] = torque.Text()
	}
	if t.group.Drive != "" {
		e.Facts[SocketOn] = t.group.Drive
	}
	return e, nil
}

// judgeChange: it is said of the stage that comes next, and of its figure.
func (s *State) judgeChange(e Event) *Refusal {
	st := s.stageAhead()
	if st == nil {
		return nothingToSet()
	}
	if e.Item != st.Key().String() {
		return &Refusal{What: e.Item + " is not what comes next", Remedy: "next is " + s.nextText()}
	}
	if torque := toolFor(st).torque(); e.Facts[SetFor] != "" && (torque == nil || torque.Text() != e.Facts[SetFor]) {
		return &Refusal{What: e.Facts[SetFor] + " is not the figure of " + e.Item, Remedy: "set the wrench to what the sheet says"}
	}
	return nil
}

func nothingToSet() *Refusal {
	return &Refusal{What: "no stage is in hand to set a wrench for", Remedy: "go on with what is asked"}
}
