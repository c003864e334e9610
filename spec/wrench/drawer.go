package wrench

import (
	"fmt"
	"strings"

	"evenpull/spec"
)

// Drawer is a user's wrenches and adapters, as their file lists them.
type Drawer struct {
	File     string
	Wrenches []Wrench // in file order
	Adapters []Adapter
}

// Wrench finds a wrench by name, in any case of letters. The error names the nearest.
func (d *Drawer) Wrench(name string) (Wrench, error) {
	names := make([]string, len(d.Wrenches))
	for i, w := range d.Wrenches {
		if strings.EqualFold(w.Name, strings.TrimSpace(name)) {
			return w, nil
		}
		names[i] = w.Name
	}
	return Wrench{}, fmt.Errorf("there is no wrench %s in %s; %s", spec.Quote(name), d.File, spec.Hint(name, names, "wrenches"))
}

// Adapter finds an adapter by name as Wrench does; the empty name is no adapter.
func (d *Drawer) Adapter(name string) (Adapter, error) {
	if name == "" {
		return Adapter{}, nil
	}
	names := make([]string, len(d.Adapters))
	for i, a := range d.Adapters {
		if strings.EqualFold(a.Name, strings.TrimSpace(name)) {
			return a, nil
		}
		names[i] = a.Name
	}
	if len(names) == 0 {
		return Adapter{}, fmt.Errorf("there are no adapters in %s; add [[adapter]] with name, length and angle", d.File)
	}
	return Adapter{}, fmt.Errorf("there is no adapter %s in %s; %s", spec.Quote(name), d.File, spec.Hint(name, names, "adapters"))
}
