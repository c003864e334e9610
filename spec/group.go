package spec

import (
	"evenpull/spec/bolt"
	"evenpull/spec/quantity"
)

// Group is a set of like fasteners.
type Group struct {
	ID         string
	Title      string
	Thread     bolt.Thread
	Class      bolt.Class
	HasClass   bool
	Nut        bolt.Nut // its class; zero: not given
	LeftHand   bool
	Friction   Friction
	Into       string
	WireInsert bool   // the hole has a wire thread insert, as long as the engagement
	Light      string // why the figure is light on purpose: a key, or known by its words
	Engagement quantity.Length
	Grip       quantity.Length
	Clamps     string           // what lies under the head, for turns and for heat
	Shank      *quantity.Length // plain shank within the grip, waist and all; nil: not given
	Waist      Waist
	CrossHole  quantity.Length // radial oil hole; 0: none
	Bore       quantity.Length
	Drive      string
	Torque     *TorqueSpan // the sheet's final figure, if it gives one
	OneUse     bool
	With       []Piece
	Prep       string // thread preparation, as the sheet words it
	PrepEach   bool   // the sheet wants it confirmed at every fastener
	Caution    string
	Number     string // part number of the fastener
	Source     string
	LookFor    []string // what to look for on one that has come off
	Condemn    []string // what condemns it
	ProofLoadN float64  // proof stress × (stress area − bore area); 0 without a class
	Members    []*Fastener
	Caps       []*Cap // which of them hold one cap together
}

// Cap is a bearing cap, or anything else that several bolts of a group hold together.
type Cap struct {
	Name    string
	Members []*Fastener // in the order the sheet names them
}

// Hollow reports whether the group's bolts are bored through for oil.
func (g *Group) Hollow() bool { return !g.Bore.IsZero() }

// Friction is the state of the threads: a word of the trade or a coefficient.
type Friction struct {
	Word        string  // dry, oiled, moly, threadlock; empty if a number was given
	Coefficient float64 // 0.04 to 0.5; 0 if a word was given
}

// Waist is where a bolt is turned down.
type Waist struct {
	Diameter quantity.Length // 0: none
	Length   quantity.Length // 0: the whole shank
}

// Piece goes on with each fastener of a group.
type Piece struct {
	Part   string
	Count  int
	OneUse bool
	Number string // part number
}

// Fastener is one bolt, nut or stud, at its place on the joint face in mm:
// x right, y up, as seen at the stand.
type Fastener struct {
	ID    string
	Group *Group
	X, Y  float64
	Index int  // in Procedure.Fasteners
	Cap   *Cap // nil: it holds none together with others
}

// SameStrength reports whether two groups belong in one block: proof loads equal
// to within a newton, or, where no class is given, the same thread and bore.
func SameStrength(a, b *Group) bool {
	if a == b {
		return true
	}
	if a.ProofLoadN == 0 || b.ProofLoadN == 0 {
		return a.ProofLoadN == b.ProofLoadN && a.Thread.DiameterMM == b.Thread.DiameterMM && a.Thread.PitchMM == b.Thread.PitchMM && a.Bore.Cmp(b.Bore) == 0
	}
	d := a.ProofLoadN - b.ProofLoadN
	return d < 1 && d > -1
}
