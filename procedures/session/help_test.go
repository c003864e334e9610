package session

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
)

// cover is the sheet of an invented engine; every figure is made up.
const cover = `format = 1
[procedure]
name      = "Close the cover"
direction = "close"
source    = "Osier sheet 3 (invented)"
[group.main]
thread = "M8x1.25"
class  = "8.8"
torque = "22 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name   = "Final"
groups = ["main"]
torque = "100 %"
order  = "listed"
`

// apart takes the same cover off.
const apart = `format = 1
[procedure]
name      = "Open the cover"
direction = "open"
source    = "Osier sheet 4 (invented)"
[group.main]
thread = "M8x1.25"
class  = "8.8"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name   = "Take out"
groups = ["main"]
remove = true
order  = "listed"
[[part]]
name = "rotor"
`

var day = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

// room is a desk with a clock that can be set, and a folder for sheets.
type room struct {
	testing.TB
	Desk
	now  time.Time
	dir  string // sheets
	tick time.Duration
}

func newRoom(t testing.TB) *room {
	t.Helper()
	r := &room{TB: t, now: day, dir: t.TempDir(), tick: time.Second}
	r.Now = func() time.Time { r.now = r.now.Add(r.tick); return r.now }
	store, err := record.Open(filepath.Join(t.TempDir(), "records"), r.Now)
	if err != nil {
		t.Fatal(err)
	}
	r.Store, r.Library, r.Program = store, procedures.Library{Dir: filepath.Join(r.dir, "own")}, "test"
	return r
}

// sheet writes a procedure file and gives its path.
func (r *room) sheet(name, text string) string {
	r.Helper()
	path := filepath.Join(r.dir, name)
	if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte(text), 0o644)); err != nil {
		r.Fatal(err)
	}
	return path
}

// opens opens a walk that has to open, and leaves it open.
func (r *room) opens(q Request) *Session {
	r.Helper()
	s, err := r.Open(q)
	if err != nil {
		r.Fatal(err)
	}
	s.Close()
	return s
}

// does opens a walk, carries out commands and leaves it.
func (r *room) does(q Request, commands ...walk.Command) *Session {
	r.Helper()
	s, err := r.Open(q)
	if err != nil {
		r.Fatal(err)
	}
	defer s.Close()
	for _, c := range commands {
		if refusal, err := s.Live.Do(c); refusal != nil || err != nil {
			r.Fatalf("%+v: %v %v", c, refusal, err)
		}
	}
	return s
}

// spoil changes the text of a file in the folder of records.
func (r *room) spoil(name, old, new string) {
	r.Helper()
	path := filepath.Join(r.Store.Dir, name)
	data, err := os.ReadFile(path)
	if err != nil || !strings.Contains(string(data), old) {
		r.Fatalf("%s: %v, %q is not in it", name, err, old)
	}
	if err := os.WriteFile(path, []byte(strings.Replace(string(data), old, new, 1)), 0o644); err != nil {
		r.Fatal(err)
	}
}

// file reads a record.
func (r *room) file(id string) *record.File {
	r.Helper()
	f, err := record.Read(r.Store.Path(id))
	if err != nil {
		r.Fatal(err)
	}
	return f
}

// texts are the texts of a record's events of one kind.
func (r *room) texts(id string, kind walk.Kind) []string {
	var list []string
	for _, ev := range r.file(id).Events {
		if ev.Kind == kind {
			list = append(list, ev.Text)
		}
	}
	return list
}

// writeLedger enters events in the ledger of an engine.
func (r *room) writeLedger(tag string, events ...walk.Event) {
	r.Helper()
	if _, err := r.Enter(tag, r.Store.Pictures(), func(engine.Engine) ([]walk.Event, error) { return events, nil }); err != nil {
		r.Fatal(err)
	}
}
