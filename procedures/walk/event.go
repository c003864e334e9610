// Package walk is one run through a procedure on one engine, as events.
//
// The state is nothing but the fold of the events so far:
//
//	state = New(plan), then Apply for each event
//
// and two functions decide everything. Decide turns what the person asks for
// into an event or a refusal; Judge says whether an event is earned where it
// stands. The screen, the plain mode and every reader of records go through
// Judge, so none of them can disagree on what is done. Time comes in as an
// argument, and nothing here reads or writes a file.
//
// The rule the package exists for: a walk is done only when every stage is
// confirmed, every check answered yes or measured in range, every piece that is
// due renewed before it was tightened, every part accounted for and every wait
// over. There is no override. A walk that cannot be finished ends as stopped.
// What an act takes the ground from is open again, by one table (undoes.go).
package walk

import (
	"maps"
	"time"

	"evenpull/spec/ident"
)

// Kind is what happened.
type Kind string

const (
	Confirmed Kind = "confirmed" // a stage, wait, part, callout, first smear …: what the agenda asks for
	Measured  Kind = "measured"  // a check measured in range
	Answered  Kind = "answered"  // a check answered; only yes closes it
	Renewed   Kind = "renewed"   // a new piece fitted
	Repaired  Kind = "repaired"  // a thread in the case made good
	Undone    Kind = "undone"    // the last of the above taken back, with a reason
	Lost      Kind = "lost"      // an angle lost half way: its fastener starts again
	Trouble   Kind = "trouble"   // stripped, seized, bent …: replace it and start again
	Resealed  Kind = "resealed"  // the joint was opened, cleaned and is sealed afresh
	Rejected  Kind = "rejected"  // a reading out of range, kept as said
	Refused   Kind = "refused"   // a done that was not earned, with what was outstanding
	Found     Kind = "found"     // in what state something came off, where it sat and where it is put
	Brought   Kind = "brought"   // what the engine brings to this walk from earlier ones
	Refitted  Kind = "refitted"  // something brought that this procedure does not name went back
	Accounted Kind = "accounted" // something brought will not go back, and why
	Cleaned   Kind = "cleaned"   // back from work, and cleaned before anything closes over it
	Settled   Kind = "settled"   // a finding of the strip-down answered
	Resheeted Kind = "resheeted" // the sheet was edited: from here on this text holds, and why
	PutOff    Kind = "put off"   // what is in hand is asked for at the end instead, and why
	Changed   Kind = "changed"   // the wrench set, another socket on: for which stage; nothing rests on it
	Noted     Kind = "noted"
	Pictured  Kind = "photo"   // a picture kept beside the records; Facts: its name, hash and type
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
	Item        string            `json:"item,omitempty"`     // a step's text, or a part's
	Fastener    string            `json:"fastener,omitempty"` // renewed, lost, trouble, found …
	Thread      string            `json:"thread,omitempty"`   // of a fastener that is not the sheet's own
	Piece       string            `json:"piece,omitempty"`    // renewed: which piece
	Number      string            `json:"number,omitempty"`   // renewed: part or batch number
	Reading     string            `json:"reading,omitempty"`  // as read, with its unit
	Answer      string            `json:"answer,omitempty"`   // yes or no
	Text        string            `json:"text,omitempty"`     // reason, note, kind of trouble
	Facts       map[string]string `json:"facts,omitempty"`    // condition, box, wrench …
	Restarts    []string          `json:"restarts,omitempty"` // a no: fasteners that came loose
	Outstanding []string          `json:"outstanding,omitempty"`
	Brought     []Carried         `json:"brought,omitempty"`
	Faults      []Fault           `json:"faults,omitempty"` // brought: findings the strip-downs left open
	Sheet       string            `json:"sheet,omitempty"`  // resheeted: the whole text of the procedure from here on
}

// Command is what the person asks for. An empty Target means the current item.
type Command struct {
	Do       Verb
	Target   string // a fastener's id or a part's name
	Piece    string
	Number   string
	Reading  string
	Text     string
	Facts    map[string]string
	Restarts []string // no: the fasteners that came loose, by id
	Brought  []Carried
	Faults   []Fault // bring
	Sheet    string  // resheet: the whole text of the procedure as it is now
	New      string  // found: what to call a thing that no sheet has; Count of it, 0: one
	Count    int
}

