package ask

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"evenpull/procedures/draft"
	"evenpull/spec"
)

// lines is the same as the screen for whoever has no screen: a question a line, an answer a line.
type lines struct {
	cfg     Config
	draft   draft.Draft
	out     io.Writer
	at      string
	section string
	saved   []byte
	err     error // of out
}

const (
	howToAnswer = `An empty line keeps what stands [in brackets] or takes it as proposed; - takes it out.
.back  .go NUMBER  .list  .order  .write  .help  .quit`
	helpWithLines = `.back         the question before
.go NUMBER    another question, by its number in .list
.list         every question with its answer
.order        the bolts of each pass in order, and why
.take out     takes out what is asked about: a pass, a part, a kind of bolt
.write        writes the file
.quit         leaves; answers not written are kept beside the file`
)

// Lines asks on out and reads answers from in, until it is left or in ends. It reports
// whether the file holds all answers and can be walked.
func Lines(c Config, in io.Reader, out io.Writer) (whole bool, err error) {
	l := &lines{cfg: c, draft: c.Draft, out: out, saved: c.Saved}
	all := l.draft.Questions()
	l.at = all[max(0, slices.IndexFunc(all, draft.Question.Open))].ID
	if c.Notice != "" {
		l.say("%s", c.Notice)
	}
	l.say("%s", howToAnswer)
	r := bufio.NewScanner(in)
	r.Buffer(nil, 64<<10)
	for l.ask(); r.Scan(); l.ask() {
		if l.take(strings.TrimSpace(r.Text())) || l.err != nil {
			break
		}
	}
	if err := r.Err(); err != nil && l.err == nil {
		l.err = fmt.Errorf("a line is too long to be an answer: %w; what was answered before it is kept", err)
	}
	written := l.saved != nil && bytes.Equal(l.saved, l.draft.Text())
	return written && l.draft.Ready(), l.err
}

func (l *lines) say(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	for line := range strings.SplitSeq(text, "\n") {
		if _, err := fmt.Fprintln(l.out, spec.Printable(line)); err != nil && l.err == nil {
			l.err = err
		}
	}
}

func (l *lines) question() (draft.Question, int) {
	all := l.draft.Questions()
	i := max(0, slices.IndexFunc(all, func(q draft.Question) bool { return q.ID == l.at }))
	l.at = all[i].ID
	return all[i], i
}

// ask prints the question at hand.
func (l *lines) ask() {
	q, _ := l.question()
	if q.Section != l.section {
		l.section = q.Section
		l.say("\n%s", q.Section)
	}
	for _, text := range q.Wrong {
		l.say("  to mend: %s", text)
	}
	for _, text := range q.Doubts {
		l.say("  doubt: %s", text)
	}
	if q.Kind == draft.Save {
		l.ending()
		return
	}
	text := q.Ask + "?"
	if answer := q.Enter(""); q.Kind == draft.Places && q.Answer != "" {
		text += " [" + q.Answer + "]"
	} else if answer != "" {
		text += " [" + answer + "]"
	}
	l.say("%s (%s)", text, q.Hint)
	if len(q.Choices) > 0 {
		l.say("  one of: %s", strings.Join(q.Choices, ", "))
	}
}

func (l *lines) ending() {
	n := 0
	for i, q := range l.draft.Questions() {
		if q.Open() {
			n++
			l.say("  %d %s: %s", i+1, q.Ask, strings.Join(append([]string{"not answered"}[min(1, len(q.Wrong)):], q.Wrong...), "; "))
		}
	}
	if n > 0 {
		l.say("%s before it can be walked; .go NUMBER goes there", plural(n, "answer is wanted", "answers are wanted"))
	}
	l.say("write %s? an empty line writes it, .quit leaves", l.cfg.File)
}

