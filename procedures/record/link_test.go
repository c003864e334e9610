//go:build unix

package record

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// A link where a record, a ledger, a lock or a draft would lie is never
// followed: nothing is read through it, and what it points to stays as it is.
func TestNothingIsReadOrWrittenThroughALink(t *testing.T) {
	const said = "this name is a link, and links are not followed; put the file itself in its place"
	s := newStore(t)
	w := create(t, s, "7")
	closeWriter(t, w)
	elsewhere := filepath.Join(t.TempDir(), "elsewhere.jsonl")
	whole := readFile(t, w.Path)
	writeFile(t, elsewhere, whole)
	link := func(name string) {
		t.Helper()
		if err := os.Symlink(elsewhere, filepath.Join(s.Dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	link("linked" + recordEnding)
	link("engine-7-linked" + ledgerEnding)
	_, err := Read(s.Path("linked"))
	wantText(t, err, said)
	_, _, err = s.Resume("linked")
	wantText(t, err, said)
	list, err := s.List()
	if err != nil || len(list) != 2 {
		t.Fatalf("%d listed, %v", len(list), err)
	}
	for _, sum := range list {
		if linked := sum.ID == "linked"; linked != (sum.State == StateBroken) {
			t.Errorf("%s is listed as %s", sum.ID, sum.State)
		}
	}
	_, damaged, err := s.Ledgers()
	wantText(t, errors.Join(damaged...), said)
	if err != nil || len(damaged) != 1 {
		t.Errorf("%d ledgers damaged, %v", len(damaged), err)
	}

	link(w.ID + lockEnding)
	_, _, err = s.Resume(w.ID)
	wantText(t, err, "cannot lock the record: "+said)
	next := "2026-11-25-8-close-the-cover-1"
	link(next + recordEnding + draftEnding)
	_, err = s.Create(NewHeader(procedureOf(t, cover), "cover.toml", "8", "test", started))
	wantText(t, err, "cannot start the record: "+said)
	if !bytes.Equal(readFile(t, elsewhere), whole) || !bytes.Equal(readFile(t, w.Path), whole) {
		t.Error("what a link points to was changed")
	}
}

// A record that is moved away while it is open, with a link left in its place,
// counts as replaced.
func TestARecordReplacedByALinkToItIsWrittenNoMore(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "7")
	defer w.Close()
	moved := filepath.Join(t.TempDir(), "moved.jsonl")
	if err := errors.Join(os.Rename(w.Path, moved), os.Symlink(moved, w.Path)); err != nil {
		t.Fatal(err)
	}
	wantText(t, w.Append(note(1, "lost?")), "removed or replaced")
}

func TestALinkIsToldFromAFile(t *testing.T) {
	dir := t.TempDir()
	file, link := filepath.Join(dir, "file"), filepath.Join(dir, "link")
	writeFile(t, file, nil)
	if err := os.Symlink("nowhere", link); err != nil {
		t.Fatal(err)
	}
	if isLink(file) || !isLink(link) || isLink(filepath.Join(dir, "none")) {
		t.Errorf("file %v, link %v, nothing %v", isLink(file), isLink(link), isLink(filepath.Join(dir, "none")))
	}
}
