package record

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/sshsig/testkey"
)

// signedBy has a person sign, who is known by a number.
func signedBy(t *testing.T, path string, n byte) (string, error) {
	t.Helper()
	_, by, err := Sign(path, time.Now(), func(d []byte) ([]byte, error) { return testkey.Sign(n, d, SignatureUse), nil })
	if err != nil {
		return "", err
	}
	return by.File, nil
}

// filesBeside names what lies beside a record.
func filesBeside(t *testing.T, path string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != filepath.Base(path) {
			names = append(names, e.Name())
		}
	}
	return names
}

// Each of several signs once, in a file of their own that nobody else's overwrites.
func TestSeveralSignARecord(t *testing.T) {
	path, data := copyOfKept(t)
	base := filepath.Base(path)
	var files []string
	for n := byte(1); n <= 3; n++ {
		before := filesBeside(t, path)
		file, err := signedBy(t, path, n)
		if err != nil || slices.Contains(before, file) {
			t.Fatalf("%d signs in %s of %v: %v", n, file, before, err)
		}
		files = append(files, file)
	}
	if files[0] != base+".sig" || files[1] == files[2] || !strings.HasPrefix(files[1], base+".") || !strings.HasSuffix(files[1], ".sig") {
		t.Errorf("%v", files)
	}
	for i, file := range files {
		if got := readFile(t, filepath.Join(filepath.Dir(path), file)); !bytes.Equal(got, testkey.Sign(byte(i+1), data, SignatureUse)) {
			t.Errorf("%s is not the signature of %d", file, i+1)
		}
	}
	r, prints := Verify(path), map[string]bool{}
	for _, s := range r.Signed {
		prints[s.Fingerprint] = s.Holds
	}
	if !r.OK() || len(r.Signed) != 3 || len(prints) != 3 || r.Signed[0].File != base+".sig" || len(r.Notes) > 0 {
		t.Errorf("%v %+v %v", r.Problems, r.Signed, r.Notes)
	}
	for n := byte(1); n <= 3; n++ {
		_, err := signedBy(t, path, n)
		wantText(t, err, "it is signed with this key already, in "+files[n-1]+"; nothing is left to do; somebody else signs with their own: --key FILE")
	}
	if got := filesBeside(t, path); len(got) != 3 { // no lock, no draft
		t.Errorf("%v", got)
	}
}

// One that does not hold is told by its name, with what to do, and the others stay told.
func TestABadSignatureHidesNoGoodOne(t *testing.T) {
	for _, goodFirst := range []bool{true, false} {
		for name, spoil := range map[string]func(file string, data []byte) error{
			"its signature cannot be relied on: it is no SSH signature": func(file string, _ []byte) error { return os.WriteFile(file, []byte("jo was here"), 0o600) },
			"its signature does not hold: the signature is not of this": func(file string, data []byte) error {
				return os.WriteFile(file, testkey.Sign(2, data[1:], SignatureUse), 0o600)
			},
			"its signature does not hold: it was signed for another use": func(file string, data []byte) error { return os.WriteFile(file, testkey.Sign(2, data, "git"), 0o600) },
			"this is a folder": func(file string, _ []byte) error { return os.Mkdir(file, 0o700) },
			"it is too long":   func(file string, _ []byte) error { return os.WriteFile(file, make([]byte, 70<<10), 0o600) },
			"does not hold": func(file string, data []byte) error {
				return os.WriteFile(file, testkey.Sign(1, data[1:], SignatureUse), 0o600)
			}, // by the same key
		} {
			path, data := copyOfKept(t)
			good, bad := path+".sig", path+".0123456789abcdef.sig"
			if !goodFirst {
				good, bad = bad, good
			}
			if err := os.WriteFile(good, testkey.Sign(1, data, SignatureUse), 0o600); err != nil {
				t.Fatal(err)
			}
			if err := spoil(bad, data); err != nil {
				t.Fatal(err)
			}
			r := Verify(path)
			if len(r.Problems) != 1 || !strings.Contains(r.Problems[0], name) || !strings.Contains(r.Problems[0], "put the record and "+filepath.Base(bad)+" back as they were, or take that file away") {
				t.Errorf("%s: %v", name, r.Problems)
			}
			if len(r.Signed) != 2 || r.Signed[0].File != filepath.Base(path)+".sig" || r.Signed[0].Holds != goodFirst || r.Signed[1].Holds == goodFirst {
				t.Errorf("%s: %+v", name, r.Signed)
			}
			_, err := signedBy(t, path, 3)
			wantText(t, err, "of the signatures beside it "+filepath.Base(bad)+" does not hold, so it is not signed as it is now; take the record and that file from a backup, or take that file away")
			if err := os.Remove(bad); err != nil {
				t.Fatal(err)
			}
			if _, err := signedBy(t, path, 3); err != nil {
				t.Errorf("without it: %v", err)
			}
		}
	}
}

