package speech

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/words"
)

const pastTime = words.PastWork + ": " + words.Afresh

// Event says what an event that the state holds has recorded, where what is asked
// for next does not say enough by itself; else it is empty.
func Event(s *walk.State, e walk.Event) string {
	switch e.Kind {
	case walk.Confirmed, walk.Measured, walk.Answered:
		if late := s.Late(); late != "" {
			return strings.TrimSpace(answered(s, e) + " " + sentence(late))
		}
		return answered(s, e)
	case walk.Renewed:
		return sentence("noted as new")
	case walk.Repaired:
		return sentence("the thread is good again")
	case walk.Undone:
		return sentence("taken back")
	case walk.Lost:
		return sentence("angle lost, noted")
	case walk.Trouble:
		return sentence("problem with " + e.Fastener + ", noted")
	case walk.Resealed:
		return sentence("seal it afresh, noted")
	case walk.Found, walk.Refitted, walk.Accounted, walk.Cleaned, walk.Settled, walk.Noted, walk.Pictured:
		return sentence("noted")
	case walk.Resheeted:
		return sentence("the sheet was edited, and what it changed is open again")
	case walk.PutOff:
		return sentence("asked for at the end")
	case walk.Rejected:
		return sentence("refused: " + withoutBasis(e.Text))
	case walk.Refused:
		return notDone(len(e.Outstanding))
	}
	return ""
}

// answered says a figure again, and what a no or a figure came to.
func answered(s *walk.State, e walk.Event) string {
	i, known := s.Find(e.Item)
	if !known {
		return ""
	}
	text := ""
	if e.Reading != "" {
		text = sentence("read " + e.Reading)
	}
	switch found := words.FoundAt(s, &s.Items[i]); {
	case found != "":
		text += " " + sentence("a finding: "+found)
	case e.Answer == "no":
		text = sentence("noted as no; put it right, then answer yes")
	}
	return strings.TrimSpace(text)
}

// Refusal says why a command was not accepted, and the first thing to do instead.
func Refusal(r *walk.Refusal) string {
	if len(r.Outstanding) > 0 {
		return notDone(len(r.Outstanding))
	}
	text := "refused: " + withoutBasis(r.What)
	if do, _, _ := strings.Cut(r.Remedy, ";"); do != "" {
		text += "; " + do
	}
	return sentence(text)
}

func notDone(outstanding int) string { return fmt.Sprintf("Not done: %d outstanding.", outstanding) }

// withoutBasis leaves out the brackets at the end, which say where a limit comes from.
func withoutBasis(text string) string {
	if i := strings.Index(text, " ("); i > 0 && strings.HasSuffix(text, ")") {
		return text[:i]
	}
	return text
}

// Problem says that something went wrong that is no refusal of the walk.
func Problem(text string) string { return sentence(text) }

// Warning is a word of a clock that runs, due at a time unless something is
// recorded before.
type Warning struct {
	At   time.Time
	Text string
}

// warned is how long before the sealant's work time is over it is said.
var warned = []time.Duration{5 * time.Minute, 2 * time.Minute, time.Minute}

// lastCall is how long before what is hot has cooled it is said.
const lastCall = 10 * time.Second

// Warnings are those to come, the next first, if nothing is recorded from now on.
func Warnings(s *walk.State, now time.Time) []Warning {
	if s.Phase != walk.IsOpen {
		return nil
	}
	var list []Warning
	add := func(in time.Duration, text string) {
		if in > 0 {
			list = append(list, Warning{now.Add(in), sentence(text)})
		}
	}
	if left, running := s.SealantLeft(now); running {
		for _, before := range warned {
			if before < s.Plan.Procedure.Sealant.WorkTime {
				add(left-before, "sealant: "+spec.Span(before)+" left")
			}
		}
		add(left, pastTime)
	}
	if left, heat, running := s.HeatFor(now); running {
		if heat.Within > 2*lastCall {
			add(left-lastCall, spec.Span(lastCall)+" left while it is hot")
		}
		add(left, words.TooLate+": "+words.Reheat)
	}
	if it := s.CurrentItem(); it != nil && it.Kind == walk.WaitItem {
		add(s.WaitLeft(s.Current(), now), words.WaitOver)
	}
	slices.SortStableFunc(list, func(a, b Warning) int { return a.At.Compare(b.At) })
	return list
}

// place says where a fastener sits: "third of five", not "3rd of 5".
func place(where string) string {
	fields := strings.Fields(where)
	for i, word := range fields {
		bare := strings.TrimRight(word, ",")
		stop := word[len(bare):]
		if said := ordinals[bare]; said != "" {
			fields[i] = said + stop
		}
		if said := numbers[bare]; said != "" && i > 0 && fields[i-1] == "of" {
			fields[i] = said + stop
		}
	}
	return strings.Join(fields, " ")
}

var ordinals = map[string]string{"1st": "first", "2nd": "second", "3rd": "third", "4th": "fourth", "5th": "fifth", "6th": "sixth", "7th": "seventh", "8th": "eighth", "9th": "ninth", "10th": "tenth", "11th": "eleventh", "12th": "twelfth"}

var numbers = map[string]string{"2": "two", "3": "three", "4": "four", "5": "five", "6": "six", "7": "seven", "8": "eight", "9": "nine", "10": "ten", "11": "eleven", "12": "twelve"}

// sentence makes one of a text, with its cautions behind it.
func sentence(text string, cautions ...string) string {
	said := stopped(text)
	for _, c := range cautions {
		if c != "" {
			said += " " + stopped("Caution: "+c)
		}
	}
	return said
}

// stopped begins with a capital, but for a word that has its own, and ends with a stop.
func stopped(text string) string {
	text = Aloud(text)
	r, n := utf8.DecodeRuneInString(text)
	text = string(unicode.ToUpper(r)) + text[n:]
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "?") && !strings.HasSuffix(text, "!") {
		text += "."
	}
	return text
}
