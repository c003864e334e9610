package start

import (
	"strings"
	"testing"
)

// A list keeps its heading in sight above its first row, also where that row comes into
// sight from below.
func TestTheHeadingStaysAboveTheFirstRowOfItsList(t *testing.T) {
	m := press(at(workshop(), 80, 14), "end")
	for range len(m.items) {
		m = press(m, "up")
		above := m.list.At - 1
		if above < 0 || m.items[m.shown[above]].kind != heading {
			continue
		}
		if lead := m.items[m.shown[above]].text; !strings.Contains(screen(m), lead) {
			t.Errorf("the row in hand is the first of %s, and that is out of sight:\n%s", lead, screen(m))
		}
	}
	if m.list.At != 1 || m.list.Top != 0 {
		t.Errorf("ends at row %d, the screen begins with %d", m.list.At, m.list.Top)
	}
}
