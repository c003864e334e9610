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

// A walk is finished, signed by two people with the real ssh-keygen, each signature
// accepted by it alone and by verify under the person's name, and refused by both once a
// figure is changed.
func TestASignedRecordIsAcceptedAndAChangedOneRefused(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", dir)
	signers, people := filepath.Join(dir, "signers"), []string{"jo@bench", "sam@home"}
	kinds := map[string]string{"jo@bench": "ed25519", "sam@home": "ecdsa"}
	keygen := func(stdin []byte, args ...string) (string, error) {
		cmd := exec.Command("ssh-keygen", args...)
		cmd.Stdin = bytes.NewReader(stdin)
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	var lines []byte
	for _, who := range people {
		key := filepath.Join(dir, who)
		if out, err := keygen(nil, "-q", "-t", kinds[who], "-N", "", "-C", "", "-f", key); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		public, err := os.ReadFile(key + ".pub")
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, who+" "+string(public)...)
	}
	if err := os.WriteFile(signers, lines, 0o600); err != nil {
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
	for _, who := range people {
		run("", ExitDone, "sign", "last", "--key", filepath.Join(dir, who))
	}
	if out := run("", ExitProblem, "sign", "last", "--key", filepath.Join(dir, "sam@home")); !strings.Contains(out, "it is signed with this key already") { // whose signatures differ each time
		t.Errorf("signed again: %s", out)
	}
	if out := run("", ExitDone, "verify", "last", "--signers", signers); !strings.Contains(out, "signed by jo@bench, ssh-ed25519 SHA256:") || !strings.Contains(out, "signed by sam@home, ecdsa-sha2-nistp256 SHA256:") {
		t.Errorf("verify says %s", out)
	}
	if out := run("", ExitDone, "show", "last"); !strings.Contains(out, "signed with ssh-ed25519 SHA256:") || !strings.Contains(out, "signed with ecdsa-sha2-nistp256") {
		t.Errorf("show says %s", out)
	}
	files, _ := filepath.Glob(filepath.Join(dir, "*.jsonl"))
	data, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	changed := bytes.Replace(data, []byte("N·m"), []byte("n·m"), 1)
	seconds, _ := filepath.Glob(files[0] + ".*.sig")
	if len(seconds) != 1 {
		t.Fatalf("second signatures: %v", seconds)
	}
	for i, file := range []string{files[0] + ".sig", seconds[0]} {
		verify := []string{"-Y", "verify", "-f", signers, "-I", people[i], "-n", "evenpull", "-s", file}
		if out, err := keygen(data, verify...); err != nil || !strings.Contains(out, `Good "evenpull" signature for `+people[i]) {
			t.Errorf("ssh-keygen of %s: %v: %s", file, err, out)
		}
		if out, err := keygen(changed, verify...); err == nil {
			t.Errorf("ssh-keygen accepts a changed record with %s: %s", file, out)
		}
	}
	if err := os.WriteFile(files[0], changed, 0o600); err != nil {
		t.Fatal(err)
	}
	if out := run("", ExitProblem, "verify", "last"); strings.Count(out, "its signature does not hold") != 2 {
		t.Errorf("verify says %s", out)
	}
}
