package record

import (
	"errors"
	"hash"
	"io"
	"io/fs"
	"os"

	"evenpull/procedures/sshsig"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// SignatureUse is what signatures of records are made for, in the words of
// SSHSIG their namespace: one made for mail or code cannot stand in for it.
const SignatureUse = "evenpull"

// signatureEnding comes after the whole name of the record, where ssh-keygen
// puts it too.
const signatureEnding = ".sig"

// Signed says by which key a record was signed. The chain shows what was changed
// by accident or by hand; only a signature shows a record that was written anew
// with all its hashes, and only to those who know the key.
type Signed struct {
	KeyType     string // ssh-ed25519, …
	Fingerprint string // SHA256:…
	Holds       bool   // made by that key of this record as it stands
}

// SignaturePath is where the signature of a record lies.
func SignaturePath(path string) string { return path + signatureEnding }

// Raw gives the bytes of a record, and of its signature if it has one.
func Raw(path string) (data, signature []byte, err error) {
	if data, err = readWhole(path, nil); err != nil {
		return nil, nil, err
	}
	signature, err = readSignature(path)
	return data, signature, err
}

func readSignature(path string) ([]byte, error) {
	if _, err := os.Lstat(SignaturePath(path)); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return readWhole(SignaturePath(path), nil)
}

// signing is the signature of a record that is being read.
type signing struct {
	sshsig.Signature
	sum  hash.Hash // of the record; nil when there is no signature that can be read
	fail error     // why it cannot be
}

func signingOf(text []byte) (s signing) {
	if len(text) == 0 {
		return s
	}
	if s.Signature, s.fail = sshsig.Parse(text); s.fail == nil {
		s.sum = s.Hash()
	}
	return s
}

// over takes the sum of what is read.
func (s signing) over(in io.Reader) io.Reader {
	if s.sum == nil {
		return in
	}
	return io.TeeReader(in, s.sum)
}

// report says whether it holds, once all has been read.
func (s signing) report(r *Report) {
	if s.fail != nil {
		r.problem("its signature cannot be relied on: %s", s.fail)
	}
	if s.sum == nil {
		return
	}
	r.Signed = &Signed{spec.Printable(s.Key.Type), s.Key.Fingerprint(), true}
	if err := s.VerifySum(s.sum.Sum(nil), SignatureUse); err != nil {
		r.Signed.Holds = false
		r.problem("its signature does not hold: %s", err)
	}
}

// Sign keeps a signature beside a record. sign is given the record's bytes and
// makes the signature. Only a finished record that can be relied on is signed,
// and a signature that is there already stays.
func Sign(path string, sign func(record []byte) ([]byte, error)) (*Report, error) {
	data, err := readWhole(path, nil)
	if err != nil {
		return nil, err
	}
	id := idOf(path)
	if _, err := os.Lstat(SignaturePath(path)); !errors.Is(err, fs.ErrNotExist) {
		return nil, &Error{Path: id, What: "it is signed already", Remedy: "to sign it anew, first take away " + spec.Printable(SignaturePath(path))}
	}
	switch r := VerifyBytes(path, data, nil); {
	case !r.OK():
		return r, &Error{Path: id, What: "it cannot be relied on and is not signed: " + r.Problems[0], Remedy: "take the record from a backup"}
	case r.Header.Ledger:
		return r, &Error{Path: id, What: "a ledger is never finished, so it is not signed", Remedy: "sign the walks of that engine"}
	case r.State == walk.IsOpen:
		return r, &Error{Path: id, What: "the walk is still open", Remedy: "finish it or stop it, then sign"}
	}
	signature, err := sign(data)
	if err != nil {
		return nil, err
	}
	r := VerifyBytes(path, data, signature)
	if !r.OK() {
		return r, &Error{Path: id, What: "what came back is no signature of this record: " + r.Problems[0], Remedy: "look at the key and try again"}
	}
	if err := writeWhole(system{}, SignaturePath(path), signature); err != nil {
		return r, explain(SignaturePath(path), "write the signature", err)
	}
	return r, nil
}
