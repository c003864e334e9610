package record

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenpull/procedures/walk"
)

// openLedger opens the ledger of a tag and enters notes into it.
func openLedger(t testing.TB, s *Store, tag string, at time.Time, notes ...string) *Writer {
	t.Helper()
	w, events, err := s.OpenLedger(tag, "test", at)
	if err != nil {
		t.Fatal(err)
	}
	for i, text := range notes {
		if err := w.Append(walk.Event{Seq: len(events) + i + 1, At: at, Kind: walk.Noted, Text: text}); err != nil {
			t.Fatal(err)
		}
	}
	return w
}

func TestALedgerIsKeptBesideRecordsAndNeverListedAsAWalk(t *testing.T) {
	s := newStore(t)
	finished(t, s, "7")
	closeWriter(t, openLedger(t, s, "7", started, "first"))
	closeWriter(t, openLedger(t, s, " 7 ", started.Add(time.Hour), "second"))
	list, damaged, err := s.Ledgers()
	if err != nil || len(damaged) > 0 || len(list) != 1 || len(list[0].Events) != 2 {
		t.Fatalf("got %d ledgers, damaged %v, %v; want one of 2 events", len(list), damaged, err)
	}
	if f := list[0]; f.Header.Engine != "7" || !f.Chain.Whole() || f.Events[1].Text != "second" || !strings.HasPrefix(f.ID(), "engine-7-") {
		t.Errorf("ledger %s: %+v", f.ID(), f)
	}
	records, err := s.List()
	if err != nil || len(records) != 1 {
		t.Errorf("%d records listed, %v; want the walk alone", len(records), err)
	}
	if r := Verify(list[0].Path); !r.OK() {
		t.Errorf("verify: %v", r.Problems)
	}
	if _, err := list[0].Plan(); err == nil || !strings.Contains(err.Error(), "evenpull engine TAG") {
		t.Errorf("a ledger has no plan: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(s.Dir, "*.lock")); len(left) > 0 {
		t.Errorf("locks left: %v", left)
	}
}

func TestLedgersOfOneTagFromTwoMachinesCoexist(t *testing.T) {
	here, there := newStore(t), newStore(t)
	closeWriter(t, openLedger(t, here, "Stand 2", started, "here"))
	other := openLedger(t, there, "stand 2", started.Add(time.Second), "there")
	closeWriter(t, other)
	writeFile(t, filepath.Join(here.Dir, filepath.Base(other.Path)), readFile(t, other.Path))
	list, damaged, err := here.Ledgers()
	if err != nil || len(damaged) > 0 || len(list) != 2 || !SameTag(list[0].Header.Engine, list[1].Header.Engine) {
		t.Fatalf("got %d ledgers, damaged %v, %v; want both", len(list), damaged, err)
	}
	closeWriter(t, openLedger(t, here, "STAND 2", started.Add(time.Hour), "after"))
	if list, _, _ = here.Ledgers(); len(list) != 2 || len(list[0].Events)+len(list[1].Events) != 3 {
		t.Error("the next entry must go into one of the two")
	}
}

func TestATornOrBrokenLedgerLosesNothingThatWasWhole(t *testing.T) {
	s := newStore(t)
	w := openLedger(t, s, "7", started, "first", "second")
	closeWriter(t, w)
	data := readFile(t, w.Path)
	writeFile(t, w.Path, data[:len(data)-9])
	again, events, err := s.OpenLedger("7", "test", started.Add(time.Hour))
	if err != nil || len(events) != 1 || again.Aside == nil {
		t.Fatalf("torn: %d events, %v, aside %v; want the first and the rest aside", len(events), err, again)
	}
	closeWriter(t, again)
	broken := bytes.Replace(data, []byte("first"), []byte("worst"), 1)
	writeFile(t, w.Path, broken)
	next := openLedger(t, s, "7", started.Add(2*time.Hour), "third")
	closeWriter(t, next)
	if next.Path == w.Path || !bytes.Equal(readFile(t, w.Path), broken) {
		t.Error("a broken ledger is left as it is and another one begun")
	}
	if list, _, err := s.Ledgers(); err != nil || len(list) != 2 {
		t.Errorf("%d ledgers, %v; want the broken one too", len(list), err)
	}
	writeFile(t, filepath.Join(s.Dir, "engine-x.ledger"), []byte("not json\n"))
	if _, damaged, _ := s.Ledgers(); len(damaged) != 1 {
		t.Errorf("damaged: %v", damaged)
	}
}

func TestALedgerHasOneWriterAtATime(t *testing.T) {
	s := newStore(t)
	w := openLedger(t, s, "7", started)
	_, _, err := s.OpenLedger("7", "test", started.Add(time.Hour))
	var held *LockedError
	if !errors.As(err, &held) || held.Holder.PID != os.Getpid() {
		t.Errorf("got %v, want who holds it", err)
	}
	closeWriter(t, w)
	if _, _, err := s.OpenLedger("  ", "test", started); err == nil {
		t.Error("an engine without a tag got a ledger")
	}
}

// What a walk was brought may come from a stranger's file like any other text.
func TestWhatWasBroughtIsMadeSafeForTheTerminal(t *testing.T) {
	e, err := decodeEvent([]byte(`{"seq":1,"kind":"brought","brought":[{"id":"a\u001b[2J","name":"b\u001b","count":1,"facts":{"box":"c\u001b"},"before":"e\u001b","pieces":[{"piece":"p\u001b","facts":{"box":"q\u001b"}}],"record":"d\u202e"}],"faults":[{"id":"a\u001b","what":"b\u001b","found":"c\u001b","where":"d\u001b","reading":"e\u001b","min":"f\u001b","max":"g\u001b","record":"h\u001b"}]}`))
	if err != nil {
		t.Fatal(err)
	}
	c := e.Brought[0]
	f := e.Faults[0]
	for _, text := range []string{c.ID, c.Name, c.Facts["box"], c.Before, c.Pieces[0].Text(), c.Record, f.ID, f.What, f.Found, f.Where, f.Reading, f.Min, f.Max, f.Record} {
		if strings.ContainsAny(text, "\x1b\u202e") {
			t.Errorf("%q reaches the terminal", text)
		}
	}
}

// The lock of an engine is of its tag, however that is typed.
func TestTheLockOfAnEngineIsOfItsTag(t *testing.T) {
	if holdName(" Stand 2") != holdName("stand 2 ") || holdName("7") == holdName("8") || holdName("") == holdName("7") {
		t.Errorf("names: %s %s %s", holdName(" Stand 2"), holdName("stand 2 "), holdName(""))
	}
	s := newStore(t)
	release, err := s.Hold("7")
	if err != nil {
		t.Fatal(err)
	}
	other, err := s.Hold("8")
	if err != nil {
		t.Fatal(err)
	}
	other()
	name := filepath.Join(s.Dir, holdName("7"))
	var held *LockedError
	if _, err := acquire(name, "7", started); !errors.As(err, &held) || held.Holder.PID != os.Getpid() {
		t.Errorf("held: %v", err)
	}
	release()
	if left, _ := filepath.Glob(filepath.Join(s.Dir, "*")); len(left) > 0 {
		t.Errorf("left: %v", left)
	}
}
