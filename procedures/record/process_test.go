//go:build unix

package record

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"strings"
	"syscall"
	"testing"
)

// What this test binary does when it is started again as another process.
const (
	roleKey  = "RECORD_TEST_ROLE"
	storeKey = "RECORD_TEST_STORE"
	idKey    = "RECORD_TEST_ID"
)

func TestMain(m *testing.M) {
	switch os.Getenv(roleKey) {
	case "":
		os.Exit(m.Run())
	case "hold":
		other(hold)
	case "fill":
		other(fill)
	case "forbidden":
		other(forbidden)
	case "list":
		other(listMany)
	}
}

func other(role func(s *Store, id string) error) {
	s, err := Open(os.Getenv(storeKey), clock())
	if err == nil {
		err = role(s, os.Getenv(idKey))
	}
	if err != nil {
		fmt.Println("error:", err)
		os.Exit(1)
	}
	os.Exit(0)
}

// hold opens a record, appends an event and holds on until it is killed.
func hold(s *Store, id string) error {
	w, _, err := s.Resume(id)
	if err != nil {
		return err
	}
	if err := w.Append(note(1, "from the other one")); err != nil {
		return err
	}
	fmt.Println("held by", os.Getpid())
	_, err = io.ReadAll(os.Stdin)
	return err
}

// fill appends until the system lets the file grow no more.
func fill(s *Store, id string) error {
	signal.Ignore(syscall.SIGXFSZ)
	w, _, err := s.Resume(id)
	if err != nil {
		return err
	}
	limit := syscall.Rlimit{Cur: uint64(w.size) + 1000, Max: uint64(w.size) + 1000}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		return err
	}
	for seq := 1; ; seq++ {
		if err := w.Append(note(seq, "more")); err != nil {
			fmt.Println("wrote", seq-1)
			return err
		}
	}
}

// forbidden tries everything that writes, as a user who may not.
func forbidden(s *Store, id string) error {
	if os.Getuid() == 0 {
		if err := syscall.Setuid(65534); err != nil {
			return err
		}
	}
	_, err := s.Create(Header{Procedure: "x", Started: started})
	_, _, err2 := s.Resume(id)
	if _, err3 := Read(s.Path(id)); err3 != nil {
		return fmt.Errorf("reading failed: %w", err3)
	}
	_, err3 := Read(s.Path("secret"))
	return errors.Join(err, err2, err3)
}

func process(t *testing.T, role string, s *Store, id string) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), roleKey+"="+role, storeKey+"="+s.Dir, idKey+"="+id)
	return cmd
}

func TestOneWriterAtATimeOverProcessesAndADeadOneDoesNotBlock(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "2")
	closeWriter(t, w)
	cmd := process(t, "hold", s, w.ID)
	if _, err := cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil || line != fmt.Sprintf("held by %d\n", cmd.Process.Pid) {
		t.Fatalf("the other process says %q, %v", line, err)
	}
	second, events, err := s.Resume(w.ID)
	var locked *LockedError
	if second != nil || !errors.As(err, &locked) || locked.Holder.PID != cmd.Process.Pid || locked.Holder.Since.IsZero() || len(events) != 1 {
		t.Errorf("while held: got %v with %d events, want who holds it and 1 event", err, len(events))
	}
	wantText(t, err, fmt.Sprintf("process %d", cmd.Process.Pid), "evenpull show")
	if err := cmd.Process.Kill(); err != nil { // as kill -9
		t.Fatal(err)
	}
	cmd.Wait()
	after, events, err := s.Resume(w.ID)
	if err != nil || len(events) != 1 || events[0].Text != "from the other one" {
		t.Fatalf("after kill -9: %v, %d events", err, len(events))
	}
	closeWriter(t, after)
}

func TestTheSameProcessCannotOpenARecordTwice(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "2")
	_, _, err := s.Resume(w.ID)
	var locked *LockedError
	if !errors.As(err, &locked) || locked.Holder.PID != os.Getpid() {
		t.Errorf("got %v", err)
	}
	closeWriter(t, w)
	if w.Close() != nil {
		t.Error("closing twice is an error")
	}
}

func TestAFileThatMayGrowNoMoreLosesNothing(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "2")
	closeWriter(t, w)
	out, err := process(t, "fill", s, w.ID).CombinedOutput()
	if err == nil || !strings.Contains(string(out), "the disk is full") {
		t.Fatalf("the other process: %v\n%s", err, out)
	}
	r := Verify(w.Path)
	if !r.OK() || r.Events == 0 || !strings.Contains(string(out), fmt.Sprintf("wrote %d\n", r.Events)) {
		t.Errorf("problems %v, %d events; the other process: %s", r.Problems, r.Events, out)
	}
}

func TestAFolderThatMayNotBeWrittenIsSaidOnceWithARemedy(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "2")
	closeWriter(t, w)
	if os.Getuid() == 0 { // the other process gives its rights away: let it reach the folder
		t.Setenv("TMPDIR", "/tmp")
		for dir := s.Dir; dir != os.TempDir() && len(dir) > 4; dir = dir[:strings.LastIndexByte(dir, '/')] {
			if err := os.Chmod(dir, 0o755); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := os.Chmod(w.Path, 0o644); err != nil { // one that somebody chose to show
		t.Fatal(err)
	}
	writeFile(t, s.Path("secret"), readFile(t, w.Path))
	if err := errors.Join(os.Chmod(s.Path("secret"), 0), os.Chmod(s.Dir, 0o555)); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(s.Dir, 0o755)
	out, err := process(t, "forbidden", s, w.ID).CombinedOutput()
	if err == nil || strings.Count(string(out), "no permission; change its permissions, or choose another folder with --records DIR") != 3 {
		t.Errorf("got %v\n%s", err, out)
	}
	if strings.Contains(string(out), "reading failed") {
		t.Errorf("a read-only record cannot be read: %s", out)
	}
	if list, err := s.List(); err != nil || len(list) != 2 {
		t.Errorf("a read-only folder cannot be listed: %v, %v", list, err)
	}
}
