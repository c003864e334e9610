package sshsig

import (
	"bytes"
	"crypto/ed25519"
	"crypto/sha256"
	"crypto/sha512"
	"encoding/pem"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/spec/outside"
)

const (
	message   = "M1 22 N·m, confirmed\n"
	namespace = "evenpull"
)

// kinds of key ssh-keygen is asked to make: name and size.
var kinds = []struct{ kind, bits string }{{"ed25519", "256"}, {"ecdsa", "256"}, {"ecdsa", "384"}, {"ecdsa", "521"}, {"rsa", "3072"}}

// signed is one signature of message as ssh-keygen made it.
type signed struct{ public, fingerprint, signature string }

// askKeygen makes a key of every kind and signs the message with each.
func askKeygen() (string, error) {
	dir, err := os.MkdirTemp("", "sshsig")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(dir)
	var answer strings.Builder
	for i, k := range kinds {
		path := filepath.Join(dir, fmt.Sprint("key", i))
		if out, err := exec.Command("ssh-keygen", "-q", "-t", k.kind, "-b", k.bits, "-N", "", "-C", "", "-f", path).CombinedOutput(); err != nil {
			return "", fmt.Errorf("%w: %s", err, out)
		}
		public, err := os.ReadFile(path + ".pub")
		if err != nil {
			return "", err
		}
		list, err := exec.Command("ssh-keygen", "-l", "-f", path+".pub").Output()
		if err != nil {
			return "", err
		}
		for _, hash := range []string{"sha512", "sha256"} {
			sign := exec.Command("ssh-keygen", "-Y", "sign", "-f", path, "-n", namespace, "-O", "hashalg="+hash)
			sign.Stdin = strings.NewReader(message)
			signature, err := sign.Output()
			if err != nil {
				return "", err
			}
			fmt.Fprintf(&answer, "%s\n%s\n%s\n", strings.TrimSpace(string(public)), strings.Fields(string(list))[1], signature)
		}
	}
	return answer.String(), nil
}

func signatures(t *testing.T) []signed {
	t.Helper()
	text := outside.Answer(t, outside.Question{
		Name: "ssh-keygen-signatures", Command: "ssh-keygen -Y sign -n evenpull, with a fresh key of every kind",
		Version: []string{"sh", "-c", "ssh -V 2>&1"}, Install: "openssh-client", Input: message + fmt.Sprint(kinds), Ask: askKeygen,
	})
	var list []signed
	for _, part := range strings.Split(strings.TrimSpace(text), "\n\n") {
		lines := strings.SplitN(part, "\n", 3)
		list = append(list, signed{lines[0], lines[1], lines[2]})
	}
	if len(list) != 2*len(kinds) {
		t.Fatalf("%d signatures", len(list))
	}
	return list
}

func TestSignaturesOfSSHKeygenHold(t *testing.T) {
	for _, c := range signatures(t) {
		s, err := Parse([]byte(c.signature))
		if err != nil {
			t.Fatalf("%s: %v", c.public, err)
		}
		if s.Key.Fingerprint() != c.fingerprint || !strings.HasPrefix(c.public, s.Key.Type+" ") {
			t.Errorf("%s is %s %s, want %s", c.public, s.Key.Type, s.Key.Fingerprint(), c.fingerprint)
		}
		if err := s.Verify([]byte(message), namespace); err != nil {
			t.Errorf("%s: %v", c.public, err)
		}
		if err := s.Verify([]byte(message+" "), namespace); err == nil {
			t.Errorf("%s: another message passes", c.public)
		}
		if err := s.Verify([]byte(message), "file"); err == nil || !strings.Contains(err.Error(), "another use") {
			t.Errorf("%s: another use passes: %v", c.public, err)
		}
		names := ReadSigners("# people\n\nsomebody else\njo@bench "+c.public+" bench key\n", namespace)
		if names[s.Key.Fingerprint()] != "jo@bench" || len(names) != 1 {
			t.Errorf("%s is by %v", c.public, names)
		}
	}
}

