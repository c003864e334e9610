package plan

import (
	"slices"
	"strings"
	"testing"

	"evenpull/spec/read"
)

// readySheet has one of everything that must be at hand. Its figures are invented.
const readySheet = `format = 1
[procedure]
name = "Close the cover"
engine = "Osier 380"
direction = "close"
cautions = ["Pull smoothly."]
[sealant]
name = "flange sealant"
work_time = "20m"
cure_time = "12h"
[group.a]
title = "rim bolts"
thread = "M6"
class = "8.8"
torque = "8 N·m"
drive = "8 mm hex"
one_use = true
number = "1-6"
prep = "One drop of oil."
with = [{ part = "sealing washer", count = 2, one_use = true, number = "1-1" }, { part = "plain washer" }]
at = { R1 = [0, 0], R2 = [40, 0], R3 = [80, 0] }
[group.b]
title = "stud nuts"
thread = "M8"
class = "8.8"
torque = "20 N·m"
drive = "8 mm hex"
hand = "left"
friction = "moly"
with = [{ part = "sealing washer", one_use = true, number = "1-1" }]
at = { S1 = [0, 40] }
[[pass]]
name = "Snug"
groups = ["a", "b"]
torque = "40 %"
first = "weak"
[[pass]]
name = "Settle"
wait = "10m"
[[pass]]
name = "Final"
groups = ["a", "b"]
torque = "100 %"
first = "weak"
[[pass]]
name = "Turn"
fasteners = ["S1"]
turn = "60°"
[[check]]
before = "Snug"
ask = "Faces dry?"
caution = "Solvent: ventilate."
[[check]]
after = "Turn"
measure = "gap"
max = "0.05 mm"
[[part]]
name = "gasket"
one_use = true
number = "1-9"
[[part]]
name = "dowel"
kind = "dowel"
count = 2
where = "front and rear"
[[callout]]
before = "Snug"
kind = "heat"
say = "Case to 90 °C."
[[callout]]
before = "Snug"
kind = "lift"
say = "A second pair of hands."
[[callout]]
before = "Final"
kind = "press"
say = "A small press."
`

