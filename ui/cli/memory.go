package cli

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/engine"
	"evenpull/ui/words"
)

// wasEnding marks the check of an open procedure that measures what a check of
// the close procedure will measure again: clearance-inlet-was.
const wasEnding = "-was"

// memoryOf words the last figures. What was found at strip-down stands beside
// what it was set to when last closed.
func memoryOf(e engine.Engine) words.Memory {
	m := words.Memory{}
	for key, r := range e.Last {
		m[key] = fmt.Sprintf("last time %s (%s)", r.Text, r.At.Format(time.DateOnly))
	}
	for key, r := range e.Last {
		if base, is := strings.CutSuffix(key, wasEnding); is {
			found := fmt.Sprintf("at strip-down %s (%s)", r.Text, r.At.Format(time.DateOnly))
			m[base] = strings.TrimPrefix(m[base]+"; "+found, "; ")
		}
	}
	return m
}
