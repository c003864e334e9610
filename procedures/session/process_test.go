package session

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec/outside"
)

// What this test binary does when it is started again as another process: each
// says that it is ready, waits for a line, acts once, says what came of it, and
// stays until its input ends.
const (
	roleKey  = "SESSION_TEST_ROLE"
	storeKey = "SESSION_TEST_STORE"
	sheetKey = "SESSION_TEST_SHEET"
)

func TestMain(m *testing.M) {
	role, ok := map[string]func(Desk, string) (string, error){"open": opening, "back": markingBack, "note": noting}[os.Getenv(roleKey)]
	if !ok {
		os.Exit(m.Run())
	}
	store, err := record.Open(os.Getenv(storeKey), time.Now)
	if err != nil {
		panic(err)
	}
	d := Desk{Store: store, Library: procedures.Library{}, Now: time.Now, Program: "test"}
	in := bufio.NewReader(os.Stdin)
	fmt.Println("ready")
	in.ReadString('\n')
	said, err := role(d, os.Getenv(sheetKey))
	if err != nil {
		said = "refused: " + strings.ReplaceAll(err.Error(), "\n", " ")
	}
	fmt.Println(said)
	io.Copy(io.Discard, in)
	os.Exit(0)
}

// opened is held on to: a lock whose file is collected as garbage is let go of.
var opened *Session

func opening(d Desk, sheet string) (string, error) {
	s, err := d.Open(Request{Procedure: sheet, Engine: "7"})
	opened = s
	switch {
	case err != nil:
		return "", err
	case s.Held != nil:
		return fmt.Sprintf("%s held by %d", s.ID, s.Held.Holder.PID), nil
	}
	return s.ID + " begun", nil
}

func markingBack(d Desk, _ string) (string, error) {
	_, err := d.Enter("7", d.Store.Pictures(), func(e engine.Engine) ([]walk.Event, error) {
		ev, err := e.Mark(engine.Marking{Kind: record.Back, Thing: "rotor"})
		return []walk.Event{ev}, err
	})
	return "recorded", err
}

func noting(d Desk, _ string) (string, error) {
	_, err := d.Enter("7", d.Store.Pictures(), func(engine.Engine) ([]walk.Event, error) {
		return []walk.Event{{Kind: walk.Noted, Text: "at once"}}, nil
	})
	return "recorded", err
}

// process is one other program.
type process struct {
	cmd *exec.Cmd
	in  io.WriteCloser
	out *bufio.Reader
}

// atOnce lets n processes do the same thing at the same moment, and gives what
// each of them said and its number, once all have said it.
func (r *room) atOnce(n int, role, sheet string) (said []string, pids []int) {
	r.Helper()
	all := make([]process, n)
	for i := range all {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), roleKey+"="+role, storeKey+"="+r.Store.Dir, sheetKey+"="+sheet)
		in, err1 := cmd.StdinPipe()
		out, err2 := cmd.StdoutPipe()
		if err := errors.Join(err1, err2, cmd.Start()); err != nil {
			r.Fatal(err)
		}
		all[i] = process{cmd, in, bufio.NewReader(out)}
	}
	for _, p := range all {
		p.out.ReadString('\n')
	}
	for _, p := range all {
		io.WriteString(p.in, "go\n")
	}
	for _, p := range all {
		line, err := p.out.ReadString('\n')
		if err != nil {
			r.Fatal(err)
		}
		said, pids = append(said, strings.TrimSpace(line)), append(pids, p.cmd.Process.Pid)
	}
	for _, p := range all {
		p.in.Close()
		p.cmd.Wait()
	}
	return said, pids
}

// rounds is how often they meet. A lock that does not hold is seen in nearly each.
var rounds = outside.Times(5, 25)

// Of programs that start the first walk of an engine at the same moment, one
// begins it, and the others find it and say who has it.
func TestFirstStartsAtOnceMakeOneRecord(t *testing.T) {
	r := newRoom(t)
	sheet := r.sheet("joint.toml", cover)
	dir := r.Store.Dir
	for round := range rounds {
		r.Store.Dir = filepath.Join(dir, fmt.Sprint(round))
		said, pids := r.atOnce(3, "open", sheet)
		begun, holder := 0, 0
		for i, s := range said {
			if strings.HasSuffix(s, " begun") {
				begun, holder = begun+1, pids[i]
			}
		}
		for i, s := range said {
			if want := fmt.Sprintf("held by %d", holder); pids[i] != holder && !strings.HasSuffix(s, want) {
				t.Errorf("round %d: %q, want %q", round, s, want)
			}
		}
		if list, err := r.Store.List(); err != nil || len(list) != 1 || begun != 1 {
			t.Fatalf("round %d: %d records, %d begun, %v: %q", round, len(list), begun, err, said)
		}
	}
}

// Of two that mark the same thing back at the same moment, one is refused.
func TestTheSameMarkAtOnceCountsOnce(t *testing.T) {
	r, _, down := stripped(t)
	r.now = day
	s, err := r.Open(Request{Record: down})
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if _, err := s.Live.Do(walk.Command{Do: walk.Confirm}); err != nil {
			t.Fatal(err)
		}
	}
	s.Close()
	r.now, r.tick = time.Now().Add(-time.Hour), 0
	for round := range rounds {
		r.writeLedger("7", walk.Event{Kind: record.Sent, Item: "part:rotor", Text: "balancing"})
		said, _ := r.atOnce(3, "back", "")
		recorded := 0
		for _, s := range said {
			switch {
			case s == "recorded":
				recorded++
			case !strings.Contains(s, "rotor is not out for work"):
				t.Errorf("round %d: %q", round, s)
			}
		}
		if recorded != 1 {
			t.Fatalf("round %d: recorded %d times: %q", round, recorded, said)
		}
		r.now = time.Now()
	}
}

// Entries made at the same moment, the first of an engine among them, stand in
// one ledger.
func TestFirstEntriesAtOnceMakeOneLedger(t *testing.T) {
	r := newRoom(t)
	dir := r.Store.Dir
	for round := range rounds {
		r.Store.Dir = filepath.Join(dir, fmt.Sprint(round))
		said, _ := r.atOnce(3, "note", "")
		list, damaged, err := r.Store.Ledgers()
		if err != nil || len(damaged) > 0 || len(list) != 1 || len(list[0].Events) != 3 {
			t.Fatalf("round %d: %d ledgers, %v, %v: %q", round, len(list), damaged, err, said)
		}
	}
}

// What is refused before there is any record leaves no folder behind.
func TestARefusedEntryLeavesNothingBehind(t *testing.T) {
	r := newRoom(t)
	if _, err := r.Enter("7", r.Store.Pictures(), func(engine.Engine) ([]walk.Event, error) { return nil, errors.New("no") }); err == nil || err.Error() != "no" {
		t.Errorf("got %v", err)
	}
	if r.Store.Exists() {
		t.Error("the folder was made")
	}
	r.writeLedger("7", walk.Event{Kind: walk.Noted, Text: "first"})
	if left, _ := filepath.Glob(filepath.Join(r.Store.Dir, "*.lock")); len(left) > 0 {
		t.Errorf("locks left: %v", left)
	}
	if _, err := r.Enter(" ", r.Store.Pictures(), func(engine.Engine) ([]walk.Event, error) { return []walk.Event{{Kind: walk.Noted, Text: "x"}}, nil }); err == nil {
		t.Error("an engine without a tag got an entry")
	}
}
