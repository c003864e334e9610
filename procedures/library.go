// Package procedures holds the bundled procedures, all of invented engines, and
// finds a procedure by what a person types: a bundled name, the name of a file
// in the user's own folder, or a path.
package procedures

import (
	"embed"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"evenpull/spec"
	"evenpull/spec/read"
)

//go:embed *.toml
var files embed.FS

// newFile is the text for `evenpull new`; it is embedded with the rest but is
// no bundled procedure.
const newFile = "new"

const extension = ".toml"

// The bundled ones are in the order of the work: from strip-down to the first warm run,
// then those of other engines.
var (
	toOpen  = []string{"top-end-open", "clutch-open", "flywheel-off", "starter-off", "oil-pump-open", "crankcase-open", "gearbox-out", "rods-off", "cases-away"}
	toClose = []string{
		"cases-back", "rod-bolts", "gearbox-in", "crankcase-close", "oil-pump-close", "starter-on", "flywheel-nut", "clutch-close", "top-end-close", "head-retorque",
		"head-torque-turn", "flywheel-nut-left",
	}
	bundled = slices.Concat(toOpen, toClose)
)

// Bundled names the procedures that come with the program, in the order of the
// work: open, close, then those of other engines.
func Bundled() []string { return slices.Clone(bundled) }

// BundledToClose names those of them that close: who looks for what closes an engine
// need not read the others.
func BundledToClose() []string { return slices.Clone(toClose) }

// New is a commented procedure to fill in. It checks clean as it is.
func New() string { return string(embedded(newFile)) }

func embedded(name string) []byte {
	text, err := files.ReadFile(name + extension)
	if err != nil {
		panic("bundled procedure missing from the build: " + name) // held by TestEveryBundledNameHasItsFile
	}
	return text
}

// Source is the text of a procedure and where it came from.
type Source struct {
	Name    string // what messages call it: a bundled name, or the path
	Bundled bool
	Text    []byte
}

// Library is the bundled procedures and, in Dir, the user's own: files called
// NAME.toml. An empty Dir means there are none.
type Library struct {
	Dir   string
	Piped io.Reader // what the name - stands for; nil where nothing can be piped in
}

// Piped is the name that stands for a procedure on standard input.
const Piped = "-"

// pipedName is what messages call it.
const pipedName = "stdin"

// UserDir is where the user's own procedures lie, whether or not it exists:
// evenpull/procedures below $XDG_CONFIG_HOME (the platform's own place
// elsewhere). It is empty when the system names no such place.
func UserDir() string {
	base, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(base, "evenpull", "procedures")
}

// Own names the procedures in the user's folder, sorted, without those whose
// name a bundled one takes. No folder means none; that is no error.
func (l Library) Own() []string {
	if l.Dir == "" {
		return nil
	}
	entries, err := os.ReadDir(l.Dir)
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), extension)
		plain := name == spec.Printable(name) // others cannot be shown, so they cannot be chosen
		if ok && plain && name != "" && !e.IsDir() && !slices.Contains(bundled, name) {
			names = append(names, name)
		}
	}
	return names
}

// Names are all that can be asked for by name: bundled first, then the user's own.
func (l Library) Names() []string { return append(Bundled(), l.Own()...) }

// Embedded is what From gives for a bundled procedure.
const Embedded = "bundled"

