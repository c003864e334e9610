package stand

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
	"evenpull/spec/quantity"
	"evenpull/ui/words"
)

// ask is what one item wants of the person, in words and before any layout.
type ask struct {
	verb     string   // the act in large letters: "TIGHTEN"; "" where the figure says it
	way      string   // "ANTICLOCKWISE" or "CLOCKWISE" where it is not the one every hand knows
	action   string   // the act in a line: "TIGHTEN TO", "TIGHTEN ANTICLOCKWISE TO"
	manner   string   // what verb and way leave out of it, and must not be missed
	share    string   // of the final figure, where the sheet gives one
	figure   string   // the big one: "22", "90°", "REMOVE"
	own      string   // in place of a figure, in large letters: a question, a part
	unit     string   // after it: "N·m"
	within   string   // the figure with how far off it may be, which read from afar would be one more digit
	same     []string // the figure in the other units
	id       string   // of the fastener
	where    string   // the fastener sits
	place    string   // of a part
	topic    string   // what a verb without a fastener is about, where the headline is not
	headline string   // question, part or measure: what the item is about
	detail   []string // group, remedy of a check …
	tool     []string // what goes on the wrench
	prep     string   // what to do to the threads
	flags    []warning
	cautions []string
	degrees  float64 // over 0: an angle stage, with a dial
	sense    string  // which way it turns, from the handle
	upTo     float64 // the most it may be, in degrees; 0: no such limit
	loosen   bool
	leftHand bool
	hand     string // and how it goes: "TIGHTEN ANTICLOCKWISE"
	corners  int    // of the drive, that can be counted
	quiet    bool   // it is over: the words matter more than the figure
}

// warning is a word that must not be overlooked.
type warning int

const (
	leftHand warning = iota
	hollow
	unsourced
	newPiece
	turnsTaken
)

// askOf says what an item wants. wait is what a countdown still has to run.
func askOf(s *walk.State, it *walk.Item, wait time.Duration) ask {
	switch it.Kind {
	case walk.StageItem:
		return askStage(s, it)
	case walk.WaitItem:
		return askWait(it, wait)
	case walk.AskItem:
		a := ask{action: "CHECK, THEN ANSWER", own: it.Check.Ask, headline: it.Check.Ask, cautions: some(it.Check.Caution)}
		return a.orElse(it.Check)
	case walk.MeasureItem:
		f := words.LimitsOf(it.Check)
		a := ask{verb: "MEASURE", manner: f.Lead, action: strings.TrimSpace("MEASURE " + strings.ToUpper(f.Lead)), figure: f.Value, unit: f.Unit, headline: it.Check.Measure, cautions: some(it.Check.Caution)}
		if inputs := it.Check.How.Inputs(); len(inputs) > 1 || it.Check.How.Readings > 1 {
			a.detail = append(a.detail, "give "+it.Check.How.Example())
		}
		return a.orElse(it.Check)
	case walk.PartItem:
		return askPart(s, it.Part)
	case walk.PrepItem:
		return askPrep(it)
	case walk.SlackenItem:
		f := it.Fastener
		a := ask{action: strings.ToUpper(words.SlackenIt), figure: "SLACKEN", id: f.ID, detail: some(groupText(f.Group)), tool: some(f.Group.Drive), loosen: true, cautions: some(f.Group.Caution)}
		return a.handed(f.Group)
	case walk.RepairItem:
		f := it.Fastener
		return ask{action: strings.ToUpper(words.Stripped), figure: "REPAIR", id: f.ID, headline: "then say: " + strings.Join(walk.RepairFacts, ", "), detail: some(groupText(f.Group))}
	case walk.SealItem:
		return askSeal(s)
	case walk.FaultItem:
		return ask{action: strings.ToUpper(words.DoneAbout) + "?", own: printable(it.Fault.Text()), headline: printable(it.Fault.Text()), detail: printableAll(words.FindingLines(*it.Fault))}
	case walk.CalloutItem:
		if it.Callout.Heat() != "" {
			return askHeat(it.Callout)
		}
		return ask{action: "HAVE READY: " + strings.ToUpper(it.Callout.Kind), own: it.Callout.Say, headline: it.Callout.Say, cautions: some(it.Callout.Caution)}
	}
	return ask{action: "CONFIRM", figure: "OK?", headline: it.Text()}
}

