// Package read reads the files: a procedure, a draft of one, the text that a record
// holds, a drawer of wrenches. What is wrong in one is a problem with its line, its
// column and a remedy.
//
// It is pure: bytes in, a procedure and problems out. A procedure it gives without
// errors is complete and consistent.
package read

import (
	"bytes"
	"fmt"
	"slices"
	"unicode/utf8"

	"evenpull/spec"
	"evenpull/spec/quantity"
)

// Limits on a file, which may come from a stranger.
const (
	MaxFileBytes = 1 << 20 // 1 MiB
	MaxFasteners = 10_000
	MaxPasses    = 200
	MaxStages    = 200_000 // a stage is one fastener in one step of a pass
	maxDepth     = 100     // names in one dotted key
	maxText      = 400     // characters in any one text
	maxProblems  = 200     // reported in one go; the rest are counted
)

// Procedure reads a procedure of format 1. file is only a name for messages. The
// procedure is nil when any problem is more than a warning.
func Procedure(file string, text []byte) (*spec.Procedure, Problems) {
	return newReader(file, text).readAll()
}

// Recorded reads the procedure that a record holds. What this version asks back and
// the one that walked it took, a slash between two torques or a material nobody knows, is
// read as it was then.
func Recorded(file string, text []byte) (*spec.Procedure, Problems) {
	r := newReader(file, text)
	r.recorded = true
	return r.readAll()
}

// Draft reads a sheet that is still being written. The procedure is there as soon as
// its passes can be put in order, whatever is said against how they end.
func Draft(file string, text []byte) (*spec.Procedure, Problems) {
	r := newReader(file, text)
	p := r.read()
	if !r.sound {
		p = nil
	}
	return p, r.listed()
}

func (r *reader) readAll() (*spec.Procedure, Problems) {
	p := r.read()
	problems := r.listed()
	if len(problems.Errors()) > 0 {
		return nil, problems
	}
	return p, problems
}

// listed gives the problems found, in file order, and counts those left out.
func (r *reader) listed() Problems {
	if r.dropped > 0 {
		r.problems = append(r.problems, Problem{r.file, 1, 1, fmt.Sprintf("%d more problems are not listed", r.dropped), "mend these first", false})
		r.dropped = 0
	}
	return slices.Compact(r.problems.sorted()) // a check of several names has its problems with each
}

// document reads the text as TOML of format 1, whatever it is about.
func (r *reader) document() (top table, ok bool) {
	if !r.readable() {
		return table{}, false
	}
	root, faults := r.decode()
	for _, f := range faults {
		r.add(f.at, false, f.what, f.remedy)
	}
	if len(faults) > 0 {
		return table{}, false // what follows a syntax error would only be guesses
	}
	top = r.tableOf(root, "the file")
	r.format(top)
	return top, true
}

func (r *reader) read() *spec.Procedure {
	top, ok := r.document()
	if !ok {
		return nil
	}
	var binders []*binder
	ways := r.ways(top)
	for _, way := range ways {
		b := &binder{reader: r, way: way, p: &spec.Procedure{File: r.file, Text: r.given}, at: map[any]int{}, groupByID: map[string]*spec.Group{}, unsaid: map[*spec.Group]unsaid{}, unread: map[string]bool{}, capless: map[*spec.Group]bool{}}
		b.bind(top)
		binders = append(binders, b)
	}
	top.rest()
	if r.sound = len(r.problems.Errors()) == 0; r.sound {
		for _, b := range binders {
			b.judge()
		}
		unusedOrders(binders)
	}
	if len(binders) > 1 {
		binders[0].p.Other = binders[1].p
	}
	return binders[0].p
}

// bind builds the procedure of one direction.
func (b *binder) bind(top table) {
	b.procedure(top)
	top.n.asked["part"] = true // and no misspelt pass
	if b.partsOnly = top.has("part") && !top.has("group") && !top.has("pass") && !top.misspelt("group") && !top.misspelt("pass"); b.partsOnly {
		b.p.Passes = []*spec.Pass{{Name: spec.PartsPass, Steps: []spec.Step{{}}}}
	} else {
		b.groups(top)
		b.orders(top)
		b.passes(top)
	}
	b.checks(top)
	b.parts(top)
	b.callouts(top)
	b.shims()
	b.about()
	b.clashes()
	b.sealant(top)
	b.heats()
	b.cover(top)
}

