//go:build unix

package cli

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/ui/internal/term"
)

// talk is a speech program: it writes down its process and what it is to say, on its
// input or as an argument, and what nobody should see wherever it can.
const talk = `#!/bin/sh
read -r said
for f in /dev/stdout /dev/stderr /dev/tty; do echo NOT TO BE SEEN 2>/dev/null >$f; done
echo $$ "$said$1" >>"$SPOKEN"
`

// talkForever never comes to an end.
const talkForever = talk + "exec sleep 3600\n"

func speaker(t *testing.T, talk string) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "talk")
	if err := os.WriteFile(program, []byte(talk), 0o700); err != nil {
		t.Fatal(err)
	}
	return program
}

// newHeardBench is a bench with a speech program, and the file that it writes into.
func newHeardBench(t *testing.T, talk string, flags ...string) (*bench, string) {
	home := t.TempDir()
	spoken := filepath.Join(home, "spoken")
	b := &bench{T: t, Clock: term.NewClock(t), program: self(t), home: home, records: filepath.Join(home, "records")}
	o := term.Options{Home: home, Clock: b.Clock, Env: []string{"SPOKEN=" + spoken, "EVENPULL_SPEAK=" + speaker(t, talk)}}
	b.Term = term.Start(t, o, b.program, append([]string{"walk", "crankcase-close", "--engine", "stand 2", "--records", b.records}, flags...)...)
	return b, spoken
}

// spokenLines waits for so many lines.
func spokenLines(t *testing.T, file string, n int) (lines []string) {
	t.Helper()
	waitUntil(t, fmt.Sprintf("%d lines in %s", n, file), func() bool {
		text, _ := os.ReadFile(file)
		lines = strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
		return strings.Count(string(text), "\n") >= n
	})
	return lines
}

