package voice

// Ear is what a walk is heard by. The zero Ear hears nothing.
type Ear struct {
	Say     func(sentence string) // must not block
	Ring    func(times int)       // must not block
	Trouble <-chan string         // gets, at most once, what is wrong with what speaks
}

// Deaf reports that nothing is heard, so that nothing need be put into words.
func (e Ear) Deaf() bool { return e.Say == nil && e.Ring == nil }

// Hear rings so many times and speaks a sentence; 0 and "" are silent.
func (e Ear) Hear(rings int, sentence string) {
	if e.Ring != nil && rings > 0 {
		e.Ring(rings)
	}
	if e.Say != nil && sentence != "" {
		e.Say(sentence)
	}
}
