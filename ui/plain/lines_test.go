package plain

import (
	"bufio"
	"io"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec/read"
)

func TestALineEndsInLFOrCROrBoth(t *testing.T) {
	long := strings.Repeat("x", maxLine)
	for in, want := range map[string]string{
		"a\nb\n": "a|b|", "a\r\nb\r\n": "a|b|", "a\rb\r": "a|b|", "a": "a|", "": "",
		"\n\n": "||", "\r\n\r\n": "||", "\r\r": "||", "a\n\r": "a||", "a\r\n\nb": "a||b|", "\ra\nb": "|a|b|",
		long + "\nb\n": long + "|b|", long + "x\nb\n": "too long|b|",
	} {
		l := lines{in: bufio.NewReaderSize(strings.NewReader(in), 16)}
		got := ""
		for {
			line, err := l.read()
			if err == errTooLong {
				line = "too long"
			} else if err != nil {
				break
			}
			got += line + "|"
		}
		if got != want {
			t.Errorf("%.20q: %.60q, want %.60q", in, got, want)
		}
	}
}

// hand gives lines one read at a time, each a while after the question before it.
type hand struct {
	now   *time.Time
	lines []string // "350ms enter"
}

func (h *hand) Read(p []byte) (int, error) {
	if len(h.lines) == 0 {
		return 0, io.EOF
	}
	after, line, _ := strings.Cut(h.lines[0], " ")
	h.lines = h.lines[1:]
	d, err := time.ParseDuration(after)
	if err != nil {
		return 0, err
	}
	*h.now = h.now.Add(d)
	return copy(p, line), nil
}

// From a keyboard, an empty line or a bare figure that comes too soon after the question,
// and an empty one after a refusal, confirm nothing. From a pipe every line counts.
func TestALineFromAKeyboardAnswersWhatCouldBeRead(t *testing.T) {
	const m1, m2 = "Final: M1", "Final: M2"
	for _, tt := range []struct {
		name     string
		keyboard bool
		lines    []string
		want     string // how many are confirmed
	}{
		{"an Enter at a hand's pace", true, []string{"1s \n", "1s \n"}, "2"},
		{"one that repeats", true, []string{"1s \n", "399ms \n", "399ms \n"}, "1"},
		{"CR LF in two reads", true, []string{"1s \r", "0s \n", "1s \r", "0s \n"}, "2"},
		{"CR LF, of which the terminal makes two lines", true, []string{"1s \n\n"}, "1"},
		{"the Enter that started the program", true, []string{"10ms \n"}, "0"},
		{"after a refusal", true, []string{"1s hm\n", "1s \n", "1s \n"}, "1"},
		{"after a refused figure", true, []string{"1s 12 N·m\n", "1s \n"}, "0"},
		{"ok after a refusal is a word", true, []string{"1s hm\n", "1s ok\n"}, "1"},
		{"a figure with its unit", true, []string{"1s 22 N·m\r\n"}, "1"},
		{"a figure without", true, []string{"1s 22\r\n", "0s \n"}, "0"},
		{"two figures in one go", true, []string{"1s 22 N·m\r\n22 N·m\r\n"}, "1"},
		{"a pipe", false, []string{"0s \n\n"}, "2"},
		{"a pipe, after a refusal", false, []string{"0s hm\n\nok\n"}, "2"},
	} {
		p, problems := read.Procedure("cover.toml", []byte(strings.SplitN(cover, "[[part]]", 2)[0]))
		if p == nil {
			t.Fatal(problems)
		}
		now := time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
		live := &walk.Live{State: walk.New(plan.Of(p)), Now: func() time.Time { return now }, Append: func(walk.Event) error { return nil }}
		var out strings.Builder
		if _, err := Walk(live, &hand{&now, tt.lines}, &out, Options{Keyboard: tt.keyboard}); err != nil {
			t.Fatal(err)
		}
		got := strings.Count(out.String(), "confirmed: "+m1) + strings.Count(out.String(), "confirmed: "+m2)
		if want := int(tt.want[0] - '0'); got != want {
			t.Errorf("%s: %d confirmed, want %d\n%s", tt.name, got, want, out.String())
		}
	}
}
