package cli

import (
	"os"
	"os/exec"
	"regexp"
	"slices"
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

// closed are what the rooms of spec know nothing of: the model of nothing that reads it
// or works with it, the estimates of no file.
var closed = map[string][]string{
	"evenpull/spec":            {"evenpull/spec/read", "evenpull/spec/estimate", "evenpull/spec/clamp", "evenpull/spec/clamp/neighbours", "evenpull/spec/wrench", "evenpull/spec/sheet", "github.com/BurntSushi/toml", "github.com/pelletier/go-toml/v2/unstable"},
	"evenpull/spec/estimate":   {"evenpull/spec/read", "evenpull/spec/sheet", "github.com/BurntSushi/toml", "github.com/pelletier/go-toml/v2/unstable"},
	"evenpull/spec/wrench":     {"evenpull/spec/read", "evenpull/spec/estimate"},
	"evenpull/spec/clamp":      {"evenpull/spec"},
	"evenpull/spec/bolt":       {"evenpull/spec"},
	"evenpull/spec/quantity":   {"evenpull/spec"},
	"evenpull/spec/measure":    {"evenpull/spec"},
	"evenpull/procedures/plan": {"evenpull/spec/read", "evenpull/spec/estimate"},
}

// Arrows run one way, main → ui → procedures → spec, and nothing below ui
// knows of a terminal.
func TestImportsRunOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Deps " "}}`, "evenpull/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	seen, known := map[int]int{}, map[string]bool{}
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
			if slices.Contains(closed[pkg], dep) {
				t.Errorf("%s imports %s, which stands above it", pkg, dep)
			}
			known[dep] = true
		}
	}
	for pkg, deps := range closed {
		for _, dep := range append(deps, pkg) {
			if !known[dep] {
				t.Errorf("nothing imports %s: the rule on it holds nothing", dep)
			}
		}
	}
	for i, l := range layers {
		if seen[i] == 0 {
			t.Errorf("no package in layer %s", l)
		}
	}
}

// The picture of how a torque travels names files and what is in them.
func TestThePictureIsTrueToTheCode(t *testing.T) {
	page, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, picture, _ := strings.Cut(string(page), "## How one torque travels")
	picture, _, _ = strings.Cut(picture, "## ")
	steps := regexp.MustCompile(`([a-z]+(?:/[a-z]+)+\.go)(?: ([A-Za-z]+))?`).FindAllStringSubmatch(picture, -1)
	if len(steps) < 20 {
		t.Errorf("only %d places are named", len(steps))
	}
	for _, step := range steps {
		source, err := os.ReadFile("../../" + step[1])
		if err != nil {
			t.Error(err)
			continue
		}
		if name := step[2]; name != "" && !regexp.MustCompile(`(?m)^(func |func \([^)]*\) |type )`+name+`\b`).Match(source) {
			t.Errorf("%s has no %s", step[1], name)
		}
	}
}