// askHeat wants something hot, and says what runs from then.
func askHeat(c *spec.Callout) ask {
	a := ask{action: "HEAT", own: c.Say, headline: c.Say, cautions: some(c.Caution)}
	if c.To != nil {
		a.verb, a.action, a.own = "HEAT", "HEAT TO", ""
		f := words.FigureOf(c.To.Parts(c.To.Unit()))
		a.figure, a.unit = f.Value, f.Unit
	}
	if c.Within > 0 {
		a.detail = some("confirm once it is hot", "then within "+spec.Span(c.Within)+": what comes next")
	}
	return a
}

func printableAll(texts []string) (list []string) {
	for _, t := range texts {
		list = append(list, printable(t))
	}
	return list
}

func some(texts ...string) (list []string) {
	for _, t := range texts {
		if t != "" {
			list = append(list, t)
		}
	}
	return list
}

// orElse adds what to do when a check fails.
func (a ask) orElse(c *spec.Check) ask {
	if c.Remedy != "" {
		a.detail = append(a.detail, "if not: "+c.Remedy)
	}
	if c.Source != "" {
		a.detail = append(a.detail, "source: "+c.Source)
	}
	return a
}

func askStage(s *walk.State, it *walk.Item) ask {
	st, g := it.Stage, it.Stage.Fastener.Group
	a := ask{id: st.Fastener.ID, loosen: st.Action.Frees(), corners: g.Corners()}.handed(g)
	if st.Action.Tightens() {
		a.prep = words.Preparation(s.Course, s.Current())
	}
	a.figureOf(st)
	a.detail = some(groupText(g))
	a.tool = some(g.Drive)
	a.cautions = append(a.cautions, some(it.Pass.Caution, g.Caution)...)
	if facts := s.RepairOf(st.Fastener.ID); len(facts) > 0 {
		a.cautions = append(a.cautions, printable(words.Repaired(facts)))
	}
	if g.Hollow() {
		a.flags = append(a.flags, hollow)
	}
	if s.Plan.Procedure.SourceOf(it.Pass, g) == "" && st.HasFigure() {
		a.flags = append(a.flags, unsourced)
	}
	if len(s.Due(it.Thing())) > 0 {
		a.flags = append(a.flags, newPiece)
	}
	return a.ready(s, it.Thing())
}

// ready cautions about what came off earlier and cannot go in yet.
func (a ask) ready(s *walk.State, t ident.Thing) ask {
	if c, ok := s.CarriedOf(t); ok { // nothing is on the way apart
		a.cautions = append(some(printable(words.NotReady(c)), words.Buried(s, s.CurrentItem())), a.cautions...)
	}
	return a
}

// lettering is how the act is drawn large: what lets go on a plate.
func (a ask) lettering() lettering {
	if a.loosen {
		return plate
	}
	return letters
}

// handed says which way a left-hand thread goes.
func (a ask) handed(g *spec.Group) ask {
	if g.LeftHand {
		a.leftHand, a.flags = true, append(a.flags, leftHand)
		a.way = strings.ToUpper(words.Way(g, a.loosen))
		a.hand = "TIGHTEN " + a.way
		if a.loosen {
			a.hand = "LOOSEN " + a.way
		}
	}
	return a
}

func groupText(g *spec.Group) string {
	thread := g.Thread.Name
	if g.Title == "" {
		return thread
	}
	if thread == "" || strings.Contains(g.Title, thread) {
		return g.Title
	}
	return g.Title + ", " + thread
}

// figureOf fills in the act, the figure, its unit and the other units of a stage.
func (a *ask) figureOf(st *plan.Stage) {
	t, act := st.Target, words.ActOf(st)
	a.verb, a.action, a.manner = strings.ToUpper(act.Verb), strings.ToUpper(act.String()), act.Manner
	switch st.Action {
	case spec.Torque:
		a.take(t.Torque.Parts(t.Torque.Unit()), words.Torques(t.Torque))
		if t.Percent != "" && t.Percent != "100 %" {
			a.share = t.Percent + " of the final figure"
			a.action += " (" + strings.ToUpper(a.share) + ")"
		}
	case spec.Verify:
		a.hand = "" // nothing is tightened
		a.take(t.Torque.Parts(t.Torque.Unit()), words.Torques(t.Torque))
	case spec.Turn:
		a.take(t.Turn.Parts(quantity.Degree), words.Turns(t.Turn, st.Fastener.Group))
		a.angle(t.Turn)
		a.sense = turnOf(*a).Way()
	case spec.Loosen:
		if t.Fully {
			a.verb, a.figure = "", a.verb
			return
		}
		a.take(t.Turn.Parts(quantity.Degree), words.Turns(t.Turn, st.Fastener.Group))
		a.angle(t.Turn)
		a.sense = turnOf(*a).Way()
	case spec.Remove:
		a.verb, a.figure = "", a.verb
	case spec.Stretch:
		a.take(t.Stretch.Parts(t.Stretch.Unit()), []string{t.Stretch.TextIn(quantity.Millimetre), t.Stretch.TextIn(quantity.Thou)})
		if t.Ceiling != nil {
			a.cautions = append(a.cautions, "never over "+t.Ceiling.String())
		}
	}
}

