package spec_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"evenpull/spec"
	"evenpull/spec/measure"
	"evenpull/spec/read"
)

const changing = `format = 1
[procedure]
name = "Close the cover"
direction = "close"
source = "Osier sheet 3 (invented)"
cautions = ["Support the case."]
[sealant]
name = "flange sealant"
work_time = "20m"
[group.main]
thread = "M8x1.25"
class = "8.8"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name = "Snug"
groups = ["main"]
torque = "9 N·m"
[[pass]]
name = "Final"
groups = ["main"]
torque = "22 N·m"
order = "listed"
[[callout]]
say = "A holder"
before = "Snug"
[[check]]
after = "Final"
measure = "end float"
min = "0.05 mm"
max = "0.20 mm"
[[part]]
name = "rotor"
`

// Whatever is said otherwise is told in the words of the sheet, where it stands.
func TestChangesBetweenTwoSheets(t *testing.T) {
	for _, c := range []struct{ was, now, want string }{
		{"format = 1", "format = 1 # a remark", ""},
		{`source = "Osier sheet 3 (invented)"`, `source = "Osier sheet 4 (invented)"`, "the procedure, source: was Osier sheet 3 (invented), now Osier sheet 4 (invented)"},
		{`"Support the case."`, `"Support the case.", "Mind the seal."`, "new: caution Mind the seal."},
		{`cautions = ["Support the case."]`, ``, "gone: caution Support the case."},
		{`work_time = "20m"`, `work_time = "30m"`, "the sealant, work_time: was 20 min, now 30 min"},
		{"[sealant]\nname = \"flange sealant\"\nwork_time = \"20m\"\n", "", "gone: the sealant"},
		{`thread = "M8x1.25"`, `thread = "M8x1"`, "group main, thread: was M8x1.25, now M8x1"},
		{`class = "8.8"`, "class = \"8.8\"\nfriction = \"oiled\"", "group main, friction: now oiled"},
		{`class = "8.8"`, "class = \"8.8\"\nwith = [{ part = \"washer\", one_use = true }]", "group main, with: now 1 × washer, one-use"},
		{"M2 = [70, 0]", "M2 = [70, 0]\nM3 = [0, 70]", "new: fastener M3|pass Snug, fasteners: was M1, M2, now M1, M2, M3|pass Final, fasteners: was M1, M2, now M1, M2, M3"},
		{`class = "8.8"`, "class = \"8.8\"\nshank = \"20 mm\"\ngrip = \"30 mm\"", "group main, grip: now 30 mm|group main, shank: now 20 mm"},
		{"[[part]]", "[cover]\nmaterial = \"aluminium\"\nthickness = \"8 mm\"\nface = \"paper\"\n[[part]]", "new: the cover"},
		{"M2 = [70, 0]", "M2 = [70, 5]", "fastener M2, at: was 70, 0, now 70, 5"},
		{`torque = "9 N·m"`, `torque = "10 N·m"`, "pass Snug, figure of main: was torque 9 N·m, now torque 10 N·m"},
		{`torque = "22 N·m"`, `each = [{ torque = "22 N·m" }, { turn = "90°" }]`, "pass Final, figure 1 of main: now torque 22 N·m|pass Final, figure 2 of main: now turn 90°|pass Final, figure of main: was torque 22 N·m, no longer said"},
		{`order = "listed"`, `order = ["M2", "M1"]`, "pass Final, order: was listed, now M2, M1"},
		{`order = "listed"`, "order = \"listed\"\ncaution = \"slowly\"", "pass Final, caution: now slowly"},
		{"[[pass]]\nname = \"Final\"", "[[pass]]\nname = \"Settle\"\nwait = \"4h\"\n[[pass]]\nname = \"Final\"", "new: pass Settle|pass Final, comes: was after Snug, now after Settle"},
		{`say = "A holder"`, "say = \"A holder\"\nkind = \"spring\"", "callout callout-a-holder, kind: was tool, now spring"},
		{`max = "0.20 mm"`, `max = "0.25 mm"`, "check end-float, max: was 0.2 mm, now 0.25 mm"},
		{`min = "0.05 mm"`, ``, "check end-float, min: was 0.05 mm, no longer said"},
		{`name = "rotor"`, "name = \"rotor\"\ncount = 2\nbefore = \"Snug\"", "part rotor, count: was 1, now 2|part rotor, when: now before Snug"},
		{"[[part]]\nname = \"rotor\"\n", "[[part]]\nname = \"lamp\"\n", "gone: part rotor|new: part lamp"},
	} {
		old, problems := read.Procedure("a.toml", []byte(changing))
		now, more := read.Procedure("b.toml", []byte(strings.Replace(changing, c.was, c.now, 1)))
		if old == nil || now == nil || !strings.Contains(changing, c.was) {
			t.Fatal(c.was, problems, more)
		}
		var got []string
		for _, change := range spec.Changes(old, now) {
			got = append(got, change.Text())
		}
		if want := strings.Split(c.want, "|"); !slices.Equal(got, want) && !(c.want == "" && len(got) == 0) {
			t.Errorf("%q for %q:\n%q\nwant\n%q", c.now, c.was, got, want)
		}
		if back := spec.Changes(now, old); len(back) != len(spec.Changes(old, now)) {
			t.Errorf("%q: one way %d, the other way %d", c.now, len(got), len(back))
		}
	}
}

