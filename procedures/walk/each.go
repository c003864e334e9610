package walk

import (
	"fmt"
	"slices"
	"strings"

	"evenpull/spec"
	"evenpull/spec/ident"
)

// OfPiece, as a fact that is given with a command, says which of several it is
// about; the event keeps it as its piece.
const OfPiece = "piece"

// longestPiece is how many characters may tell one of several from the others.
const longestPiece = 40

// PieceFound is how one of several of a part came off: the third shim, the inlet cam.
type PieceFound struct {
	Piece string `json:"piece"`
	Facts Facts  `json:"facts"`
}

// Text gives it in one line: "3: worn, 2.45 mm".
func (p PieceFound) Text() string { return p.Piece + ": " + p.Facts.Text() }

// PiecesFound is what was said of the single ones of a part, in the order it was said.
func (s *State) PiecesFound(t ident.Thing) []PieceFound { return s.each[t] }

// judgePiece: single ones are told apart where there are several, and no more of
// them than there are.
func (s *State) judgePiece(t ident.Thing, e Event) *Refusal {
	part := s.Part(t.ID)
	said := s.each[t]
	known := slices.ContainsFunc(said, func(p PieceFound) bool { return strings.EqualFold(p.Piece, e.Piece) })
	switch {
	case s.rules < findRules:
		return unknown(strings.TrimSpace(t.ID + " " + e.Piece))
	case t.IsFastener() || part == nil || part.Count < 2:
		return &Refusal{What: fmt.Sprintf("there is one %s only", t.ID), Remedy: "leave out which of several it is"}
	case len([]rune(e.Piece)) > longestPiece:
		return &Refusal{What: "the words for which one it is are too long", Remedy: fmt.Sprintf("%d characters at most: inlet, 3, left", longestPiece)}
	case known && e.Text == "":
		return &Refusal{What: fmt.Sprintf("%s, %s, has been described before; that stays in the record", part.Name, spec.Printable(e.Piece)), Remedy: "correct it with a reason: …, because REASON"}
	case !known && len(said) == part.Count:
		return &Refusal{What: fmt.Sprintf("all %d of %s have been described", part.Count, part.Name), Remedy: "use the words they were told apart by", Outstanding: nil}
	}
	return nil
}

// describePiece keeps how one of several came off; said again, it is a correction.
func (s *State) describePiece(c *change, e Event, t ident.Thing) {
	was := s.each[t]
	c.onUndo(func() {
		if s.each[t] = was; was == nil {
			delete(s.each, t)
		}
	})
	if s.each == nil {
		s.each = map[ident.Thing][]PieceFound{}
	}
	list := slices.Clone(was)
	at := slices.IndexFunc(list, func(p PieceFound) bool { return strings.EqualFold(p.Piece, e.Piece) })
	if at < 0 {
		s.each[t] = append(list, PieceFound{e.Piece, correctedBy(nil, e.Facts)})
		return
	}
	list[at].Facts = correctedBy(list[at].Facts, e.Facts)
	s.each[t] = list
	s.deviate(e, fmt.Sprintf("%s, %s: corrected to %s (%s)", t.ID, list[at].Piece, list[at].Facts.Text(), e.Text))
}

// correctedBy puts facts over older ones. A new condition leaves nothing of the
// answer that was given for the old.
func correctedBy(old, by Facts) Facts {
	facts := Facts{}
	for k, v := range old {
		if k != Again || by[Condition] == "" {
			facts[k] = v
		}
	}
	for k, v := range by {
		if k != NewName && k != NewCount {
			facts[k] = v
		}
	}
	return facts
}

// condemnedNames are the pieces of what was brought that have to be new: all of
// it, or single ones.
func (c Carried) condemnedNames() (names []string) {
	if c.Facts.Condemned() {
		if c.Fastener {
			return []string{Itself}
		}
		return []string{c.Name}
	}
	for _, p := range c.Pieces {
		if p.Facts.Condemned() {
			names = append(names, c.Name+", "+p.Piece)
		}
	}
	return names
}
