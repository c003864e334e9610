package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"time"
)

// verdict is what became of a mutant.
type verdict int

const (
	survived verdict = iota // no test minded
	killed                  // a test failed
	overtime                // the tests did not end in time
	broken                  // it does not compile
)

// tester runs tests on spoiled code.
type tester struct {
	packages []string
	run      string
	limit    time.Duration
}

// mostMemory of a test that a mutant sets off: a loop that never ends may also
// ask for ever more.
const mostMemory = 8 << 30

// try runs the tests on a mutant, or unspoiled for none, and gives what they say.
func (t tester) try(m *mutant) (verdict, string, error) {
	args := []string{"test", "-count=1", "-failfast", "-vet=off", "-timeout", "0"}
	if t.run != "" {
		args = append(args, "-run", t.run)
	}
	if m != nil {
		dir, err := os.MkdirTemp("", "mutate")
		if err != nil {
			return 0, "", err
		}
		defer os.RemoveAll(dir)
		overlay, err := m.overlay(dir)
		if err != nil {
			return 0, "", err
		}
		args = append(args, "-overlay", overlay)
	}
	return t.goTest(append(args, t.packages...))
}

func (t tester) goTest(args []string) (verdict, string, error) {
	most := syscall.Rlimit{Cur: mostMemory, Max: mostMemory}
	if err := syscall.Setrlimit(syscall.RLIMIT_AS, &most); err != nil { // goes over to what is started
		return 0, "", err
	}
	cmd := exec.Command("go", args...)
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // so that the tests end with go
	cmd.WaitDelay = time.Second
	if err := cmd.Start(); err != nil {
		return 0, "", err
	}
	late := false
	timer := time.AfterFunc(t.limit, func() {
		late = true
		_ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
	})
	err := cmd.Wait()
	timer.Stop()
	var failed *exec.ExitError
	switch {
	case late:
		return overtime, said.String(), nil
	case err == nil:
		return survived, said.String(), nil
	case !errors.As(err, &failed):
		return 0, said.String(), err
	case bytes.Contains(said.Bytes(), []byte("[build failed]")), bytes.Contains(said.Bytes(), []byte("[setup failed]")):
		return broken, said.String(), nil
	}
	return killed, said.String(), nil
}

// overlay writes what go test needs to see the spoiled file in the place of the
// one on disk.
func (m mutant) overlay(dir string) (string, error) {
	path, err := filepath.Abs(m.path)
	if err != nil {
		return "", err
	}
	spoiled, list := filepath.Join(dir, filepath.Base(m.path)), filepath.Join(dir, "overlay.json")
	text, err := json.Marshal(map[string]map[string]string{"Replace": {path: spoiled}})
	if err != nil {
		return "", err
	}
	return list, errors.Join(os.WriteFile(spoiled, m.spoiled(), 0o600), os.WriteFile(list, text, 0o600))
}
