// Package testkey signs in the SSHSIG format with keys that anybody can make, in tests.
package testkey

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha512"
	"encoding/base64"
	"encoding/binary"
	"encoding/pem"
)

const kind = "ssh-ed25519"

func key(n byte) ed25519.PrivateKey {
	return ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, ed25519.SeedSize))
}

// field is parts, each with its length before it (RFC 4251, section 5).
func field(parts ...[]byte) (out []byte) {
	for _, p := range parts {
		out = append(binary.BigEndian.AppendUint32(out, uint32(len(p))), p...)
	}
	return out
}

func public(n byte) []byte { return field([]byte(kind), key(n).Public().(ed25519.PublicKey)) }

// Public is the line of a file of allowed signers for a key, without the name before it.
func Public(n byte) string { return kind + " " + base64.StdEncoding.EncodeToString(public(n)) }

// Sign makes a signature of a message, for a use, with key number n.
func Sign(n byte, message []byte, use string) []byte {
	digest := sha512.Sum512(message)
	rest := field([]byte(use), nil, []byte("sha512"))
	signed := append(append([]byte("SSHSIG"), rest...), field(digest[:])...)
	blob := append([]byte("SSHSIG\x00\x00\x00\x01"), field(public(n))...)
	blob = append(append(blob, rest...), field(field([]byte(kind), ed25519.Sign(key(n), signed)))...)
	return pem.EncodeToMemory(&pem.Block{Type: "SSH SIGNATURE", Bytes: blob})
}
