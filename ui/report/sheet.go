// Package report prints a recorded walk: as text, as one HTML file, as CSV and
// as JSON, and two records beside each other.
//
// Everything is drawn from one Sheet, so no two of them can disagree, and the
// Sheet is drawn from the replayed walk, never from what a record claims. Its
// JSON is the contract of `show --json` and `export --format json`: fields are
// added, never renamed. Nothing here opens files or asks for the time.
package report

import "time"

// Sheet is a record as a page. Text in it is printable: control and
// formatting characters have been replaced.
type Sheet struct {
	ID          string     `json:"id"`
	Procedure   string     `json:"procedure"`
	Engine      string     `json:"engine"`          // the tag the person gave
	Place       string     `json:"place,omitempty"` // which of two of a kind on the engine
	State       string     `json:"state"`           // open, done or stopped
	Outstanding []string   `json:"outstanding"`
	Fasteners   []Fastener `json:"fasteners"` // in file order
	Checks      []Check    `json:"checks"`
	Parts       []Part     `json:"parts"`
	Found       []Found    `json:"found,omitempty"`  // how things were found
	Faults      []Fault    `json:"faults,omitempty"` // found wrong on the way apart, or asked about on the way together
	Chain       string     `json:"chain"`            // whole or broken

	ChainNote    string      `json:"chain_note,omitempty"` // where and how it is broken
	Direction    string      `json:"direction"`            // close or open
	BuiltFor     string      `json:"built_for"`            // the engine the procedure is written for
	FigureSource string      `json:"figure_source"`        // empty: unsourced
	Source       string      `json:"source"`               // file or bundled name
	SHA256       string      `json:"procedure_sha256"`
	Program      string      `json:"program"`
	Started      time.Time   `json:"started"`
	Last         *time.Time  `json:"last"`     // the last event
	Finished     *time.Time  `json:"finished"` // done or stopped
	Stages       Count       `json:"stages"`
	Passes       []Pass      `json:"passes"`
	Groups       []Group     `json:"groups"`
	Waits        []Step      `json:"waits"`
	Callouts     []Step      `json:"callouts"`
	Sealant      *Sealant    `json:"sealant"`
	Cautions     []string    `json:"cautions"`
	Renewals     []Renewal   `json:"renewals"`
	Deviations   []Deviation `json:"deviations"`
	Refused      []Refused   `json:"refused_dones"`
	Timeline     []Entry     `json:"timeline"`
	Findings     []Finding   `json:"findings"`
	Photos       []Photo     `json:"photos,omitempty"`
	Notes        []string    `json:"notes"`      // what the reader of the file has to say: a torn tail …
	FromPaper    bool        `json:"from_paper"` // something was ticked on a work card and entered afterwards
	PaperNote    string      `json:"from_paper_note,omitempty"`
	ClosingHash  string      `json:"closing_hash"` // SHA-256 of the last line
	ClosingNote  string      `json:"closing_hash_shows"`
}

// Count is how far something is.
type Count struct {
	Confirmed int `json:"confirmed"`
	Of        int `json:"of"`
}

// Fastener is one bolt, nut or stud. Renewed says that something of it has to
// be new (Pieces lists what) and that all of it is recorded as renewed.
type Fastener struct {
	ID      string  `json:"id"`
	Renewed bool    `json:"renewed"`
	Stages  []Stage `json:"stages"`
	Group   string  `json:"group"`
	X       float64 `json:"x"` // mm, right
	Y       float64 `json:"y"` // mm, up
	Hollow  bool    `json:"hollow"`
	Pieces  []Piece `json:"pieces"`
}

// Stage is a fastener in one step of one pass.
type Stage struct {
	Pass      string     `json:"pass"`
	Confirmed bool       `json:"confirmed"`
	At        *time.Time `json:"at"` // null until confirmed, and where FromPaper
	FromPaper bool       `json:"from_paper"`
	Entered   *time.Time `json:"entered,omitempty"` // when it was entered from paper
	Reading   string     `json:"reading"`           // as read, with its unit; empty: none was taken
	Number    int        `json:"number"`            // place in the plan, from 1
	Step      int        `json:"step"`              // from 1, of the pass's steps
	Action    string     `json:"action"`
	Target    string     `json:"target"`
	Figure    string     `json:"figure"` // the target in short: "90°", "back 90°", "out"
	Percent   string     `json:"percent,omitempty"`
	Window    *Window    `json:"window"` // null where no reading applies
	Wrench    string     `json:"wrench,omitempty"`
	Source    string     `json:"source"` // of the figure; empty: unsourced
	Refused   []Reading  `json:"refused"`
}

// Window is the range a reading had to lie in.
type Window struct {
	Text  string   `json:"text"`
	Low   float64  `json:"low"`
	High  *float64 `json:"high"` // null: no upper limit
	Unit  string   `json:"unit"` // N·m, ° or mm
	Basis string   `json:"basis"`
}

// Reading is one that was refused, and why.
type Reading struct {
	At      time.Time `json:"at"`
	Reading string    `json:"reading"`
	Why     string    `json:"why"`
}

// Piece is what must be new before done.
type Piece struct {
	Name    string     `json:"name"`
	Count   int        `json:"count"`
	Renewed bool       `json:"renewed"`
	Number  string     `json:"number"` // part or batch number
	At      *time.Time `json:"at"`     // null where it was entered from paper
	Late    bool       `json:"late"`   // recorded only after a stage was confirmed
	Why     string     `json:"why"`
}

