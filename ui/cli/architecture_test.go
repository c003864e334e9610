package cli

import (
	"os/exec"
	"strings"
	"testing"
)

// layers from the bottom up: a package may import only its own layer and those below.
var layers = []string{"evenpull/spec", "evenpull/procedures", "evenpull/ui", "evenpull"}

func layerOf(pkg string) int {
	for i, l := range layers {
		if pkg == l || i < len(layers)-1 && strings.HasPrefix(pkg, l+"/") {
			return i
		}
	}
	return -1
}

// Arrows run one way, main → ui → procedures → spec, and nothing below ui
// knows of a terminal.
func TestImportsRunOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Deps " "}}`, "evenpull/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[int]int{}
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		fields := strings.Fields(line)
		pkg, layer := fields[0], layerOf(fields[0])
		if layer < 0 {
			t.Errorf("%s stands in no layer", pkg)
		}
		seen[layer]++
		for _, dep := range fields[1:] {
			if strings.HasPrefix(dep, "evenpull") && layerOf(dep) > layer {
				t.Errorf("%s imports %s, against the direction", pkg, dep)
			}
			if layer < 2 && strings.HasPrefix(dep, "github.com/charmbracelet/") {
				t.Errorf("%s imports %s: only ui may", pkg, dep)
			}
		}
	}
	for i, l := range layers {
		if seen[i] == 0 {
			t.Errorf("no package in layer %s", l)
		}
	}
}
