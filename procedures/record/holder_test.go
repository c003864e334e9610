package record

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

func TestWhoHoldsAWalkIsToldWithoutTouchingTheLock(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "stand 2")
	h, held := s.HeldBy(w.ID)
	if !held || h.PID != os.Getpid() {
		t.Fatalf("held %v by %+v, want this process, %d", held, h, os.Getpid())
	}
	if _, err := os.Stat(s.lockPath(w.ID)); err != nil {
		t.Errorf("asking took the lock away: %v", err)
	}
	closeWriter(t, w)
	if h, held := s.HeldBy(w.ID); held {
		t.Errorf("still held by %+v after it was closed", h)
	}
}

// What a crash left behind holds nothing; another machine may.
func TestAHolderThatIsGoneDoesNotCount(t *testing.T) {
	s := newStore(t)
	if err := os.MkdirAll(s.Dir, 0o755); err != nil {
		t.Fatal(err)
	}
	host, err := os.Hostname()
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]bool{
		fmt.Sprintf(`{"pid":2147483600,"host":%q}`, host): false, // no system counts so far
		`{"pid":2147483600,"host":"elsewhere"}`:           true,
		`{"pid":-1,"host":"elsewhere"}`:                   false,
		"not JSON":                                        false,
		"":                                                false,
	} {
		writeFile(t, filepath.Join(s.Dir, "x.lock"), []byte(text))
		if _, held := s.HeldBy("x"); held != want {
			t.Errorf("%s: held %v, want %v", text, held, want)
		}
	}
}
