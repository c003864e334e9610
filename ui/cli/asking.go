package cli

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"evenpull/procedures"
	"evenpull/procedures/draft"
	"evenpull/procedures/shell"
	"evenpull/spec"
	"evenpull/spec/read"
	"evenpull/ui/ask"
	"evenpull/ui/program"
)

// askedFile is a sheet that is written by answering questions. Answers that are not
// written yet are kept beside it, so that nothing is lost when the power is.
type askedFile struct {
	path string // behind any links
	name string // as it was given
	was  []byte // what is in it; nil: it is not there
}

// aside is where the answers to this very content of the file are kept.
func (f askedFile) aside() string {
	version := "new"
	if f.was != nil {
		version = fmt.Sprintf("%x", sha256.Sum256(f.was))[:12]
	}
	return f.asideOf(version)
}

func (f askedFile) asideOf(version string) string {
	return filepath.Join(filepath.Dir(f.path), "."+filepath.Base(f.path)+"."+version+".answers")
}

// left are answers to what the file was once, that were never written.
func (f askedFile) left() []string {
	all, _ := filepath.Glob(f.asideOf("*")) // a name with brackets in it finds none: they are only told of
	return slices.DeleteFunc(all, func(path string) bool { return path == f.aside() })
}

func (f askedFile) keep(text []byte) error {
	if err := writeAtOnce(f.aside(), text); err != nil {
		return fmt.Errorf("the answers cannot be kept in %s: %w; write the file, or give it another place", spec.Printable(f.aside()), bare(err))
	}
	return nil
}

// write writes the file, unless somebody else has since it was read.
func (f *askedFile) write(text []byte) error {
	now, err := os.ReadFile(f.path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && f.was == nil:
	case err == nil && f.was != nil && bytes.Equal(now, f.was):
	case err == nil && bytes.Equal(now, text):
	case err == nil:
		return fmt.Errorf("%s has been changed by somebody else since it was opened, and is left as it is; the answers are kept in %s", spec.Printable(f.name), spec.Printable(f.aside()))
	case errors.Is(err, fs.ErrNotExist): // taken away: it is written anew
	default:
		return fmt.Errorf("%s cannot be read: %w; nothing is written", spec.Printable(f.name), bare(err))
	}
	if err := writeAtOnce(f.path, text); err != nil {
		return fmt.Errorf("%s cannot be written: %w; the answers are kept in %s", spec.Printable(f.name), bare(err), spec.Printable(f.aside()))
	}
	aside := f.aside()
	f.was = text
	if err := os.Remove(aside); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s is written; %s is no longer needed and cannot be removed: %w", spec.Printable(f.name), spec.Printable(aside), bare(err))
	}
	return nil
}

// openAsked finds the sheet to ask about: the file, a new one, or answers kept beside it.
func (a *app) openAsked(name string) (*askedFile, draft.Draft, string, error) {
	f := &askedFile{path: name, name: name}
	if real, err := filepath.EvalSymlinks(name); err == nil {
		f.path = real
	}
	if a.amongRecords(f.path) {
		return f, draft.Draft{}, "", fmt.Errorf("%s is in the folder of records, which holds nothing else; write it elsewhere", spec.Printable(name))
	}
	if _, err := os.Stat(f.path); errors.Is(err, fs.ErrNotExist) {
		if dir, err := os.Stat(filepath.Dir(f.path)); err != nil || !dir.IsDir() {
			return f, draft.Draft{}, "", fmt.Errorf("there is no folder %s; make it first, or give another place", spec.Printable(filepath.Dir(f.path)))
		}
	} else if f.was, err = procedures.ReadFile(f.path); err != nil {
		return f, draft.Draft{}, "", err
	}
	text, notice := f.was, ""
	if aside, err := os.Stat(f.aside()); err == nil {
		if text, err = procedures.ReadFile(f.aside()); err != nil {
			return f, draft.Draft{}, "", err
		}
		notice = "goes on with answers of " + aside.ModTime().Format("2 Jan 15:04") + " that were not written yet"
	} else if left := f.left(); len(left) > 0 {
		notice = "the file has changed since answers to it were kept; they stay in " + left[0]
	}
	if text == nil {
		return f, draft.New(name), cmp.Or(notice, "a new sheet; it is written when you say so"), nil
	}
	d, err := draft.Open(name, text)
	if err != nil {
		return f, d, "", fmt.Errorf("%w\nthere is nothing to ask about until that is mended; then: %s", err, shell.Line("new", []string{name})+" --ask")
	}
	if notice == "" {
		notice = fmt.Sprintf("%s is there: answers change it where they belong, and only when you write it", name)
	}
	return f, d, notice, nil
}

// ask writes a sheet by asking, on the screen or line by line.
func (a *app) ask(name string, plain bool) error {
	f, d, notice, err := a.openAsked(name)
	if err != nil {
		return problem(err)
	}
	c := ask.Config{Draft: d, File: name, Saved: f.was, Keep: f.keep, Write: f.write, Now: a.Now, Notice: notice}
	if plain || !a.onTerminal() || a.dumb() {
		whole, err := ask.Lines(c, a.In, a.Out)
		return a.afterAsking(f, whole, err)
	}
	if err := a.show(program.Layer{Screen: ask.New(c)}); err != nil {
		return err
	}
	p, _ := read.Procedure(name, f.was)
	return a.afterAsking(f, p != nil, nil)
}

// askedOwn is the screen that writes a sheet of the person's own folder.
func (a *app) askedOwn(name string) (program.Layer, error) {
	library := a.library()
	name, _ = procedures.Split(name)
	switch {
	case library.Dir == "":
		return program.Layer{}, errors.New("the system names no place for your own procedures; write one with: evenpull new FILE --ask")
	case slices.Contains(procedures.Bundled(), name):
		return program.Layer{}, fmt.Errorf("%s is the name of a bundled procedure; choose another", name)
	}
	if err := os.MkdirAll(library.Dir, 0o755); err != nil {
		return program.Layer{}, fmt.Errorf("%s cannot be made: %w; make it, or write the sheet with: evenpull new FILE --ask", spec.Printable(library.Dir), bare(err))
	}
	f, d, notice, err := a.openAsked(filepath.Join(library.Dir, name+".toml"))
	if err != nil {
		return program.Layer{}, err
	}
	return program.Layer{Screen: ask.New(ask.Config{Draft: d, File: name + ".toml", Saved: f.was, Keep: f.keep, Write: f.write, Now: a.Now, Notice: notice, Leave: program.Back})}, nil
}

// afterAsking says how to go on, and leaves with what is still wanted.
func (a *app) afterAsking(f *askedFile, whole bool, err error) error {
	again := shell.Line("new", []string{f.name}) + " --ask"
	switch _, kept := os.Stat(f.aside()); {
	case err != nil:
		return problem(err)
	case kept == nil:
		fmt.Fprintf(a.Err, "%s\n", a.pointed("answers that are not written are kept; go on with: "+again))
	case f.was == nil:
		fmt.Fprintln(a.Err, "nothing was answered, and nothing is written")
	case whole:
		fmt.Fprintf(a.Err, "%s\n", a.pointed("see it judged: "+shell.Line("check", []string{f.name})+"\nwalk it: "+a.walkLine(f.name, "", "")))
		return nil
	default:
		fmt.Fprintf(a.Err, "%s\n", a.pointed("it cannot be walked yet; go on with: "+again))
	}
	return &exit{code: ExitOutstanding}
}