// From says where the procedure of a name lies, whether or not it is there:
// Embedded, an absolute path, or nothing for what is piped in. Folders that are
// links are followed, so that two ways to one file give one path.
func (l Library) From(nameOrPath string) string {
	if base, way := Split(nameOrPath); way != "" {
		from := l.From(base)
		if from == "" || from == Embedded { // then the name as typed tells them apart
			return from
		}
		return from + ":" + string(way)
	}
	path := nameOrPath
	switch {
	case nameOrPath == Piped && l.Piped != nil:
		return ""
	case slices.Contains(bundled, nameOrPath):
		return Embedded
	case isPath(nameOrPath):
	default:
		_, err := os.Stat(nameOrPath)
		if own := filepath.Join(l.Dir, nameOrPath+extension); l.Dir != "" && (err != nil || slices.Contains(l.Own(), nameOrPath)) {
			path = own
		}
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	if dir, err := filepath.EvalSymlinks(filepath.Dir(abs)); err == nil {
		return filepath.Join(dir, filepath.Base(abs))
	}
	return abs
}

// Find gives the text of a procedure. A bundled name wins; what holds a
// separator or ends in .toml is a path; - is what is piped in; any other name is looked for in the
// user's folder and then as a file where the program stands. An unknown name is
// an error with the nearest names, an unreadable file one with a remedy.
func (l Library) Find(nameOrPath string) (Source, error) {
	nameOrPath, _ = Split(nameOrPath)
	switch {
	case nameOrPath == "":
		return Source{}, fmt.Errorf("no procedure is named; known are: %s; or give the path of a file", strings.Join(l.Names(), ", "))
	case nameOrPath == Piped && l.Piped != nil:
		text, err := readBounded(pipedName, l.Piped)
		return Source{Name: pipedName, Text: text}, err
	case slices.Contains(bundled, nameOrPath):
		return Source{Name: nameOrPath, Bundled: true, Text: embedded(nameOrPath)}, nil
	case isPath(nameOrPath):
		return fromFile(nameOrPath)
	case slices.Contains(l.Own(), nameOrPath):
		return fromFile(filepath.Join(l.Dir, nameOrPath+extension))
	}
	if _, err := os.Stat(nameOrPath); err == nil {
		return fromFile(nameOrPath)
	}
	return Source{}, l.unknown(nameOrPath)
}

func isPath(s string) bool {
	return strings.ContainsRune(s, '/') || strings.ContainsRune(s, os.PathSeparator) || strings.EqualFold(filepath.Ext(s), extension)
}

func fromFile(path string) (Source, error) {
	text, err := ReadFile(path)
	if err != nil {
		return Source{}, err
	}
	return Source{Name: path, Text: text}, nil
}

// Split takes the direction off a name: "gearbox:open" is what opens of gearbox, a file that
// goes both ways. A file of that very name is meant as it stands.
func Split(name string) (base string, way spec.Direction) {
	for _, way := range []spec.Direction{spec.Open, spec.Close} {
		base, ok := strings.CutSuffix(name, ":"+string(way))
		if !ok || base == "" {
			continue
		}
		if _, err := os.Stat(name); err != nil {
			return base, way
		}
	}
	return name, ""
}

// IsPiped reports whether a name, with or without a direction, stands for what is piped in.
func IsPiped(name string) bool {
	base, _ := Split(name)
	return base == Piped
}

// Load finds a procedure and reads it. The error is for what cannot be found
// or opened, or does not go in the direction that is named; what is wrong inside is in the
// problems, and the procedure is nil when any of them is more than a warning. One that goes
// both ways and of which nobody has said which has its Other.
func (l Library) Load(nameOrPath string) (*spec.Procedure, read.Problems, error) {
	src, err := l.Find(nameOrPath)
	if err != nil {
		return nil, nil, err
	}
	p, problems := readSource(src)
	if _, way := Split(nameOrPath); p != nil && way != "" {
		p, err = p.Toward(way)
	}
	return p, problems, err
}

// once has what a bundled file reads as, by its name: it is part of the program.
var once sync.Map

type outcome struct {
	procedure *spec.Procedure
	problems  read.Problems
}

// readSource reads a bundled file the first time it is asked for. Each gets a procedure to
// name as it likes; what is inside is of all, and nobody changes it.
func readSource(src Source) (*spec.Procedure, read.Problems) {
	if !src.Bundled {
		return read.Procedure(src.Name, src.Text)
	}
	have, known := once.Load(src.Name)
	if !known {
		p, problems := read.Procedure(src.Name, src.Text)
		have, _ = once.LoadOrStore(src.Name, outcome{p, problems})
	}
	is := have.(outcome)
	if is.procedure == nil {
		return nil, is.problems
	}
	own := *is.procedure
	return &own, is.problems
}
