// Package ident says what things and steps are called: typed in memory, and by
// one text each in a record. Everything that names a bolt, a part or a line of
// the agenda does it through here, so that two of them can never be mistaken
// for each other, and a record outlives changes to the program.
//
// A text in a record is unambiguous only if no pass is called like something
// else; Reserved tells, and reading a procedure refuses such a name.
package ident

import (
	"strconv"
	"strings"
)

// Thing is a fastener or a part. Ids of fasteners repeat from joint to joint,
// so a fastener is known by its thread as well; a part has none.
type Thing struct {
	ID     string `json:"id"`
	Thread string `json:"thread,omitempty"` // of a fastener; empty for a part
	Place  string `json:"place,omitempty"`  // which of two of a kind on one engine; a sheet and a walk know of none
}

// UnknownThread stands for the thread of a fastener that an old record names by
// its id alone and no sheet at hand knows.
const UnknownThread = "?"

// Part names a part by its id.
func Part(id string) Thing { return Thing{ID: id} }

// Fastener names a fastener by its id and the name of its thread.
func Fastener(id, thread string) Thing {
	if thread == "" {
		thread = UnknownThread
	}
	return Thing{ID: id, Thread: thread}
}

// IsFastener tells a fastener from a part.
func (t Thing) IsFastener() bool { return t.Thread != "" }

// IsZero reports whether nothing is named.
func (t Thing) IsZero() bool { return t == Thing{} }

// String gives "crank-shim", or "B3 M8x1.25" for a fastener; where there are two
// of a kind "B3 M8x1.25, front head".
func (t Thing) String() string {
	text := t.ID
	if t.Thread != UnknownThread {
		text = strings.TrimSpace(t.ID + " " + t.Thread)
	}
	if t.Place != "" {
		text += ", " + t.Place
	}
	return text
}

// At is the thing at a place.
func (t Thing) At(place string) Thing {
	t.Place = place
	return t
}

// Text is what events call the thing: a fastener by its id, a part as its step.
func (t Thing) Text() string {
	if t.IsFastener() {
		return t.ID
	}
	return PartStep(t.ID).String()
}

// Kind is what a step asks of the person.
type Kind string

// Kinds of step.
const (
	Stage   Kind = "stage"   // one fastener in one pass
	Wait    Kind = "wait"    // a time to let go by
	Check   Kind = "check"   // a question or a measurement
	PartIn  Kind = "part"    // a part that goes on or comes off
	Callout Kind = "callout" // something to have ready
	Smear   Kind = "sealant" // first smear of sealant
	Prep    Kind = "prep"    // threads made ready
	Slacken Kind = "slacken" // a fastener let go before it is started again
	Repair  Kind = "repair"  // a thread in the case made good
	Finding Kind = "finding" // what a strip-down found wrong, to be answered
)

// Step names one line of an agenda. It is comparable, and two steps of one
// sheet are equal only if they are the same line.
type Step struct {
	Kind Kind
	Name string // what it is called among its kind; empty for the smear
}

// StageStep names a stage: a fastener in a pass, and which action of several,
// counted from 1; 0 where the pass has one.
func StageStep(pass, fastener string, action int) Step {
	name := pass + "/" + fastener
	if action > 0 {
		name += "/" + strconv.Itoa(action)
	}
	return Step{Stage, name}
}

// WaitStep names a pass that is a time to let go by.
func WaitStep(pass string) Step { return Step{Wait, pass} }

// CheckStep names a check by its id.
func CheckStep(id string) Step { return Step{Check, id} }

// PartStep names a part's place on the agenda by the part's id.
func PartStep(id string) Step { return Step{PartIn, id} }

// PartOf gives the id of the part whose step has this text.
func PartOf(text string) (id string, ok bool) {
	return strings.CutPrefix(text, string(PartIn)+":")
}

// CalloutStep names a callout by its id.
func CalloutStep(id string) Step { return Step{Callout, id} }

// SmearStep names the first smear of sealant.
func SmearStep() Step { return Step{Kind: Smear} }

// PrepStep names the threads of a group made ready, or of one fastener of it.
func PrepStep(group, fastener string) Step {
	if fastener != "" {
		group += "/" + fastener
	}
	return Step{Prep, group}
}

// SlackenStep names the letting go of a fastener.
func SlackenStep(fastener string) Step { return Step{Slacken, fastener} }

// RepairStep names the repair of the thread a fastener goes into.
func RepairStep(fastener string) Step { return Step{Repair, fastener} }

// FindingStep names a finding by the record that has it and the check it was found at.
func FindingStep(record, check string) Step { return Step{Finding, record + "/" + check} }

// String is the step as a record has it: "Final/M1", "check:float", "sealant".
// Stages and waits stand as they are called, which is why a pass may not be
// called like any of the others.
func (s Step) String() string {
	switch s.Kind {
	case Stage, Wait:
		return s.Name
	case Smear:
		return string(Smear)
	}
	return string(s.Kind) + ":" + s.Name
}

// Reserved reports what a pass must not be called, since a record would take it
// for another kind of step.
func Reserved(pass string) bool {
	if pass == string(Smear) {
		return true
	}
	for _, k := range []Kind{Check, PartIn, Callout, Prep, Slacken, Repair, Finding} {
		if strings.HasPrefix(pass, string(k)+":") {
			return true
		}
	}
	return false
}
