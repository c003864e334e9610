// Package walk is one run through a procedure on one engine, as events.
//
// The state is nothing but the fold of the events so far:
//
//	state = New(plan), then Apply for each event
//
// and two functions decide everything. Decide turns what the person asks for
// into an event or a refusal; Judge says whether an event is earned where it
// stands. The screen, the plain mode and the reader of records all go through
// Judge, so none of them can disagree on what is done. Time comes in as an
// argument, and nothing here reads or writes a file.
//
// The rule the package exists for: a walk is done only when every stage is
// confirmed, every check answered yes or measured in range, every one-use
// piece renewed, every part accounted for and every wait over. There is no
// override. A walk that cannot be finished ends as stopped.
package walk

import "time"

// Kind is what happened.
type Kind string

const (
	Confirmed Kind = "confirmed" // a stage, wait, part, callout or first smear
	Measured  Kind = "measured"  // a check measured in range
	Answered  Kind = "answered"  // a check answered; only yes closes it
	Renewed   Kind = "renewed"   // a new piece fitted
	Undone    Kind = "undone"    // the last of the above taken back, with a reason
	Lost      Kind = "lost"      // an angle lost half way: its fastener starts again
	Trouble   Kind = "trouble"   // stripped, overshot, seized …: replace it and start again
	Resealed  Kind = "resealed"  // the joint was opened, cleaned and is sealed afresh
	Rejected  Kind = "rejected"  // a reading out of range, kept as said
	Refused   Kind = "refused"   // a done that was not earned, with what was outstanding
	Found     Kind = "found"     // in what state something came off, where it sat and where it is put
	Brought   Kind = "brought"   // what the engine brings to this walk from earlier ones
	Refitted  Kind = "refitted"  // something brought that this procedure does not name went back
	Accounted Kind = "accounted" // something brought will not go back, and why
	Cleaned   Kind = "cleaned"   // back from work, and cleaned before anything closes over it
	Noted     Kind = "noted"
	Resumed   Kind = "resumed" // the walk was opened again
	Stopped   Kind = "stopped"
	Done      Kind = "done"
)

// Event is one line of a record. Items are named by words of the procedure,
// not by number, so that a record outlives changes to this program.
type Event struct {
	Seq         int               `json:"seq"` // from 1, without gaps
	At          time.Time         `json:"at"`
	Kind        Kind              `json:"kind"`
	Item        string            `json:"item,omitempty"`     // key of an agenda item
	Fastener    string            `json:"fastener,omitempty"` // renewed, lost, trouble
	Piece       string            `json:"piece,omitempty"`    // renewed: which piece
	Number      string            `json:"number,omitempty"`   // renewed: part or batch number
	Reading     string            `json:"reading,omitempty"`  // as read, with its unit
	Answer      string            `json:"answer,omitempty"`   // yes or no
	Text        string            `json:"text,omitempty"`     // reason, note, kind of trouble
	Facts       map[string]string `json:"facts,omitempty"`    // condition, box, wrench …
	Outstanding []string          `json:"outstanding,omitempty"`
	Brought     []Carried         `json:"brought,omitempty"`
}

// Command is what the person asks for. An empty Target means the current item.
type Command struct {
	Do      Verb
	Target  string // a fastener's id or a part's name
	Piece   string
	Number  string
	Reading string
	Text    string
	Facts   map[string]string
	Brought []Carried
}

// Verb is a thing a person can ask for.
type Verb string

const (
	Confirm  Verb = "confirm"
	Measure  Verb = "measure"
	Yes      Verb = "yes"
	No       Verb = "no"
	Renew    Verb = "renew"
	Undo     Verb = "undo"
	Lose     Verb = "lost"
	Problem  Verb = "problem"
	Reseal   Verb = "reseal"
	Find     Verb = "found"
	Bring    Verb = "bring"
	Refit    Verb = "refit"
	Account  Verb = "account"
	Clean    Verb = "clean"
	Note     Verb = "note"
	Resume   Verb = "resume"
	Stop     Verb = "stop"
	FinishUp Verb = "done"
)

// Refusal says why something was not accepted and what to do instead.
type Refusal struct {
	What        string
	Remedy      string
	Outstanding []string // a refused done: everything still open
}

// Error gives both in one line.
func (r *Refusal) Error() string {
	if r.Remedy == "" {
		return r.What
	}
	return r.What + "; " + r.Remedy
}
