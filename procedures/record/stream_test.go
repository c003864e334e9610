package record

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
	"unsafe"

	"evenpull/procedures/walk"
	"evenpull/spec/outside"
)

// agrees holds what verify says of a record line by line against what is read of it whole.
func agrees(t *testing.T, path string, data []byte, r *Report) {
	t.Helper()
	f, err := parse(path, data)
	if (err != nil) != (r.Header == nil) {
		t.Fatalf("read whole: %v; verify: %v\n%s", err, r.Problems, data)
	}
	if err != nil {
		return
	}
	if r.Chain != f.Chain || r.Events != len(f.Events) || r.Trusted != f.Trusted || !reflect.DeepEqual(*r.Header, f.Header) {
		t.Fatalf("read whole: %s, %d events, %d before the break; verify: %s, %d, %d\n%s", f.Chain, len(f.Events), f.Trusted, r.Chain, r.Events, r.Trusted, data)
	}
	s, findings, err := f.Replay()
	if err != nil {
		if r.State != "" || !strings.Contains(strings.Join(r.Problems, "\n"), err.Error()) {
			t.Fatalf("read whole: %v; verify: %q, %v", err, r.State, r.Problems)
		}
		return
	}
	refused := 0
	for _, p := range r.Problems {
		if strings.Contains(p, "does not count: ") || strings.Contains(p, "this done is false: ") && !strings.Contains(p, "behind the break") {
			refused++
		}
	}
	if r.State != s.Phase || r.Confirmed != Confirmed(s) || refused != len(findings) {
		t.Fatalf("read whole: %s, %d confirmed, %v; verify: %s, %d, %v\n%s", s.Phase, Confirmed(s), findings, r.State, r.Confirmed, r.Problems, data)
	}
}

// Lines put in, taken out and cut anywhere, and a reader that gives a few bytes at a time.
func TestVerifySaysLineByLineWhatReadingWholeSays(t *testing.T) {
	path := finished(t, newStore(t), "2")
	rows := bytes.SplitAfter(readFile(t, path), []byte("\n"))
	rows = rows[:len(rows)-1]
	foreign := slices.Clone(rows[:4]) // and one that is no event, though its hashes are right
	for seq := range 4 {
		last := foreign[len(foreign)-1]
		prev := lineHash(last[:len(last)-1])
		line, err := encodeLine(map[string]any{"seq": []any{4, "five", 6, 7}[seq], "kind": "noted", "text": "x", "prev": string(prev[:])})
		if err != nil {
			t.Fatal(err)
		}
		foreign = append(foreign, append(line, '\n'))
	}
	r := rand.New(rand.NewPCG(2, 12))
	for n := range outside.Times(200, 600) {
		rows := rows
		if n%3 == 0 {
			rows = foreign
		}
		var changed []byte
		for i, row := range rows {
			switch {
			case i == 0 && r.IntN(12) > 0 || r.IntN(2*len(rows)) > 0:
				changed = append(changed, row...)
			case r.IntN(2) == 0:
				changed = append(changed, []string{"{}\n", "no event\n", "\n", `{"seq":1,"kind":"done"}` + "\n", "half"}[r.IntN(5)]...)
			}
		}
		if r.IntN(3) == 0 {
			changed = changed[:r.IntN(len(changed)+1)]
		}
		got, err := verify(path, &sips{data: changed, r: r}, nil)
		if err != nil {
			got = unread(path, err)
		}
		agrees(t, path, changed, got)
	}
}

// sips gives a few bytes at a time.
type sips struct {
	data []byte
	r    *rand.Rand
}

func (s *sips) Read(buf []byte) (int, error) {
	if len(s.data) == 0 {
		return 0, io.EOF
	}
	n := copy(buf, s.data[:min(len(s.data), 1+s.r.IntN(900))])
	s.data = s.data[n:]
	return n, nil
}

// What is alive while a record is verified does not grow with its events.
func TestVerifyHoldsNoEvents(t *testing.T) {
	const events = 9_000
	path, data := logged(t, events)
	header := bytes.IndexByte(data, '\n')
	third := (len(data) - header) / 3
	looks := &aliveAt{data: data, at: []int{header + third, header + 2*third, len(data)}}
	r, err := verify(path, looks, nil)
	if err != nil || !r.OK() || r.Events != events || len(looks.bytes) != 3 {
		t.Fatalf("%v, %+v, looked %d times", err, r, len(looks.bytes))
	}
	// An event alone takes some 300 bytes, and its line nearly as much.
	if grown := (looks.bytes[2] - looks.bytes[0]) / (2 * events / 3); grown > 50 {
		t.Errorf("%d bytes more for each event: %d", grown, looks.bytes)
	}
}

// logged is a record of so many notes.
func logged(t *testing.T, events int) (path string, data []byte) {
	w := create(t, newStore(t), "2")
	closeWriter(t, w)
	data = bytes.TrimSuffix(readFile(t, w.Path), []byte("\n"))
	last := data
	for i := range events {
		prev := lineHash(last)
		line, err := encodeLine(eventLine{note(i+1, fmt.Sprintf("reading %d of the log taken", i)), string(prev[:])})
		if err != nil {
			t.Fatal(err)
		}
		data, last = append(append(data, '\n'), line...), line
	}
	return w.Path, append(data, '\n')
}

// What is kept of an event does not keep its line.
func TestAnEventDoesNotKeepItsLine(t *testing.T) {
	const events = 3_000
	path, data := logged(t, events)
	before := bytesAlive()
	f, err := parse(path, data)
	if err != nil || len(f.Events) != events {
		t.Fatal(err)
	}
	perEvent := (bytesAlive() - before) / events
	if most := int64(unsafe.Sizeof(walk.Event{})) + 100; perEvent > most {
		t.Errorf("%d bytes for each event, %d at most", perEvent, most)
	}
	runtime.KeepAlive(f)
	runtime.KeepAlive(data)
}

// bytesAlive is how many there are.
func bytesAlive() int64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.GC() // the first only lets go of what pools keep
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

// aliveAt looks at how many bytes are alive when so many have been read.
type aliveAt struct {
	data  []byte
	read  int
	at    []int
	bytes []int64
}

func (a *aliveAt) Read(buf []byte) (int, error) {
	if len(a.at) > 0 && a.read == a.at[0] {
		a.at = a.at[1:]
		a.bytes = append(a.bytes, bytesAlive())
	}
	if a.read == len(a.data) {
		return 0, io.EOF
	}
	n := copy(buf, a.data[a.read:a.at[0]])
	a.read += n
	return n, nil
}

// A disk may keep the end of a line and not what stands before it.
func TestALastLineThatIsNotAllThereIsTornAlsoAsTheFirstEvent(t *testing.T) {
	w := create(t, newStore(t), "2")
	closeWriter(t, w)
	data := append(readFile(t, w.Path), "\x00\x00\x00\n"...)
	if r := VerifyBytes(w.Path, data, nil); !r.Chain.Torn || r.Chain.Line != 2 || !slices.Contains(r.Notes, "the walk can be gone on with") {
		t.Errorf("%s, %q", r.Chain, r.Notes)
	}
}
