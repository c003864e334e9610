package bundle

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
)

// photographed is a record that names two pictures, one of which is lost.
func photographed(t *testing.T) *record.Report {
	t.Helper()
	f, err := record.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := f.Plan()
	if err != nil {
		t.Fatal(err)
	}
	s, err := record.Open(filepath.Join(t.TempDir(), "records"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	w, err := s.Create(record.NewHeader(plan.Procedure, "cover.toml", "7", "test", f.Header.Started))
	if err != nil {
		t.Fatal(err)
	}
	album := s.Pictures()
	for i, text := range []string{"GIF89a one", "GIF89a two"} {
		from := filepath.Join(t.TempDir(), "one.gif")
		if err := os.WriteFile(from, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		facts, err := album.Look(from)
		if err != nil {
			t.Fatal(err)
		}
		if err := album.Before(w.Append)(walk.Event{Seq: i + 1, At: f.Header.Started, Kind: walk.Pictured, Facts: facts}); err != nil {
			t.Fatal(err)
		}
	}
	w.Close()
	r := record.Verify(w.Path)
	if err := os.Remove(record.PicturePath(s.Dir, r.Pictures[1].Photo)); err != nil {
		t.Fatal(err)
	}
	return record.Verify(w.Path)
}

func TestPhotosGoWithTheirRecordAndAreHeldAgainstIt(t *testing.T) {
	r := photographed(t)
	photos, left := Photos(r)
	if len(photos) != 1 || string(photos[0].Data) != "GIF89a one" || len(left) != 1 || !strings.Contains(left[0], "is missing") {
		t.Fatalf("%v, %q", photos, left)
	}
	data, err := os.ReadFile(r.Path)
	if err != nil {
		t.Fatal(err)
	}
	pack := func(photo string) (*Bundle, error) {
		var b bytes.Buffer
		if err := Write(&b, r.Path, data, nil, []Part{{photos[0].Name, []byte(photo)}}); err != nil {
			t.Fatal(err)
		}
		return Read(b.Bytes())
	}
	if b, err := pack("GIF89a one"); err != nil || len(b.Photos) != 1 || b.Photos[0].Photo != r.Pictures[0].Photo || string(b.Photos[0].Data) != "GIF89a one" {
		t.Errorf("%+v, %v", b, err)
	}
	if _, err := pack("GIF89a two"); err == nil || !strings.Contains(err.Error(), "the picture one.gif in it is not the one its record names") {
		t.Errorf("another picture under its name: %v", err)
	}
}

// The ledger of an engine goes with its photos as a record does, and under no other name.
func TestALedgerGoesWithItsPhotos(t *testing.T) {
	s, err := record.Open(filepath.Join(t.TempDir(), "records"), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	w, _, err := s.OpenLedger("7", "test", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	from := filepath.Join(t.TempDir(), "whole.gif")
	if err := os.WriteFile(from, []byte("GIF89a whole"), 0o600); err != nil {
		t.Fatal(err)
	}
	album := s.Pictures()
	facts, err := album.Look(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := album.Before(w.Append)(walk.Event{Seq: 1, At: time.Now(), Kind: walk.Pictured, Facts: facts}); err != nil {
		t.Fatal(err)
	}
	w.Close()
	data, err := os.ReadFile(w.Path)
	if err != nil {
		t.Fatal(err)
	}
	photos, _ := Photos(record.Verify(w.Path))
	var packed bytes.Buffer
	if err := Write(&packed, w.Path, data, nil, photos); err != nil {
		t.Fatal(err)
	}
	b, err := Read(packed.Bytes())
	if err != nil || !b.Report.Header.Ledger || !bytes.Equal(b.Record, data) || len(b.Photos) != 1 || string(b.Photos[0].Data) != "GIF89a whole" {
		t.Fatalf("%+v, %v", b, err)
	}
	parts := partsOf(t, packed.Bytes())
	for _, p := range parts {
		if p.Name == procedureName {
			t.Error("a ledger has a procedure")
		}
	}
	posing := repacked(t, parts, func(name string) string { return strings.Replace(name, ".ledger", ".jsonl", 1) })
	if _, err := Read(posing); err == nil || !strings.Contains(err.Error(), "ledger of an engine") {
		t.Errorf("a ledger under the name of a record: %v", err)
	}
}

// repacked is a bundle with other names for its parts, and a manifest that agrees.
func repacked(t *testing.T, parts []Part, name func(string) string) []byte {
	t.Helper()
	for i := range parts {
		parts[i].Name = name(parts[i].Name)
		if parts[i].Name == manifestName {
			parts[i].Data = []byte(name(string(parts[i].Data)))
		}
	}
	var out bytes.Buffer
	if err := pack(&out, parts); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
