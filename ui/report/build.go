package report

import (
	"math"
	"time"

	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
	"evenpull/ui/words"
)

// Input is a recorded walk as it was read and replayed.
type Input struct {
	ID      string
	Engine  string // the tag
	Place   string // which of two of a kind on it; mostly empty
	Source  string // file or bundled name of the procedure
	SHA256  string // of the procedure's text
	Program string
	Closing string // hash of the record's last line
	Started time.Time
	// Whole says that the file was checked and every line follows from the one
	// before. The zero value is a record nobody may rely on.
	Whole    bool
	Broken   string // where and how, when it is not whole
	State    *walk.State
	Findings []walk.Finding
	Notes    []string  // a torn tail, a header that doesn't fit …
	Now      time.Time // for waits still running
	// Picture gives the bytes of a picture that the walk names; nil: nobody looks.
	Picture func(walk.Photo) ([]byte, error)
}

// New makes the sheet of a record. A done in a record that is not whole is not
// believed: its state is open, and what is wrong is outstanding.
func New(in Input) Sheet {
	b := &builder{in: in, s: in.State, proc: in.State.Plan.Procedure}
	b.head()
	b.gather()
	b.ending()
	b.passes()
	b.groups()
	b.fasteners()
	b.agenda()
	b.found()
	b.sealant()
	b.sheet.Renewals = b.renewals()
	b.happened()
	b.photos()
	return b.sheet
}

type builder struct {
	in      Input
	s       *walk.State
	proc    *spec.Procedure
	sheet   Sheet
	refused map[string][]Reading // by item
	pieces  map[ident.Thing][]Piece
	unearn  map[int]*walk.Refusal // by event number
	onPaper map[time.Time]bool    // when something was entered from a work card
}

func (b *builder) head() {
	p := b.proc
	b.sheet = Sheet{
		ID: clean(b.in.ID), Procedure: clean(p.Name), Engine: clean(b.in.Engine), Place: clean(b.in.Place), Direction: string(p.Direction), BuiltFor: clean(p.Engine),
		FigureSource: clean(p.Source), Source: clean(b.in.Source), SHA256: clean(b.in.SHA256), Program: clean(b.in.Program), Started: b.in.Started,
		Chain: "broken", ChainNote: clean(b.in.Broken), Cautions: cleanAll(p.Cautions), Notes: cleanAll(b.in.Notes),
		ClosingHash: clean(b.in.Closing), ClosingNote: ClosingShows,
	}
	if b.in.Whole {
		b.sheet.Chain, b.sheet.ChainNote = "whole", ""
	}
}

// gather sorts events and pieces by what they belong to, once.
func (b *builder) gather() {
	b.refused, b.pieces, b.unearn = map[string][]Reading{}, map[ident.Thing][]Piece{}, map[int]*walk.Refusal{}
	for _, f := range b.in.Findings {
		b.unearn[f.Event.Seq] = f.Refusal
	}
	b.onPaper = map[time.Time]bool{}
	for _, e := range b.s.Events {
		if walk.FromPaper(e.Facts) && b.unearn[e.Seq] == nil {
			b.onPaper[e.At] = true
			b.sheet.FromPaper, b.sheet.PaperNote = true, PaperSays
		}
		if e.Kind == walk.Rejected && b.unearn[e.Seq] == nil {
			b.refused[e.Item] = append(b.refused[e.Item], Reading{e.At, clean(e.Reading), clean(e.Text)})
		}
	}
	for _, p := range b.s.Pieces() {
		owner := b.s.Owner(p)
		piece := Piece{Name: clean(p.Text()), Count: p.Count, Renewed: p.Renewed, Number: clean(p.Number), Late: p.Late, Why: clean(p.Why)}
		if p.Renewed && !b.onPaper[p.At] {
			piece.At = moment(p.At)
		}
		b.pieces[owner] = append(b.pieces[owner], piece)
	}
}

func (b *builder) ending() {
	s := &b.sheet
	s.State, s.Outstanding = string(b.s.Phase), cleanAll(b.s.Outstanding(b.in.Now))
	if b.s.Phase == walk.IsDone && s.Chain != "whole" {
		s.State = string(walk.IsOpen)
		s.Outstanding = append(s.Outstanding, "record: its chain is broken, so its done is not believed")
	}
	if n := len(b.s.Events); n > 0 {
		s.Last = moment(b.s.Events[n-1].At)
	}
	for _, e := range b.s.Events {
		if (e.Kind == walk.Done || e.Kind == walk.Stopped) && b.unearn[e.Seq] == nil {
			s.Finished = moment(e.At)
		}
	}
}

func (b *builder) fasteners() {
	b.sheet.Fasteners = make([]Fastener, len(b.proc.Fasteners))
	for i, f := range b.proc.Fasteners {
		out := Fastener{ID: clean(f.ID), Group: clean(f.Group.ID), X: f.X, Y: f.Y, Hollow: f.Group.Hollow(), Stages: []Stage{}, Pieces: []Piece{}}
		out.Pieces = append(out.Pieces, b.pieces[ident.Fastener(f.ID, f.Group.Thread.Name)]...)
		out.Renewed = len(out.Pieces) > 0
		for _, p := range out.Pieces {
			out.Renewed = out.Renewed && p.Renewed
		}
		for _, at := range b.s.StagesOf(f.ID) {
			out.Stages = append(out.Stages, b.stage(at))
		}
		b.sheet.Fasteners[i] = out
	}
}

