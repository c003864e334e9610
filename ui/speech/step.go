package speech

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/quantity"
	"evenpull/ui/words"
)

// Step says what a walk asks for now; where is where the fastener in hand sits, if one is.
func Step(s *walk.State, set words.Setting, where string, now time.Time) string {
	switch it := s.CurrentItem(); {
	case s.Phase == walk.IsDone:
		return "Closed: everything is confirmed and accounted for."
	case s.Phase == walk.IsStopped:
		return fmt.Sprintf("Ended unfinished, with %d outstanding.", s.OutstandingCount())
	case it == nil:
		return ending(s.OutstandingCount())
	case it.Kind == walk.StageItem:
		return again(s, set) + sentence(fastener(s, it.Stage.Fastener, where)+": "+renewFirst(s)+deed(s, it), cautions(s)...)
	default:
		return again(s, set) + sentence(renewFirst(s)+other(s, it, where, now), cautions(s)...)
	}
}

// Clock says how a clock stands that runs as a walk is opened; it is empty when none
// does.
func Clock(s *walk.State, now time.Time) string {
	left, running := s.SealantLeft(now)
	hot, _, heated := s.HeatFor(now)
	switch {
	case heated && hot <= 0:
		return sentence(words.TooLate + ": " + words.Reheat)
	case heated:
		return sentence("hot: " + spec.Span(hot.Round(time.Second)) + " left")
	case !running || s.Phase != walk.IsOpen:
		return ""
	case left <= 0:
		return sentence(pastTime)
	}
	return sentence("sealant: " + spec.Span(left) + " left")
}

// Change says what has to be changed on the wrench before what is in hand: a step of
// its own where it is not, as bolts take turns, only a reminder. Else it is empty.
func Change(s *walk.State, set words.Setting) string {
	if c, needed := s.Changeover(); needed && !c.Again {
		return change(c, set)
	}
	return ""
}

// again is the reminder, which Step says itself.
func again(s *walk.State, set words.Setting) string {
	if c, needed := s.Changeover(); needed && c.Again {
		return change(c, set) + " "
	}
	return ""
}

func change(c walk.Changeover, set words.Setting) string {
	var list []string
	if c.Wrench {
		c.SetTo = nil // what it was set to is no news to the hand that set it
		list = append(list, "set the wrench "+set.Of(c))
	}
	if c.Socket {
		list = append(list, "socket "+c.Stage.Fastener.Group.Drive)
	}
	return sentence(strings.Join(list, ", "))
}

func ending(outstanding int) string {
	if outstanding == 0 {
		return "Every stage is confirmed: close the walk."
	}
	return fmt.Sprintf("Every stage is confirmed; still outstanding: %d.", outstanding)
}

// fastener names a fastener, where it sits, and a thread that goes the other way.
func fastener(s *walk.State, f *spec.Fastener, where string) string {
	name := f.ID
	if len(s.Plan.Procedure.Fasteners) > 1 && where != "" {
		name += ", " + place(where)
	}
	if f.Group.LeftHand {
		name += ", " + words.LeftHand
	}
	return name
}

// renewFirst names what goes in new before the item in hand.
func renewFirst(s *walk.State) string {
	var list []string
	for _, p := range s.DueNow() {
		name := p.Name
		if p.Fastener != "" && p.Text() == "the fastener itself" {
			name = "fastener"
		}
		if p.Count > 1 {
			name += fmt.Sprintf(", %d of them", p.Count)
		}
		list = append(list, name)
	}
	if len(list) == 0 {
		return ""
	}
	return "first a new " + strings.Join(list, ", and a new ") + "; then "
}

// deed is what a stage does to its fastener, with the figure.
func deed(s *walk.State, it *walk.Item) string {
	st, t := it.Stage, it.Stage.Target
	text := words.ActOf(st).String()
	switch st.Action {
	case spec.Torque, spec.Verify:
		text += " " + between(t.Torque.Text())
	case spec.Turn:
		text += " " + turn(t.Turn)
	case spec.Loosen:
		if !t.Fully {
			text += " " + turn(t.Turn)
		}
	case spec.Stretch:
		text += " " + between(t.Stretch.Text())
		if t.Ceiling != nil {
			text += ", never over " + t.Ceiling.String()
		}
	}
	if torque := s.RepairOf(st.Fastener.ID)["torque"]; torque != "" {
		text += "; repaired thread, torque " + torque
	}
	if s.Plan.Procedure.SourceOf(it.Pass, st.Fastener.Group) == "" && st.HasFigure() {
		text += ", " + words.Unsourced
	}
	return text
}

