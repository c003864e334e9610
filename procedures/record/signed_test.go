package record

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/sshsig/testkey"
	"evenpull/spec/outside"
)

// keptRecord is a finished walk as it lies on disk.
const keptRecord = "testdata/signed/2026-11-25-125-1-close-the-cover-1.jsonl"

// askKeygen signs the record, and asks whether the signature holds: of the
// record, and of it with one figure changed.
func askKeygen(data []byte) (string, error) {
	dir, err := os.MkdirTemp("", "signed")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(dir)
	key, signers, sig := filepath.Join(dir, "key"), filepath.Join(dir, "signers"), filepath.Join(dir, "sig")
	keygen := func(stdin []byte, args ...string) (string, error) {
		cmd := exec.Command("ssh-keygen", args...)
		cmd.Stdin = bytes.NewReader(stdin)
		out, err := cmd.Output()
		return string(out), err
	}
	if _, err := keygen(nil, "-q", "-t", "ed25519", "-N", "", "-C", "", "-f", key); err != nil {
		return "", err
	}
	signature, err := keygen(data, "-Y", "sign", "-f", key, "-n", SignatureUse)
	if err != nil {
		return "", err
	}
	public, err := os.ReadFile(key + ".pub")
	if err != nil {
		return "", err
	}
	if err := errors.Join(os.WriteFile(sig, []byte(signature), 0o600), os.WriteFile(signers, append([]byte("jo@bench "), public...), 0o600)); err != nil {
		return "", err
	}
	verify := []string{"-Y", "verify", "-f", signers, "-I", "jo@bench", "-n", SignatureUse, "-s", sig}
	_, whole := keygen(data, verify...)
	_, changed := keygen(bytes.Replace(data, []byte("9 N·m"), []byte("8 N·m"), 1), verify...)
	return fmt.Sprintf("the record: %v\nthe record with one figure changed: %v\n%s", whole, changed, signature), nil
}

func TestSSHKeygenAndThisProgramAgreeOnASignature(t *testing.T) {
	data, err := os.ReadFile(keptRecord)
	if err != nil {
		t.Fatal(err)
	}
	answer := outside.Answer(t, outside.Question{
		Name: "ssh-keygen-record", Command: "ssh-keygen -Y sign -n evenpull, then -Y verify -I jo@bench -n evenpull",
		Version: []string{"sh", "-c", "ssh -V 2>&1"}, Install: "openssh-client", Input: string(data), Ask: func() (string, error) { return askKeygen(data) },
	})
	lines := strings.SplitN(answer, "\n", 3)
	if lines[0] != "the record: <nil>" || lines[1] != "the record with one figure changed: exit status 255" {
		t.Errorf("ssh-keygen says of %s and of %s", lines[0], lines[1])
	}
	r := VerifyBytes(keptRecord, data, signedWith([]byte(lines[2])))
	if !r.OK() || len(r.Signed) != 1 || !r.Signed[0].Holds || r.Signed[0].KeyType != "ssh-ed25519" {
		t.Errorf("%v, %+v", r.Problems, r.Signed)
	}
	for i := range data {
		changed := bytes.Clone(data)
		changed[i] ^= 1
		if r := VerifyBytes(keptRecord, changed, signedWith([]byte(lines[2]))); r.OK() || len(r.Signed) > 0 && r.Signed[0].Holds {
			t.Fatalf("byte %d changed, and it still holds", i)
		}
	}
}

// signedWith are signatures as they lie beside a record.
func signedWith(texts ...[]byte) (list []Signature) {
	for i, text := range texts {
		list = append(list, Signature{File: SignatureName("it", i == 0, text), Text: text})
	}
	return list
}

// copyOfKept gives the kept record in a folder of its own.
func copyOfKept(t *testing.T) (path string, data []byte) {
	t.Helper()
	data, err := os.ReadFile(keptRecord)
	if err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), filepath.Base(keptRecord))
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path, data
}

