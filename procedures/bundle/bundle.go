// Package bundle packs a record, or the ledger of an engine, with all that belongs to it into one ZIP file,
// and checks such a file before anything of it is kept.
//
// manifest.json names every other file in it with its SHA-256. The record stands
// in it byte for byte, so that its chain and its signature hold wherever it
// goes; so do the photos that it names. The procedure and the drawings are there
// for a reader without this program, and are never read back.
package bundle

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

const (
	formatVersion = 1
	manifestName  = "manifest.json"
	procedureName = "procedure.toml"

	// Bounds of what is read from a stranger: a long walk has well under 1 MiB.
	maxParts = 1000

	// MaxBytes is the most that the parts of a bundle may have together, unpacked.
	MaxBytes = 256 << 20
)

// Part is one file in a bundle.
type Part struct {
	Name string
	Data []byte
}

// manifest is the first file of a bundle.
type manifest struct {
	Format int    `json:"evenpull_bundle"`
	Record string `json:"record"` // id
	Parts  []sum  `json:"parts"`
}

type sum struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

func sumOf(p Part) sum {
	hash := sha256.Sum256(p.Data)
	return sum{p.Name, hex.EncodeToString(hash[:])}
}

// Photo is a picture that the walk names, with its bytes.
type Photo struct {
	walk.Photo
	Data []byte
}

// photoPart is what a picture is called in a bundle.
func photoPart(p walk.Photo) string { return "photo-" + p.File() }

// Photos gives the pictures a record names, as parts of its bundle, from the
// folder it lies in, and says which are left out: lost ones, and those for which a
// bundle has no room.
func Photos(r *record.Report) (parts []Part, left []string) {
	const most = MaxBytes / 2 // the page holds them as well
	room := most
	for _, k := range r.Pictures {
		data, err := record.Picture(filepath.Dir(r.Path), k.Photo)
		switch {
		case err != nil:
			left = append(left, err.Error())
		case len(data) > room:
			left = append(left, fmt.Sprintf("the picture %s is left out: the pictures of a bundle may have %d MiB together", k.Name, most>>20))
		default:
			room -= len(data)
			parts = append(parts, Part{photoPart(k.Photo), data})
		}
	}
	return parts, left
}

// photosIn gives the pictures the record names, as far as they are there.
func photosIn(r *record.Report, parts map[string][]byte) (list []Photo, err error) {
	for _, p := range r.Named {
		data, there := parts[photoPart(p)]
		if !there {
			continue
		}
		if sumOf(Part{Data: data}).SHA256 != p.SHA256 {
			return nil, fmt.Errorf("the picture %s in it is not the one its record names; ask for the bundle anew", spec.Printable(p.Name))
		}
		list = append(list, Photo{p, data})
	}
	return list, nil
}

// Write packs a record, its signatures, its procedure, and pictures of it. A record that cannot be relied on is not packed. The same
// parts give the same bytes.
func Write(w io.Writer, path string, data []byte, signatures []record.Signature, pictures []Part) error {
	r := record.VerifyBytes(path, data, signatures)
	if !r.OK() {
		return fmt.Errorf("%s cannot be relied on and is not packed: %s", r.ID, r.Problems[0])
	}
	id := r.Header.ID
	name := recordName(id, r.Header.Ledger)
	parts := []Part{{name, data}}
	for _, s := range r.Signed { // each key once, whatever the files were called
		i := slices.IndexFunc(signatures, func(of record.Signature) bool { return of.File == s.File })
		text := signatures[i].Text
		parts = append(parts, Part{record.SignatureName(name, len(parts) == 1, text), text})
	}
	if !r.Header.Ledger {
		parts = append(parts, Part{procedureName, []byte(r.Header.Text)})
	}
	parts = append(parts, pictures...)
	m := manifest{Format: formatVersion, Record: id}
	for _, p := range parts {
		m.Parts = append(m.Parts, sumOf(p))
	}
	text, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return err
	}
	return pack(w, append([]Part{{manifestName, append(text, '\n')}}, parts...))
}

// recordName is what a record, or the ledger of an engine, is called in a bundle.
func recordName(id string, ledger bool) string {
	if ledger {
		return id + ".ledger"
	}
	return id + ".jsonl"
}

func pack(w io.Writer, parts []Part) error {
	z := zip.NewWriter(w)
	for _, p := range parts {
		f, err := z.Create(p.Name) // without a time, so that the same parts give the same bytes
		if err != nil {
			return err
		}
		if _, err := f.Write(p.Data); err != nil {
			return err
		}
	}
	return z.Close()
}

// Bundle is a bundle whose every part has been checked.
type Bundle struct {
	Record     []byte
	Signatures []record.Signature
	Report     *record.Report
	Photos     []Photo // those it holds of the pictures that the record names
}