func TestReadyListsWhatIsWanted(t *testing.T) {
	p, problems := read.Procedure("cover.toml", []byte(readySheet))
	if p == nil {
		t.Fatal(problems)
	}
	want := []string{
		"beware: Pull smoothly.", "beware: Left-hand thread: tightens anticlockwise. (stud nuts)", "beware: Solvent: ventilate.",
		"tools: 8 mm hex, torque wrench for 3.2 N·m to 20 N·m (rim bolts, stud nuts)", "tools: angle gauge, or a mark on the head and one beside it", "tools: A small press. (before Final)",
		"heat: Case to 90 °C. (before Snug)", "help: A second pair of hands. (before Snug)",
		"new pieces: 3 × rim bolts, M6x1, 1-6", "new pieces: 7 × sealing washer, 1-1 (rim bolts, stud nuts)", "new pieces: gasket, 1-9",
		"parts: 2 × dowel (front and rear)",
		"threads: One drop of oil. (rim bolts)", "threads: moly (stud nuts)",
		"sealant: flange sealant (first smear before Snug)",
		"times: 20 min from first smear to the last pull under the sealant", "times: 10 min to wait (Settle)", "times: 12 h to cure before oil goes in",
		"questions: Faces dry? (before Snug)", "to measure: gap, at most 0.05 mm (after Turn)",
	}
	r := Of(p).Ready()
	var got []string
	for _, list := range r.Lists {
		for _, it := range list.Items {
			got = append(got, list.Name+": "+it.Line())
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if r.Stages != 9 {
		t.Errorf("%d stages, want 9", r.Stages)
	}
	apart := strings.NewReplacer(`"close"`, `"open"`, `torque = "40 %"`, "loosen = \"90°\"", `torque = "100 %"`, `loosen = "fully"`, `turn = "60°"`, "remove = true").Replace(readySheet)
	a := strings.Index(apart, "[sealant]")
	apart = apart[:a] + apart[strings.Index(apart, "[group.a]"):]
	o, problems := read.Procedure("cover.toml", []byte(apart))
	if o == nil {
		t.Fatal(problems)
	}
	var names []string
	for _, list := range Of(o).Ready().Lists {
		names = append(names, list.Name)
		if list.Name == "comes off" && len(list.Items) != 2 {
			t.Errorf("comes off: %v", list.Items)
		}
	}
	if slices.Contains(names, "new pieces") || !slices.Contains(names, "comes off") {
		t.Errorf("to take apart: %v", names)
	}
}

// A sheet of then may have bolts that no pass touches: nothing new is wanted for them.
func TestNothingNewIsWantedForWhatIsNotTouched(t *testing.T) {
	sheet := strings.NewReplacer(`fasteners = ["S1"]`, `groups = ["a"]`, `groups = ["a", "b"]`, `groups = ["a"]`, "first = \"weak\"\n", "", `hand = "left"`, "one_use = true").Replace(readySheet)
	p, problems := read.Recorded("cover.toml", []byte(sheet))
	if p == nil {
		t.Fatal(problems)
	}
	for _, list := range Of(p).Ready().Lists {
		if list.Name != "new pieces" {
			continue
		}
		var got []string
		for _, it := range list.Items {
			got = append(got, it.Line())
		}
		if want := []string{"3 × rim bolts, M6x1, 1-6", "6 × sealing washer, 1-1 (rim bolts)", "gasket, 1-9"}; !slices.Equal(got, want) {
			t.Errorf("new pieces %q, want %q", got, want)
		}
		return
	}
	t.Error("no new pieces are wanted")
}

// What is wanted only sometimes: a hot part that does not wait, a bolt measured for its
// stretch, a socket nobody names, limits on both sides, threads before one pass; and the
// whole of it as a person reads it.
func TestReadyAsText(t *testing.T) {
	p, problems := read.Procedure("rods.toml", []byte(`format = 1
[procedure]
name = "Fit the rods"
engine = "Osier 380"
direction = "close"
source = "invented"
[group.rod]
thread = "M8x1"
class = "12.9"
at = { A1 = [0, 0], A2 = [40, 0] }
[[pass]]
name = "Snug"
groups = ["rod"]
torque = "20 N·m"
prepare = "oil threads and under the head"
[[pass]]
name = "Draw"
groups = ["rod"]
stretch = "0.12 mm to 0.15 mm"
[[part]]
name = "race"
after = "Draw"
[[callout]]
before = "Snug"
kind = "heat"
say = "Warm the rod"
to = "80 °C"
within = "30s"
[[check]]
after = "Draw"
measure = "side float"
min = "0.1 mm"
max = "0.3 mm"
[[check]]
after = "Draw"
measure = "crush"
min = "0.02 mm"
`))
	if p == nil {
		t.Fatal(problems)
	}
	var b strings.Builder
	if err := Of(p).WriteReady(&b); err != nil {
		t.Fatal(err)
	}
	const want = `Ready before starting: Fit the rods (close), 4 stages
engine: Osier 380

tools
  [ ] socket, which the sheet does not name, torque wrench for 20 N·m (rod)
  [ ] gauge or micrometer for the stretch of a bolt

heat
  [ ] Warm the rod: to 80 °C, then within 30 s (before Snug)

parts
  [ ] race

threads
  [ ] oil threads and under the head (before Snug)

times
  [ ] 30 s from hot to what follows (Warm the rod)

to measure
  [ ] side float, 0.1 mm to 0.3 mm (after Draw)
  [ ] crush, at least 0.02 mm (after Draw)

The engine's own service manual governs.
`
	if b.String() != want {
		t.Errorf("is\n%s\nwant\n%s", b.String(), want)
	}
}
