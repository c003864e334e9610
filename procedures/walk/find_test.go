package walk_test

import (
	"strings"
	"testing"

	"evenpull/procedures"
	"evenpull/procedures/plan"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/read"
)

// slashed has names with slashes of their own.
const slashed = `format = 1
[procedure]
name = "Slashes"
direction = "close"
source = "invented"
[group.main]
thread = "M8x1.25"
class = "8.8"
torque = "22 N·m"
[group.main.at]
"1" = [0, 0]
"2" = [70, 0]
"2-1" = [140, 0]
[[pass]]
name = "A"
groups = ["main"]
torque = "40 %"
order = "listed"
[[pass]]
name = "B/x"
groups = ["main"]
each = [{ torque = "50 %" }, { torque = "60 %" }]
order = "reverse"
[[pass]]
name = "B/x/y"
groups = ["main"]
torque = "70 %"
order = "listed"
[[pass]]
name = "B"
groups = ["main"]
torque = "100 %"
order = "cross"
`

// Every item is found by the text of its key, as by going through all of them, and no
// other text finds any.
func TestItemsAreFoundByTheirKeys(t *testing.T) {
	sheets := map[string]*spec.Procedure{}
	p, problems := read.Procedure("slashed.toml", []byte(slashed))
	if p == nil {
		t.Fatal(problems.Errors())
	}
	sheets["slashed"] = p
	for _, name := range (procedures.Library{}).Names() {
		if p, problems, err := (procedures.Library{}).Load(name); p != nil {
			sheets[name] = p
		} else {
			t.Fatal(name, problems, err)
		}
	}
	looked := 0
	for name, p := range sheets {
		c := walk.CourseOf(plan.Of(p), walk.Rules)
		at := map[string]int{}
		for i, it := range c.Items {
			if was, twice := at[it.Key().String()]; twice {
				t.Fatalf("%s: %s is item %d and item %d", name, it.Key(), was, i)
			}
			at[it.Key().String()] = i
		}
		for key := range at {
			for _, asked := range []string{key, key + "/1", key + "/2", key + "/01", key + "/", "/" + key, key + "x", strings.TrimSuffix(key, "/1"), strings.TrimSuffix(key, "/1") + "/01", strings.Replace(key, "/", "//", 1), strings.ToLower(key)} {
				want, known := at[asked]
				if got, ok := c.Find(asked); ok != known || ok && got != want {
					t.Errorf("%s: %q is item %d, %v; want %d, %v", name, asked, got, ok, want, known)
				}
				looked++
			}
		}
	}
	if looked < 5000 {
		t.Errorf("only %d texts were looked up", looked)
	}
}
