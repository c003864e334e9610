package record

import (
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"evenpull/procedures/sshsig"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// SignatureUse is what signatures of records are made for, in the words of
// SSHSIG their namespace: one made for mail or code cannot stand in for it.
const SignatureUse = "evenpull"

// signatureEnding comes after the whole name of the record, where ssh-keygen
// puts it too. The signatures of others have their key between the two, so that no
// two people who sign on two machines make a file of one name.
const signatureEnding = ".sig"

// mostSignatures are looked at; a record has one, or a few.
const mostSignatures = 32

// Signed says by which key a record was signed. The chain shows what was changed
// by accident or by hand; only a signature shows a record that was written anew
// with all its hashes, and only to those who know the key.
type Signed struct {
	File        string // its name
	KeyType     string // ssh-ed25519, …; empty: it is no signature
	Fingerprint string // SHA256:…
	Holds       bool   // made by that key of this record as it stands
	Fault       string // why it does not hold
}

// Signature is a file beside a record, as it was read.
type Signature struct {
	File string
	Text []byte
	fail error // why it could not be read
}

// SignaturePath is where the first signature of a record lies.
func SignaturePath(path string) string { return path + signatureEnding }

// SignatureName is what a signature of a record is called: the first after it, the
// others after it and their key.
func SignatureName(record string, first bool, text []byte) string {
	s, err := sshsig.Parse(text)
	if first || err != nil {
		return record + signatureEnding
	}
	return record + "." + s.Key.Short() + signatureEnding
}

// Beside finds the signatures of records. It reads a folder once, also for the many
// records in it, so it is for one look around.
type Beside struct {
	dir   string
	names []string // in order; of files with the ending of a signature
}

// files names the signatures of a record, the first before all: whatever begins with
// its whole name and has the ending, also what a program that syncs folders put aside.
func (b *Beside) files(path string) (files []string) {
	if dir := filepath.Dir(path); dir != b.dir {
		b.dir = dir
		b.names = slices.DeleteFunc(namesIn(dir), func(name string) bool { return !strings.HasSuffix(name, signatureEnding) })
		slices.Sort(b.names)
	}
	record := filepath.Base(path)
	from, _ := slices.BinarySearch(b.names, record)
	for _, name := range b.names[from:] {
		between, ours := strings.CutPrefix(name, record)
		if !ours {
			break
		}
		switch between = strings.TrimSuffix(between, signatureEnding); {
		case between == "":
			files = slices.Insert(files, 0, name)
		case !strings.Contains(between, recordEnding): // that of another record, whose name goes on
			files = append(files, name)
		}
	}
	return files
}

// namesIn gives every file of a folder; one that cannot be read has no record to verify.
func namesIn(dir string) []string {
	f, err := os.Open(dir)
	if err != nil {
		return nil
	}
	defer f.Close()
	names, _ := f.Readdirnames(-1)
	return names
}

// Signed reports whether a record has signatures beside it, whatever they are worth.
func (b *Beside) Signed(path string) bool { return len(b.files(path)) > 0 }

// signatures reads those of a record.
func (b *Beside) signatures(path string) (list []Signature) {
	for _, name := range b.files(path) {
		s := Signature{File: name}
		s.Text, s.fail = readSignature(filepath.Join(filepath.Dir(path), name))
		list = append(list, s)
	}
	return list
}

// Raw gives the bytes of a record, and its signatures.
func Raw(path string) (data []byte, signatures []Signature, err error) {
	data, err = readWhole(path, nil)
	return data, new(Beside).signatures(path), err
}

func readSignature(path string) ([]byte, error) {
	h, is, err := openRegular(path)
	if err != nil {
		return nil, err
	}
	defer h.close()
	return io.ReadAll(io.LimitReader(h.upTo(is), sshsig.Longest+1))
}

// signing is a signature of a record that is being read.
type signing struct {
	sshsig.Signature
	file string
	sum  hash.Hash // of the record; nil when the signature cannot be read
	fail error     // why it cannot be
}

// signings are those of the record that is read from in.
func signings(in io.Reader, signatures []Signature) (io.Reader, []signing) {
	var list []signing
	for _, text := range signatures[:min(len(signatures), mostSignatures)] {
		s := signing{file: text.File, fail: text.fail}
		if s.fail == nil {
			s.Signature, s.fail = sshsig.Parse(text.Text)
		}
		if s.fail == nil {
			s.sum = s.Hash()
			in = io.TeeReader(in, s.sum)
		}
		list = append(list, s)
	}
	return in, list
}

// signed says who signed, once all has been read. A signature that does not hold is a
// reason not to rely on the record, and leaves those that do in their place.
func (r *Report) signed(list []signing, all int) {
	for _, s := range list {
		is := Signed{File: s.file}
		switch {
		case s.fail != nil:
			is.Fault = "its signature cannot be relied on: " + s.fail.Error()
		default:
			is.KeyType, is.Fingerprint = spec.Printable(s.Key.Type), s.Key.Fingerprint()
			if err := s.VerifySum(s.sum.Sum(nil), SignatureUse); err != nil {
				is.Fault = "its signature does not hold: " + err.Error()
			}
		}
		if is.Holds = is.Fault == ""; !is.Holds {
			r.problem("%s; put the record and %s back as they were, or take that file away", is.Fault, spec.Printable(is.File))
		} else if i := slices.IndexFunc(r.Signed, func(other Signed) bool { return other.Holds && other.Fingerprint == is.Fingerprint }); i >= 0 {
			r.note("%s is by the same key as %s, and counts once", spec.Printable(is.File), spec.Printable(r.Signed[i].File))
			continue
		}
		r.Signed = append(r.Signed, is)
	}
	if all > mostSignatures {
		r.problem("%d signatures lie beside it, and only %d of one record are looked at; take away what is none", all, mostSignatures)
	}
}

// Sign keeps a signature beside a record. sign is given the record's bytes and
// makes the signature. Only a finished record that can be relied on is signed, by each
// key once, and a signature that is there already stays.
func Sign(path string, now time.Time, sign func(record []byte) ([]byte, error)) (*Report, *Signed, error) {
	data, have, err := Raw(path)
	if err != nil {
		return nil, nil, err
	}
	id := idOf(path)
	r := VerifyBytes(path, data, have)
	bad := slices.IndexFunc(r.Signed, func(s Signed) bool { return !s.Holds })
	switch {
	case bad >= 0 && VerifyBytes(path, data, nil).OK():
		return r, nil, &Error{Path: id, What: fmt.Sprintf("of the signatures beside it %s does not hold, so it is not signed as it is now", spec.Printable(r.Signed[bad].File)), Remedy: "take the record and that file from a backup, or take that file away"}
	case !r.OK():
		return r, nil, &Error{Path: id, What: "it cannot be relied on and is not signed: " + r.Problems[0], Remedy: "take the record from a backup"}
	case r.Header.Ledger:
		return r, nil, &Error{Path: id, What: "a ledger is never finished, so it is not signed", Remedy: "sign the walks of that engine"}
	case r.State == walk.IsOpen:
		return r, nil, &Error{Path: id, What: "the walk is still open", Remedy: "finish it or stop it, then sign"}
	}
	text, err := sign(data)
	if err != nil {
		return nil, nil, err
	}
	r = VerifyBytes(path, data, []Signature{{File: "", Text: text}})
	if !r.OK() {
		return r, nil, &Error{Path: id, What: "what came back is no signature of this record: " + r.Signed[0].Fault, Remedy: "look at the key and try again"}
	}
	l, err := acquire(lockOf(path), id, now) // for somebody may sign just now, or take in a bundle
	if err != nil {
		return r, nil, err
	}
	defer l.release()
	file, there, err := keepSignature(system{}, path, data, text)
	switch {
	case err != nil:
		return r, nil, err
	case there:
		return r, nil, &Error{Path: id, What: "it is signed with this key already, in " + spec.Printable(file), Remedy: "nothing is left to do; somebody else signs with their own: --key FILE"}
	}
	by := r.Signed[0]
	by.File = file
	return r, &by, nil
}

// lockOf is where the lock of a record lies.
func lockOf(path string) string {
	return strings.TrimSuffix(strings.TrimSuffix(path, recordEnding), ledgerEnding) + lockEnding
}

// keepSignature puts a signature beside a record, unless one by its key that holds is
// there, and names the file. The record's lock is held.
func keepSignature(d disk, path string, data, text []byte) (file string, there bool, err error) {
	s, err := sshsig.Parse(text)
	if err != nil {
		return "", false, err
	}
	have := new(Beside).signatures(path)
	for _, h := range have {
		other, err := sshsig.Parse(h.Text)
		if err == nil && other.Key.Fingerprint() == s.Key.Fingerprint() && other.Verify(data, SignatureUse) == nil {
			return h.File, true, nil
		}
	}
	free := func(name string) bool {
		return !slices.ContainsFunc(have, func(h Signature) bool { return h.File == name })
	}
	file = SignatureName(filepath.Base(path), true, text)
	if !free(file) {
		file = SignatureName(filepath.Base(path), false, text)
	}
	if !free(file) {
		return "", false, another(file, "this signature of the record is here already and is another; the one here stays", "compare the two")
	}
	file = filepath.Join(filepath.Dir(path), file)
	if err := writeWhole(d, file, text); err != nil {
		return "", false, explain(file, "keep the signature", err)
	}
	return filepath.Base(file), false, nil
}
