package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"evenpull/procedures"
	"evenpull/spec"
	"evenpull/spec/read"
	"evenpull/spec/wrench"
	"evenpull/ui/estimate"
)

// tools are the flags that say what the person tightens with.
type tools struct {
	file    string
	wrench  []string
	adapter string
}

const drawerName = "wrenches.toml"

// settingsDir is the person's folder of settings for this program.
func (a *app) settingsDir() (string, error) {
	dir := a.Getenv("XDG_CONFIG_HOME")
	if dir == "" || !filepath.IsAbs(dir) {
		var err error
		if dir, err = os.UserConfigDir(); err != nil {
			return "", err
		}
	}
	return filepath.Join(dir, "evenpull"), nil
}

// drawerPath is where the drawer is kept when no file is named.
func (a *app) drawerPath() (string, error) {
	dir, err := a.settingsDir()
	if err != nil {
		return "", fmt.Errorf("there is no folder for settings: %w; name the file: --wrenches FILE", err)
	}
	return filepath.Join(dir, drawerName), nil
}

// readDrawer reads a named drawer, or the one of the settings folder. The
// error is errNoDrawer when none was named and there is none.
func (a *app) readDrawer(file string) (*wrench.Drawer, error) {
	path := file
	if path == "" {
		var err error
		if path, err = a.drawerPath(); err != nil {
			return nil, problem(err)
		}
		if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
			return nil, problem(noDrawer{path})
		}
	}
	text, err := procedures.ReadFile(path)
	if err != nil {
		return nil, problem(err)
	}
	d, problems := read.Drawer(path, text)
	for _, p := range problems {
		fmt.Fprintln(a.Err, p.Error())
	}
	if d == nil {
		return nil, problem(fmt.Errorf("%s cannot be used: %s", spec.Printable(path), countOf(len(problems.Errors()), "problem")))
	}
	return d, nil
}

// noDrawer says that there is no drawer yet, and how to start one.
type noDrawer struct{ path string }

func (n noDrawer) Error() string {
	return fmt.Sprintf(`there is no drawer of wrenches yet; write %s with
  format = 1
  [[wrench]]
  name       = "small click"
  type       = "II A"              # ISO 6789-1
  unit       = "N·m"
  range      = "5 N·m to 25 N·m"
  graduation = "0.5 N·m"
  calibrated = "2026-03-01"
  arm        = "250 mm"            # grip point to drive centre; needed with an adapter
or name another file: --wrenches FILE`, spec.Printable(n.path))
}

// bench is the drawer with the wrenches and the adapter that the flags name. Every
// name is checked.
func (a *app) bench(t tools) (estimate.Bench, error) {
	d, err := a.readDrawer(t.file)
	if err != nil {
		return estimate.Bench{}, err
	}
	b := estimate.Bench{Drawer: d, Adapter: strings.TrimSpace(t.adapter), On: a.Now()}
	if _, err := d.Adapter(b.Adapter); err != nil {
		return b, problem(err)
	}
	for _, name := range t.wrench {
		var w wrench.Wrench
		if w, err = d.Wrench(name); err != nil {
			return b, problem(err)
		}
		b.Named = append(b.Named, w)
	}
	return b, nil
}

// walkBench is the bench of a walk: a drawer that nobody asked for may be missing or
// bad, and the walk goes on without it.
func (a *app) walkBench(t tools) (estimate.Bench, error) {
	b, err := a.bench(t)
	if err == nil || t.file != "" || len(t.wrench) > 0 || t.adapter != "" {
		return b, err
	}
	var none noDrawer
	if !errors.As(err, &none) {
		fmt.Fprintf(a.Err, "evenpull: %s; the walk goes on without advice on wrenches\n", spec.Printable(err.Error()))
	}
	return estimate.Bench{}, nil
}
