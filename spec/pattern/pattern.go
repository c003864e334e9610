// Package pattern holds regular expressions that are compiled when they are first
// asked for, so that no command waits for those of the others.
package pattern

import (
	"regexp"
	"sync"
)

// Pattern is a regular expression to be compiled once. Start with Of.
type Pattern struct {
	text string
	once sync.Once
	done *regexp.Regexp
}

// Of is a pattern. It is laid out by the compiler: the start of the program does nothing.
func Of(text string) *Pattern { return &Pattern{text: text} }

// RE is the pattern compiled.
func (p *Pattern) RE() *regexp.Regexp {
	p.once.Do(func() { p.done = regexp.MustCompile(p.text) })
	return p.done
}
