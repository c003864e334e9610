package read

import (
	"fmt"
	"strings"
	"testing"
)

const endingHead = `format = 1
[procedure]
name = "x"
direction = "%s"
source = "invented"
[group.main]
thread = "M10x1.5"
class = "8.8"
torque = "40 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [80, 0]
[group.rim]
thread = "M10x1.5"
class = "8.8"
[group.rim.at]
R1 = [0, 40]
R2 = [80, 40]
`

// passesSheet writes passes in short: "main: torque = …" and "M1 M2: turn = …", one a line, | between keys.
func passesSheet(direction, passes string) string {
	var b strings.Builder
	fmt.Fprintf(&b, endingHead, direction)
	for i, line := range strings.Split(strings.TrimSpace(passes), "\n") {
		who, what, _ := strings.Cut(strings.TrimSpace(line), ": ")
		fmt.Fprintf(&b, "[[pass]]\nname = \"p%d\"\n%s\n", i, strings.ReplaceAll(what, "|", "\n"))
		switch ids := strings.Fields(who); {
		case who == "all":
			b.WriteString("groups = [\"main\", \"rim\"]\n")
		case who == "main" || who == "rim":
			fmt.Fprintf(&b, "groups = [%q]\n", who)
		case who != "-":
			fmt.Fprintf(&b, "fasteners = [\"%s\"]\n", strings.Join(ids, `", "`))
		}
	}
	return b.String()
}

// The staged shapes of print, as sheets give them: each leaves every bolt right.
func TestSheetsThatLeaveEveryBoltRight(t *testing.T) {
	const rim = "\nrim: torque = \"40 N·m\""
	for name, passes := range map[string]string{
		"torque, then turns":                     "main: torque = \"100 %\"\nmain: turn = \"30°\"\nmain: turn = \"20° to 24°\"" + rim,
		"loosened to nothing and started again":  "all: torque = \"40 N·m\"\nall: loosen = \"fully\"\nall: torque = \"30 N·m\"\nall: torque = \"40 N·m\"",
		"bedded in over the figure, then again":  "main: torque = \"110 %\"\nmain: loosen = \"fully\"\nmain: torque = \"100 %\"" + rim,
		"trial fit, taken out again":             "all: torque = \"20 N·m\"\nall: remove = true\nall: torque = \"40 N·m\"",
		"a repeat pass":                          "all: torque = \"40 N·m\"\nall: torque = \"40 N·m\"",
		"a repeat on the first bolt only":        "all: torque = \"40 N·m\"\nM1: torque = \"100 %\"",
		"a repeat after slackening one":          "all: torque = \"40 N·m\"\nM1: loosen = \"90°\"\nM1: torque = \"100 %\"",
		"felt after the turn":                    "main: torque = \"100 %\"\nmain: turn = \"30°\"\nmain: verify = \"at least 60 N·m\"" + rim,
		"felt below the figure it was pulled to": "main: torque = \"100 %\"\nmain: verify = \"at least 30 N·m\"" + rim,
		"the final figure is felt after a turn":  "main: torque = \"50 %\"\nmain: turn = \"30°\"\nmain: verify = \"at least 40 N·m\"" + rim,
		"stretch with a ceiling":                 "main: torque = \"50 %\"\nmain: stretch = \"0.12 mm to 0.15 mm\"|ceiling = \"60 N·m\"" + rim,
		"one at a time, a wait between":          "main: each = [{ loosen = \"90°\" }, { torque = \"100 %\" }, { turn = \"30°\" }]\n-: wait = \"4h\"" + rim,
		"two groups interleaved":                 "all: torque = { main = \"100 %\", rim = \"25 lbf·ft\" }|order = [\"M1\", \"R2\", \"M2\", \"R1\"]",
		"ranges that meet the figure":            "main: torque = \"38 N·m to 43 N·m\"\nmain: torque = \"40 ± 2 N·m\"" + rim,
		"the same figure in another unit":        "main: torque = \"29.5 lbf·ft\"" + rim,
		"the same figure, coarsely":              "main: torque = \"30 lbf·ft\"" + rim,
		"split over several passes":              "M1: torque = \"100 %\"\nM2: torque = \"40 N·m\"" + rim,
		"only felt, over the figure":             "main: verify = \"at least 50 N·m\"" + rim,
		"only felt, twice":                       "main: verify = \"at least 20 N·m\"\nmain: verify = \"at least 40 N·m\"" + rim,
		"only felt, at the figure":               "main: verify = \"at least 40 N·m\"" + rim,
	} {
		if _, problems := Procedure(name, []byte(passesSheet("close", passes))); len(problems) > 0 {
			t.Errorf("%s: %v", name, problems)
		}
	}
	for name, passes := range map[string]string{
		"slackened, then out":          "all: loosen = \"90°\"\nall: remove = true",
		"slackened and left in":        "all: loosen = \"90°\"",
		"felt before it is let go":     "main: verify = \"at least 30 N·m\"\nall: remove = true",
		"tightened a little to let go": "main: torque = \"40 N·m\"\nall: remove = true",
		"felt to be loose":             "all: loosen = \"fully\"\nall: verify = \"at most 5 N·m\"",
	} {
		if _, problems := Procedure(name, []byte(passesSheet("open", passes))); len(problems) > 0 {
			t.Errorf("%s: %v", name, problems)
		}
	}
}

