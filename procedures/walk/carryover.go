package walk

import (
	"time"

	"evenpull/spec/ident"
)

// Here is what goes along when a walk goes over to another sheet.

// rename keeps what is known of a fastener whose thread is another by the new sheet:
// it is the same bolt.
func (s *State) rename(to *Course) {
	for _, f := range to.Plan.Procedure.Fasteners {
		old := s.byID[f.ID]
		if old == nil || thingOf(old) == thingOf(f) {
			continue
		}
		was, now := thingOf(old), thingOf(f)
		move(s.found, was, now)
		move(s.each, was, now)
		move(s.stripped, was, now)
		move(s.said, topic{thing: was}, topic{thing: now})
	}
	for t, c := range s.carried {
		if t.IsFastener() && t.Thread != ident.UnknownThread {
			c.Thread = t.Thread // it is what it was called when it was brought
		}
	}
}

func move[K comparable, V any](m map[K]V, from, to K) {
	if v, ok := m[from]; ok {
		m[to] = v
		delete(m, from)
	}
}

// unsettle: what the engine brought and was said not to go back is asked for where
// the new sheet has a place for it that it had not. What has no place is forgotten
// to have been repaired.
func (s *State) unsettle(to *Course, keep map[string]bool) {
	for t, c := range s.carried {
		had, has := s.sheet.takes(t), to.takes(t)
		if has && !(had && (t.IsFastener() || keep[ident.PartStep(t.ID).String()])) {
			c.settled = ""
		}
	}
	for t := range s.cased {
		if !to.hasPlace(t) {
			delete(s.cased, t)
		}
	}
}

// takes reports whether a thing goes in by this sheet.
func (c *Course) takes(t ident.Thing) bool {
	return c.hasPlace(t) && (!t.IsFastener() || len(c.StagesOf(t.ID)) > 0)
}

// reconsider opens the lines of the sheet that do not stand by it. What had to be done
// before a fastener starts again still has to.
func (s *State) reconsider(keep map[string]bool) {
	for i, it := range s.Items {
		key := it.Key().String()
		if _, its := s.sheet.Find(key); !its || keep[key] || it.Later && !s.marks[i].Closed {
			continue
		}
		s.put(i, it.unmarked())
	}
}

// piecesOver keeps of each piece what happened to it, where its owner is asked for as
// before. Whether it has to be new is for the sheet of now to say, and for what happened;
// what was condemned is weighed anew. Pieces behind the listed ones are strays.
func (s *State) piecesOver(old *Course, was []*Renewable, listed int) {
	s.pieces, s.strays = s.Course.unchanged(), nil
	for n, piece := range was {
		p := *piece
		if p.Condemned {
			p.Needed, p.Condemned, p.Why = false, false, ""
		}
		owner := s.Owner(p)
		at := s.pieceNamed(owner, p.Name)
		switch {
		case at >= len(s.Course.pieces), at >= 0 && n >= listed: // it has a place now: asked for there
		case at < 0:
			if f := old.byID[p.Fastener]; p.Renewed && f != nil && p.Thread == "" {
				p.Thread = f.Group.Thread.Name
			}
			if p.Needed = false; p.Renewed { // nothing wants it new any more; that it is stays known
				s.takePiece(p)
			}
		default:
			p = p.by(*s.pieces[at], old.means(owner) == s.sheet.means(owner))
			s.pieces[at] = &p
		}
	}
}

// by is a piece as a newer sheet has it, whose owner means the same by both, or not.
func (p Renewable) by(now Renewable, same bool) Renewable {
	p.Count = now.Count
	if !same {
		p.Renewed, p.Late, p.At = false, false, time.Time{}
	}
	if !p.Renewed {
		p.Number = now.Number
	}
	if !p.Needed || p.Why == OneUse {
		p.Needed, p.Why = now.Needed, now.Why
	}
	return p
}

// means is what is said of a thing here; of what the sheet does not have, nothing.
func (c *Course) means(t ident.Thing) string {
	if f := c.byID[t.ID]; t.IsFastener() && f != nil && thingOf(f) == t {
		return f.Meaning()
	}
	if p := c.Plan.Procedure.Part(t.ID); p != nil && p.ID == t.ID && !t.IsFastener() {
		return p.Meaning()
	}
	return ""
}