func TestOnlyAFinishedWholeRecordIsSignedAndOnce(t *testing.T) {
	path, data := copyOfKept(t)
	good := func(d []byte) ([]byte, error) { return testkey.Sign(1, d, SignatureUse), nil }
	refused := func(why string, sign func([]byte) ([]byte, error)) {
		t.Helper()
		_, _, err := Sign(path, time.Now(), sign)
		if err == nil || !strings.Contains(err.Error(), why) {
			t.Errorf("%v, want %q", err, why)
		}
	}
	refused("no agent", func([]byte) ([]byte, error) { return nil, errors.New("no agent") })
	refused("no signature of this record", func(d []byte) ([]byte, error) { return testkey.Sign(1, d[1:], SignatureUse), nil })
	refused("another use", func(d []byte) ([]byte, error) { return testkey.Sign(1, d, "file"), nil })
	refused("no signature of this record", func([]byte) ([]byte, error) { return []byte("signed, jo"), nil })
	if _, err := os.Stat(SignaturePath(path)); err == nil {
		t.Error("a refused signature was kept")
	}
	if _, by, err := Sign(path, time.Now(), good); err != nil || !by.Holds || by.File != filepath.Base(path)+".sig" {
		t.Fatalf("%v", err)
	}
	if r := Verify(path); !r.OK() || len(r.Signed) != 1 || !r.Signed[0].Holds {
		t.Errorf("%v", r.Problems)
	}
	refused("it is signed with this key already, in "+filepath.Base(path)+".sig", good)

	lines := bytes.SplitAfter(data, []byte("\n"))
	open := bytes.Join(lines[:len(lines)-2], nil) // without its done
	if err := errors.Join(os.Remove(SignaturePath(path)), os.WriteFile(path, open, 0o600)); err != nil {
		t.Fatal(err)
	}
	refused("still open", good)
	if err := os.WriteFile(path, bytes.Replace(data, []byte("9 N·m"), []byte("8 N·m"), 1), 0o600); err != nil {
		t.Fatal(err)
	}
	refused("cannot be relied on and is not signed", good)
}

// A record written anew with all its hashes deceives the chain, not a signature.
func TestASignatureShowsARecordWrittenAnew(t *testing.T) {
	path, data := copyOfKept(t)
	if _, _, err := Sign(path, time.Now(), func(d []byte) ([]byte, error) { return testkey.Sign(1, d, SignatureUse), nil }); err != nil {
		t.Fatal(err)
	}
	anew := rehashed(data, func(line string) string {
		return strings.Replace(line, `"engine":"125-1"`, `"engine":"125-2"`, 1)
	})
	if r := VerifyBytes(path, anew, nil); !r.OK() {
		t.Fatalf("the chain alone already shows it: %v", r.Problems)
	}
	if err := os.WriteFile(path, anew, 0o600); err != nil {
		t.Fatal(err)
	}
	if r := Verify(path); r.OK() || len(r.Signed) != 1 || r.Signed[0].Holds || !strings.Contains(r.Problems[0], "its signature does not hold") {
		t.Errorf("%v", r.Problems)
	}
	if err := os.WriteFile(SignaturePath(path), []byte("jo was here"), 0o600); err != nil {
		t.Fatal(err)
	}
	if r := Verify(path); r.OK() || !strings.Contains(r.Problems[0], "its signature cannot be relied on") {
		t.Errorf("%v", r.Problems)
	}
}

// rehashed gives a record with every line edited and all its hashes made anew,
// as somebody with this source at hand could write it.
func rehashed(data []byte, edit func(line string) string) []byte {
	var out bytes.Buffer
	prev := ""
	for i, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		body, _ := splitSum([]byte(line))
		text := string(body)
		if i > 0 {
			text = text[:strings.LastIndex(text, prevKey)] + prevKey + prev + `"`
		}
		text = edit(text)
		sum := sha256.Sum256([]byte(text))
		text = fmt.Sprintf(`%s%s%x"}`, text, sumKey, sum)
		fmt.Fprintln(&out, text)
		hash := lineHash([]byte(text))
		prev = string(hash[:])
	}
	return out.Bytes()
}
