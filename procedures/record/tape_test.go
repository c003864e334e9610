package record

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// A tape is a disk that carries out what it is asked and keeps, of every file and
// name, what a power cut would leave: of a file what was last synced, of a folder
// the names it had when it was last synced, and what has been asked for since,
// which may or may not have got there. It can fail one operation.
type tape struct {
	ops    []string // what was asked for, in order
	fails  int      // index of the operation that fails; -1: none
	short  bool     // it fails half way, if it is a write
	files  map[string]*inode
	kept   map[string]*inode // durable names; a folder is a name without an inode
	asked  map[string][]nameOp
	onStep func() // before every operation
}

type inode struct {
	kept    []byte
	pending []edit
	size    int // as programs see it
}

// edit is a write at what was the end, or, with nothing to write, a new length.
type edit struct {
	data []byte
	at   int
}

func (n *inode) edit(e edit) {
	n.pending = append(n.pending, e)
	n.size = e.at + len(e.data)
}

// nameOp gives a name to an inode or a folder, or takes it away.
type nameOp struct {
	name  string
	inode *inode
	gone  bool
}

func newTape(root string) *tape {
	return &tape{fails: -1, files: map[string]*inode{}, kept: map[string]*inode{root: nil}, asked: map[string][]nameOp{}}
}

var errTape = fmt.Errorf("on tape: %w", syscall.EIO)

// step counts an operation, and tells whether it fails.
func (d *tape) step(what, path string) error {
	if d.onStep != nil {
		d.onStep()
	}
	d.ops = append(d.ops, what+" "+filepath.Base(path))
	if len(d.ops)-1 == d.fails {
		return errTape
	}
	return nil
}

func (d *tape) name(path string, op nameOp) {
	dir := filepath.Dir(path)
	op.name = path
	d.asked[dir] = append(d.asked[dir], op)
}

func (d *tape) open(path string, flag int, mode fs.FileMode) (appendFile, error) {
	if err := d.step("open", path); err != nil {
		return nil, err
	}
	_, err := os.Lstat(path)
	isNew := err != nil
	f, err := system{}.open(path, flag, mode)
	if err != nil {
		return nil, err
	}
	n := d.files[path]
	if isNew || n == nil {
		n = &inode{}
		if !isNew { // it lay there before the tape began
			data, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			n.kept, n.size, d.kept[path] = data, len(data), n
		} else {
			d.name(path, nameOp{inode: n})
		}
		d.files[path] = n
	}
	if flag&os.O_TRUNC != 0 {
		n.edit(edit{})
	}
	return &tapeFile{f, d, path}, nil
}

func (d *tape) rename(from, to string) error {
	if err := d.step("rename", to); err != nil {
		return err
	}
	d.name(from, nameOp{gone: true})
	d.name(to, nameOp{inode: d.files[from]})
	d.files[to] = d.files[from]
	delete(d.files, from)
	return os.Rename(from, to)
}

func (d *tape) remove(path string) error {
	if err := d.step("remove", path); err != nil {
		return err
	}
	d.name(path, nameOp{gone: true})
	delete(d.files, path)
	return os.Remove(path)
}

func (d *tape) mkdir(dir string) error {
	if err := d.step("mkdir", dir); err != nil {
		return err
	}
	d.name(dir, nameOp{})
	return os.Mkdir(dir, folderMode)
}

func (d *tape) syncDir(dir string) error {
	if err := d.step("sync folder", dir); err != nil {
		return err
	}
	for _, op := range d.asked[dir] {
		op.apply(d.kept)
	}
	delete(d.asked, dir)
	return nil
}

func (op nameOp) apply(names map[string]*inode) {
	if op.gone {
		delete(names, op.name)
	} else {
		names[op.name] = op.inode
	}
}

type tapeFile struct {
	appendFile
	d    *tape
	path string
}

func (f *tapeFile) Write(b []byte) (int, error) {
	err := f.d.step("write", f.path)
	if err != nil && !f.d.short {
		return 0, err
	}
	if err != nil {
		b = b[:len(b)/2]
	}
	if n := f.d.files[f.path]; n != nil {
		n.edit(edit{bytes.Clone(b), n.size})
	}
	n, failed := f.appendFile.Write(b)
	if failed != nil {
		return n, failed
	}
	return n, err
}

