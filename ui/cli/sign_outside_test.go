//go:build unix && outside

package cli

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A walk is finished, signed by the real ssh-keygen, accepted by it and by
// verify under the person's name, and refused by both once a figure is changed.
func TestASignedRecordIsAcceptedAndAChangedOneRefused(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", dir)
	key, signers := filepath.Join(dir, "key"), filepath.Join(dir, "signers")
	keygen := func(stdin []byte, args ...string) (string, error) {
		cmd := exec.Command("ssh-keygen", args...)
		cmd.Stdin = bytes.NewReader(stdin)
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	if out, err := keygen(nil, "-q", "-t", "ed25519", "-N", "", "-C", "", "-f", key); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	public, err := os.ReadFile(key + ".pub")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(signers, append([]byte("jo@bench "), public...), 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(stdin string, want int, args ...string) string {
		t.Helper()
		var out bytes.Buffer
		code := Run(append([]string{"--records", dir}, args...), Env{In: strings.NewReader(stdin), Out: &out, Err: &out, Now: time.Now, Getenv: os.Getenv})
		if code != want {
			t.Fatalf("%q: exit %d, want %d\n%s", args, code, want, out.String())
		}
		return out.String()
	}
	sheet := filepath.Join(dir, "sheet.toml")
	run("", ExitDone, "new", sheet)
	run("", ExitOutstanding, "walk", sheet, "--plain")
	run("stop for the test\n", ExitOutstanding, "walk", sheet, "--plain")
	run("", ExitDone, "sign", "last", "--key", key)
	if out := run("", ExitDone, "verify", "last", "--signers", signers); !strings.Contains(out, "signed by jo@bench, ssh-ed25519 SHA256:") {
		t.Errorf("verify says %s", out)
	}
	if out := run("", ExitDone, "show", "last"); !strings.Contains(out, "signed with ssh-ed25519 SHA256:") {
		t.Errorf("show says %s", out)
	}
	files, _ := filepath.Glob(filepath.Join(dir, "*.jsonl"))
	data, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	verify := []string{"-Y", "verify", "-f", signers, "-I", "jo@bench", "-n", "evenpull", "-s", files[0] + ".sig"}
	if out, err := keygen(data, verify...); err != nil || !strings.Contains(out, `Good "evenpull" signature for jo@bench`) {
		t.Errorf("ssh-keygen: %v: %s", err, out)
	}
	changed := bytes.Replace(data, []byte("N·m"), []byte("n·m"), 1)
	if out, err := keygen(changed, verify...); err == nil {
		t.Errorf("ssh-keygen accepts a changed record: %s", out)
	}
	if err := os.WriteFile(files[0], changed, 0o600); err != nil {
		t.Fatal(err)
	}
	if out := run("", ExitProblem, "verify", "last"); !strings.Contains(out, "its signature does not hold") {
		t.Errorf("verify says %s", out)
	}
}
