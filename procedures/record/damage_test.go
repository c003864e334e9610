package record

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/procedures/walk"
	"evenpull/spec/outside"

	"pgregory.net/rapid"
)

// Truncated at any byte, a record goes on from its last whole line, what was
// torn is kept, and it is only done when the whole line says so.
func TestARecordTruncatedAtAnyByteGoesOnFromItsLastWholeLine(t *testing.T) {
	s := newStore(t)
	path := finished(t, s, "2")
	s.disk = hasty{} // no power is cut here
	data := readFile(t, path)
	id := idOf(path)
	headerEnd := bytes.IndexByte(data, '\n') + 1
	lastLine := bytes.LastIndexByte(data[:len(data)-1], '\n')
	for n := 0; n < len(data); n++ {
		if n < headerEnd-1 && n%97 != 0 {
			continue // inside the long header every cut is alike
		}
		whole := bytes.LastIndexByte(data[:n], '\n') + 1
		atEdge := n-whole < 2 || data[n] == '\n' || n > len(data)-3 || outside.Asking && n > lastLine
		if !atEdge && n%outside.Times(23, 1) != 0 {
			continue
		}
		clearStore(t, s)
		writeFile(t, path, data[:n])
		report := Verify(path)
		if after := readFile(t, path); !bytes.Equal(after, data[:n]) {
			t.Fatalf("cut at %d: verify changed the file", n)
		}
		if report.State == walk.IsDone {
			t.Fatalf("cut at %d of %d: done", n, len(data))
		}
		if !atEdge && n%outside.Times(92, 29) != 0 {
			if f, err := Read(path); err != nil && n >= headerEnd || err == nil && (len(f.Torn) != n-whole || report.Chain != f.Chain || !f.Chain.Torn) {
				t.Fatalf("cut at %d: %s", n, report.Chain)
			}
			continue // going on takes longer: not at every byte
		}
		w, events, err := s.Resume(id)
		if n < headerEnd {
			if err == nil || report.OK() {
				t.Fatalf("cut at %d, inside the header: went on", n)
			}
			continue
		}
		if err != nil {
			t.Fatalf("cut at %d: %v", n, err)
		}
		if lines := bytes.Count(data[:whole], []byte("\n")) - 1; len(events) != lines {
			t.Fatalf("cut at %d: %d events, want %d", n, len(events), lines)
		}
		if torn := data[whole:n]; (w.Aside != nil) != (len(torn) > 0) || w.Aside != nil && !bytes.Equal(readFile(t, w.Aside.Path), torn) {
			t.Fatalf("cut at %d: torn %q, aside %v", n, torn, w.Aside)
		}
		if report.OK() != (w.Aside == nil) {
			t.Fatalf("cut at %d: verify says %v", n, report.Problems)
		}
		closeWriter(t, w)
		if after := readFile(t, path); !bytes.Equal(after, data[:whole]) {
			t.Fatalf("cut at %d: the file is not cut to its last whole line", n)
		}
	}
}

func clearStore(t *testing.T, s *Store) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(s.Dir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if err := os.Remove(f); err != nil {
			t.Fatal(err)
		}
	}
}

// lineOf is the line a byte stands in, from 1.
func lineOf(data []byte, at int) int { return bytes.Count(data[:at], []byte("\n")) + 1 }

func TestAnyFlippedByteIsFoundWithItsLine(t *testing.T) {
	s := newStore(t)
	data := readFile(t, finished(t, s, "2"))
	header := bytes.IndexByte(data, '\n')
	last := bytes.LastIndexByte(data[:len(data)-1], '\n')
	check := func(at int, mask byte) {
		changed := bytes.Clone(data)
		changed[at] ^= mask
		l := split(changed)
		want := lineOf(data, at)
		// A newline made or unmade shifts what counts as a line by one.
		shifted := data[at] == '\n' || changed[at] == '\n'
		if l.chain.Whole() || l.chain.Line != want && !(shifted && (l.chain.Line == want+1 || l.chain.Line == want-1)) {
			t.Fatalf("byte %d of line %d, %q made %q: %s", at, want, data[at], changed[at], l.chain)
		}
	}
	for at := range data {
		if at < header && at > 300 { // the text: one byte of it is like another
			if at%outside.Times(9, 1) == 0 {
				check(at, 0x01)
				check(at, 0x20)
			}
			continue
		}
		check(at, 0x01)
		check(at, 0x20)
		check(at, 0x80)
	}
	for mask := 1; mask < 256; mask += outside.Times(9, 1) {
		for at := last + 1; at < len(data); at++ {
			check(at, byte(mask))
		}
	}
}