// A field that a sheet gains has to be among what is said of it, or an edit of it would
// be taken for none. Named here are those that are not said, since others say them: what is
// worked out, and what points back.
func TestEveryFieldOfASheetIsSaid(t *testing.T) {
	unsaid := map[string][]string{
		"Procedure": {"File", "Name", "Direction", "Text", "Other"},
		"Group":     {"ID", "Torque", "ProofLoadN", "Members", "Caps"},
		"Fastener":  {"ID", "Index"},
		"Pass":      {"Name", "Index"},
		"Check":     {"Order", "ID"},
		"Part":      {"Order", "ID"},
		"Callout":   {"Order", "ID"},
	}
	said := map[string]string{
		"Procedure": "Engine Source Cautions Sealant Cover Groups Fasteners Passes Checks Parts Callouts",
		"Group":     "WireInsert Title Thread Class HasClass Nut LeftHand Friction Into Light Engagement Grip Clamps Shank Waist CrossHole Bore Drive OneUse With Prep PrepEach Caution Number Source LookFor Condemn",
		"Fastener":  "Group X Y Cap",
		"Pass":      "Fasteners Steps Wait First Order Because Source Caution Prepare",
		"Check":     "Before After Ask Measure Min Max Remedy Caution Source Shim Of NoRestarts How",
		"Part":      "Name Kind Count OneUse Before After Where Number Caution LookFor Condemn Measure Work",
		"Callout":   "Before Kind Say Caution To Within",
		"Sealant":   "Name WorkTime CureTime Before",
		"Cover":     "Part Material Thickness Face Groups",
		"Setup":     "Kind Min Max Wanted PitchRadius DialRadius Readings Spread Labels Stock Ends",
	}
	for _, v := range []any{spec.Procedure{}, spec.Group{}, spec.Fastener{}, spec.Pass{}, spec.Check{}, spec.Part{}, spec.Callout{}, spec.Sealant{}, spec.Cover{}, measure.Setup{}} {
		kind := reflect.TypeOf(v)
		known := append(strings.Fields(said[kind.Name()]), unsaid[kind.Name()]...)
		for i := range kind.NumField() {
			if name := kind.Field(i).Name; !slices.Contains(known, name) {
				t.Errorf("%s.%s is in no saying (spec/saying.go)", kind.Name(), name)
			}
		}
		if len(known) != kind.NumField() {
			t.Errorf("%s: %d fields known, %d there", kind.Name(), len(known), kind.NumField())
		}
	}
}
