// Package sshsig reads and checks signatures in the SSHSIG format, which
// ssh-keygen -Y sign writes (PROTOCOL.sshsig of OpenSSH). It never touches a
// private key: making a signature is left to ssh-keygen, which knows agents,
// passphrases and keys on hardware.
package sshsig

import (
	"crypto/sha256"
	"crypto/sha512"
	"encoding/base64"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"fmt"
	"hash"
	"strings"
)

const (
	magic   = "SSHSIG"
	version = 1
	armour  = "SSH SIGNATURE"
)

// Longest is how many bytes of a signature are read; a real one has under four thousand.
const Longest = 64 << 10

// Signature is one as read. It says nothing of the message until Verify has
// been asked.
type Signature struct {
	Key       Key
	Namespace string // what the signature is for; another use cannot pass it off as its own
	reserved  []byte // empty so far; it is signed all the same
	hash      string // sha256 or sha512
	sig       []byte // algorithm and figures, as they stand
}

// Key is the public key a signature was made with.
type Key struct {
	Type string // ssh-ed25519, …
	blob []byte
}

// Fingerprint is what ssh-keygen -l shows of the key: "SHA256:…".
func (k Key) Fingerprint() string {
	sum := sha256.Sum256(k.blob)
	return "SHA256:" + base64.RawStdEncoding.EncodeToString(sum[:])
}

// Short is enough of the key to tell it from others, in letters that any file name may have.
func (k Key) Short() string {
	sum := sha256.Sum256(k.blob)
	return hex.EncodeToString(sum[:8])
}

// Parse reads an armoured signature.
func Parse(text []byte) (Signature, error) {
	if len(text) > Longest {
		return Signature{}, errors.New("it is too long for an SSH signature")
	}
	block, _ := pem.Decode(text)
	if block == nil || block.Type != armour {
		return Signature{}, errors.New("it is no SSH signature; it begins with -----BEGIN SSH SIGNATURE-----")
	}
	r := reader{data: block.Bytes}
	head, v := string(r.take(len(magic))), r.uint32()
	s := Signature{Key: Key{blob: r.bytes()}, Namespace: string(r.bytes())}
	s.reserved, s.hash, s.sig = r.bytes(), string(r.bytes()), r.bytes()
	switch {
	case r.failed || head != magic || len(r.data) > 0:
		return Signature{}, errors.New("it is an SSH signature cut short or damaged")
	case v != version:
		return Signature{}, fmt.Errorf("it is an SSH signature of version %d; version %d is known here", v, version)
	}
	key := reader{data: s.Key.blob}
	if s.Key.Type = string(key.bytes()); key.failed {
		return Signature{}, errors.New("it is an SSH signature without a key")
	}
	return s, nil
}

// Verify says whether the signature was made by its key, for this use, of this
// message. Who holds the key is for Signers to say.
func (s Signature) Verify(message []byte, namespace string) error {
	sum := s.Hash()
	sum.Write(message)
	return s.VerifySum(sum.Sum(nil), namespace)
}

// Hash takes the sum of a message for VerifySum, so that it need not be in memory whole.
func (s Signature) Hash() hash.Hash {
	if s.hash == "sha256" {
		return sha256.New()
	}
	return sha512.New()
}

// VerifySum is Verify of the message that has this sum.
func (s Signature) VerifySum(digest []byte, namespace string) error {
	switch {
	case s.Namespace != namespace:
		return fmt.Errorf("it was signed for another use, %q", s.Namespace)
	case s.hash != "sha256" && s.hash != "sha512":
		return fmt.Errorf("it was made with the hash %q, which is not known here", s.hash)
	}
	signed := append([]byte(magic), field([]byte(s.Namespace))...)
	for _, part := range [][]byte{s.reserved, []byte(s.hash), digest} {
		signed = append(signed, field(part)...)
	}
	return s.Key.verify(signed, s.sig)
}

// reader takes an SSH structure apart (RFC 4251, section 5). Past its end it
// gives nothing, and says that it failed.
type reader struct {
	data   []byte
	failed bool
}

func (r *reader) take(n int) []byte {
	if r.failed || n < 0 || n > len(r.data) {
		r.failed = true
		return nil
	}
	part := r.data[:n]
	r.data = r.data[n:]
	return part
}

func (r *reader) uint32() uint32 {
	b := r.take(4)
	if b == nil {
		return 0
	}
	return uint32(b[0])<<24 | uint32(b[1])<<16 | uint32(b[2])<<8 | uint32(b[3])
}

func (r *reader) bytes() []byte { return r.take(int(min(r.uint32(), Longest+1))) }

// field is bytes with their length before them.
func field(b []byte) []byte {
	n := len(b)
	return append([]byte{byte(n >> 24), byte(n >> 16), byte(n >> 8), byte(n)}, b...)
}

// Signers are people by their keys: a file of allowed signers as ssh-keygen
// reads it.
type Signers map[string]string // fingerprint → name

// ReadSigners reads lines of NAME KEYTYPE KEY, with anything behind. A line with
// options is left out unless they only say that the namespace is this one:
// certificates and dates are for ssh-keygen to judge.
func ReadSigners(text, namespace string) Signers {
	names := Signers{}
	for line := range strings.Lines(text) {
		words := strings.Fields(line)
		if len(words) == 4 || len(words) > 4 && strings.HasPrefix(words[1], "namespaces=") {
			if words[1] == `namespaces="`+namespace+`"` {
				words = append(words[:1], words[2:]...)
			}
		}
		if len(words) < 3 || strings.HasPrefix(line, "#") {
			continue
		}
		blob, err := base64.StdEncoding.DecodeString(words[2])
		if err != nil {
			continue
		}
		names[Key{blob: blob}.Fingerprint()] = words[0]
	}
	return names
}