// readable refuses what is no text file at all.
func (r *reader) readable() bool {
	switch {
	case len(r.text) > MaxFileBytes:
		r.text, r.lines = nil, []int{0}
		r.wrong(0, "split it: one joint a file", "the file is larger than 1 MiB")
	case len(bytes.TrimSpace(r.text)) == 0:
		r.wrong(0, "start from: evenpull new FILE", "the file is empty")
	case bytes.IndexByte(r.text, 0) >= 0:
		r.add(bytes.IndexByte(r.text, 0), false, "the file is not text: it holds a zero byte", "give a TOML text file")
	case !utf8.Valid(r.text):
		r.add(firstInvalid(r.text), false, "the file is not UTF-8 here", "save the file as UTF-8")
	default:
		return true
	}
	return false
}

func firstInvalid(text []byte) int {
	for i := 0; i < len(text); {
		c, size := utf8.DecodeRune(text[i:])
		if c == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return len(text)
}

func (r *reader) format(top table) {
	v := top.get("format", integerKind, "1")
	switch {
	case v == nil && !top.has("format"):
		r.wrong(0, "write format = 1 as the first line", "the file does not say which format it is in")
	case v != nil && v.number != 1:
		r.wrong(v.at, "write format = 1", "format %s is not known here", v.text)
	}
}

// binder builds the procedure and remembers where each piece of it stood.
type binder struct {
	*reader
	way       spec.Direction // of a file that goes both ways, the one that is read now; else empty
	p         *spec.Procedure
	at        map[any]int // *Group, *Fastener, *Pass, *Check, *Cover, *Sealant, keyAt, stepAt, figureAt → mark
	byID      map[string]*spec.Fastener
	groupByID map[string]*spec.Group
	stages    int            // of the passes read so far
	ids       map[string]int // of checks, parts and callouts → mark
	lastOf    map[string]int // words → the last number put behind them to make an id
	partsOnly bool           // no fasteners and no passes: a cluster, a clutch, a pump
	named     map[string]*namedOrder
	heated    []heated
	capless   map[*spec.Group]bool // groups whose caps are wrong
	shimParts []shimPart
	abouts    []about
	unsaid    map[*spec.Group]unsaid
	unread    map[string]bool // groups of which there is nothing but an error
	nameless  bool            // a pass has no name: what names passes may mean it
}

// unsaid is what a group would have given but for an error that is reported.
type unsaid struct{ strength, torque bool }

// section opens a [name] table, or reports that it is missing.
func (b *binder) section(top table, name string, required bool) (table, bool) {
	n := top.get(name, tableKind, "["+name+"]")
	if n == nil {
		if required && !top.has(name) && !top.misspelt(name) {
			b.wrong(0, "add a ["+name+"] table", "there is no [%s]", name)
		}
		return table{}, false
	}
	return b.tableOf(n, "["+name+"]"), true
}

func (b *binder) procedure(top table) {
	t, ok := b.section(top, "procedure", true)
	if !ok {
		return
	}
	b.p.Name = t.must("name", "Close the crankcase")
	b.p.Engine = t.str("engine", "Osier 380")
	if t.must("direction", "close") != "" {
		b.p.Direction = spec.Direction(t.choice("direction", []string{"close", "open", "both"}))
	}
	b.names(t)
	b.p.Source = t.str("source", "sheet 12")
	b.p.Cautions = t.texts("cautions", "Support the case.")
	t.rest()
}

func (b *binder) sealant(top table) {
	if b.way == spec.Open {
		return // it is for closing
	}
	t, ok := b.section(top, "sealant", false)
	if !ok {
		return
	}
	s := &spec.Sealant{Name: t.must("name", "anaerobic flange sealant")}
	s.WorkTime = t.duration("work_time", "20m")
	s.CureTime = t.duration("cure_time", "12h")
	if !t.has("work_time") {
		t.wrong(t.n.at, `add work_time = "20m"`, "[sealant] has no work_time")
	}
	s.Before = b.passNamed(t, "before")
	b.at[s] = t.at("work_time")
	t.rest()
	if s.Before == nil {
		s.Before = b.firstTightening()
	}
	if s.Before == nil && len(b.p.Passes) > 0 {
		t.wrong(t.n.at, "leave [sealant] out", "[sealant]: no pass tightens anything, so nothing is sealed")
	}
	b.p.Sealant = s
}

func (b *binder) firstTightening() *spec.Pass {
	for _, pass := range b.p.Passes {
		if len(pass.Steps) > 0 && pass.Tightens() {
			return pass
		}
	}
	return nil
}

func (t table) torqueSpan(v *node, key string) (spec.TorqueSpan, bool) {
	span, err := figure(t.reader, v.text, quantity.ParseTorqueSpan)
	if err != nil {
		t.unreadable(v, key, err)
		return span, false
	}
	return span, true
}
