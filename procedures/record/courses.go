package record

import (
	"sync"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

// courses reads each procedure text once, however many records hold it.
type courses struct {
	mu    sync.Mutex
	known map[courseKey]known
}

// courseKey is the hash of a text that a header names, the rules it is walked by, and
// which way: a text may go both.
type courseKey struct {
	sha256 string
	rules  int
	way    spec.Direction
}

// known is a text as it stands in a header, and what it asks for.
type known struct {
	rawText string
	course  *walk.Course // nil when the procedure cannot be read
}

// get gives the course of a header, or nil when its procedure cannot be read.
func (c *courses) get(key courseKey, rawText, header []byte) *walk.Course {
	c.mu.Lock()
	defer c.mu.Unlock()
	if k, ok := c.known[key]; ok && k.rawText == string(rawText) {
		return k.course
	}
	if c.known == nil {
		c.known = map[courseKey]known{}
	}
	course := readCourse(header)
	c.known[key] = known{string(rawText), course}
	return course
}

// readCourse refuses a text that is not the one the record was started with, as
// File.Plan does.
func readCourse(header []byte) *walk.Course {
	h, err := decodeHeader(header)
	if err != nil || TextHash([]byte(h.Text)) != h.SHA256 {
		return nil
	}
	p, _ := read.Recorded(h.Source, []byte(h.Text))
	if p == nil {
		return nil
	}
	if p, err = h.toward(p); err != nil {
		return nil
	}
	return walk.CourseOf(walk.PlanOf(p, h.Rules), h.Rules)
}

// Confirmed counts the stages of a walk that stand confirmed.
func Confirmed(s *walk.State) int {
	n := 0
	for i, it := range s.Items {
		if it.Kind == walk.StageItem && s.Mark(i).Closed {
			n++
		}
	}
	return n
}
