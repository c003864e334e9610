package sshsig

import (
	"crypto"
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/elliptic"
	"crypto/rsa"
	"crypto/sha256"
	"crypto/sha512"
	"errors"
	"fmt"
	"math/big"
	"strings"
)

var errWrong = errors.New("the signature is not of this record as it stands")

const userPresent = 1 // flag of a hardware key: somebody touched it

// verify checks figures over what was signed by the kind of key. Kinds are those
// of RFC 4253, 5656, 8332, 8709 and OpenSSH's PROTOCOL.u2f.
func (k Key) verify(signed, figures []byte) error {
	key, sig := reader{data: k.blob}, reader{data: figures}
	kind, algorithm := string(key.bytes()), string(sig.bytes())
	raw := sig.bytes()
	hardware := strings.HasPrefix(kind, "sk-")
	if kind == "ssh-rsa" {
		return verifyRSA(&key, algorithm, signed, raw)
	}
	if algorithm != kind || sig.failed {
		return errWrong
	}
	var point, application []byte
	var curve elliptic.Curve
	switch kind {
	case "ssh-ed25519", "sk-ssh-ed25519@openssh.com":
	case "ecdsa-sha2-nistp256", "sk-ecdsa-sha2-nistp256@openssh.com":
		curve = elliptic.P256()
	case "ecdsa-sha2-nistp384":
		curve = elliptic.P384()
	case "ecdsa-sha2-nistp521":
		curve = elliptic.P521()
	default:
		return fmt.Errorf("it was made with a key of the kind %q, which is not known here; ask ssh-keygen -Y verify", kind)
	}
	if curve != nil {
		key.bytes() // the curve's name again
	}
	point = key.bytes()
	if hardware {
		application = key.bytes()
		var err error
		if signed, err = touched(application, signed, &sig); err != nil {
			return err
		}
	}
	if key.failed || sig.failed {
		return errWrong
	}
	if curve == nil {
		if len(point) != ed25519.PublicKeySize || !ed25519.Verify(point, signed, raw) {
			return errWrong
		}
		return nil
	}
	return verifyECDSA(curve, point, signed, raw)
}

// touched is what a hardware key signs: not the message alone, but also what it
// was for and that somebody was there.
func touched(application, signed []byte, sig *reader) ([]byte, error) {
	flags := sig.take(1)
	counter := sig.take(4)
	if sig.failed || flags[0]&userPresent == 0 {
		return nil, errors.New("it was made by a hardware key that nobody touched")
	}
	use, message := sha256.Sum256(application), sha256.Sum256(signed)
	all := append([]byte{}, use[:]...)
	all = append(append(all, flags...), counter...)
	return append(all, message[:]...), nil
}

func verifyECDSA(curve elliptic.Curve, point, signed, raw []byte) error {
	public, err := ecdsa.ParseUncompressedPublicKey(curve, point)
	if err != nil {
		return errWrong
	}
	r := reader{data: raw}
	a, b := new(big.Int).SetBytes(r.bytes()), new(big.Int).SetBytes(r.bytes())
	if r.failed || !ecdsa.Verify(public, hashFor(curve, signed), a, b) {
		return errWrong
	}
	return nil
}

// hashFor is the hash that goes with the size of a curve (RFC 5656, 6.2.1).
func hashFor(curve elliptic.Curve, signed []byte) []byte {
	switch bits := curve.Params().BitSize; {
	case bits <= 256:
		sum := sha256.Sum256(signed)
		return sum[:]
	case bits <= 384:
		sum := sha512.Sum384(signed)
		return sum[:]
	}
	sum := sha512.Sum512(signed)
	return sum[:]
}

func verifyRSA(key *reader, algorithm string, signed, raw []byte) error {
	e, n := new(big.Int).SetBytes(key.bytes()), new(big.Int).SetBytes(key.bytes())
	if key.failed || !e.IsInt64() || e.Int64() > 1<<31-1 {
		return errWrong
	}
	public := &rsa.PublicKey{N: n, E: int(e.Int64())}
	var err error
	switch algorithm {
	case "rsa-sha2-256":
		sum := sha256.Sum256(signed)
		err = rsa.VerifyPKCS1v15(public, crypto.SHA256, sum[:], raw)
	case "rsa-sha2-512":
		sum := sha512.Sum512(signed)
		err = rsa.VerifyPKCS1v15(public, crypto.SHA512, sum[:], raw)
	default:
		return fmt.Errorf("it was made with %q, which is no longer safe; sign again", algorithm)
	}
	if err != nil {
		return errWrong
	}
	return nil
}