func (f *tapeFile) Truncate(size int64) error {
	if err := f.d.step("truncate", f.path); err != nil {
		return err
	}
	if n := f.d.files[f.path]; n != nil {
		n.edit(edit{at: int(size)})
	}
	return f.appendFile.Truncate(size)
}

// Sync makes what was written durable. When it fails, what was written is lost
// for good: Linux marks the pages clean, and a second sync reports success.
func (f *tapeFile) Sync() error {
	err := f.d.step("sync", f.path)
	n := f.d.files[f.path]
	if n == nil {
		return err
	}
	if err == nil {
		n.kept = n.after(len(n.pending))
	}
	n.pending = nil
	return err
}

func (f *tapeFile) Close() error {
	err := f.d.step("close", f.path)
	if failed := f.appendFile.Close(); failed != nil {
		return failed
	}
	return err
}

// after is the content with the first of the pending changes.
func (n *inode) after(first int) []byte {
	data := bytes.Clone(n.kept)
	for _, c := range n.pending[:first] {
		data = c.apply(data)
	}
	return data
}

func (e edit) apply(data []byte) []byte {
	data = append(data, make([]byte, max(0, e.at-len(data)))...)
	if e.data == nil {
		return data[:e.at]
	}
	rest := data[min(len(data), e.at+len(e.data)):]
	return append(append(bytes.Clone(data[:e.at]), e.data...), rest...)
}

// contents are what a power cut may leave of a file: any number of the pending
// changes, and of a write any first part, the rest missing or zero.
func (n *inode) contents(everyByte bool) [][]byte {
	list := [][]byte{n.kept}
	for i, c := range n.pending {
		for cut := 1; cut < len(c.data); cut++ {
			if !everyByte && cut > 1 && cut < len(c.data)-1 && cut%37 != 0 {
				continue
			}
			torn := edit{c.data[:cut], c.at}.apply(n.after(i))
			list = append(list, torn, edit{make([]byte, len(c.data)-cut), c.at + cut}.apply(torn))
		}
		list = append(list, n.after(i+1))
	}
	return list
}

// cuts calls left with every state a power cut may leave now: the names there
// are, and what is in them. Names of one folder get there in order.
func (d *tape) cuts(everyByte bool, left func(names map[string]*inode, of *inode, content []byte)) {
	type picked struct {
		dir string
		ops []nameOp
	}
	var dirs []picked
	for _, dir := range slices.Sorted(maps.Keys(d.asked)) {
		dirs = append(dirs, picked{dir, d.asked[dir]})
	}
	var pick func(i int, names map[string]*inode)
	pick = func(i int, names map[string]*inode) {
		if i < len(dirs) {
			names = maps.Clone(names)
			pick(i+1, names)
			for _, op := range dirs[i].ops {
				op.apply(names)
				pick(i+1, names)
			}
			return
		}
		seen := map[*inode]bool{}
		any := false
		for _, path := range slices.Sorted(maps.Keys(names)) {
			n := names[path]
			if n == nil || seen[n] || len(n.pending) == 0 {
				continue
			}
			seen[n], any = true, true
			for _, content := range n.contents(everyByte) {
				left(names, n, content)
			}
		}
		if !any {
			left(names, nil, nil)
		}
	}
	pick(0, d.kept)
}

// restore lays a state out under another root.
func restore(t *testing.T, root, to string, names map[string]*inode, of *inode, content []byte) {
	t.Helper()
	for _, path := range slices.Sorted(maps.Keys(names)) { // folders come before what is in them
		rel := strings.TrimPrefix(path, root)
		n := names[path]
		switch _, err := os.Stat(filepath.Dir(to + rel)); {
		case rel == "" || err != nil: // in a folder that is lost
		case n == nil:
			if err := os.Mkdir(to+rel, folderMode); err != nil {
				t.Fatal(err)
			}
		default:
			data := n.kept
			if n == of {
				data = content
			}
			writeFile(t, to+rel, data)
		}
	}
}
