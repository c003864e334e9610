package procedures

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"evenpull/procedures/shell"
	"evenpull/spec"
	"evenpull/spec/read"
)

// ReadFile reads a procedure file of at most read.MaxFileBytes. Whatever is no
// plain file is refused before it is opened: a pipe would never return and a
// device never end. Errors say what was found and what to do.
func ReadFile(path string) ([]byte, error) {
	name := spec.Printable(path)
	info, err := os.Stat(path)
	if err != nil {
		return nil, cannotRead(name, err)
	}
	if what := oddity(info.Mode()); what != "" {
		return nil, fmt.Errorf("%s is %s; give the path of a TOML file", name, what)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, cannotRead(name, err)
	}
	defer f.Close()
	return readBounded(name, f)
}

// readBounded goes by what comes, not by the size reported: some files report none.
func readBounded(name string, from io.Reader) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(from, read.MaxFileBytes+1))
	if err != nil {
		return nil, cannotRead(name, err)
	}
	if len(text) > read.MaxFileBytes {
		return nil, fmt.Errorf("%s is larger than 1 MiB; split it: one joint a file", name)
	}
	return text, nil
}

func oddity(mode fs.FileMode) string {
	switch {
	case mode.IsRegular():
		return ""
	case mode.IsDir():
		return "a folder"
	case mode&fs.ModeNamedPipe != 0:
		return "a pipe"
	case mode&fs.ModeSocket != 0:
		return "a socket"
	case mode&fs.ModeDevice != 0:
		return "a device"
	}
	return "no plain file"
}

func cannotRead(name string, err error) error {
	cause := err
	var pe *fs.PathError
	if errors.As(err, &pe) {
		cause = pe.Err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no file %s; check the path, or start one with: %s", name, shell.Line("new", []string{name}))
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s may not be read; give yourself the right to read it", name)
	}
	return fmt.Errorf("%s cannot be read: %w; check the path", name, cause)
}
