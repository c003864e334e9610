package voice

import (
	"fmt"
	"time"
)

// Speaker speaks sentences, one at a time. The one being spoken is stopped when
// the next comes.
type Speaker struct {
	sentences newest[string]
	trouble   chan string
	close     chan time.Duration
	closed    chan struct{}

	start func(sentence string) (utterance, error)
	what  string // the program, for messages
	told  bool   // of trouble: once is enough
}

// utterance is a sentence being spoken.
type utterance interface {
	ended() <-chan error // gets one value when it has been spoken, or could not be
	stop()               // returns when nothing of it is left
}

// NewSpeaker speaks by a command. That its program is not there is told at once.
func NewSpeaker(c Command) *Speaker { return newSpeaker(c.Program(), c.start, c.find()) }

func newSpeaker(what string, start func(string) (utterance, error), missing error) *Speaker {
	s := &Speaker{
		sentences: newNewest[string](), trouble: make(chan string, 1), close: make(chan time.Duration), closed: make(chan struct{}),
		start: start, what: what,
	}
	s.tell(missing)
	go s.run()
	return s
}

// Say speaks a sentence as soon as it can. It never blocks.
func (s *Speaker) Say(sentence string) { s.sentences.put(sentence) }

// Trouble gets, at most once, what is wrong with the speech program.
func (s *Speaker) Trouble() <-chan string { return s.trouble }

// stubborn is how long Close waits for a program that cannot be stopped. It is counted in
// ticks that were seen: while the machine stands still nothing can be stopped either.
const (
	stubborn = time.Second
	tick     = stubborn / 20
)

// Close lets what is being said, or waits to be, come to its end within a time,
// then stops it. It comes back even if that cannot be stopped.
func (s *Speaker) Close(within time.Duration) {
	ticks, closing := time.NewTicker(tick), s.close
	defer ticks.Stop()
	for left := (within + stubborn) / tick; ; {
		select {
		case closing <- within:
			closing = nil // it is told once
		case <-s.closed:
			return
		case <-ticks.C:
			if left--; left <= 0 {
				return
			}
		}
	}
}

func (s *Speaker) run() {
	defer close(s.closed)
	var now utterance // nil: silence
	var over <-chan time.Time
	for {
		var ended <-chan error
		if now != nil {
			ended = now.ended()
		}
		if over != nil && now == nil && len(s.sentences) == 0 {
			return
		}
		select {
		case sentence := <-s.sentences:
			if now != nil {
				now.stop()
			}
			now = s.begin(sentence)
		case err := <-ended:
			now = nil
			s.tell(err)
		case within := <-s.close:
			over = time.After(within)
		case <-over:
			if now != nil {
				now.stop()
			}
			return
		}
	}
}

func (s *Speaker) begin(sentence string) utterance {
	u, err := s.start(sentence)
	s.tell(err)
	return u
}

// tell passes trouble on, once.
func (s *Speaker) tell(err error) {
	if err != nil && !s.told {
		s.told = true
		s.trouble <- fmt.Sprintf("speech: %s: %v", s.what, err)
	}
}
