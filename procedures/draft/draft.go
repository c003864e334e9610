// Package draft is a procedure file being written by somebody who answers
// questions: which there are, in what order, what stands there, what is wrong
// with an answer, and the file that comes of it.
//
// A Draft is the text of the file and nothing else that lasts. An answer
// changes the text where it belongs, so what nobody asks about, comments and
// keys that are not known here, stays as it was. Nothing here reads files,
// keys or clocks; screens and lines of text show the same questions.
package draft

import (
	"maps"
	"slices"

	"evenpull/procedures/plan"
	"evenpull/spec"
	"evenpull/spec/read"
	"evenpull/spec/sheet"
)

// Draft is a sheet as answered so far. It does not change; each answer gives a new one.
type Draft struct {
	file      string
	text      *sheet.Sheet
	procedure *spec.Procedure // nil while its passes cannot be put in order
	problems  read.Problems
	plans     []*plan.Plan // of each direction there is

	shape string          // of the passes that are asked for now
	fresh []string        // names of the passes just made, whose order comes next
	more  map[string]bool // things that are asked about in full

	asked []Question // kept once an answer has been taken; nil: not known
}

// blank is where a new sheet begins.
const blank = `# Written by answering questions: evenpull new FILE --ask
# The same command opens it again. An editor does as well: what is not asked for stays.
# Every figure comes from the source named here; the engine's own manual governs.

format = 1

[procedure]
`

// New is a sheet in which nothing is answered yet. file is only a name for messages.
func New(file string) Draft {
	d, err := Open(file, []byte(blank))
	if err != nil {
		panic(err) // held by a test
	}
	return d
}

// Open begins with a sheet that is there. An error says why it cannot be asked about:
// it is not TOML, or of another format.
func Open(file string, text []byte) (Draft, error) {
	s, err := sheet.Read(text)
	p, problems := read.Draft(file, text)
	if err != nil || unreadableFile(problems, s) {
		return Draft{}, problems.Errors()
	}
	return derive(Draft{file: file, text: s}, p, problems), nil
}

// unreadableFile reports whether a file has no questions to ask about it: format is wrong,
// or something stands where a table should.
func unreadableFile(problems read.Problems, s *sheet.Sheet) bool {
	if len(problems.Errors()) == 0 {
		return false
	}
	if v, _ := s.Value(sheet.At("format")).(int64); v != 1 {
		return true
	}
	for _, name := range []string{"procedure", "group", "sealant"} {
		if at := sheet.At(name); s.Has(at) && !s.IsTable(at) {
			return true
		}
	}
	return false
}

func derive(d Draft, p *spec.Procedure, problems read.Problems) Draft {
	d.procedure, d.problems, d.plans = p, problems, nil
	for ; p != nil; p = p.Other {
		d.plans = append(d.plans, plan.Of(p))
	}
	return d
}

// with is the draft with another text.
func (d Draft) with(s *sheet.Sheet) Draft {
	if s == d.text {
		return d
	}
	d.text, d.asked = s, nil
	p, problems := read.Draft(d.file, s.Bytes())
	return derive(d, p, problems)
}

func (d Draft) asking(thing string, more bool) Draft {
	d.more, d.asked = maps.Clone(d.more), nil
	if d.more == nil {
		d.more = map[string]bool{}
	}
	d.more[thing] = more
	return d
}

// Text is the file as it stands.
func (d Draft) Text() []byte { return d.text.Bytes() }

// Procedure is what has been answered as a procedure, or nil while its passes cannot be
// put in order yet.
func (d Draft) Procedure() *spec.Procedure { return d.procedure }

// Ready reports whether the sheet can be walked.
func (d Draft) Ready() bool { return len(d.problems.Errors()) == 0 }

// Problems are what keeps the sheet from being walked, and warnings.
func (d Draft) Problems() read.Problems { return d.problems }

// groups are the ids of the groups, in file order.
func (d Draft) groups() []string { return d.text.Keys(sheet.At("group")) }

// str is the text that stands at a path.
func (d Draft) str(parts ...any) string {
	text, _ := d.text.String(sheet.At(parts...))
	return text
}

// passNames are the names of the passes, in file order.
func (d Draft) passNames() []string {
	var names []string
	for i := range d.text.Len(sheet.At("pass")) {
		names = append(names, d.str("pass", i, "name"))
	}
	return names
}

// Opens reports whether the sheet takes apart.
func (d Draft) Opens() bool { return d.str("procedure", "direction") == string(spec.Open) }

func (d Draft) bothWays() bool { return d.str("procedure", "direction") == string(spec.Both) }

// Bolt is a bolt of the joint for a drawing.
type Bolt struct {
	ID     string
	Group  string
	X, Y   float64
	Hollow bool
}

// Bolts are all that have a place, in file order.
func (d Draft) Bolts() []Bolt {
	var list []Bolt
	for _, g := range d.groups() {
		at := sheet.At("group", g, "at")
		bore := d.str("group", g, "bore")
		mm, _ := millimetres(bore)
		for _, id := range d.text.Keys(at) {
			if xy, ok := d.text.Value(sheet.At(at, id)).([]any); ok && len(xy) == 2 {
				list = append(list, Bolt{ID: id, Group: g, X: float(xy[0]), Y: float(xy[1]), Hollow: bore != "" && mm > 0})
			}
		}
	}
	return list
}

func float(v any) float64 {
	switch v := v.(type) {
	case int64:
		return float64(v)
	case float64:
		return v
	}
	return 0
}

// Row is the order of one pass: its bolts, or none for a time to wait.
type Row struct {
	Pass  string
	Bolts []string
	Why   []string // of each
}

// Rows are the passes as the file has them, each with its bolts as they will be asked for.
func (d Draft) Rows() []Row {
	of := map[string]*Row{}
	for _, order := range d.plans {
		for _, s := range order.Stages {
			row := of[s.Pass.Name]
			if row == nil {
				row = &Row{Pass: s.Pass.Name}
				of[s.Pass.Name] = row
			}
			if s.Fastener != nil && !slices.Contains(row.Bolts, s.Fastener.ID) {
				row.Bolts, row.Why = append(row.Bolts, s.Fastener.ID), append(row.Why, s.Why())
			}
		}
	}
	var rows []Row
	for _, name := range d.passNames() {
		if row := of[name]; row != nil {
			rows = append(rows, *row)
		}
	}
	return rows
}
