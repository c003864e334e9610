package outside

import (
	"strings"
	"testing"
)

func TestAKeptAnswerIsReadBackWhole(t *testing.T) {
	want := kept{"prog -x", "prog: 1.2", "2026-11-25", hash("asked"), "a\n" + end + "b\n"}
	got, err := parse(want.String())
	if err != nil || got != want {
		t.Errorf("got %+v, %v", got, err)
	}
	for _, spoiled := range []string{"", end, strings.Replace(want.String(), "date: ", "day: ", 1), strings.Replace(want.String(), "2026-11-25", "", 1), "more\n" + want.String(), "prog -x\nno heading"} {
		if _, err := parse(spoiled); err == nil {
			t.Errorf("read as an answer: %q", spoiled)
		}
	}
}

func TestAnAnswerIsToItsOwnQuestionOnly(t *testing.T) {
	k := kept{command: "prog -x", input: hash("asked")}
	for name, c := range map[string]struct {
		q  Question
		ok bool
	}{
		"as it was put":   {Question{Command: "prog -x", Input: "asked"}, true},
		"another input":   {Question{Command: "prog -x", Input: "asked "}, false},
		"another command": {Question{Command: "prog", Input: "asked"}, false},
	} {
		if err := k.answers(c.q); (err == nil) != c.ok {
			t.Errorf("%s: %v", name, err)
		}
	}
}