// Read unpacks a bundle and checks all of it: that its parts are those the
// manifest names, that the record can be relied on and its signatures hold, and
// that the procedure is the one the record was walked by. It writes nothing.
func Read(data []byte) (*Bundle, error) {
	parts, err := unpack(data, MaxBytes)
	if err != nil {
		return nil, err
	}
	m, err := manifestOf(parts)
	if err != nil {
		return nil, err
	}
	name := recordName(m.Record, false)
	if parts[name] == nil {
		name = recordName(m.Record, true)
	}
	b := &Bundle{Record: parts[name]}
	for _, part := range slices.Sorted(maps.Keys(parts)) {
		s, between := record.Signature{File: part, Text: parts[part]}, strings.TrimPrefix(part, name)
		switch {
		case between == ".sig":
			b.Signatures = slices.Insert(b.Signatures, 0, s) // the first stays the first
		case between != part && strings.HasSuffix(between, ".sig"):
			b.Signatures = append(b.Signatures, s)
		}
	}
	if b.Record == nil {
		return nil, errors.New("there is no record in it; ask for the bundle anew")
	}
	b.Report = record.VerifyBytes(name, b.Record, b.Signatures)
	switch r := b.Report; {
	case !r.OK():
		return nil, fmt.Errorf("its record cannot be relied on: %s; ask for the bundle anew", spec.Printable(r.Problems[0]))
	case name != recordName(m.Record, r.Header.Ledger):
		return nil, errors.New("it holds the ledger of an engine for the record of a walk, or the other way round; ask for the bundle anew")
	case r.Header.ID != m.Record:
		return nil, fmt.Errorf("its manifest says %s and its record %s; ask for the bundle anew", spec.Printable(m.Record), r.Header.ID)
	case !r.Header.Ledger && !bytes.Equal(parts[procedureName], []byte(r.Header.Text)):
		return nil, errors.New("its procedure is not the one the record was walked by; ask for the bundle anew")
	}
	b.Photos, err = photosIn(b.Report, parts)
	return b, err
}

// unpack gives the files of a ZIP by name, of so many bytes at most together.
// Nothing is believed of the sizes it says.
func unpack(data []byte, most int64) (map[string][]byte, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, errors.New("it is no bundle, or only half of one; ask for it anew")
	}
	if len(z.File) > maxParts {
		return nil, fmt.Errorf("it holds %d files, more than a bundle has; ask for the bundle anew", len(z.File))
	}
	parts := map[string][]byte{}
	left := most
	for _, f := range z.File {
		name := spec.Printable(f.Name)
		if _, twice := parts[f.Name]; twice || !plain(f.Name) {
			return nil, fmt.Errorf("it holds a file %q, which no bundle has; ask for the bundle anew", name)
		}
		r, err := f.Open()
		if err != nil {
			return nil, fmt.Errorf("%s in it cannot be read; ask for the bundle anew", name)
		}
		part, err := io.ReadAll(io.LimitReader(r, left+1))
		r.Close()
		if err != nil {
			return nil, fmt.Errorf("%s in it is damaged; ask for the bundle anew", name)
		}
		if left -= int64(len(part)); left < 0 {
			return nil, errors.New("it unpacks to more than a bundle holds; ask for the bundle anew")
		}
		parts[f.Name] = part
	}
	return parts, nil
}

// plain allows the names that Write gives, and no way out of a folder.
func plain(name string) bool {
	for _, r := range name {
		if !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' || r == '.') {
			return false
		}
	}
	return name != "" && !strings.HasPrefix(name, ".") && !strings.Contains(name, "..") && len(name) <= 200
}

// manifestOf reads the manifest and holds every part against it.
func manifestOf(parts map[string][]byte) (manifest, error) {
	var m manifest
	text, ok := parts[manifestName]
	if !ok || json.Unmarshal(text, &m) != nil || m.Format == 0 || !plain(m.Record) {
		return m, errors.New("it is no bundle: it has no manifest.json that can be read; make one with: evenpull export RECORD --format bundle")
	}
	if m.Format != formatVersion {
		return m, fmt.Errorf("it is a bundle of format %d, and %d is known here; read it with the program that wrote it", m.Format, formatVersion)
	}
	named := map[string]bool{manifestName: true}
	for _, s := range m.Parts {
		data, ok := parts[s.Name]
		if !ok {
			return m, fmt.Errorf("its manifest names %s, which is not in it; ask for the bundle anew", spec.Printable(s.Name))
		}
		if sumOf(Part{s.Name, data}) != s {
			return m, fmt.Errorf("%s in it is not the one it was packed with; ask for the bundle anew", spec.Printable(s.Name))
		}
		named[s.Name] = true
	}
	for name := range parts {
		if !named[name] {
			return m, fmt.Errorf("it holds %s, which its manifest does not name; ask for the bundle anew", spec.Printable(name))
		}
	}
	return m, nil
}