// What was signed and is another now is not signed on top of it.
func TestARecordThatIsNotAsItWasSignedIsNotSignedAgain(t *testing.T) {
	path, data := copyOfKept(t)
	if _, err := signedBy(t, path, 1); err != nil {
		t.Fatal(err)
	}
	anew := rehashed(data, func(line string) string {
		return strings.Replace(line, `"engine":"125-1"`, `"engine":"125-2"`, 1)
	})
	if err := os.WriteFile(path, anew, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := signedBy(t, path, 2)
	wantText(t, err, filepath.Base(path)+".sig does not hold")
	if got := filesBeside(t, path); len(got) != 1 {
		t.Errorf("%v", got)
	}
}

// Nothing is written over, whoever has the name.
func TestASignatureIsNotWrittenOverAnother(t *testing.T) {
	path, data := copyOfKept(t)
	text := testkey.Sign(1, data, SignatureUse)
	for _, first := range []bool{true, false} {
		writeFile(t, filepath.Join(filepath.Dir(path), SignatureName(filepath.Base(path), first, text)), []byte("jo was here"))
	}
	_, _, err := keepSignature(system{}, path, data, text)
	wantText(t, err, "this signature of the record is here already and is another; the one here stays; compare the two")
}

// One look around serves many records, in whatever folders they lie.
func TestOneLookAroundServesManyRecords(t *testing.T) {
	var beside Beside
	one, data := copyOfKept(t)
	two, _ := copyOfKept(t)
	writeFile(t, two+".sig", testkey.Sign(1, data, SignatureUse))
	for _, path := range []string{one, two, one, two} {
		if r := beside.Verify(path); !r.OK() || (len(r.Signed) == 1) != (path == two) || beside.Signed(path) != (path == two) {
			t.Errorf("%v %+v", r.Problems, r.Signed)
		}
	}
}

// A program that syncs folders puts one of two files of a name aside, under another
// name; a copy of a signature makes no second signer.
func TestSignaturesPutAsideAreRead(t *testing.T) {
	path, data := copyOfKept(t)
	base := filepath.Base(path)
	for name, text := range map[string][]byte{
		base + ".sig": testkey.Sign(1, data, SignatureUse), base + ".sync-conflict-20261127-061000-ABCDEFG.sig": testkey.Sign(2, data, SignatureUse), base + " (Jo's copy).sig": testkey.Sign(3, data, SignatureUse),
		base + ".copy.sig": testkey.Sign(2, data, SignatureUse),
		// those of other records, and what is none
		base + "-2.jsonl.sig": []byte("x"), strings.Replace(base, ".jsonl", "-1.jsonl.sig", 1): []byte("x"), base + ".sig.new": []byte("x"), "a.jsonl.sig": []byte("x"), "z.jsonl.sig": []byte("x"),
	} {
		if err := os.WriteFile(filepath.Join(filepath.Dir(path), name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	r := Verify(path)
	var files []string
	for _, s := range r.Signed {
		files = append(files, s.File)
	}
	if want := []string{base + ".sig", base + " (Jo's copy).sig", base + ".copy.sig"}; !r.OK() || !slices.Equal(files, want) {
		t.Errorf("%v, want %v; %v", files, want, r.Problems)
	}
	if want := base + ".sync-conflict-20261127-061000-ABCDEFG.sig is by the same key as " + base + ".copy.sig, and counts once"; !slices.Equal(r.Notes, []string{want}) {
		t.Errorf("%v, want %s", r.Notes, want)
	}
}

func TestAFolderOfSignaturesWithoutEndIsToldOf(t *testing.T) {
	path, data := copyOfKept(t)
	for n := range byte(mostSignatures + 1) {
		if err := os.WriteFile(fmt.Sprintf("%s.%d.sig", path, n), testkey.Sign(n+1, data, SignatureUse), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	r := Verify(path)
	if len(r.Signed) != mostSignatures || len(r.Problems) != 1 || !strings.Contains(r.Problems[0], "33 signatures lie beside it, and only 32 of one record are looked at") {
		t.Errorf("%d, %v", len(r.Signed), r.Problems)
	}
}

// Two sign at the same time: nobody's signature is lost.
func TestSomebodySignsMeanwhile(t *testing.T) {
	path, data := copyOfKept(t)
	_, by, err := Sign(path, time.Now(), func(d []byte) ([]byte, error) {
		if _, err := signedBy(t, path, 1); err != nil {
			t.Error(err)
		}
		return testkey.Sign(2, d, SignatureUse), nil
	})
	if err != nil || by.File == filepath.Base(path)+".sig" || !bytes.Equal(readFile(t, path+".sig"), testkey.Sign(1, data, SignatureUse)) {
		t.Errorf("%+v, %v", by, err)
	}
	l, err := acquire(lockOf(path), "it", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	defer l.release()
	if file, err := signedBy(t, path, 3); err == nil {
		t.Errorf("signed in %s while somebody holds the record", file)
	}
}