// between makes a range of "37 to 43 N·m" that can stand behind "to" or "by", with
// its unit said once.
func between(span string) string {
	low, high, ok := strings.Cut(span, " to ")
	if !ok {
		return span
	}
	if unit := strings.TrimLeft(low, "0123456789."); strings.TrimLeft(high, "0123456789.") == unit {
		low = strings.TrimSuffix(low, unit)
	}
	return "between " + low + " and " + high
}

var parts = map[float64]string{45: "an eighth of a turn", 90: "a quarter turn", 180: "half a turn", 270: "three quarters of a turn", 360: "one turn"}

// turn says an angle as the hand does it, then in degrees.
func turn(a spec.AngleSpan) string {
	degrees := between(a.TextIn(quantity.Degree))
	if said := parts[a.Aim().Degrees()]; said != "" && a.Low != nil && a.High != nil && (*a.Low).Cmp(*a.High) == 0 {
		return said + ", " + degrees
	}
	return degrees
}

// other is an item that is no stage.
func other(s *walk.State, it *walk.Item, where string, now time.Time) string {
	switch it.Kind {
	case walk.WaitItem:
		if left := s.WaitLeft(s.Current(), now); left > 0 {
			return "wait " + spec.Span(left)
		}
		return words.WaitOver
	case walk.AskItem:
		return "question: " + it.Check.Ask
	case walk.MeasureItem:
		return "measure " + it.Check.Measure + ": " + between(words.Limits(it.Check))
	case walk.PartItem:
		return part(it.Part, s.Plan.Procedure.Direction)
	case walk.PrepItem:
		of := it.Group.Title
		if it.Fastener != nil {
			of = it.Fastener.ID
		}
		return "threads of " + of + ": " + it.Group.Prep
	case walk.SlackenItem:
		return fastener(s, it.Fastener, where) + ": " + words.SlackenIt
	case walk.RepairItem:
		return fastener(s, it.Fastener, where) + ": " + words.Stripped + "; repair it, then say how"
	case walk.FaultItem:
		return "found at strip-down: " + it.Fault.Text() + "; say " + words.DoneAbout
	case walk.SealItem:
		text := "first smear of " + s.Plan.Procedure.Sealant.Name
		if work := s.Plan.Procedure.Sealant.WorkTime; work > 0 {
			text += ": " + spec.Span(work) + " from now"
		}
		return text
	}
	return it.Text()
}

func part(p *spec.Part, d spec.Direction) string {
	text := p.Name
	if p.Count > 1 {
		text += fmt.Sprintf(", %d of them", p.Count)
	}
	if d == spec.Open {
		return words.ComesOff + ": " + text
	}
	if p.Where != "" {
		text += ", " + p.Where
	}
	return "fit " + text
}

// cautions are those that hold for the item in hand and have not just been said.
func cautions(s *walk.State) []string {
	it := s.CurrentItem()
	switch {
	case it.Kind == walk.StageItem:
		pass, group := first(s, it)
		return []string{when(pass, it.Pass.Caution), when(group, it.Stage.Fastener.Group.Caution)}
	case it.Check != nil:
		return []string{it.Check.Caution}
	case it.Part != nil:
		return []string{it.Part.Caution}
	case it.Callout != nil:
		return []string{it.Callout.Caution}
	case it.Kind == walk.WaitItem:
		return []string{it.Pass.Caution}
	}
	return nil
}

// first reports whether a stage is the first of its pass, and the first of its
// group in that pass.
func first(s *walk.State, it *walk.Item) (ofPass, ofGroup bool) {
	ofPass, ofGroup = true, true
	for i := s.Current() - 1; i >= 0 && s.Items[i].Pass == it.Pass; i-- {
		if s.Items[i].Kind == walk.StageItem {
			ofPass = false
			ofGroup = ofGroup && s.Items[i].Stage.Fastener.Group != it.Stage.Fastener.Group
		}
	}
	return ofPass, ofGroup
}

func when(on bool, text string) string {
	if on {
		return text
	}
	return ""
}
