package words

import (
	"fmt"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// Resheeting says what differs on a sheet that was edited while it is walked, and what
// going over to it makes of the walk.
func Resheeting(r walk.Resheeting) []string {
	lines := []string{"what differs on the sheet:"}
	for _, c := range r.Changes {
		lines = append(lines, "  "+c.Text())
	}
	if len(r.Changes) == 0 {
		lines[0] = "nothing differs on the sheet that is read from it"
	}
	list := func(head string, of []string) {
		if len(of) > 0 {
			lines = append(lines, head)
		}
		for _, text := range of {
			lines = append(lines, "  "+spec.Printable(text))
		}
	}
	list("confirmed, and to be done again:", r.Open)
	list("confirmed, and no longer asked for:", r.Gone)
	return append(lines, fmt.Sprintf("stages that stay confirmed: %d", r.Kept))
}
