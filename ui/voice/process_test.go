//go:build unix

package voice

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// What this test binary does when it is started again as a speech program.
const (
	roleKey = "VOICE_TEST_ROLE"
	fileKey = "VOICE_TEST_FILE"
)

func TestMain(m *testing.M) {
	switch os.Getenv(roleKey) {
	case "":
		os.Exit(m.Run())
	case "write":
		write()
		os.Exit(0)
	case "hang":
		write()
		time.Sleep(time.Hour)
	case "fail":
		os.Exit(3)
	case "parent": // it hangs by what it has started, which holds the file open
		os.Setenv(roleKey, "hang")
		child := exec.Command(os.Args[0], os.Args[1:]...)
		child.Stdin = os.Stdin
		_ = child.Run()
		os.Exit(0)
	}
}

// write puts one line into the file: process, arguments, what came in.
func write() {
	in, _ := io.ReadAll(os.Stdin)
	fmt.Println("this must not be seen")
	f, err := os.OpenFile(os.Getenv(fileKey), os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o600)
	if err != nil {
		panic(err)
	}
	fmt.Fprintf(f, "%d %q %q\n", os.Getpid(), os.Args[1:], in) // and open it stays
}

// speaking starts a speaker that is this test binary in a role.
func speaking(t *testing.T, role, arguments string) (s *Speaker, file string) {
	t.Helper()
	file = filepath.Join(t.TempDir(), "spoken")
	t.Setenv(roleKey, role)
	t.Setenv(fileKey, file)
	c, err := ReadCommand(`"` + os.Args[0] + `" ` + arguments)
	if err != nil {
		t.Fatal(err)
	}
	s = NewSpeaker(c)
	t.Cleanup(func() { s.Close(0) })
	return s, file
}

// lines waits for so many lines in a file.
func lines(t *testing.T, file string, n int) []string {
	t.Helper()
	for range 6000 { // a minute, or longer if the machine stands still
		text, _ := os.ReadFile(file)
		if list := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n"); strings.Count(string(text), "\n") >= n {
			return list
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("never came to %d lines in %s", n, file)
	return nil
}

func pidOf(t *testing.T, line string) int {
	t.Helper()
	pid, err := strconv.Atoi(strings.Fields(line)[0])
	if err != nil {
		t.Fatal(err)
	}
	return pid
}

// there reports whether there is a process of this number, if only as a zombie.
func there(pid int) bool { return !errors.Is(syscall.Kill(pid, 0), syscall.ESRCH) }

func TestASentenceComesOnStandardInputOrAsAnArgument(t *testing.T) {
	for arguments, want := range map[string]string{
		"":                  `[] "M3: 20 newton metres.\n"`,
		`-v "en gb" --t={}`: `["-v" "en gb" "--t=M3: 20 newton metres."] ""`,
	} {
		s, file := speaking(t, "write", arguments)
		s.Say("M3: 20 newton metres.")
		if got := lines(t, file, 1)[0]; !strings.HasSuffix(got, want) {
			t.Errorf("%q got %s, want %s", arguments, got, want)
		}
		s.Close(time.Minute)
	}
}

func TestAProgramThatHangsIsKilledAndReapedAtTheNextSentence(t *testing.T) {
	s, file := speaking(t, "hang", "")
	for n := 1; n <= 4; n++ {
		s.Say("sentence " + strconv.Itoa(n))
		list := lines(t, file, n)
		if !strings.Contains(list[n-1], "sentence "+strconv.Itoa(n)) {
			t.Fatalf("line %d is %s", n, list[n-1])
		}
		for i := range n - 1 {
			if pid := pidOf(t, list[i]); there(pid) {
				t.Errorf("at sentence %d, process %d of sentence %d is still there", n, pid, i+1)
			}
		}
	}
	s.Close(0)
	if pid := pidOf(t, lines(t, file, 4)[3]); there(pid) {
		t.Errorf("process %d is still there after the end", pid)
	}
	select {
	case trouble := <-s.Trouble():
		t.Errorf("what was stopped on purpose counts as trouble: %s", trouble)
	default:
	}
}

// A speech program may be a script: what it has started ends with it.
func TestWhatASpeechProgramHasStartedEndsWithIt(t *testing.T) {
	s, _ := speaking(t, "parent", "")
	fifo := filepath.Join(t.TempDir(), "fifo")
	if err := syscall.Mkfifo(fifo, 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv(fileKey, fifo)
	s.Say("one")
	f, err := os.Open(fifo) // waits for the grandchild
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	out := bufio.NewReader(f)
	if line, err := out.ReadString('\n'); err != nil || !strings.Contains(line, "one") {
		t.Fatalf("%q, %v", line, err)
	}
	s.Close(0)
	if rest, err := io.ReadAll(out); err != nil || len(rest) > 0 { // to its end: nobody holds it any more
		t.Errorf("%q, %v", rest, err)
	}
}

func TestAMissingProgramAndOneThatFailsAreTold(t *testing.T) {
	for line, want := range map[string]string{
		"no-such-speech-program":        "speech: no-such-speech-program: there is no such program here",
		"/no/such/speech-program {}":    "speech: speech-program: there is no such program here",
		`"` + os.Args[0] + `" anything`: "speech: " + filepath.Base(os.Args[0]) + ": exit status 3",
	} {
		t.Setenv(roleKey, "fail")
		c, err := ReadCommand(line)
		if err != nil {
			t.Fatal(err)
		}
		s := NewSpeaker(c)
		if strings.Contains(want, "no such program") && len(s.Trouble()) == 0 {
			t.Errorf("%s: it is not told at once", line)
		}
		s.Say("hello")
		if got := <-s.Trouble(); got != want {
			t.Errorf("%s: got %q, want %q", line, got, want)
		}
		s.Close(0)
	}
}