// Each is one slip in a sheet that would be right without it.
func TestSheetsThatLeaveABoltWrong(t *testing.T) {
	const rim = "\nrim: torque = \"40 N·m\""
	for _, c := range []struct{ name, direction, passes, want string }{
		{"a percent short", "close", "main: torque = \"99 %\"" + rim, "M1, M2: left at 39.6 N·m, short"},
		{"short in another unit, past the rounding", "close", "main: torque = \"28 lbf·ft\"" + rim, "M1, M2: left at 28 lbf·ft, short"},
		{"over in another unit, past the rounding", "close", "main: torque = \"31 lbf·ft\"" + rim, "M1, M2: left at 31 lbf·ft, over"},
		{"at most, and less than the figure", "close", "main: torque = \"at most 30 N·m\"" + rim, "M1, M2: left at at most 30 N·m, short"},
		{"low after high", "close", "main: torque = \"100 %\"\nall: torque = \"20 N·m\"", "M1, M2: left at 20 N·m after 40 N·m"},
		{"the figure, but over it before", "close", "main: torque = \"110 %\"\nmain: torque = \"100 %\"" + rim, "M1, M2: left at 40 N·m after 44 N·m"},
		{"the figure, let go, and half of it", "close", "main: torque = \"100 %\"\nmain: loosen = \"fully\"\nmain: torque = \"50 %\"" + rim, "M1, M2: left at 20 N·m, short"},
		{"half of it felt", "close", "main: torque = \"50 %\"\nmain: verify = \"at least 40 N·m\"" + rim, "M1, M2: left at 20 N·m, short"},
		{"let go, and felt", "close", "main: torque = \"100 %\"\nM2: loosen = \"90°\"\nmain: verify = \"at least 40 N·m\"" + rim, "M2: the last thing this close procedure does is to loosen"},
		{"one misses the second turn", "close", "main: torque = \"100 %\"\nmain: turn = \"30°\"\nM1: turn = \"30°\"" + rim, `M2: left at 40 N·m and 30°, and M1 of the same group "main" is left at 40 N·m and 60°`},
		{"one turned, then all at the figure again", "close", "main: torque = \"100 %\"\nM1: turn = \"30°\"\nmain: torque = \"100 %\"" + rim, "M2: left at 40 N·m, and M1 of the same group"},
		{"one is stretched", "close", "main: torque = \"100 %\"\nM2: stretch = \"0.12 mm\"" + rim, "is left at 40 N·m"},
		{"one short, no figure for the group", "close", "main: torque = \"100 %\"\nrim: torque = \"20 N·m\"\nR1: torque = \"40 N·m\"", `R2: left at 20 N·m, and R1 of the same group "rim" is left at 40 N·m`},
		{"nothing done to one", "close", "main: torque = \"100 %\"\nR1: torque = \"40 N·m\"", `no pass touches fastener "R2"`},
		{"nothing done to one", "open", "main: remove = true\nR1: remove = true", `no pass touches fastener "R2"`},
		{"tightened in each", "open", "main: each = [{ loosen = \"90°\" }, { torque = \"20 N·m\" }]\nrim: remove = true", "M1, M2: the last thing this open procedure does is to tighten"},
		{"only felt", "open", "main: verify = \"at least 20 N·m\"\nrim: remove = true", "M1, M2: only felt, and never loosened"},
	} {
		p, problems := Procedure("f", []byte(passesSheet(c.direction, c.passes)))
		if errors := problems.Errors(); p != nil || len(errors) != 1 || !strings.Contains(errors[0].Error(), c.want) {
			t.Errorf("%s: got %v, want one error with %q", c.name, problems, c.want)
		}
	}
}

// A record of such a sheet was walked once, and is read.
func TestARecordedSheetIsOnlyWarnedOf(t *testing.T) {
	text := []byte(passesSheet("close", "main: torque = \"40 %\"\nR1: torque = \"40 N·m\""))
	if p, problems := Procedure("f", text); p != nil || len(problems.Errors()) != 2 {
		t.Errorf("read: %v", problems)
	}
	if p, problems := Recorded("f", text); p == nil || len(problems.Errors()) != 0 || !strings.Contains(problems.Error(), "warning: M1, M2: left at 16 N·m") || !strings.Contains(problems.Error(), "warning: no pass touches") {
		t.Errorf("recorded: %v", problems)
	}
}
