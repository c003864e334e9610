package program

import "sync"

// closers is what is open, by layer. It is closed from the program's own loop, and
// from outside it when the terminal goes away: whoever comes first.
type closers struct {
	mu   sync.Mutex
	open map[int]func()
	done bool // all are closed: what is opened now is closed at once
}

func (c *closers) add(id int, close func()) {
	c.mu.Lock()
	defer c.mu.Unlock()
	switch {
	case close == nil:
	case c.done:
		close()
	default:
		if c.open == nil {
			c.open = map[int]func(){}
		}
		c.open[id] = close
	}
}

// close closes what a layer has open.
func (c *closers) close(id int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.once(c.open[id])
	delete(c.open, id)
}

func (*closers) once(close func()) {
	if close != nil {
		close()
	}
}

// all closes everything, for good.
func (c *closers) all() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.done = true
	for id, close := range c.open {
		close()
		delete(c.open, id)
	}
}
