package record

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"

	"evenpull/procedures/walk"
	"evenpull/spec"
)

// A ledger keeps what is said of an engine between its walks: its name, what
// was sent out, what came back, what arrived. It is a file of events like a
// record, with the same chain, lock and torn-tail rules, but a header without a
// procedure and an ending of its own, so that it is never listed as a walk.
const ledgerEnding = ".ledger"

// Kinds of event that stand only in a ledger. Besides them a ledger holds
// walk.Noted, walk.Cleaned and walk.Found, of a thing that no sheet has. Item or Fastener names the thing, as in a walk;
// a fastener's thread is in Facts["thread"], since ids repeat between joints.
const (
	Named     walk.Kind = "named"     // Text: the engine's name; Facts["because"]: why it was renamed
	Also      walk.Kind = "also"      // Text: another name sheets have for the engine
	Metered   walk.Kind = "metered"   // Reading: hours or distance run
	Arrived   walk.Kind = "arrived"   // Piece: what is on the shelf; Number; Facts["count"], and as ordered where it was bought at once
	Sent      walk.Kind = "sent"      // Text: the work; Facts["to"]: to whom
	Back      walk.Kind = "back"      // back from work; Facts["price"]
	Gone      walk.Kind = "gone"      // Text: why it will not go back
	Wanted    walk.Kind = "wanted"    // Piece: what is to be had besides what sheets ask for; Facts["count"]; Text: why
	Ordered   walk.Kind = "ordered"   // Piece; Facts["count"], ["from"], ["price"] of one, or of all with ["in_all"]
	Cancelled walk.Kind = "cancelled" // Piece: what is on order or was wanted, and is not to come; Text: why
	Corrected walk.Kind = "corrected" // Facts: what a thing was found as, corrected; Text: why
)

// SameTag reports whether two tags mean one engine: spaces around them and the
// case of their letters don't count.
func SameTag(a, b string) bool { return TagKey(a) == TagKey(b) }

// TagKey is what tags that mean one engine have in common.
func TagKey(tag string) string { return strings.ToLower(spec.Printable(strings.TrimSpace(tag))) }

// Place is the fact of an event that says at which of two of a kind a thing is. A
// header has it as a field.
const Place = "place"

// PlaceKey is what names of one place have in common.
func PlaceKey(place string) string { return TagKey(place) }

// ledgerID names a ledger. The time it was begun is in its hash, so that two
// ledgers of one tag, begun on two machines, can lie in one folder.
func ledgerID(tag string, started time.Time) string {
	const hashLetters = 10
	sum := sha256.Sum256([]byte(TagKey(tag) + "\n" + started.Format(time.RFC3339Nano)))
	parts := []string{"engine"}
	if s := slug(tag, engineLetters); s != "" {
		parts = append(parts, s)
	}
	return strings.Join(append(parts, hex.EncodeToString(sum[:])[:hashLetters]), "-")
}

func (s *Store) ledgerPath(id string) string { return filepath.Join(s.Dir, id+ledgerEnding) }

// Ledgers reads every ledger of the store, in the order of their ids. What
// cannot be read at all is in damaged; a broken one is read up to its break.
func (s *Store) Ledgers() (list []*File, damaged []error, err error) {
	ids, err := s.names(ledgerEnding)
	if err != nil {
		return nil, nil, err
	}
	files, errs := make([]*File, len(ids)), make([]error, len(ids))
	inParallel(len(ids), func() func(int) {
		return func(i int) { files[i], errs[i] = Read(s.ledgerPath(ids[i])) }
	})
	for i, f := range files {
		switch {
		case errs[i] != nil:
			damaged = append(damaged, errs[i])
		case !f.Header.Ledger:
			damaged = append(damaged, &Error{Path: f.Path, What: "this is no ledger of an engine", Remedy: "give a record the ending " + recordEnding})
		default:
			list = append(list, f)
		}
	}
	return list, damaged, nil
}

// OpenLedger opens the ledger of an engine to append to it, beginning one when
// there is none. Of several, from folders that were merged, it takes the first
// that is not broken. It fails as Resume and Create do.
func (s *Store) OpenLedger(tag, program string, now time.Time) (*Writer, []walk.Event, error) {
	if TagKey(tag) == "" {
		return nil, nil, &Error{What: "an engine without a tag keeps no ledger", Remedy: "give it a tag: a number on masking tape is fine"}
	}
	list, _, err := s.Ledgers()
	if err != nil {
		return nil, nil, err
	}
	for _, f := range list {
		if SameTag(f.Header.Engine, tag) && (f.Chain.Whole() || f.Chain.Torn) {
			return s.resume(f.ID(), f.Path)
		}
	}
	return s.createLedger(tag, program, now)
}

func (s *Store) createLedger(tag, program string, now time.Time) (*Writer, []walk.Event, error) {
	h := Header{Ledger: true, Engine: strings.TrimSpace(tag), Program: program, Started: now}
	h, err := h.complete()
	if err != nil {
		return nil, nil, err
	}
	if err := s.makeDir(); err != nil {
		return nil, nil, err
	}
	h.ID = ledgerID(tag, now)
	w, err := s.createAs(h, s.ledgerPath(h.ID))
	if errors.Is(err, os.ErrExist) {
		return s.resume(h.ID, s.ledgerPath(h.ID))
	}
	return w, nil, err
}

// names gives the ids of the store's files with an ending, sorted.
func (s *Store) names(ending string) ([]string, error) {
	all, err := s.readNames()
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, name := range all {
		if id, is := strings.CutSuffix(name, ending); is && id != "" {
			ids = append(ids, id)
		}
	}
	sort.Strings(ids)
	return ids, nil
}
