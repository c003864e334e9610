package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"os"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
)

func TestAFinishedWalkIsReadBackAsItWas(t *testing.T) {
	s := newStore(t)
	path := finished(t, s, "stand 2")
	f, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	state, findings, err := f.Replay()
	if err != nil || len(findings) > 0 || state.Phase != walk.IsDone || !f.Chain.Whole() {
		t.Fatalf("got phase %s, chain %s, findings %v, error %v", state.Phase, f.Chain, findings, err)
	}
	if Confirmed(state) != coverStages {
		t.Errorf("%d stages confirmed, want %d", Confirmed(state), coverStages)
	}
	if f.Header.Engine != "stand 2" || f.Header.Procedure != "Close the cover" || !f.Header.Started.Equal(started) || f.Header.Text != cover {
		t.Errorf("the header is not what was given: %+v", f.Header)
	}
	if r := Verify(path); !r.OK() || r.FalseDone || r.State != walk.IsDone {
		t.Errorf("verify: %+v", r.Problems)
	}
}

// The contract of the file itself, without this package's own reader.
func TestEveryLineNamesTheHashOfTheLineBefore(t *testing.T) {
	data := readFile(t, finished(t, newStore(t), "2"))
	rows := bytes.Split(bytes.TrimSuffix(data, []byte("\n")), []byte("\n"))
	if len(rows) < 12 {
		t.Fatalf("only %d lines", len(rows))
	}
	var head map[string]any
	if err := json.Unmarshal(rows[0], &head); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"evenpull", "id", "procedure", "source", "engine", "direction", "text", "sha256", "started", "program"} {
		if _, ok := head[key]; !ok {
			t.Errorf("the header has no %q", key)
		}
	}
	if head["started"] != "2026-11-25T09:30:00+01:00" {
		t.Errorf("started %v, want RFC 3339 with its offset", head["started"])
	}
	for i := 1; i < len(rows); i++ {
		var e struct {
			Prev string
			Seq  int
		}
		if err := json.Unmarshal(rows[i], &e); err != nil {
			t.Fatal(err)
		}
		want := sha256.Sum256(rows[i-1])
		if e.Prev != hex.EncodeToString(want[:]) || e.Seq != i {
			t.Errorf("line %d: seq %d, prev %s, want %d and %x", i+1, e.Seq, e.Prev, i, want)
		}
	}
}

func TestAWalkGoesOnWhereItWasLeft(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "stand 2")
	l := walking(t, w)
	forward(t, l, 4)
	closeWriter(t, w)
	again, events, err := s.Resume(w.ID)
	if err != nil || again.Aside != nil {
		t.Fatal(err, again)
	}
	if len(events) != len(l.State.Events) {
		t.Fatalf("%d events, want %d", len(events), len(l.State.Events))
	}
	l2 := walking(t, again)
	if findings := walk.Replay(l2.State, events); len(findings) > 0 {
		t.Fatal(findings)
	}
	if l2.State.Current() != l.State.Current() || l2.State.CurrentItem().Key() != l.State.CurrentItem().Key() {
		t.Fatalf("came back at item %d, left at %d", l2.State.Current(), l.State.Current())
	}
	l2.Now = func() time.Time { return started.Add(48 * time.Hour) }
	do(t, l2, walk.Command{Do: walk.Resume})
	forward(t, l2, 100)
	do(t, l2, walk.Command{Do: walk.FinishUp})
	closeWriter(t, again)
	if r := Verify(w.Path); !r.OK() || r.State != walk.IsDone {
		t.Errorf("verify after going on: %v", r.Problems)
	}
}

func TestIDsAreSafeShortAndCounted(t *testing.T) {
	cases := []struct{ engine, procedure, want string }{
		{"stand2", "Close the crankcase", "2026-11-25-stand2-close-the-crankcase-1"},
		{"../../etc/passwd", "Close", "2026-11-25-etc-passwd-close-1"},
		{"", "Close", "2026-11-25-close-1"},
		{"№ 7 \x1b[2J\n", "Cøver", "2026-11-25-7-2j-c-ver-1"},
		{strings.Repeat("long ", 40), strings.Repeat("x", 400), "2026-11-25-long-long-long-l-" + strings.Repeat("x", 24) + "-1"},
		{"CON", "NUL", "2026-11-25-con-nul-1"},
	}
	for _, c := range cases {
		got := newID(started, c.engine, c.procedure, 1)
		if got != c.want || !validID(got) {
			t.Errorf("engine %q, procedure %q: got %q, want %q", c.engine, c.procedure, got, c.want)
		}
	}
	s := newStore(t)
	a, b := create(t, s, "3"), create(t, s, "3")
	if a.ID != "2026-11-25-3-close-the-cover-1" || b.ID != "2026-11-25-3-close-the-cover-2" {
		t.Errorf("got %q and %q", a.ID, b.ID)
	}
	closeWriter(t, a)
	closeWriter(t, b)
	if left, _ := os.ReadDir(s.Dir); len(left) != 2 {
		t.Errorf("%d files left, want the 2 records and no locks", len(left))
	}
}

