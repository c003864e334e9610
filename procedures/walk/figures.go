package walk

import (
	"sync"

	"evenpull/spec"
)

// figures remembers what readings of checks came to: the records of a folder
// hold the same few over and over, and every reader judges them all.
type figures struct {
	mu    sync.RWMutex
	known map[figure]*Refusal
}

type figure struct {
	check   *spec.Check
	reading string
}

// A record may come from a stranger: more is not kept.
const mostFigures = 4096

func (f *figures) get(c *spec.Check, reading string) (r *Refusal, known bool) {
	f.mu.RLock()
	defer f.mu.RUnlock()
	r, known = f.known[figure{c, reading}]
	return r, known
}

func (f *figures) keep(c *spec.Check, reading string, r *Refusal) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.known == nil {
		f.known = map[figure]*Refusal{}
	}
	if len(f.known) < mostFigures {
		f.known[figure{c, reading}] = r
	}
}