// With keeps more facts with a command; what it has of its own stays.
func (c Command) With(facts map[string]string) Command {
	if len(facts) == 0 {
		return c
	}
	all := maps.Clone(facts)
	maps.Copy(all, c.Facts)
	c.Facts = all
	return c
}

// Verb is a thing a person can ask for.
type Verb string

const (
	Confirm  Verb = "confirm"
	Measure  Verb = "measure"
	Yes      Verb = "yes"
	No       Verb = "no"
	Renew    Verb = "renew"
	Repair   Verb = "repaired"
	Undo     Verb = "undo"
	Lose     Verb = "lost"
	Problem  Verb = "problem"
	Reseal   Verb = "reseal"
	Find     Verb = "found"
	Bring    Verb = "bring"
	Refit    Verb = "refit"
	Account  Verb = "account"
	Clean    Verb = "clean"
	Settle   Verb = "settle"
	Later    Verb = "later"
	Resheet  Verb = "resheet"
	Change   Verb = "change"
	Note     Verb = "note"
	Picture  Verb = "photo"
	Resume   Verb = "resume"
	Stop     Verb = "stop"
	FinishUp Verb = "done"
)

// Facts that events carry besides what is said of a thing.
const (
	// StrippedAt says where a thread stripped: InBolt or InCase.
	StrippedAt = "stripped"
	InBolt     = "bolt"
	InCase     = "case"

	// On a change of wrench or socket, the sheet's words for what the stage takes.
	SetFor   = "torque"
	SocketOn = "drive"

	// NoNumber, as the number of a new piece: it has none.
	NoNumber = "none"

	// rulesFact is on the resumed event from which on newer rules hold.
	rulesFact = "rules"
)

// RepairFacts is what is kept of a repaired thread, in the order it is asked:
// the insert, its size, who did it, and what now holds in place of the sheet:
// the torque, the length engaged and the drive ("as the sheet" where nothing
// has changed).
var RepairFacts = []string{"insert", "size", "by", "torque", "engagement", "drive"}

// The rules a record is laid out and judged by. The first let a new piece be
// recorded after its bolt was tightened, a stretch be confirmed without a reading
// and a reading stand on anything. Up to the second, threads were made ready as the
// pass came to them, while the sealant skinned. Up to the third a no or a figure out
// of its limits held up the way apart. Up to the fourth a reading could pass its limit
// by a billionth of it. A walk is judged by the rules it was begun
// under up to where it is opened again, and keeps the order it was begun in.
const (
	FirstRules  = 1
	strictRules = 2
	readyRules  = 3
	findRules   = 4
	exactRules  = 5
	Rules       = exactRules
)

// Refusal says why something was not accepted and what to do instead: Remedy in
// words for the hands, Ways as commands, which each surface words for its own
// keys or lines.
type Refusal struct {
	What        string
	Remedy      string
	Ways        []Way
	Outstanding []string // a refused done: everything still open
	Yes, No     *Command // What is a question: the command that either answer comes to
	asksAgain   bool     // it asks whether a thing is to be used again
	misses      bool     // it was understood, and is out of range: worth keeping
	fault       string   // of a measurement: where it lies outside its limits
}

// Way is a command that leads on from a refusal.
type Way struct {
	Do     Verb
	Target string // a fastener's id, a part's id, or empty for what is in hand
	Needs  string // what has to be said with it: "a reason", "the number on its bag"; or the very words; settle: how
	Mark   string // not a command of the walk but a mark between walks: "back"
}

// Error gives it in one line, commands in the words of no surface.
func (r *Refusal) Error() string {
	text := r.What
	if r.Remedy != "" {
		text += "; " + r.Remedy
	}
	return text
}

// ThingOf is what an event is about: a part or a fastener, or the zero Thing.
func (s *State) ThingOf(e Event) ident.Thing {
	if e.Thread != "" {
		return ident.Fastener(e.Fastener, e.Thread)
	}
	if e.Fastener != "" {
		return s.fastenerThing(e.Fastener)
	}
	if id, ok := ident.PartOf(e.Item); ok {
		return ident.Part(id)
	}
	return ident.Thing{}
}
