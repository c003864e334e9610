package bundle

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/sshsig/testkey"
)

const (
	id   = "2026-11-25-125-1-close-the-cover-1"
	path = "../record/testdata/signed/" + id + ".jsonl"
)

func kept(t *testing.T) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func written(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, path, kept(t), nil, []Part{{"map.svg", []byte("<svg/>")}}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// partsOf takes a bundle apart as any ZIP program would.
func partsOf(t *testing.T, data []byte) []Part {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var parts []Part
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		parts = append(parts, Part{f.Name, text})
	}
	return parts
}

func TestABundleComesBackByteForByte(t *testing.T) {
	data := written(t)
	if !bytes.Equal(data, written(t)) {
		t.Error("the same record gives other bytes")
	}
	b, err := Read(data)
	if err != nil || !bytes.Equal(b.Record, kept(t)) || b.Signatures != nil {
		t.Fatalf("%v", err)
	}
	var names []string
	for _, p := range partsOf(t, data) {
		names = append(names, p.Name)
	}
	if want := []string{"manifest.json", id + ".jsonl", "procedure.toml", "map.svg"}; !slices.Equal(names, want) {
		t.Errorf("it holds %v, want %v", names, want)
	}
}

// Everybody's signature travels, each under the name of its key, and holds where it arrives.
func TestABundleHasEverySignature(t *testing.T) {
	data, name := kept(t), id+".jsonl"
	signed := func(n byte, file string) record.Signature {
		return record.Signature{File: file, Text: testkey.Sign(n, data, record.SignatureUse)}
	}
	pack := func(signatures ...record.Signature) ([]byte, error) {
		var b bytes.Buffer
		err := Write(&b, path, data, signatures, nil)
		return b.Bytes(), err
	}
	second := record.SignatureName(name, false, signed(2, "").Text)
	packed, err := pack(signed(1, name+".sig"), signed(2, name+" (Jo's\x01 copy).sig"), signed(2, name+".twice.sig"))
	if err != nil {
		t.Fatal(err)
	}
	parts := partsOf(t, packed)
	if len(parts) != 5 || parts[2].Name != name+".sig" || parts[3].Name != second || !bytes.Equal(parts[3].Data, signed(2, "").Text) {
		t.Errorf("it holds %d parts, %s and %s", len(parts), parts[2].Name, parts[3].Name)
	}
	b, err := Read(packed)
	if err != nil || len(b.Signatures) != 2 || len(b.Report.Signed) != 2 {
		t.Fatalf("%v, %v", b, err)
	}
	s, err := record.Open(t.TempDir(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []record.Taken{record.Added, record.Here} {
		if taken, err := s.Add(id, b.Record, b.Signatures, false); err != nil || taken != want {
			t.Errorf("taken %d, %v; want %d", taken, err, want)
		}
	}
	if r := record.Verify(s.Path(id)); !r.OK() || len(r.Signed) != 2 || !r.Signed[1].Holds || r.Signed[1].File != second {
		t.Errorf("%v %+v", r.Problems, r.Signed)
	}
	bad := record.Signature{File: name + ".x.sig", Text: testkey.Sign(3, data[1:], record.SignatureUse)}
	if _, err := pack(signed(1, name+".sig"), bad); err == nil || !strings.Contains(err.Error(), bad.File+" back as they were") {
		t.Errorf("with a bad signature: %v", err)
	}
	foul := edited(t, true, func(p []Part) []Part {
		return append(p, Part{name + ".sig", signed(1, "").Text}, Part{second, bad.Text})
	})
	if _, err := Read(foul); err == nil || !strings.Contains(err.Error(), "its signature does not hold") {
		t.Errorf("a bad second one is taken in: %v", err)
	}
}

// edited packs the parts anew after a change; fit makes the manifest right again.
func edited(t *testing.T, fit bool, change func(parts []Part) []Part) []byte {
	t.Helper()
	parts := change(partsOf(t, written(t)))
	if fit {
		var m manifest
		if err := json.Unmarshal(parts[0].Data, &m); err != nil {
			t.Fatal(err)
		}
		m.Parts = nil
		for _, p := range parts[1:] {
			m.Parts = append(m.Parts, sumOf(p))
		}
		parts[0].Data, _ = json.Marshal(m)
	}
	var b bytes.Buffer
	if err := pack(&b, parts); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestABundleThatIsNotWhatItWasIsRefused(t *testing.T) {
	whole := written(t)
	replace := func(i int, old, with string) func([]Part) []Part {
		return func(p []Part) []Part {
			p[i].Data = bytes.Replace(p[i].Data, []byte(old), []byte(with), 1)
			return p
		}
	}
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "it is no bundle, or only half of one"},
		{"half", whole[:len(whole)/2], "it is no bundle, or only half of one"},
		{"no manifest", edited(t, false, func(p []Part) []Part { return p[1:] }), "it has no manifest.json"},
		{"of a later format", edited(t, false, replace(0, `"evenpull_bundle": 1`, `"evenpull_bundle": 2`)), "a bundle of format 2"},
		{"record changed", edited(t, false, replace(1, "9 N·m", "8 N·m")), id + ".jsonl in it is not the one it was packed with"},
		{"record changed, manifest fitted", edited(t, true, replace(1, "9 N·m", "8 N·m")), "its record cannot be relied on: the record is broken at line 1"},
		{"procedure changed, manifest fitted", edited(t, true, replace(2, "9 N·m", "8 N·m")), "its procedure is not the one"},
		{"picture changed", edited(t, false, replace(3, "svg", "SVG")), "map.svg in it is not the one"},
		{"picture missing", edited(t, false, func(p []Part) []Part { return p[:3] }), "names map.svg, which is not in it"},
		{"record missing", edited(t, true, func(p []Part) []Part { return append(p[:1], p[2:]...) }), "there is no record in it"},
		{"something added", edited(t, false, func(p []Part) []Part { return append(p, Part{"more.txt", nil}) }), "which its manifest does not name"},
		{"a way out of the folder", edited(t, true, func(p []Part) []Part { return append(p, Part{"../x.jsonl", nil}) }), `a file "../x.jsonl", which no bundle has`},
		{"an absolute name", edited(t, true, func(p []Part) []Part { return append(p, Part{"/etc/x", nil}) }), "which no bundle has"},
		{"a name with a stream", edited(t, true, func(p []Part) []Part { return append(p, Part{"a:b", nil}) }), "which no bundle has"},
		{"one name twice", edited(t, true, func(p []Part) []Part { return append(p, p[3]) }), "which no bundle has"},
		{"another record's id", edited(t, true, func(p []Part) []Part {
			p[1].Name = "other.jsonl"
			p[0].Data = bytes.Replace(p[0].Data, []byte(`"record": "`+id), []byte(`"record": "other`), 1)
			return p
		}), "its manifest says other and its record " + id},
		{"a signature of nothing", edited(t, true, func(p []Part) []Part { return append(p, Part{id + ".jsonl.sig", []byte("jo")}) }), "its signature cannot be relied on"},
	} {
		if b, err := Read(c.data); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, %v, want %q", c.name, b, err, c.want)
		}
	}
}

// Zeros pack a thousand to one: what a file says of its size counts for nothing.
func TestABundleThatUnpacksWithoutEndIsRefused(t *testing.T) {
	data := edited(t, true, func(p []Part) []Part { return append(p, Part{"zeros", make([]byte, 4<<20)}) })
	if len(data) > 1<<18 {
		t.Fatalf("%d bytes are no test of it", len(data))
	}
	if _, err := unpack(data, 2<<20); err == nil || !strings.Contains(err.Error(), "more than a bundle holds") {
		t.Errorf("%v", err)
	}
}

func TestABrokenRecordIsNotPacked(t *testing.T) {
	broken := bytes.Replace(kept(t), []byte("9 N·m"), []byte("8 N·m"), 1)
	if err := Write(io.Discard, path, broken, nil, nil); err == nil || !strings.Contains(err.Error(), "is not packed") {
		t.Errorf("%v", err)
	}
}

func FuzzReadNeverPanicsNorLies(f *testing.F) {
	f.Add([]byte("PK\x05\x06"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if b, err := Read(data); err == nil && !b.Report.OK() {
			t.Fatal("a record that cannot be relied on came out")
		}
	})
}