// validID says whether text is safe as a file name and can be typed.
func validID(text string) bool {
	for _, r := range text {
		if (r < '0' || r > '9') && (r < 'a' || r > 'z') && r != '-' {
			return false
		}
	}
	return text != "" && text[0] != '-' && len(text) <= 100
}

func TestFindTakesAnIDTheStartOfOneOrAFile(t *testing.T) {
	s := newStore(t)
	for _, engine := range []string{"alpha", "alps", "beta"} {
		closeWriter(t, create(t, s, engine))
	}
	one := "2026-11-25-beta-close-the-cover-1"
	for _, name := range []string{one, "2026-11-25-beta", "2026-11-25-B", one + ".jsonl", s.Path(one)} {
		if got, err := s.Find(name); err != nil || got != s.Path(one) {
			t.Errorf("%q: got %q, %v", name, got, err)
		}
	}
	if list, err := s.List(); err != nil || len(list) != 3 {
		t.Errorf("%d records, %v", len(list), err)
	} else if got, err := s.Find(Newest); err != nil || got != list[0].Path {
		t.Errorf("the newest is %q, %v, want %q", got, err, list[0].Path)
	}
	_, err := newStore(t).Find(Newest)
	wantText(t, err, "there are no records yet")
	for name, want := range map[string]string{"2026-11-25-al": "alpha-close-the-cover-1 or 2026-11-25-alps", "2027": "no such record", "": "no record is named", "../x": "no such record", "\x1b[2J": "no such record"} {
		_, err := s.Find(name)
		wantText(t, err, want)
		if strings.Contains(err.Error(), "\x1b") {
			t.Errorf("%q: an escape reaches the terminal", name)
		}
	}
}

func TestDefaultDirIsThePlatformsOwnPlace(t *testing.T) {
	cases := []struct{ goos, xdg, local, home, want string }{
		{"linux", "/data", "", "/home/me", "/data/evenpull/records"},
		{"linux", "relative", "", "/home/me", "/home/me/.local/share/evenpull/records"},
		{"linux", "", "", "/home/me", "/home/me/.local/share/evenpull/records"},
		{"darwin", "", "", "/Users/me", "/Users/me/Library/Application Support/evenpull/records"},
		{"windows", "", "/local", "/me", "/local/evenpull/records"},
		{"windows", "", "", "/me", "/me/AppData/Local/evenpull/records"},
		{"linux", "", "", "", ""},
	}
	for _, c := range cases {
		env := map[string]string{"XDG_DATA_HOME": c.xdg, "LocalAppData": c.local}
		if got := defaultDir(c.goos, func(k string) string { return env[k] }, c.home); got != c.want {
			t.Errorf("%+v: got %q", c, got)
		}
	}
}

// The closing hash is the SHA-256 of the last whole line, as a person can
// compute it with other tools, and changes when a line is cut off.
func TestTheClosingHashIsOfTheLastWholeLine(t *testing.T) {
	s := newStore(t)
	path := finished(t, s, "7")
	data := readFile(t, path)
	rows := bytes.Split(bytes.TrimSuffix(data, []byte("\n")), []byte("\n"))
	hash := func(line []byte) string { sum := sha256.Sum256(line); return hex.EncodeToString(sum[:]) }
	cases := map[string]struct{ data, last []byte }{
		"whole":           {data, rows[len(rows)-1]},
		"last line gone":  {bytes.TrimSuffix(data, append(rows[len(rows)-1], '\n')), rows[len(rows)-2]},
		"last line torn":  {data[:len(data)-9], rows[len(rows)-2]},
		"the header only": {append(rows[0], '\n'), rows[0]},
	}
	for name, c := range cases {
		writeFile(t, path, c.data)
		f, err := Read(path)
		if err != nil || f.Closing != hash(c.last) {
			t.Errorf("%s: %v, closing hash %s, want %s", name, err, f.Closing, hash(c.last))
		}
	}
}