func (b *builder) stage(at int) Stage {
	st, m := b.s.Items[at].Stage, b.s.Mark(at)
	out := Stage{
		Pass: clean(st.Pass.Name), Confirmed: m.Closed, Number: st.Number, Step: st.Step + 1, Action: string(st.Action), Target: clean(st.TargetText()), Figure: clean(shortFigure(st)),
		Percent: clean(st.Target.Percent), Window: windowOf(st), Source: clean(b.proc.SourceOf(st.Pass, st.Fastener.Group)), Refused: b.readings(st.Key().String()),
	}
	if m.Closed {
		out.At, out.Reading, out.Wrench = closedAt(m), clean(m.Reading), clean(m.Facts["wrench"])
		if out.FromPaper = walk.FromPaper(m.Facts); out.FromPaper {
			out.Entered = moment(m.At)
		}
	}
	return out
}

func (b *builder) readings(key string) []Reading {
	return append([]Reading{}, b.refused[key]...)
}

func windowOf(st *plan.Stage) *Window {
	w := walk.WindowOf(st)
	low, high := w.Limits()
	if low == 0 && high == 0 {
		return nil // removed, loosened to nothing: nothing to read
	}
	unit := map[spec.Action]string{spec.Turn: "°", spec.Loosen: "°", spec.Stretch: "mm"}[st.Action]
	if unit == "" {
		unit = "N·m"
	}
	out := &Window{Text: w.Text(), Low: tidy(low), Unit: unit, Basis: w.Basis}
	if high > 0 {
		high = tidy(high)
		out.High = &high
	}
	return out
}

// tidy leaves a converted figure nine decimals: 39.047509134, not 39.04750913394867.
func tidy(x float64) float64 { return math.Round(x*1e9) / 1e9 }

// agenda fills in what is no stage of a fastener.
func (b *builder) agenda() {
	s := &b.sheet
	for _, f := range b.s.Faults() {
		f.Record = b.in.ID
		s.Faults = append(s.Faults, faultOf(f))
	}
	s.Checks, s.Parts, s.Waits, s.Callouts = []Check{}, []Part{}, []Step{}, []Step{}
	for i, it := range b.s.Items {
		m := b.s.Mark(i)
		switch it.Kind {
		case walk.AskItem, walk.MeasureItem:
			s.Checks = append(s.Checks, b.check(it, m))
		case walk.PartItem:
			s.Parts = append(s.Parts, b.part(it, m))
		case walk.FaultItem:
			f := faultOf(*it.Fault)
			if m.Closed {
				f.Answer, f.Answered = clean(walk.AnswerText(m.Facts, m.Reading, b.textOf(m.Seq))), closedAt(m)
			}
			s.Faults = append(s.Faults, f)
		case walk.WaitItem:
			s.Waits = append(s.Waits, Step{clean(it.Text()), m.Closed, closedAt(m)})
		case walk.CalloutItem:
			s.Callouts = append(s.Callouts, Step{clean(it.Callout.Text()), m.Closed, closedAt(m)})
		}
	}
}

func (b *builder) check(it walk.Item, m walk.Mark) Check {
	c := it.Check
	out := Check{ID: c.ID, Ask: clean(c.Ask), Measure: clean(c.Measure), Confirmed: m.Closed, Answer: m.Answer, Reading: clean(m.Reading), At: closedAt(m), FromPaper: m.Closed && walk.FromPaper(m.Facts), Limits: words.Limits(c), Fault: clean(m.Fault), Refused: b.readings(it.Key().String())}
	if c.Before != nil {
		out.When = "before " + clean(c.Before.Name)
	} else if c.After != nil {
		out.When = "after " + clean(c.After.Name)
	}
	return out
}

func faultOf(f walk.Fault) Fault {
	out := Fault{ID: clean(f.ID), What: clean(f.What), Found: clean(f.Found), Where: clean(f.Where), Inside: f.Inside, Reading: clean(f.Reading), Record: clean(f.Record), FoundAt: moment(f.At)}
	if f.Measured() {
		out.Limits = clean(f.Limits())
	}
	return out
}

// textOf is what was said with an event.
func (b *builder) textOf(seq int) string {
	if seq < 1 || seq > len(b.s.Events) {
		return ""
	}
	return b.s.Events[seq-1].Text
}

func (b *builder) part(it walk.Item, m walk.Mark) Part {
	p := it.Part
	out := Part{ID: p.ID, Name: clean(p.Name), Kind: p.Kind, Count: p.Count, OneUse: p.OneUse, Confirmed: m.Closed, Number: clean(p.Number), At: closedAt(m), FromPaper: m.Closed && walk.FromPaper(m.Facts)}
	for _, piece := range b.pieces[it.Thing()] {
		out.Renewed, out.Number = piece.Renewed, piece.Number
	}
	out.OnNoSheet = it.Unforeseen
	for k, v := range m.Facts {
		if out.Facts == nil {
			out.Facts = map[string]string{}
		}
		if k != walk.Paper {
			out.Facts[clean(k)] = clean(v)
		}
	}
	return out
}

func (b *builder) sealant() {
	seal := b.proc.Sealant
	i, ok := b.s.Find(ident.SmearStep().String())
	if seal == nil || !ok {
		return
	}
	b.sheet.Sealant = &Sealant{Name: clean(seal.Name), WorkTime: spec.Span(seal.WorkTime), Smeared: closedAt(b.s.Mark(i)), Paper: walk.FromPaper(b.s.Mark(i).Facts)}
	if at, ok := b.s.CuredAt(); ok {
		b.sheet.Sealant.Cured = moment(at)
	}
}

// closedAt is when it was done: nil when it is not, or when only the time of
// entering it from paper is known.
func closedAt(m walk.Mark) *time.Time {
	if !m.Closed || walk.FromPaper(m.Facts) {
		return nil
	}
	return moment(m.At)
}

func moment(t time.Time) *time.Time { return &t }