// waitUntil looks again and again: for a minute, or longer if the machine stands still.
func waitUntil(t *testing.T, what string, ok func() bool) {
	t.Helper()
	for range 6000 {
		if ok() {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("never came to %s", what)
}

// split parts a line into process and sentence.
func split(t *testing.T, line string) (pid int, sentence string) {
	t.Helper()
	first, sentence, _ := strings.Cut(line, " ")
	pid, err := strconv.Atoi(first)
	if err != nil {
		t.Fatalf("%q: %v", line, err)
	}
	return pid, sentence
}

func gone(pid int) bool { return errors.Is(syscall.Kill(pid, 0), syscall.ESRCH) }

// A whole crankcase is closed with a speech program that writes its sentences to a
// file: every sentence there is for the walk comes, in order, and nothing of that
// program is on the screen.
func TestACrankcaseIsClosedByEar(t *testing.T) {
	t.Parallel()
	b, file := newHeardBench(t, talk)
	b.WaitText("0 of 37 stages")
	said := len(spokenLines(t, file, 1))
	for b.state().CurrentItem() != nil {
		over, changes := b.state().Changeover()
		if (!changes || over.Again) && len(b.state().DueNow()) > 0 {
			b.renew()
			said = len(spokenLines(t, file, said+1))
			b.dismiss()
		} else {
			b.step()
		}
		said = len(spokenLines(t, file, said+1))
	}
	b.Press("d")
	b.WaitText("CLOSED")
	lines := spokenLines(t, file, said+1)
	var sentences []string
	for _, line := range lines {
		pid, sentence := split(t, line)
		sentences = append(sentences, sentence)
		if !gone(pid) && line != lines[len(lines)-1] {
			t.Errorf("process %d is still there: %s", pid, sentence)
		}
	}
	t.Log("\n" + strings.Join(sentences, "\n"))
	inOrder(t, sentences)
	b.Press("q")
	if code := b.WaitExit(); code != ExitDone {
		t.Errorf("exit code %d", code)
	}
	if strings.Contains(string(b.Raw()), "NOT TO BE SEEN") {
		t.Error("what the speech program wrote came to the terminal")
	}
}

// inOrder wants what ui/speech has for the whole walk, but for the figures that were
// read, among what was said.
func inOrder(t *testing.T, said []string) {
	t.Helper()
	text, err := os.ReadFile("../speech/testdata/golden/crankcase-close.txt")
	if err != nil {
		t.Fatal(err)
	}
	at, held := 0, 0
	for want := range strings.SplitSeq(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(want, "Read ") {
			continue
		}
		for at < len(said) && said[at] != want {
			at++
		}
		if at == len(said) {
			t.Fatalf("never said, or not in its place: %s", want)
		}
		held++
	}
	if held < 60 {
		t.Errorf("only %d sentences were held", held)
	}
}

// A speech program that never comes to an end keeps no key: every stage is confirmed
// while it hangs, each next sentence ends the one before, and leaving ends the last.
func TestNoKeyWaitsForASpeechProgramThatHangs(t *testing.T) {
	t.Parallel()
	b, file := newHeardBench(t, talkForever)
	b.WaitText("0 of 37 stages")
	said := 0
	for n := range 8 {
		said = len(spokenLines(t, file, said+1))
		b.step()
		if pid, _ := split(t, spokenLines(t, file, said+1)[said-1]); !gone(pid) {
			t.Errorf("step %d: process %d still speaks, or was not waited for", n, pid)
		}
	}
	last, _ := split(t, spokenLines(t, file, said+1)[said])
	if gone(last) {
		t.Fatal("the last one does not hang: this tests nothing")
	}
	b.Press("q")
	b.WaitText("LEAVE?")
	b.Press("q")
	b.WaitExit()
	if !gone(last) {
		t.Errorf("process %d speaks on after the end", last)
	}
}

// The bell rings once for what is recorded, twice for what is refused.
func TestTheBellRings(t *testing.T) {
	t.Parallel()
	b, _ := newHeardBench(t, talk, "--bell", "--speak", "")
	b.WaitText("0 of 37 stages")
	rings := func(n int) {
		t.Helper()
		waitUntil(t, fmt.Sprintf("%d rings", n), func() bool { return strings.Count(string(b.Raw()), "\a") == n })
	}
	rings(0)
	b.step()
	rings(1)
	b.Press("d")
	b.WaitText("Not done:")
	rings(3)
	if s := b.state(); len(s.Events) != 2 || s.Events[1].Kind != walk.Refused {
		t.Errorf("events %+v", s.Events)
	}
}

// A plain walk speaks as well, here with the sentence as an argument.
func TestAPlainWalkSpeaks(t *testing.T) {
	file := filepath.Join(t.TempDir(), "spoken")
	cmd := exec.Command(self(t), "walk", "crankcase-close", "--plain", "--records", t.TempDir(), "--speak", speaker(t, talk)+" {}")
	cmd.Env = append(os.Environ(), "SPOKEN="+file)
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	cmd.Stdout, cmd.Stderr = &out, &out
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	for n, want := range []string{"Question: Both faces bare", "Question: Bolt holes", "Noted. Question: Bolt holes"} {
		if _, said := split(t, spokenLines(t, file, n+1)[n]); !strings.HasPrefix(said, want) {
			t.Errorf("said %s, want %s", said, want)
		}
		fmt.Fprintln(in, []string{"ok", "note cold", "quit"}[n])
	}
	if err := cmd.Wait(); codeOf(err) != strconv.Itoa(ExitOutstanding) || strings.Contains(out.String(), "NOT TO BE SEEN") {
		t.Errorf("%v\n%s", err, out.String())
	}
}

// A plain walk that is told to end, by ctrl-c or otherwise, ends by that and leaves no
// speech program behind; what it has written stays.
func TestAPlainWalkThatIsEndedSpeaksNoMore(t *testing.T) {
	for _, told := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP} {
		if signal.Ignored(told) {
			continue // nohup: then it is not told either
		}
		file, records := filepath.Join(t.TempDir(), "spoken"), t.TempDir()
		cmd := exec.Command(self(t), "walk", "crankcase-close", "--plain", "--records", records, "--speak", speaker(t, talkForever))
		cmd.Env = append(os.Environ(), "SPOKEN="+file)
		in, err := cmd.StdinPipe()
		if err == nil {
			err = cmd.Start()
		}
		if err != nil {
			t.Fatal(err)
		}
		spokenLines(t, file, 1)
		fmt.Fprintln(in, "ok")
		pid, _ := split(t, spokenLines(t, file, 2)[1])
		if gone(pid) {
			t.Fatal("it does not hang: this tests nothing")
		}
		t.Cleanup(func() { _ = syscall.Kill(pid, syscall.SIGKILL) })
		if err := cmd.Process.Signal(told); err != nil {
			t.Fatal(err)
		}
		err = cmd.Wait()
		if status, ok := cmd.ProcessState.Sys().(syscall.WaitStatus); !ok || !status.Signaled() || status.Signal() != told {
			t.Errorf("%v: it ends with %v", told, err)
		}
		if !gone(pid) {
			t.Errorf("%v: process %d speaks on after the end", told, pid)
		}
		if files, _ := filepath.Glob(filepath.Join(records, "*.jsonl")); len(files) != 1 || !record.Verify(files[0]).OK() {
			t.Errorf("%v: the records are %q", told, files)
		}
	}
}

func TestTheScreenSaysOnceThatASpeechProgramIsMissing(t *testing.T) {
	b, file := newHeardBench(t, talk, "--speak", "no-such-speech-program")
	b.WaitText("speech: no-such-speech-program: there is no such program here")
	b.step()
	b.WaitGone("no-such-speech-program")
	b.step()
	if text, err := os.ReadFile(file); err == nil {
		t.Errorf("another program spoke: %s", text)
	}
}
