package record

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"
)

// How long Hold waits for another program, and how often it looks. It counts the looks: a
// machine that stands still meanwhile stops the other program too.
const (
	holdPatience = 10 * time.Second
	holdPause    = 10 * time.Millisecond
)

// Hold takes the lock of an engine: whoever has it may find or begin a walk of
// it, or decide an entry in its ledger, and nobody else does meanwhile. It is
// held for a moment only, so it waits for others; release lets go. The folder
// is made if it is not there.
func (s *Store) Hold(tag string) (release func(), err error) {
	if err := s.makeDir(); err != nil {
		return nil, err
	}
	name := holdName(tag)
	for looks := holdPatience / holdPause; ; looks-- {
		l, err := acquire(filepath.Join(s.Dir, name), name, s.Now())
		var held *LockedError
		switch {
		case err == nil:
			return func() { l.release() }, nil
		case !errors.As(err, &held):
			return nil, err
		case looks <= 0:
			return nil, &Error{What: fmt.Sprintf("the records of this engine are being opened by %s", held.Holder), Remedy: "try again in a moment"}
		}
		time.Sleep(holdPause)
	}
}

// holdName is the file of an engine's lock; no record or ledger has one of its name.
func holdName(tag string) string {
	const hashLetters = 10
	sum := sha256.Sum256([]byte(TagKey(tag)))
	parts := []string{"tag"}
	if s := slug(tag, engineLetters); s != "" {
		parts = append(parts, s)
	}
	return strings.Join(append(parts, hex.EncodeToString(sum[:])[:hashLetters]), "-") + lockEnding
}
