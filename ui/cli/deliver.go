package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"evenpull/procedures/record"
	"evenpull/spec"
)

// destination is where a result goes: a file, or standard output.
type destination struct {
	file  string // empty or - is standard output
	force bool
}

func (d *destination) flags(cmd *cobra.Command) {
	cmd.Flags().StringVarP(&d.file, "output", "o", "", "write to `FILE`; without it, or with -, to standard output")
	cmd.Flags().BoolVar(&d.force, "force", false, "overwrite FILE if it is there")
}

// kind is what the file's name says is wanted in it: its ending without the dot, one of
// those there are, or nothing for text.
func (d *destination) kind(kinds ...string) (string, error) {
	ending := strings.TrimPrefix(strings.ToLower(filepath.Ext(d.file)), ".")
	switch {
	case d.file == "-", ending == "", ending == "txt":
		return "", nil
	case slices.Contains(kinds, ending):
		return ending, nil
	}
	return "", usage("what to write is not told by %q; end its name with .txt, .%s", spec.Printable(filepath.Base(d.file)), strings.Join(kinds, ", ."))
}

// onto is the same with its results going elsewhere.
func (a *app) onto(out io.Writer) *app {
	there := *a
	there.Out = out
	return &there
}

// deliver writes a result to where it was asked for. A file is there whole or
// not at all; one that exists stays as it is, unless forced, and nothing is
// ever written among the records.
func (a *app) deliver(d destination, write func(io.Writer) error) error {
	if d.file == "" || d.file == "-" {
		return problem(write(a.Out))
	}
	path, err := a.target(d)
	if err != nil {
		return problem(err)
	}
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return problem(err)
	}
	if err := writeAtOnce(path, b.Bytes()); err != nil {
		return problem(fmt.Errorf("%s cannot be written: %w; nothing there has changed", spec.Printable(d.file), bare(err)))
	}
	return nil
}

// target is the file itself, behind any links, once nothing speaks against it.
func (a *app) target(d destination) (string, error) {
	shown := spec.Printable(d.file)
	path := d.file
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	info, err := os.Stat(path)
	switch {
	case a.amongRecords(path):
		return "", fmt.Errorf("%s is in the folder of records, which holds nothing else; write it elsewhere", shown)
	case errors.Is(err, fs.ErrNotExist):
		return path, nil
	case err != nil:
		return "", fmt.Errorf("%s cannot be written: %w; choose another place", shown, bare(err))
	case info.IsDir():
		return "", fmt.Errorf("%s is a folder; name a file in it", shown)
	case info.Mode().IsRegular() && !d.force:
		return "", fmt.Errorf("%s exists already and is left as it is; give another name, or overwrite it with --force", shown)
	}
	return path, nil
}

// amongRecords reports whether a file would lie in the folder of records.
func (a *app) amongRecords(path string) bool {
	dir := a.namedRecords()
	if dir == "" {
		var err error
		if dir, err = record.DefaultDir(); err != nil {
			return false
		}
	}
	dir, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return false // it is not there yet
	}
	parent, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return false
	}
	for _, p := range []*string{&dir, &parent} {
		if *p, err = filepath.Abs(*p); err != nil {
			return false
		}
	}
	below, err := filepath.Rel(dir, parent)
	return err == nil && below != ".." && !strings.HasPrefix(below, ".."+string(filepath.Separator))
}

// writeAtOnce writes beside the file and then puts it under its name, so that
// nobody finds half of it. What is no ordinary file, such as a pipe, is written
// straight.
func writeAtOnce(path string, data []byte) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return os.WriteFile(path, data, 0)
	}
	draft := filepath.Join(filepath.Dir(path), fmt.Sprintf(".%s.%d.new", filepath.Base(path), os.Getpid()))
	f, err := os.OpenFile(draft, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Sync(), f.Close()); err == nil {
		err = os.Rename(draft, path)
	}
	if err != nil {
		os.Remove(draft)
	}
	return err
}

// bare is the cause without the path, which the message names already.
func bare(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
