package term

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// Clock is the clock of a program under test, which stands still until the
// test moves it: no test has to sleep, and none can fail because the machine
// stood still for a while. It is the time of change of a file.
type Clock struct {
	t    testing.TB
	path string
}

// ClockName is the variable that names the file a program under test takes its time from.
const ClockName = "EVENPULL_TEST_CLOCK"

// NewClock gives a clock that shows an invented day.
func NewClock(t testing.TB) Clock {
	t.Helper()
	c := Clock{t, filepath.Join(t.TempDir(), "clock")}
	if err := os.WriteFile(c.path, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	c.set(time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC))
	return c
}

// Env is what a program started with Options.Env goes by, if it takes its time
// from ProgramClock.
func (c Clock) Env() string { return ClockName + "=" + c.path }

// Advance moves the clock on.
func (c Clock) Advance(d time.Duration) {
	c.t.Helper()
	c.set(fileTime(c.path).Add(d))
}

func (c Clock) set(at time.Time) {
	c.t.Helper()
	if err := os.Chtimes(c.path, at, at); err != nil {
		c.t.Fatal(err)
	}
}

// ProgramClock is for a test binary that is also the program under test: the
// clock its starter gave it, else the machine's.
func ProgramClock() func() time.Time {
	path := os.Getenv(ClockName)
	if path == "" {
		return time.Now
	}
	return func() time.Time { return fileTime(path) }
}

func fileTime(path string) time.Time {
	info, err := os.Stat(path)
	if err != nil {
		panic(err)
	}
	return info.ModTime().UTC()
}
