package record

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"
	"time"
)

// A memo spares a list the replay of records that have not changed. Of every record
// in one folder it holds what a replay by this very build said of it, under what the
// system says of the file: device, inode, size and times. It lies in the person's
// cache folder, may be deleted at any time, and where anything is wrong with it the
// records are replayed. It is no proof: only a list looks at it.
type memo struct {
	dir   string
	known func() map[string][]byte // by id: the stamp, a tab, an entry
	clock func() (stamp, bool)     // before any record was read

	mu  sync.Mutex
	new map[string][]byte
}

const (
	memoName  = "records.memo"
	memoDraft = memoName + ".*" + draftEnding
	memoMost  = 64 << 20 // bytes

	// So many new entries are worth a memo written anew; a folder of fewer records
	// has none.
	memoWorth = 64

	// A record that was changed so short before it was read is replayed the next time
	// too: a further change could bear the same times.
	memoSafe = 2 * time.Second
)

// openMemo gives the memo that lies in a folder, or nil where none is named: then all
// records are replayed.
func openMemo(dir string) *memo {
	if dir == "" {
		return nil
	}
	return &memo{
		dir: dir, new: map[string][]byte{},
		known: sync.OnceValue(func() map[string][]byte { return readMemo(filepath.Join(dir, memoName)) }),
		clock: sync.OnceValues(func() (stamp, bool) { return clockOf(dir) }),
	}
}

func readMemo(path string) map[string][]byte {
	build, ok := thisBuild()
	if !ok {
		return nil
	}
	h, is, err := openRegular(path)
	if err != nil {
		return nil
	}
	defer h.close()
	if is.size > memoMost {
		return nil
	}
	data, err := h.readAll(path, is, nil)
	if err != nil {
		return nil
	}
	return parseMemo(data, build)
}

// thisBuild names the running program as exactly as its file can be named.
func thisBuild() (string, bool) {
	path, err := os.Executable()
	if err == nil {
		path, err = filepath.EvalSymlinks(path)
	}
	if err != nil {
		return "", false
	}
	h, is, err := openRegular(path)
	if err != nil {
		return "", false
	}
	defer h.close()
	info, ok := debug.ReadBuildInfo()
	return fmt.Sprint(is.key(), info), ok && is.changed != 0
}

// clockOf is the time by the clock of the file system that a folder is in: the change
// of a file made there. It is false where such a time can be set, as it can where a
// file system keeps but one.
func clockOf(dir string) (is stamp, ok bool) {
	if os.MkdirAll(dir, folderMode) != nil {
		return is, false
	}
	f, err := os.CreateTemp(dir, memoDraft)
	if err != nil {
		return is, false
	}
	defer os.Remove(f.Name())
	info, err := f.Stat()
	f.Close()
	if err != nil {
		return is, false
	}
	// Past, but not so long that another program tidies it away.
	if past := info.ModTime().Add(-10 * time.Minute); os.Chtimes(f.Name(), past, past) != nil {
		return is, false
	}
	h, is, err := openRegular(f.Name())
	if err != nil {
		return is, false
	}
	defer h.close()
	return is, is.changed > is.modified+int64(memoSafe)
}

// key is a stamp as text.
func (s stamp) key() string {
	var b []byte
	for _, n := range []int64{int64(s.device), int64(s.inode), s.size, s.modified, s.changed} {
		b = append(strconv.AppendInt(b, n, 36), ' ')
	}
	return string(b)
}

// settled reports whether no later change of a file can bear the same stamp, by a clock
// that was read before the file was.
func (s stamp) settled(clock stamp) bool {
	return s.changed != 0 && s.device == clock.device && s.changed+int64(memoSafe) < clock.changed
}

// recall gives what is known of a record as it is now, or nil.
func (m *memo) recall(path, id string, is stamp) *Summary {
	if m == nil {
		return nil
	}
	text, same := bytes.CutPrefix(m.known()[id], []byte(is.key()+"\t"))
	sum := broken(path)
	if !same || !entry(text).read(sum) {
		return nil
	}
	return sum
}

// readClock reads the clock, once; what is kept of a record rests on its having been
// read before the record was.
func (m *memo) readClock() {
	if m != nil {
		m.clock()
	}
}

// keep remembers a record as it was replayed; one that something is wrong with is
// replayed each time.
func (m *memo) keep(id string, is stamp, sum *Summary) {
	if m == nil || sum.State == StateBroken || strings.ContainsAny(id, "\t\n") {
		return
	}
	if clock, ok := m.clock(); !ok || !is.settled(clock) {
		return
	}
	e := newEntry(sum)
	if bytes.IndexByte(e, '\n') >= 0 || !e.read(new(Summary)) {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.new[id] = append([]byte(is.key()+"\t"), e...)
}

// write puts the memo in the place of the last one, with what is known of these records
// and no others. Nobody waits for the disk, and where it fails there is none.
func (m *memo) write(ids []string) {
	if m == nil || len(m.new) < memoWorth {
		return
	}
	build, ok := thisBuild()
	if !ok {
		return
	}
	for id, text := range m.known() {
		if _, newer := m.new[id]; !newer {
			m.new[id] = text
		}
	}
	m.tidy()
	f, err := os.CreateTemp(m.dir, memoDraft)
	if err != nil {
		return
	}
	_, err = f.Write(formatMemo(ids, m.new, build))
	if closed := f.Close(); err != nil || closed != nil || os.Rename(f.Name(), filepath.Join(m.dir, memoName)) != nil {
		os.Remove(f.Name())
	}
}

// tidy takes away what a program left that ended while it wrote.
func (m *memo) tidy() {
	clock, _ := m.clock()
	left, _ := filepath.Glob(filepath.Join(m.dir, memoDraft)) // a folder with such a name of its own keeps them
	for _, path := range left {
		if info, err := os.Lstat(path); err == nil && info.ModTime().Before(time.Unix(0, clock.changed).Add(-time.Hour)) {
			os.Remove(path)
		}
	}
}

// formatMemo writes a memo: a sum over the build and the rest, then an entry a line.
func formatMemo(ids []string, entries map[string][]byte, build string) []byte {
	body := []byte{}
	for _, id := range ids {
		if text, ok := entries[id]; ok && len(body)+len(id)+len(text) < memoMost {
			body = append(append(append(append(body, id...), '\t'), text...), '\n')
		}
	}
	return append([]byte(memoSum(body, build)+"\n"), body...)
}

// parseMemo reads a memo; one that another build wrote, or that is not whole, is empty.
func parseMemo(data []byte, build string) map[string][]byte {
	sum, body, _ := bytes.Cut(data, []byte("\n"))
	if string(sum) != memoSum(body, build) {
		return nil
	}
	known := make(map[string][]byte, bytes.Count(body, []byte("\n")))
	for line := range bytes.Lines(body) {
		id, text, _ := bytes.Cut(bytes.TrimSuffix(line, []byte("\n")), []byte("\t"))
		known[string(id)] = text
	}
	return known
}

func memoSum(body []byte, build string) string {
	h := sha256.New()
	fmt.Fprintf(h, "%d %s\n", len(build), build)
	h.Write(body)
	return fmt.Sprintf("%x", h.Sum(nil))
}
