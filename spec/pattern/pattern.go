// Package pattern holds regular expressions that are compiled when they are first
// asked for, so that no command waits for those of the others.
package pattern

import (
	"regexp"
	"sync"
)

// Of is a pattern, compiled once.
func Of(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}