// take takes one line. It is true when that was the last.
func (l *lines) take(text string) (over bool) {
	q, i := l.question()
	all := l.draft.Questions()
	word, rest, _ := strings.Cut(text, " ")
	switch {
	case word == ".quit":
		return true
	case word == ".help", text == "?":
		l.say("%s", helpWithLines)
	case word == ".back":
		l.at = all[max(0, i-1)].ID
	case word == ".go":
		n, err := strconv.Atoi(strings.TrimSpace(rest))
		if err != nil || n < 1 || n > len(all) {
			l.say("  no: there is no question %s; .list gives them with their numbers", rest)
			return false
		}
		l.at = all[n-1].ID
	case word == ".list":
		l.list(all)
	case word == ".order":
		l.orders(l.draft.Rows(), true)
	case text == ".take out":
		l.settle(l.draft.TakeOut(q.Thing))
	case word == ".write":
		l.write()
	case strings.HasPrefix(text, ".") && len(text) > 1 && text[1] >= 'a' && text[1] <= 'z':
		l.say("  no: %s is no command here; .help lists them", text)
	case q.Kind == draft.Save && text == "":
		return l.write()
	case q.Kind == draft.Save:
		l.say("  no: an empty line writes the file; .go NUMBER goes to a question, .quit leaves")
	case text == "-":
		l.settle(l.draft.Answer(q.ID, ""))
	default:
		l.settle(l.draft.Answer(q.ID, q.Enter(text)))
	}
	return false
}

// settle takes an answer, or says why it is not one, and shows what came of it.
func (l *lines) settle(next draft.Draft, then string, no *draft.Refusal) {
	if no != nil {
		l.say("  no: %s\n  %s", no.What, no.Remedy)
		return
	}
	before := l.draft.Rows()
	changed := !bytes.Equal(next.Text(), l.draft.Text())
	l.draft, l.at = next, then
	if changed && l.cfg.Keep != nil {
		if err := l.cfg.Keep(next.Text()); err != nil {
			l.say("  %s", err)
		}
	}
	var fresh []draft.Row
	for _, r := range next.Rows() {
		if !slices.ContainsFunc(before, func(b draft.Row) bool { return b.Pass == r.Pass && slices.Equal(b.Bolts, r.Bolts) }) {
			fresh = append(fresh, r)
		}
	}
	l.orders(fresh, false)
}

const mostInLine = 40 // bolts of one pass that a line names

func (l *lines) orders(rows []draft.Row, why bool) {
	for _, r := range rows {
		if len(r.Bolts) == 0 {
			continue
		}
		text := strings.Join(r.Bolts[:min(mostInLine, len(r.Bolts))], " ")
		if more := len(r.Bolts) - mostInLine; more > 0 {
			text += fmt.Sprintf(" and %d more", more)
		}
		l.say("  order of %s: %s", r.Pass, text)
		for i, id := range r.Bolts {
			if why {
				l.say("    %d %s  %s", i+1, id, r.Why[i])
			}
		}
	}
}

func (l *lines) list(all []draft.Question) {
	section := ""
	for i, q := range all {
		if q.Section != section {
			section = q.Section
			l.say("%s", section)
		}
		mark := ""
		if q.Open() {
			mark = "  (wanted)"
		}
		l.say("  %d %s: %s%s", i+1, q.Ask, q.Answer, mark)
	}
}

// write writes the file; it is true when it is written and whole.
func (l *lines) write() bool {
	text := l.draft.Text()
	if err := l.cfg.Write(text); err != nil {
		l.say("  %s", err)
		return false
	}
	was := l.saved
	l.saved = text
	l.say("%s is written%s", l.cfg.File, changes(was, text))
	return l.draft.Ready()
}

// changes counts the lines of a file that are not as they were.
func changes(was, is []byte) string {
	if was == nil {
		return ""
	}
	left := map[string]int{}
	for line := range bytes.Lines(was) {
		left[string(line)]++
	}
	fresh, gone := 0, 0
	for line := range bytes.Lines(is) {
		if left[string(line)]--; left[string(line)] < 0 {
			fresh++
		}
	}
	for _, n := range left {
		gone += max(0, n)
	}
	if fresh+gone == 0 {
		return "; nothing in it has changed"
	}
	return fmt.Sprintf("; %s new, %d gone, the rest is as it was", plural(fresh, "line is", "lines are"), gone)
}