// Check is a question or a measurement.
type Check struct {
	ID        string     `json:"id"`
	Ask       string     `json:"ask,omitempty"`
	Measure   string     `json:"measure,omitempty"`
	Confirmed bool       `json:"confirmed"`
	Answer    string     `json:"answer"`
	Reading   string     `json:"reading"`
	At        *time.Time `json:"at"` // null until confirmed, and where FromPaper
	FromPaper bool       `json:"from_paper"`
	Limits    string     `json:"limits,omitempty"`
	Fault     string     `json:"fault,omitempty"` // what was found wrong, on the way apart
	When      string     `json:"when"`            // "before Draw down"
	Refused   []Reading  `json:"refused"`
}

// Fault is a finding: what was found wrong on the way apart, and on the way
// together what was done about it.
type Fault struct {
	ID       string     `json:"id"` // of the check
	What     string     `json:"what"`
	Found    string     `json:"found"`
	Where    string     `json:"where,omitempty"`
	Inside   bool       `json:"inside,omitempty"` // something that may be in the engine
	Reading  string     `json:"reading,omitempty"`
	Limits   string     `json:"limits,omitempty"`
	FoundAt  *time.Time `json:"found_at"`
	Record   string     `json:"record"`   // where it was found
	Answer   string     `json:"answer"`   // empty: not answered in this walk
	Answered *time.Time `json:"answered"` // null where it is not
}

// Part had to be accounted for.
type Part struct {
	ID        string            `json:"id"`
	Name      string            `json:"name"`
	Kind      string            `json:"kind"`
	Count     int               `json:"count"`
	OneUse    bool              `json:"one_use"`
	Confirmed bool              `json:"confirmed"`
	Renewed   bool              `json:"renewed"`
	Number    string            `json:"number"`
	At        *time.Time        `json:"at"` // null until confirmed, and where FromPaper
	FromPaper bool              `json:"from_paper"`
	Facts     map[string]string `json:"facts,omitempty"` // condition, box …
	OnNoSheet bool              `json:"on_no_sheet,omitempty"`
}

// Found is how a fastener, a part or one of several was found.
type Found struct {
	Of        string `json:"of"`
	Text      string `json:"text"`
	Measured  string `json:"measured,omitempty"` // the figure in it
	Condemned bool   `json:"condemned"`
	OnNoSheet bool   `json:"on_no_sheet,omitempty"`
}

// Pass is one round, with its figure for each group in it.
type Pass struct {
	Name    string   `json:"name"`
	Because string   `json:"because,omitempty"`
	Caution string   `json:"caution,omitempty"`
	Wait    string   `json:"wait,omitempty"` // the pass is only a time to let go by
	Figures []Figure `json:"figures"`
	Stages  Count    `json:"stages"`
}

// Figure is what a pass asks of the fasteners of one group.
type Figure struct {
	Group  string `json:"group"`
	Text   string `json:"text"`
	Source string `json:"source"` // empty: unsourced
}

// Group is a set of like fasteners.
type Group struct {
	ID      string `json:"id"`
	Title   string `json:"title"`
	Text    string `json:"text"` // thread, class, and what is special about it
	OneUse  bool   `json:"one_use"`
	Hollow  bool   `json:"hollow"`
	Caution string `json:"caution,omitempty"`
	Source  string `json:"source"`
}

// Step is a wait or something to have ready.
type Step struct {
	Text      string     `json:"text"`
	Confirmed bool       `json:"confirmed"`
	At        *time.Time `json:"at"`
}

// Sealant is the clock of a sealed joint.
type Sealant struct {
	Name     string     `json:"name"`
	WorkTime string     `json:"work_time"`
	Smeared  *time.Time `json:"smeared"`
	Cured    *time.Time `json:"cured"`      // null until the last stage is confirmed
	Paper    bool       `json:"from_paper"` // smeared by the card: Cured counts from entering
}

// Renewal is a new piece put in. Stands is false when it was taken back or
// used up since.
type Renewal struct {
	Seq    int       `json:"seq"`
	At     time.Time `json:"at"`
	Of     string    `json:"of"` // fastener's id or part's name
	Piece  string    `json:"piece"`
	Number string    `json:"number"`
	Late   bool      `json:"late"`
	Stands bool      `json:"stands"`
	Why    string    `json:"why,omitempty"` // why a new one was needed
	Paper  bool      `json:"from_paper"`    // At is when it was entered
}

// Deviation is something that went other than straight.
type Deviation struct {
	Seq  int       `json:"seq"`
	At   time.Time `json:"at"`
	Text string    `json:"text"`
}

// Refused is a done that was asked for and not earned.
type Refused struct {
	Seq         int       `json:"seq"`
	At          time.Time `json:"at"`
	Outstanding []string  `json:"outstanding"`
}

// Entry is one event in words. Counts is false for one that was not earned.
type Entry struct {
	Seq    int       `json:"seq"`
	At     time.Time `json:"at"`
	Kind   string    `json:"kind"`
	Text   string    `json:"text"`
	Counts bool      `json:"counts"`
	Paper  bool      `json:"from_paper"` // At is when it was entered
}

// Finding is a recorded event that was not earned where it stands.
type Finding struct {
	Seq  int    `json:"seq"`
	Kind string `json:"kind"`
	What string `json:"what"`
}