func TestAHeaderAloneCannotBeChangedUnseen(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "2")
	closeWriter(t, w)
	data := readFile(t, w.Path)
	for at := range data {
		if at > 300 && at < len(data)-300 && at%outside.Times(31, 1) != 0 {
			continue // the text
		}
		changed := bytes.Clone(data)
		changed[at] ^= 0x20
		writeFile(t, w.Path, changed)
		if r := Verify(w.Path); r.OK() || r.Chain.Whole() && r.Header != nil {
			t.Fatalf("byte %d, %q: taken as whole", at, data[at])
		}
	}
}

func TestLinesTakenOutPutInOrSwappedAreFound(t *testing.T) {
	data := readFile(t, finished(t, newStore(t), "2"))
	rapid.Check(t, func(t *rapid.T) {
		rows := bytes.SplitAfter(data, []byte("\n"))
		rows = rows[:len(rows)-1]
		i := rapid.IntRange(1, len(rows)-2).Draw(t, "i")
		j := rapid.IntRange(1, len(rows)-2).Draw(t, "j")
		var changed [][]byte
		switch how := rapid.SampledFrom([]string{"out", "twice", "swapped"}).Draw(t, "how"); {
		case how == "out":
			changed = append(append(changed, rows[:i]...), rows[i+1:]...)
		case how == "twice":
			changed = append(append(changed, rows[:i+1]...), rows[i:]...)
		case i == j:
			return
		default:
			changed = append(changed, rows...)
			changed[i], changed[j] = rows[j], rows[i]
		}
		l := split(bytes.Join(changed, nil))
		if l.chain.Whole() || l.chain.Line > max(i, j)+2 || l.chain.Line < min(i, j) {
			t.Fatalf("lines %d, %d: %s", i+1, j+1, l.chain)
		}
	})
}

// forge writes a record whose hashes are all right, with these events.
func forge(t *testing.T, s *Store, h Header, events []walk.Event) string {
	t.Helper()
	w, err := s.Create(h)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range events {
		e.Seq = i + 1
		if err := w.Append(e); err != nil {
			t.Fatal(err)
		}
	}
	closeWriter(t, w)
	return w.Path
}

func TestADoneTheEventsDoNotEarnIsFalse(t *testing.T) {
	s := newStore(t)
	f, err := Read(finished(t, s, "2"))
	if err != nil {
		t.Fatal(err)
	}
	n := len(f.Events)
	for i, e := range f.Events[:n-1] {
		if e.Kind == walk.Noted || e.Kind == walk.Refused || e.Kind == walk.Undone {
			continue // without these a done is as well earned, or fewer steps stand
		}
		fewer := append(append([]walk.Event{}, f.Events[:i]...), f.Events[i+1:]...)
		r := Verify(forge(t, s, f.Header, fewer))
		if !r.Chain.Whole() || !r.FalseDone || r.OK() || r.State == walk.IsDone {
			t.Errorf("without event %d (%s %s): chain %s, false done %v, state %s", i+1, e.Kind, e.Item, r.Chain, r.FalseDone, r.State)
		}
	}
	after := append(append([]walk.Event{}, f.Events...), walk.Event{At: f.Events[n-1].At, Kind: walk.Noted, Text: "later"})
	r := Verify(forge(t, s, f.Header, after))
	if r.OK() || r.FalseDone || r.State != walk.IsDone || !strings.Contains(r.Problems[0], "line "+itoa(n+2)) {
		t.Errorf("an event after done: %v", r.Problems)
	}
}

func itoa(n int) string {
	const digits = "0123456789"
	if n < 10 {
		return digits[n : n+1]
	}
	return itoa(n/10) + digits[n%10:n%10+1]
}