// Any bit of a signature that changes is found, whatever it stands for.
func TestNoChangedSignatureHolds(t *testing.T) {
	tried := 0
	for i, c := range signatures(t) {
		if i%2 > 0 {
			continue // the other hash of the same key
		}
		block, _ := pem.Decode([]byte(c.signature))
		original, err := Parse([]byte(c.signature))
		if err != nil {
			t.Fatal(err)
		}
		for i := range block.Bytes {
			if i%outside.Times(3, 1) != 0 {
				continue
			}
			changed := bytes.Clone(block.Bytes)
			changed[i] ^= 1 << (i % 8)
			s, err := Parse(pem.EncodeToMemory(&pem.Block{Type: block.Type, Bytes: changed}))
			if err != nil {
				continue
			}
			tried++
			if s.Verify([]byte(message), namespace) == nil && s.Key.Fingerprint() == original.Key.Fingerprint() {
				t.Errorf("%s: it still holds with byte %d of %d changed", c.public, i, len(changed))
			}
		}
	}
	t.Logf("%d changed signatures that still read as one", tried)
}

func TestWhatIsNoSignatureSaysSo(t *testing.T) {
	whole := signatures(t)[0].signature
	for name, text := range map[string]string{"nothing": "", "words": "signed, jo", "another block": strings.ReplaceAll(whole, "SSH SIGNATURE", "CERTIFICATE"), "half": whole[:len(whole)/2], "long": strings.Repeat(whole, 400)} {
		if _, err := Parse([]byte(text)); err == nil {
			t.Errorf("%s reads as a signature", name)
		}
	}
}

func TestSignersWithOptionsAreLeftToSSHKeygen(t *testing.T) {
	key := strings.Fields(signatures(t)[0].public)
	line := key[0] + " " + key[1]
	for options, want := range map[string]int{`namespaces="evenpull" `: 1, "cert-authority ": 0, `valid-before="20200101" `: 0, `namespaces="git" `: 0, "": 1} {
		if got := ReadSigners("jo "+options+line+"\n", namespace); len(got) != want {
			t.Errorf("%q: %d names, want %d", options, len(got), want)
		}
	}
}

func FuzzParseNeverPanics(f *testing.F) {
	f.Add([]byte("-----BEGIN SSH SIGNATURE-----\nU1NIU0lHAAAAAQ==\n-----END SSH SIGNATURE-----\n"), []byte("x"))
	f.Fuzz(func(t *testing.T, text, message []byte) {
		if s, err := Parse(text); err == nil {
			_ = s.Verify(message, namespace)
		}
		if s, err := Parse(pem.EncodeToMemory(&pem.Block{Type: armour, Bytes: text})); err == nil {
			_ = s.Verify(message, s.Namespace)
		}
	})
}

// hardware makes a signature as a key on hardware does (PROTOCOL.u2f of OpenSSH):
// over what the key is for, whether somebody touched it, a count and the message.
// ssh-keygen cannot be asked for one without the hardware.
func hardware(flags byte) []byte {
	private := ed25519.NewKeyFromSeed(bytes.Repeat([]byte{7}, ed25519.SeedSize))
	const kind, application = "sk-ssh-ed25519@openssh.com", "ssh:"
	counter := []byte{0, 0, 0, 9}
	digest := sha512.Sum512([]byte(message))
	signed := []byte(magic)
	for _, part := range []string{namespace, "", "sha512", string(digest[:])} {
		signed = append(signed, field([]byte(part))...)
	}
	use, all := sha256.Sum256([]byte(application)), sha256.Sum256(signed)
	body := append(append(append(append([]byte{}, use[:]...), flags), counter...), all[:]...)
	key := append(append(field([]byte(kind)), field(private.Public().(ed25519.PublicKey))...), field([]byte(application))...)
	figures := append(append(field([]byte(kind)), field(ed25519.Sign(private, body))...), append([]byte{flags}, counter...)...)
	blob := append([]byte(magic), 0, 0, 0, version)
	for _, part := range [][]byte{key, []byte(namespace), nil, []byte("sha512"), figures} {
		blob = append(blob, field(part)...)
	}
	return pem.EncodeToMemory(&pem.Block{Type: armour, Bytes: blob})
}

func TestAHardwareKeyHasToBeTouched(t *testing.T) {
	for flags, want := range map[byte]string{userPresent: "", 5: "", 0: "nobody touched", 4: "nobody touched"} {
		s, err := Parse(hardware(flags))
		if err != nil {
			t.Fatal(err)
		}
		err = s.Verify([]byte(message), namespace)
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("flags %d: %v, want %q", flags, err, want)
		}
		if s.Verify([]byte("another"), namespace) == nil {
			t.Errorf("flags %d: another message passes", flags)
		}
	}
}