func (a *ask) angle(s spec.AngleSpan) {
	a.degrees = s.Aim().Degrees()
	if s.Low != nil {
		a.degrees = s.Low.Degrees()
	}
	if s.High != nil {
		a.upTo = s.High.Degrees()
	}
}

// take parts a figure into what is drawn big and what goes beside it, and lists the
// other units without the one on show.
func (a *ask) take(p quantity.Parts, same []string) {
	f, text := words.FigureOf(p), p.Text()
	a.figure, a.unit, a.within = f.Value, f.Unit, f.Within
	if f.Lead != "" {
		a.action += " " + strings.ToUpper(f.Lead)
		a.manner = strings.TrimPrefix(a.manner+", "+f.Lead, ", ")
	}
	for _, other := range same {
		if other != text {
			a.same = append(a.same, strings.TrimPrefix(other, f.Lead+" "))
		}
	}
}

// askPrep is the threads of a group made ready, or of one fastener.
func askPrep(it *walk.Item) ask {
	g := it.Group
	a := ask{action: "MAKE THE THREADS READY, ALL OF THEM", own: g.Prep, headline: g.Prep, detail: some(groupText(g)), cautions: some(g.Caution)}
	if it.Fastener != nil {
		a.action, a.id = "MAKE THE THREADS READY", it.Fastener.ID
	}
	return a
}

func askWait(it *walk.Item, left time.Duration) ask {
	a := ask{verb: "WAIT", action: "WAIT", figure: clock(left), headline: it.Pass.Name + ": " + spec.Span(it.Pass.Wait) + " in all", cautions: some(it.Pass.Caution)}
	if left <= 0 {
		a.verb, a.action, a.figure = "", strings.ToUpper(words.WaitOver), "GO ON"
	}
	return a
}

// clock prints a countdown: 3:58:12, or 4:59 below an hour.
func clock(d time.Duration) string {
	sec := int((d + time.Second - 1) / time.Second)
	if sec >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", sec/3600, sec/60%60, sec%60)
	}
	return fmt.Sprintf("%d:%02d", sec/60, sec%60)
}

func askPart(s *walk.State, p *spec.Part) ask {
	text := walk.PartText(p)
	a := ask{action: strings.ToUpper(words.GoesOn), own: "Fit: " + text, headline: text, cautions: some(p.Caution)}
	if s.Plan.Procedure.Direction == spec.Open {
		a.action, a.own, a.loosen = strings.ToUpper(words.ComesOff)+", IS IT THERE?", "Off: "+text, true
	}
	if p.Where != "" {
		a.place = "where: " + p.Where
	}
	if s.Plan.Procedure.Direction == spec.Open {
		for _, one := range s.PiecesFound(ident.Part(p.ID)) {
			a.detail = append(a.detail, "found: "+printable(one.Text()))
		}
		if found := s.FoundOf(ident.Part(p.ID)); len(found) > 0 {
			a.detail = append(a.detail, "found: "+printable(found.Text()))
		}
		a.detail = append(a.detail, words.Inspection(p.LookFor, p.Condemn, p.Measure)...)
	}
	if p.Number != "" {
		a.detail = append(a.detail, "part number "+p.Number)
	}
	_, replaced := s.Fitted(ident.Part(p.ID))
	if c, ok := s.CarriedOf(ident.Part(p.ID)); ok && !replaced {
		when := ""
		if !c.At.IsZero() {
			when = c.At.Format(" 2006-01-02")
		}
		a.detail = append(a.detail, "came off"+when+": "+printable(c.Text()))
		if c.New {
			a.detail = append(a.detail, "no sheet has it")
		}
	}
	if len(s.DueNow()) > 0 {
		a.flags = append(a.flags, newPiece)
	}
	return a.ready(s, ident.Part(p.ID))
}

func askSeal(s *walk.State) ask {
	seal := s.Plan.Procedure.Sealant
	a := ask{action: "FIRST SMEAR STARTS THE CLOCK", own: "Smear: " + seal.Name, headline: seal.Name}
	if seal.WorkTime > 0 {
		a.detail = []string{spec.Span(seal.WorkTime) + " from the first smear to the last stage"}
	}
	return a
}
