package plain

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/words"
)

// Prompt says in lines what the walk asks for now, of a fastener that sits where it says;
// memory may be nil.
func Prompt(s *walk.State, where string, memory words.Memory, now time.Time) []string {
	it := s.CurrentItem()
	if it == nil {
		return ending(s, now)
	}
	var lines []string
	switch it.Kind {
	case walk.StageItem:
		lines = stagePrompt(s, it, where)
	case walk.WaitItem:
		lines = []string{it.Text()}
		if left := s.WaitLeft(s.Current(), now); left > 0 {
			lines[0] += fmt.Sprintf(", %s to go", spec.Span(left))
		} else {
			lines[0] += ", over: ok goes on"
		}
	case walk.MeasureItem:
		lines = []string{it.Text() + ", " + words.Limits(it.Check)}
		if example := it.Check.How.Example(); strings.Contains(example, ";") {
			lines = append(lines, "  all in one line: measure "+example)
		}
		if last := memory[it.Key().String()]; last != "" {
			lines = append(lines, "  "+last)
		}
	case walk.PartItem:
		lines = []string{it.Text()}
		if it.Part.Where != "" {
			lines = append(lines, "  where: "+it.Part.Where)
		}
		lines = caution(lines, it.Part.Caution)
	case walk.RepairItem:
		lines = []string{it.Text(), "  when it is: repaired " + repairBlanks}
	case walk.FaultItem:
		lines = []string{it.Text()}
		for _, line := range words.FindingLines(*it.Fault) {
			lines = append(lines, "  "+line)
		}
		lines = append(lines, "  "+words.DoneAbout+": "+waysText(it.Fault.Ways()))
	case walk.CalloutItem:
		lines = []string{it.Text()}
		if it.Callout.Within > 0 {
			lines = append(lines, "  ok once it is hot: its "+spec.Span(it.Callout.Within)+" run from then")
		}
		lines = caution(lines, it.Callout.Caution)
	default:
		lines = []string{it.Text()}
	}
	if it.Check != nil {
		lines = caution(lines, it.Check.Caution)
	}
	if it.Fastener != nil {
		lines = append(lines, "  where: "+where)
	}
	if it.Kind == walk.PartItem || it.Kind == walk.StageItem {
		lines = append(lines, thingLines(s, it)...)
	}
	for _, told := range words.ToldOf(s, it) {
		lines = append(lines, "  said "+told)
	}
	for _, p := range s.Due(it.Thing()) {
		owner := p.Fastener
		if owner == "" {
			owner = p.Name
		}
		lot := ""
		if p.Lot != "" {
			lot = ", number " + p.Lot
		}
		lines = append(lines, fmt.Sprintf("  new: %s%s (%s); when fitted: renew %s", p.Text(), lot, p.Why, owner))
	}
	if leg, done, total := s.Leg(); total > 1 {
		at := words.Leg(leg, it.Pass)
		if at != "" {
			at += ": "
		}
		lines = append(lines, fmt.Sprintf("  %sstep %d of %d", at, done+1, total))
	}
	switch left, _, running := s.HeatFor(now); {
	case running && left >= 0:
		lines = append(lines, fmt.Sprintf("  hot: %s left", spec.Span(left.Round(time.Second))))
	case running:
		lines = append(lines, fmt.Sprintf("  %s by %s: %s: undo REASON", strings.ToUpper(words.TooLate), spec.Span(-left.Round(time.Second)), words.Reheat))
	}
	switch left, running := s.SealantLeft(now); {
	case running && left >= 0:
		lines = append(lines, fmt.Sprintf("  sealant: %s of work time left", spec.Span(left)))
	case running:
		lines = append(lines, fmt.Sprintf("  %s by %s: %s: reseal REASON", strings.ToUpper(words.PastWork), spec.Span(-left), words.Afresh))
	}
	return lines
}

func caution(lines []string, text string) []string {
	if text != "" {
		lines = append(lines, "  caution: "+text)
	}
	return lines
}

// stagePrompt gives fastener, figure in every unit, tool and thread preparation.
func stagePrompt(s *walk.State, it *walk.Item, where string) []string {
	st, g := it.Stage, it.Stage.Fastener.Group
	at := st.Fastener.ID
	if len(s.Plan.Procedure.Fasteners) > 1 {
		at += ", " + where
	}
	head := fmt.Sprintf("%d/%d  %s: %s", st.Number, len(s.Plan.Stages), at, words.Task(st))
	if g.LeftHand {
		head += "  " + strings.ToUpper(words.LeftHand)
	}
	if g.Hollow() {
		head += "  (hollow)"
	}
	lines := []string{head}
	if other := words.OtherUnits(st); other != "" {
		lines = append(lines, "  "+other)
	}
	detail := "  " + g.Title
	if g.Drive != "" {
		detail += ", " + g.Drive
	}
	if prep := words.Preparation(s.Course, s.Current()); prep != "" {
		detail += ", " + prep
	}
	lines = append(lines, detail)
	if st.Action == spec.Stretch {
		lines = append(lines, "  the stretch, such as: read "+walk.WindowOf(st).Example()+"; or both lengths: read "+walk.WindowOf(st).Lengths()+ceiling(st))
	}
	if facts := s.RepairOf(st.Fastener.ID); len(facts) > 0 {
		lines = append(lines, "  "+words.Repaired(facts))
	}
	lines = caution(caution(lines, it.Pass.Caution), g.Caution)
	if s.Plan.Procedure.SourceOf(it.Pass, g) == "" && st.HasFigure() {
		lines = append(lines, "  "+words.Unsourced+": check it against the service manual")
	}
	return lines
}

// ceiling asks for the torque as well, where the sheet sets a limit to it.
func ceiling(st *plan.Stage) string {
	if st.Target.Ceiling == nil {
		return ""
	}
	return "; with the torque it took, never over " + st.Target.Ceiling.String()
}

func ending(s *walk.State, now time.Time) []string {
	open := s.Outstanding(now)
	if len(open) == 0 {
		return []string{"every stage is confirmed: done closes the walk"}
	}
	lines := []string{"every stage is confirmed; still outstanding:"}
	for _, o := range open {
		lines = append(lines, "  - "+o)
	}
	return lines
}
