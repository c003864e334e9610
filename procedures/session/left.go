package session

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
)

// Line is the command line that walks a procedure on an engine.
func Line(source, tag, place string) string {
	return shell.Line("walk", []string{source}, "--engine", tag, "--place", place)
}

// Line is the command line that goes on with this walk.
func (s *Session) Line() string {
	if s.ByID {
		return shell.Line("walk", nil, "--resume", s.ID)
	}
	return Line(s.Source, s.Tag, s.Place)
}

// Left says how a walk was left and how to come back, by this command line; nothing when
// it is done.
func (s *Session) Left(line string) string {
	state := s.Live.State
	open := state.OutstandingCount()
	switch state.Phase {
	case walk.IsDone:
		return ""
	case walk.IsStopped:
		return fmt.Sprintf("stopped with %d outstanding; see it with: %s", open, shell.Line("show", []string{s.ID}))
	}
	return fmt.Sprintf("left open with %d outstanding; go on with: %s", open, line)
}

// wasEnding marks the check of an open procedure that measures what a check of
// the close procedure will measure again: clearance-inlet-was.
const wasEnding = "-was"

// Memory words the last figures of the engine, by the key of the item that asks for
// them. What was found at strip-down stands beside what it was set to when last closed.
func (s *Session) Memory() map[string]string {
	m := map[string]string{}
	last := s.Engine.At(s.Place).Last
	for key, r := range last {
		m[key] = fmt.Sprintf("last time %s (%s)", r.Text, r.At.Format(time.DateOnly))
	}
	for key, r := range last {
		if base, is := strings.CutSuffix(key, wasEnding); is {
			found := fmt.Sprintf("at strip-down %s (%s)", r.Text, r.At.Format(time.DateOnly))
			m[base] = strings.TrimPrefix(m[base]+"; "+found, "; ")
		}
	}
	return m
}
