package voice

import (
	"bytes"
	"errors"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"
)

// fake is a speech program in memory: it begins when it is let, and ends when told.
type fake struct {
	sentence string
	result   chan error
	stopped  chan struct{}
}

func (f *fake) ended() <-chan error { return f.result }
func (f *fake) stop()               { close(f.stopped) }

// fakes hands on each sentence that is begun.
func fakes() (begun chan *fake, start func(string) (utterance, error)) {
	begun = make(chan *fake)
	return begun, func(sentence string) (utterance, error) {
		f := &fake{sentence, make(chan error, 1), make(chan struct{})}
		begun <- f
		return f, nil
	}
}

func TestTheNewestSentenceStopsTheOneBeingSpoken(t *testing.T) {
	begun, start := fakes()
	s := newSpeaker("talk", start, nil)
	s.Say("one")
	one := <-begun
	s.Say("two")
	two := <-begun
	<-one.stopped
	if one.sentence != "one" || two.sentence != "two" {
		t.Errorf("spoken: %q, then %q", one.sentence, two.sentence)
	}
	two.result <- nil
	s.Say("three")
	three := <-begun
	three.result <- nil
	s.Close(time.Hour) // over as soon as it has been spoken
	select {
	case <-two.stopped:
		t.Error("what had come to its end was stopped")
	case <-three.stopped:
		t.Error("what was let come to its end was stopped")
	default:
	}
}

func TestSentencesOvertakenWhileOneBeginsAreNeverSpoken(t *testing.T) {
	begun, start := fakes()
	s := newSpeaker("talk", start, nil)
	s.Say("one")
	<-begun // "one" is being begun: the next wait
	for _, text := range []string{"two", "three", "four"} {
		s.Say(text)
	}
	got := []string{(<-begun).sentence}
	for got[len(got)-1] != "four" { // "two" may have been taken before "three" came
		got = append(got, (<-begun).sentence)
	}
	for i, text := range got {
		if text != []string{"two", "three", "four"}[3-len(got)+i] && len(got) == 3 {
			t.Errorf("spoken: %q", got)
		}
	}
	s.Close(0)
}

// What is still being said when its time is over is stopped, and then nothing is waited for.
func TestTheLastWordsHaveTheirTimeAndNoMore(t *testing.T) {
	begun, start := fakes()
	s := newSpeaker("talk", start, nil)
	s.Say("without end")
	last := <-begun
	s.Close(time.Millisecond)
	select {
	case <-last.stopped:
	default:
		t.Error("it is spoken on")
	}
}

// The time that is left is told once: told again it would begin anew, and never be over.
func TestTheLastWordsHaveTheirTimeOnce(t *testing.T) {
	told := make(chan time.Duration)
	s := &Speaker{close: told, closed: make(chan struct{})}
	over := make(chan struct{})
	go func() { s.Close(2*tick - stubborn); close(over) }() // it looks twice and no more
	<-told
	for again := 0; ; {
		select {
		case <-told:
			if again++; again > 100 {
				t.Error("it is told again and again")
				close(s.closed)
				<-over
				return
			}
		case <-over: // it gave the speaker up, which never ends here
			if again > 0 {
				t.Errorf("told %d times more", again)
			}
			return
		}
	}
}

// A speech program that never begins, never ends or cannot be stopped keeps nobody
// who speaks, and nobody who leaves.
func TestNothingWaitsForASpeechProgramThatHangs(t *testing.T) {
	forever := make(chan struct{})
	t.Cleanup(func() { close(forever) })
	hang := func(string) (utterance, error) { <-forever; return nil, errors.New("over") }
	stuck := func(string) (utterance, error) { return stubbornly{forever}, nil }
	for name, start := range map[string]func(string) (utterance, error){"never begins": hang, "cannot be stopped": stuck} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := newSpeaker("talk", start, nil)
			for range 10_000 {
				s.Say("M3: tighten to 20 newton metres.")
			}
			s.Close(0)
		})
	}
}

type stubbornly struct{ forever chan struct{} }

