package cli

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"evenpull/procedures"
	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/sshsig"
	"evenpull/spec"
)

func (a *app) signCommand() *cobra.Command {
	var key string
	cmd := &cobra.Command{
		Use:   "sign RECORD",
		Short: "Sign a finished record with your SSH key",
		Long: `Sign a finished record with your SSH key.

ssh-keygen makes the signature, so keys in an agent, with a passphrase or on
hardware work as they do elsewhere. It lies beside the record and can be checked
without this program:

  ssh-keygen -Y verify -f SIGNERS -I NAME -n evenpull -s ID.jsonl.sig < ID.jsonl

More people can sign, each with a key of their own and once: the owner after the
mechanic. What is signed later is ID.jsonl.KEY.sig, and is checked like the first.`,
		Example: `  evenpull sign last
  evenpull sign last --key ~/.ssh/id_ed25519.pub`,
		Args: exactly(1, "one record"),
		RunE: func(cmd *cobra.Command, args []string) error {
			store, err := a.store()
			if err != nil {
				return err
			}
			path, err := store.Find(args[0])
			if err != nil {
				return problem(err)
			}
			if key == "" {
				if key, err = defaultKey(); err != nil {
					return problem(err)
				}
			}
			r, by, err := record.Sign(path, a.Now(), a.keygen(key))
			if err != nil {
				return problem(err)
			}
			fmt.Fprintf(a.Err, "signed %s with %s %s, in %s; show who signed: %s\n", r.ID, by.KeyType, by.Fingerprint, spec.Printable(by.File), a.pointed(shell.Line("verify", []string{r.ID})))
			return nil
		},
	}
	cmd.Flags().StringVar(&key, "key", "", "`FILE` of the key, or of its public half when an agent has it (default: the first in ~/.ssh)")
	cmd.ValidArgsFunction = arguments(false, a.recordNames)
	return cmd
}

// keyNames are those ssh itself tries, the strongest first.
var keyNames = []string{"id_ed25519", "id_ed25519_sk", "id_ecdsa", "id_ecdsa_sk", "id_rsa"}

func defaultKey() (string, error) {
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("there is no home folder to look for a key in; name one: --key FILE")
	}
	for _, ending := range []string{"", ".pub"} { // an agent may have the other half
		for _, name := range keyNames {
			path := filepath.Join(home, ".ssh", name+ending)
			if _, err := os.Stat(path); err == nil {
				return path, nil
			}
		}
	}
	return "", fmt.Errorf("there is no key in %s; name one: --key FILE, or make one: ssh-keygen -t ed25519", spec.Printable(filepath.Join(home, ".ssh")))
}

// keygen signs by ssh-keygen. What it asks, a passphrase or a touch, it asks on
// the terminal itself.
func (a *app) keygen(key string) func([]byte) ([]byte, error) {
	return func(data []byte) ([]byte, error) {
		program, err := exec.LookPath("ssh-keygen")
		if err != nil {
			return nil, errors.New("there is no ssh-keygen to sign with; install OpenSSH")
		}
		var out, said bytes.Buffer
		cmd := exec.Command(program, "-Y", "sign", "-f", key, "-n", record.SignatureUse)
		cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(data), &out, &said
		if err := cmd.Run(); err != nil {
			return nil, fmt.Errorf("ssh-keygen did not sign: %s; choose another key with --key FILE", spec.Printable(strings.TrimSpace(said.String())))
		}
		return out.Bytes(), nil
	}
}

const signersName = "signers"

// signers are the people whose keys are known here: those of the named file, or
// of the settings folder.
func (a *app) signers(file string) (sshsig.Signers, error) {
	path := file
	if path == "" {
		dir, err := a.settingsDir()
		if err != nil {
			return nil, nil
		}
		path = filepath.Join(dir, signersName)
		if _, err := os.Stat(path); err != nil {
			return nil, nil
		}
	}
	text, err := procedures.ReadFile(path)
	if err != nil {
		return nil, problem(err)
	}
	return sshsig.ReadSigners(string(text), record.SignatureUse), nil
}

// signedBy says who signed a record, in words.
func signedBy(s record.Signed, known sshsig.Signers) string {
	if name := known[s.Fingerprint]; name != "" {
		return fmt.Sprintf("signed by %s, %s %s", spec.Printable(name), s.KeyType, s.Fingerprint)
	}
	return fmt.Sprintf("signed with %s %s, a key nobody is named for here", s.KeyType, s.Fingerprint)
}

// signatureNotes say for a page who signed a record; none when nobody has.
func (a *app) signatureNotes(path string) (notes []string) {
	var beside record.Beside
	if !beside.Signed(path) {
		return nil
	}
	known, _ := a.signers("") // without them the key has no name
	r := beside.Verify(path)
	for _, s := range r.Signed {
		if s.Holds {
			notes = append(notes, signedBy(s, known))
		} else {
			notes = append(notes, fmt.Sprintf("the signature beside it in %s does not hold; see: %s", spec.Printable(s.File), a.pointed(shell.Line("verify", []string{r.ID}))))
		}
	}
	return notes
}
