package procedures

import (
	"slices"
	"strings"
	"testing"

	"evenpull/spec"
	"evenpull/spec/read"
)

func loaded(t *testing.T, text string) *spec.Procedure {
	t.Helper()
	p, problems := read.Procedure("f", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	return p
}

const opens = `format = 1
[procedure]
name = "Open it"
engine = "Osier 380"
direction = "open"
source = "invented"
[group.rim]
thread = "M6x1"
with = [{ part = "sealing washer", count = 2 }]
[group.rim.at]
R1 = [0, 0]
R2 = [90, 0]
[group.long]
thread = "M8x1.25"
[group.long.at]
L1 = [0, 90]
[[pass]]
name = "Out"
groups = ["rim", "long"]
first = "weak"
order = ["R1", "R2", "L1"]
remove = true
[[part]]
name = "cover"
[[part]]
id = "shim"
name = "end float shim"
count = 2
[[part]]
name = "seal"
`

const closes = `format = 1
[procedure]
name = "Close it"
engine = "osier 380"
direction = "close"
source = "invented"
[group.rim]
thread = "M6x1"
class = "8.8"
torque = "10 N·m"
one_use = true
with = [{ part = "Sealing washer", count = 1, one_use = true }]
[group.rim.at]
R1 = [0, 0]
R2 = [90, 0]
[group.long]
thread = "M8x1"
class = "8.8"
torque = "20 N·m"
[group.long.at]
L1 = [0, 90]
[[pass]]
name = "Final"
groups = ["rim", "long"]
torque = "100 %"
first = "weak"
[[part]]
name = "cover"
[[part]]
id = "shim"
name = "end float shim"
[[part]]
name = "gasket"
one_use = true
`

func TestWhatAPairOfSheetsDisagreesOnIsSaid(t *testing.T) {
	a, b := loaded(t, opens), loaded(t, closes)
	if !ArePair(a, b) || !ArePair(b, a) || ArePair(a, a) {
		t.Error("they are no pair, or one is with itself")
	}
	got := Unmatched(a, b, "x-open", "x-close")
	want := []string{
		"R1 M6x1 is used once in x-close and not in x-open",
		"sealing washer: 4 in x-open and 2 in x-close",
		"R2 M6x1 is used once in x-close and not in x-open",
		"L1 M8x1.25 comes off in x-open and is not in x-close",
		"end float shim: 2 in x-open and 1 in x-close",
		"seal comes off in x-open and is not in x-close",
		"L1 M8x1 goes on in x-close and is not in x-open",
		"gasket goes on in x-close and is not in x-open",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	b.Engine = "Osier 760"
	if ArePair(a, b) {
		t.Error("sheets of two engines are a pair")
	}
}

func TestSheetsWithNothingInCommonAreNoPair(t *testing.T) {
	other := strings.NewReplacer("R1", "X1", "R2", "X2", "L1", "X3", `name = "cover"`, `name = "lid"`, `"shim"`, `"plate"`, "ealing washer", "pring washer").Replace(closes)
	if ArePair(loaded(t, opens), loaded(t, other)) {
		t.Error("they are")
	}
}

func TestCounterparts(t *testing.T) {
	for name, want := range map[string]string{"crankcase-open": "crankcase-close", "dir/x-close.toml": "dir/x-open.toml", "open": "", "x-open.txt": "", "rod-bolts": ""} {
		if got := Counterpart(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// Those that come with the program agree with each other.
func TestBundledPairsAgree(t *testing.T) {
	n := 0
	for _, name := range Bundled() {
		other := Counterpart(name)
		if !strings.HasSuffix(name, "-open") || !slices.Contains(Bundled(), other) {
			continue
		}
		n++
		a, _, _ := Library{}.Load(name)
		b, _, _ := Library{}.Load(other)
		if !ArePair(a, b) {
			t.Errorf("%s and %s are no pair", name, other)
		}
		for _, advice := range Unmatched(a, b, name, other) {
			t.Error(advice)
		}
	}
	if n < 3 {
		t.Errorf("only %d pairs", n)
	}
}