func (s stubbornly) ended() <-chan error { return nil }
func (s stubbornly) stop()               { <-s.forever }

func TestTroubleIsToldOnce(t *testing.T) {
	begun, start := fakes()
	s := newSpeaker("talk", start, nil)
	for range 3 {
		s.Say("x")
		(<-begun).result <- errors.New("exit status 1")
	}
	if got, want := <-s.Trouble(), "speech: talk: exit status 1"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	s.Close(time.Hour)
	select {
	case again := <-s.Trouble():
		t.Errorf("told again: %q", again)
	default:
	}
}

func TestClosingStopsWhatIsBeingSpoken(t *testing.T) {
	begun, start := fakes()
	s := newSpeaker("talk", start, nil)
	s.Say("a long one")
	f := <-begun
	s.Close(0)
	<-f.stopped
	s.Close(0) // once more does nothing
	s.Say("to nobody")
}

func TestCommandLinesAreReadWithoutAShell(t *testing.T) {
	for _, tt := range []struct {
		line  string
		words []string
		wrong string
	}{
		{"espeak-ng", []string{"espeak-ng"}, ""},
		{"  spd-say\t-w  {} ", []string{"spd-say", "-w", "{}"}, ""},
		{`"/opt/my talk/say" -v 'en gb'`, []string{"/opt/my talk/say", "-v", "en gb"}, ""},
		{`say -v ""`, []string{"say", "-v", ""}, ""},
		{`C:\say.exe a"b c"d`, []string{`C:\say.exe`, "ab cd"}, ""},
		{`say $(id) * ~`, []string{"say", "$(id)", "*", "~"}, ""},
		{`say "x`, nil, "a quote is not closed"},
		{"", nil, "no speech program"},
		{`""`, nil, "no speech program"},
	} {
		c, err := ReadCommand(tt.line)
		if (err != nil) != (tt.wrong != "") || err != nil && !strings.Contains(err.Error(), tt.wrong) {
			t.Errorf("%q: error %v, want %q", tt.line, err, tt.wrong)
		}
		if !reflect.DeepEqual(c.words, tt.words) {
			t.Errorf("%q: read as %q, want %q", tt.line, c.words, tt.words)
		}
	}
}

func TestASentenceTakesThePlaceOfBraces(t *testing.T) {
	for _, tt := range []struct {
		line string
		args []string
		in   bool
	}{
		{"say", nil, true},
		{"say -v en", []string{"-v", "en"}, true},
		{"say {}", []string{"hello there"}, false},
		{"say --text={} -v en", []string{"--text=hello there", "-v", "en"}, false},
	} {
		c, err := ReadCommand(tt.line)
		if err != nil {
			t.Fatal(err)
		}
		if args, in := c.arguments("hello there"); !reflect.DeepEqual(args, tt.args) || in != tt.in {
			t.Errorf("%s: %q, by standard input %v; want %q, %v", tt.line, args, in, tt.args, tt.in)
		}
	}
}

// written keeps each write by itself.
type written struct {
	mu   sync.Mutex
	list []string
	err  error
}

func (w *written) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.list = append(w.list, string(bytes.Clone(p)))
	return len(p), w.err
}

func TestTheBellRingsWithPausesAndKeepsNobodyWaiting(t *testing.T) {
	out, pauses := &written{}, make(chan struct{})
	b := newBell(out, func() { pauses <- struct{}{} })
	b.Ring(Refused)
	<-pauses
	for range 1000 {
		b.Ring(Recorded)
	}
	<-pauses // the second of two
	<-pauses // one of the thousand; those between were overtaken
	select {
	case <-pauses:
		t.Error("it rings on")
	default:
	}
	out.mu.Lock()
	defer out.mu.Unlock()
	if got := strings.Join(out.list, "|"); got != "\a|\a|\a" {
		t.Errorf("written: %q", got)
	}
}

func TestABellWhoseTerminalIsGoneEnds(t *testing.T) {
	out := &written{err: errors.New("gone")}
	b := newBell(out, func() { t.Error("a pause after a ring that failed") })
	for range 100 {
		b.Ring(Clock)
	}
}
