package keys

import (
	"os"
	"testing"
)

func TestSeveralKeysInOneReadAreMarkedAsPasted(t *testing.T) {
	paste := func(s string) string { return pasteBegins + s + pasteEnds }
	for _, reads := range [][][2]string{
		{{"\r", "\r"}, {"a", "a"}, {"ä", "ä"}, {"\x1b", "\x1b"}, {"\x1b[B", "\x1b[B"}, {"\x1bOP", "\x1bOP"}, {"\x1ba", "\x1ba"}},
		{{"\x1b[B\x1b[B\x1b[A", "\x1b[B\x1b[B\x1b[A"}, {"\r\r\r", "\r\r\r"}, {"\x7f\x7f", "\x7f\x7f"}, {"q\x03", "q\x03"}},
		{{"24.6\r", "24.6\r"}, {" +24.6 N·m\r\n", "+24.6 N·m\r\n"}, {"\r\n24.6\r", "24.6\r"}, {"-0.02 mm\r", "-0.02 mm\r"}, {"22", "22"}},
		{{"y\r", paste("y\r")}, {" \r", paste(" \r")}, {"\r\n", "\r"}, {"\r\n\r\n", paste("\r\n\r\n")}, {"ready\r", paste("ready\r")}, {"\x1b[B\r", paste("\x1b[B\r")}, {"+\r", paste("+\r")}},
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
	in, got := &Terminal{File: r}, ""
	for {
		p := make([]byte, 256)
		n, err := in.Read(p)
		if err != nil {
			break
		}
		if n == len(p) {
			t.Error("the room is full")
		}
		got += string(p[len(pasteBegins) : n-len(pasteEnds)])
	}
	if got != sent {
		t.Errorf("read %q, want %q", got, sent)
	}
}
