package cli

import (
	"fmt"

	"evenpull/procedures/plan"
	"evenpull/ui/page"
	"evenpull/ui/program"
)

// readyPage is what has to lie ready before a bolt is touched, to read at the stand.
func readyPage(r plan.Ready) page.Model {
	sections := []page.Section{{Lines: []string{fmt.Sprintf("%s, %s, %s", r.Engine, r.Direction, countOf(r.Stages, "stage"))}}}
	if r.Engine == "" {
		sections[0].Lines[0] = fmt.Sprintf("%s, %s", r.Direction, countOf(r.Stages, "stage"))
	}
	for _, list := range r.Lists {
		s := page.Section{Heading: list.Name}
		for _, it := range list.Items {
			s.Lines = append(s.Lines, it.Line())
		}
		sections = append(sections, s)
	}
	sections = append(sections, page.Section{Lines: []string{"The engine's own service manual governs."}})
	return page.New("Ready before starting: "+r.Procedure, program.Back, sections...)
}