func TestADoneBehindABreakIsNotDone(t *testing.T) {
	s := newStore(t)
	path := finished(t, s, "2")
	data := readFile(t, path)
	writeFile(t, path, bytes.Replace(data, []byte("wrong socket"), []byte("right socket"), 1))
	r := Verify(path)
	if r.OK() || !r.FalseDone || r.State == walk.IsDone {
		t.Errorf("got %v, state %s", r.Problems, r.State)
	}
	list, err := s.List()
	if err != nil || len(list) != 1 || list[0].State != StateBroken || list[0].Problem == "" {
		t.Errorf("listed as %+v, %v", list, err)
	}
	w, events, err := s.Resume(idOf(path))
	var broken *BrokenError
	if w != nil || !errors.As(err, &broken) || len(events) != r.Trusted {
		t.Errorf("a broken record was gone on with: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(s.Dir, "*.lock")); len(left) > 0 {
		t.Errorf("left its lock behind: %v", left)
	}
}

func TestAProcedureTextThatIsNotTheOneStartedWithIsFound(t *testing.T) {
	s := newStore(t)
	path := finished(t, s, "2")
	f, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	h := f.Header
	h.Text = strings.Replace(h.Text, "22 N·m", "2.2 N·m", 1)
	line, err := encodeLine(h) // the hash of the text is still the old one
	if err != nil {
		t.Fatal(err)
	}
	writeFile(t, path, append(line, '\n'))
	r := Verify(path)
	if r.OK() || !r.Chain.Whole() || !strings.Contains(strings.Join(r.Problems, " "), "not the one it was started with") {
		t.Errorf("got %v", r.Problems)
	}
}

func TestAClockThatRunsBackwardsIsNotedAndKept(t *testing.T) {
	s := newStore(t)
	w := create(t, s, "2")
	l := walking(t, w)
	do(t, l, walk.Command{Do: walk.Note, Text: "one"})
	early := started.AddDate(-1, 0, 0)
	l.Now = clockAt(early)
	do(t, l, walk.Command{Do: walk.Note, Text: "two"})
	closeWriter(t, w)
	r := Verify(w.Path)
	if !r.OK() || len(r.Notes) != 1 || !strings.Contains(r.Notes[0], "line 3: the clock ran backwards") {
		t.Errorf("problems %v, notes %v", r.Problems, r.Notes)
	}
	if at := eventsIn(t, w.Path)[1].At; !at.Equal(early) {
		t.Errorf("the time was changed to %s", at)
	}
}

// A record of the bare contract, with prev and no sum, is as good.
func TestARecordWithoutSumsIsReadByItsChainAlone(t *testing.T) {
	s := newStore(t)
	path := finished(t, s, "2")
	var out []byte
	for i, line := range bytes.Split(bytes.TrimSpace(readFile(t, path)), []byte("\n")) {
		body, _ := splitSum(line)
		body = append(bytes.Clone(body), '}')
		if i > 0 {
			at := bytes.Index(body, []byte(prevKey)) + len(prevKey)
			before := bytes.Split(bytes.TrimSpace(out), []byte("\n"))
			hash := lineHash(before[len(before)-1])
			copy(body[at:], hash[:])
		}
		out = append(append(out, body...), '\n')
	}
	writeFile(t, path, out)
	if r := Verify(path); !r.OK() || r.State != walk.IsDone {
		t.Errorf("got %v", r.Problems)
	}
}

func TestEscapesFromAStrangersRecordAreTakenOut(t *testing.T) {
	s := newStore(t)
	h := NewHeader(procedureOf(t, cover), "cover\x1b[2J.toml", "tag\x1b]0;x\a", "test", started)
	path := forge(t, s, h, []walk.Event{{At: started, Kind: walk.Noted, Text: "a\x1b[31mb", Facts: map[string]string{"k\x1b": "v\x9b"}}})
	f, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	list, err := s.List()
	if err != nil {
		t.Fatal(err)
	}
	e := f.Events[0]
	seen := f.Header.Source + f.Header.Engine + e.Text + list[0].Engine + list[0].Source
	for k, v := range e.Facts {
		seen += k + v
	}
	if strings.ContainsAny(seen, "\x1b\a\u009b") {
		t.Errorf("control characters left in %q", seen)
	}
}
