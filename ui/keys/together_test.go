package keys

import (
	"os"
	"strings"
	"testing"
	"time"
)

// unknownSequence stands for Bubble Tea's own type.
type unknownSequence []byte

// stamped reads what is written to a terminal and takes its stamp, if it has one, as the
// program would when it comes to it.
type stamped struct {
	*testing.T
	Terminal
	in  *os.File
	now time.Time
}

func newStamped(t *testing.T) *stamped {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close(); w.Close() })
	s := &stamped{T: t, in: w, now: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)}
	s.Terminal = Terminal{File: r, Now: func() time.Time { return s.now }}
	return s
}

// reads gives what is handed on of a text beside its stamp.
func (s *stamped) reads(text string) (stamp, rest string) {
	if _, err := s.in.WriteString(text); err != nil {
		s.Fatal(err)
	}
	p := make([]byte, 256)
	n, err := s.Read(p)
	if err != nil {
		s.Fatal(err)
	}
	got := string(p[:n])
	if at := strings.Index(got, "~"); strings.HasPrefix(got, "\x1b[=") {
		return got[:at+1], got[at+1:]
	}
	return "", got
}

// A key is known by when it was read, not by when the program came to it.
func TestAKeyArrivesWhenItIsRead(t *testing.T) {
	s := newStamped(t)
	if got := s.Arrived(); got != s.now {
		t.Errorf("without a stamp it arrived at %s", got)
	}
	first := s.now
	one, rest := s.reads("\r")
	s.now = s.now.Add(time.Minute) // it stands still
	if !s.Stamp(unknownSequence(one)) || s.Arrived() != first || rest != "\r" {
		t.Errorf("%q after %q arrived at %s, want %s", rest, one, s.Arrived(), first)
	}
	second := s.now
	two, _ := s.reads("y")
	if s.Arrived() != first { // read, and its turn has not come
		t.Error("the key in hand takes the time of the next")
	}
	s.Stamp(unknownSequence(two))
	if s.Arrived() != second {
		t.Errorf("the next arrived at %s, want %s", s.Arrived(), second)
	}
	for _, msg := range []any{nil, "\x1b[=00000002~", unknownSequence("\x1b[=2~"), unknownSequence("\x1b[200~"), 7} {
		if s.Stamp(msg) {
			t.Errorf("%#v is taken for a stamp", msg)
		}
	}
	if s.Stamp(unknownSequence("\x1b[=00099999~")); s.Arrived() != second {
		t.Error("a stamp that was typed has a time")
	}
}

// What comes in pieces while the program stands still just after a read is one read.
func TestWhatIsWaitingIsReadWithTheRest(t *testing.T) {
	s := newStamped(t)
	first, late := s.now, "\r\r"
	s.Terminal.Now = func() time.Time {
		if _, err := s.in.WriteString(late); err != nil {
			t.Error(err)
		}
		late = ""
		return first
	}
	stamp, rest := s.reads("\r")
	if s.Stamp(unknownSequence(stamp)); rest != "\r" || s.current != first {
		t.Errorf("%q of %s, want the one press that three are, of %s", rest, s.current, first)
	}
}

// A paste that takes several reads is one text, with no stamp in it.
func TestAPasteIsNotStampedInside(t *testing.T) {
	s := newStamped(t)
	if stamp, rest := s.reads(pasteBegins + "22.1"); stamp == "" || rest != pasteBegins+"22.1" {
		t.Errorf("its beginning is %q with the stamp %q", rest, stamp)
	}
	if stamp, rest := s.reads(" N·m" + pasteEnds); stamp != "" || rest != " N·m"+pasteEnds {
		t.Errorf("its end is %q with the stamp %q", rest, stamp)
	}
	if stamp, _ := s.reads("\r"); stamp == "" {
		t.Error("what follows has no stamp")
	}
}

func TestSeveralKeysInOneReadAreMarkedAsPasted(t *testing.T) {
	paste := func(s string) string { return pasteBegins + s + pasteEnds }
	for _, reads := range [][][2]string{
		{{"\r", "\r"}, {"a", "a"}, {"ä", "ä"}, {"\x1b", "\x1b"}, {"\x1b[B", "\x1b[B"}, {"\x1bOP", "\x1bOP"}, {"\x1ba", "\x1ba"}},
		{{"\x1b[B\x1b[B\x1b[A", "\x1b[B\x1b[B\x1b[A"}, {"\x1b[5~\x1b[5~", "\x1b[5~\x1b[5~"}, {"\x7f\x7f", "\x7f\x7f"}, {"q\x03", "q\x03"}},
		{{"24.6\r", "24.6\r"}, {" +24.6 N·m\r\n", "+24.6 N·m\r\n"}, {"\r\n24.6\r", "24.6\r"}, {"-0.02 mm\r", "-0.02 mm\r"}, {"22", "22"}},
		{{"y\r", paste("y\r")}, {" \r", paste(" \r")}, {"\r\n", "\r"}, {"\r\n\r\n", paste("\r\n\r\n")}, {"ready\r", paste("ready\r")}, {"\x1b[B\r", paste("\x1b[B\r")}, {"+\r", paste("+\r")}},
		{{"\r\r\r", "\r"}, {"  ", " "}, {"yy", "y"}, {"\x1b[6~\x1b[6~", "\x1b[6~"}, {"\x1b[6~", "\x1b[6~"}, {"\x1b[B\x1b[6~", paste("\x1b[B\x1b[6~")}},
		{{"\r\r\r\r", paste("\r\r\r\r")}, {"    ", paste("    ")}, {"yyyy", paste("yyyy")}, {strings.Repeat("\x1b[6~", 4), paste(strings.Repeat("\x1b[6~", 4))}},
		{{paste("y\r"), paste("y\r")}, {"y\r", paste("y\r")}},
		{{pasteBegins + "y\r", pasteBegins + "y\r"}, {"y\r", "y\r"}, {"y\r" + pasteEnds, "y\r" + pasteEnds}, {"y\r", paste("y\r")}},
	} {
		var in Terminal
		for _, r := range reads {
			if got := string(in.mark([]byte(r[0]))); len(r[0]) > 1 && got != r[1] {
				t.Errorf("%q: %q, want %q", r[0], got, r[1])
			}
		}
	}
}

// A read never fills the room there is, and hands on all that it took.
func TestAReadOfATerminalLosesNothing(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	sent := ""
	for i := range 400 {
		sent += string(rune('a' + i%26))
	}
	if _, err := w.WriteString(sent); err != nil {
		t.Fatal(err)
	}
	w.Close()
	in, got := &Terminal{File: r, Now: time.Now}, ""
	for {
		p := make([]byte, 256)
		n, err := in.Read(p)
		if err != nil {
			break
		}
		if n == len(p) {
			t.Error("the room is full")
		}
		got += string(p[len(stamp(0))+len(pasteBegins) : n-len(pasteEnds)])
	}
	if got != sent {
		t.Errorf("read %q, want %q", got, sent)
	}
}
