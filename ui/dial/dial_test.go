package dial

import (
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"pgregory.net/rapid"

	"evenpull/ui/internal/golden"
)

func TestGoldenDials(t *testing.T) {
	cases := []struct {
		file  string
		turn  Turn
		w, h  int
		ascii bool
	}{
		{"quarter", Turn{Degrees: 90, Corners: 6}, 19, 9, false},
		{"quarter-ascii", Turn{Degrees: 90, Corners: 6}, 19, 9, true},
		{"quarter-small", Turn{Degrees: 90, Corners: 6}, 15, 7, false},
		{"quarter-least", Turn{Degrees: 90, Corners: 6}, 11, 5, false},
		{"quarter-line", Turn{Degrees: 90, Corners: 6}, 40, 4, false},
		{"half", Turn{Degrees: 180, Corners: 6}, 60, 30, false},
		{"loosen-quarter", Turn{Degrees: 90, Loosen: true, Corners: 6}, 19, 9, false},
		{"left-hand-flat", Turn{Degrees: 60, Left: true, Corners: 6}, 19, 9, false},
		{"left-hand-loosen", Turn{Degrees: 120, Left: true, Loosen: true, Corners: 6}, 19, 9, false},
		{"more-than-a-turn", Turn{Degrees: 450, Corners: 6}, 19, 9, false},
		{"range", Turn{Degrees: 90, UpTo: 94, Corners: 6}, 19, 9, false},
		{"twelve-point", Turn{Degrees: 60, Corners: 12}, 19, 9, false},
		{"nothing-to-count", Turn{Degrees: 60}, 19, 9, false},
		{"no-simple-fraction", Turn{Degrees: 94, Corners: 6}, 19, 9, true},
	}
	drawn := map[string]string{}
	for _, c := range cases {
		drawn[c.file] = draw(c.turn, c.w, c.h, c.ascii) + "\n" + line(c.turn, 80, c.ascii)
	}
	golden.Screens(t, drawn)
}

func anyTurn() *rapid.Generator[Turn] {
	return rapid.Custom(func(t *rapid.T) Turn {
		angle := rapid.OneOf(rapid.Float64Range(0, 900), rapid.SampledFrom([]float64{0, 30, 90, 180, 359.9, 360, -1, 1e12, math.NaN(), math.Inf(1)}))
		return Turn{Degrees: angle.Draw(t, "degrees"), UpTo: angle.Draw(t, "up to"), Left: rapid.Bool().Draw(t, "left"), Loosen: rapid.Bool().Draw(t, "loosen")}
	})
}

func TestFitsAnyRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := anyTurn().Draw(t, "turn")
		w, h := rapid.IntRange(-1, 60).Draw(t, "w"), rapid.IntRange(-1, 20).Draw(t, "h")
		ascii := rapid.Bool().Draw(t, "ascii")
		got := draw(turn, w, h, ascii)
		if got == "" {
			return
		}
		lines := strings.Split(got, "\n")
		if len(lines) > h || len(lines) > greatestHeight {
			t.Fatalf("%d lines in %d×%d:\n%s", len(lines), w, h, got)
		}
		for _, l := range lines {
			if n := lipgloss.Width(l); n > w || n != lipgloss.Width(lines[0]) || (len(lines) > 1 && n > greatestWidth) {
				t.Fatalf("a line of %d cells in %d×%d:\n%s", n, w, h, got)
			}
			if ascii && strings.ContainsFunc(l, func(r rune) bool { return r > 0x7e }) {
				t.Fatalf("%q is not 7-bit", l)
			}
		}
	})
}

// A thread tightens clockwise if right-hand; loosening and a left-hand thread
// each turn that round (definition).
func TestTheWay(t *testing.T) {
	for turn, want := range map[Turn]string{
		{Degrees: 90}: "▼ right", {Degrees: 90, Loosen: true}: "▼ left",
		{Degrees: 90, Left: true}: "▼ left", {Degrees: 90, Left: true, Loosen: true}: "▼ right",
		{Degrees: 270}: "▲ left", {Degrees: 270, Loosen: true}: "▲ right",
	} {
		head, side := "", ""
		for l := range strings.SplitSeq(draw(turn, 19, 9, false), "\n") {
			for x, r := range []rune(l) {
				if strings.ContainsRune("▲◥▶◢▼◣◀◤", r) {
					head, side = string(r), "left"
					if x > 9 {
						side = "right"
					}
				}
			}
		}
		if got := head + " " + side; got != want {
			t.Errorf("%+v: the mark ends as %q, want %q", turn, got, want)
		}
	}
}

// 360° is a turn, a flat of a hexagon a sixth of it and a point of a twelve-point
// half of that (definition).
func TestText(t *testing.T) {
	cases := []struct {
		turn Turn
		want string
	}{
		{Turn{Degrees: 90, Corners: 6}, "90° = 1½ flats = ¼ turn"},
		{Turn{Degrees: 60, Corners: 6}, "60° = 1 flat = ⅙ turn"},
		{Turn{Degrees: 30, Corners: 6}, "30° = ½ flat = 1/12 turn"},
		{Turn{Degrees: 45, Corners: 6}, "45° = ¾ flat = 1/8 turn"},
		{Turn{Degrees: 360, Corners: 6}, "360° = 6 flats = 1 turn"},
		{Turn{Degrees: 450, Corners: 6}, "450° = 7½ flats = 1¼ turns"},
		{Turn{Degrees: 390, Corners: 6}, "390° = 6½ flats = 1 1/12 turns"},
		{Turn{Degrees: 94, Corners: 6}, "94° ≈ 1.57 flats ≈ 0.26 turn"},
		{Turn{Degrees: 100.0 / 3, Corners: 6}, "33.33° ≈ 0.56 flat ≈ 0.09 turn"},
		{Turn{Degrees: 90, UpTo: 94, Corners: 6}, "90° to 94°, from 1½ flats = ¼ turn"},
		{Turn{Degrees: 90, UpTo: 90, Corners: 6}, "90° = 1½ flats = ¼ turn"},
		{Turn{Degrees: math.NaN(), Corners: 6}, "0° = 0 flat = 0 turn"},
		{Turn{Degrees: 90}, "90° = ¼ turn"},
		{Turn{Degrees: 90, UpTo: 94}, "90° to 94°, from ¼ turn"},
		{Turn{Degrees: 90, Corners: 12}, "90° = 3 points = ¼ turn"},
		{Turn{Degrees: 30, Corners: 12}, "30° = 1 point = 1/12 turn"},
		{Turn{Degrees: 45, UpTo: 50, Corners: 12}, "45° to 50°, from 1½ points = 1/8 turn"},
	}
	for _, c := range cases {
		if got := c.turn.text(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.turn, got, c.want)
		}
	}
}

func TestWhereTheMarkEnds(t *testing.T) {
	cases := []struct {
		turn Turn
		want string
	}{
		{Turn{Degrees: 90}, "mark from 12 to 3 o'clock"},
		{Turn{Degrees: 90, Loosen: true}, "mark from 12 to 9 o'clock"},
		{Turn{Degrees: 94}, "mark from 12 to about 3 o'clock"},
		{Turn{Degrees: 360}, "mark once round to 12 o'clock"},
		{Turn{Degrees: 450}, "mark once round to 3 o'clock"},
		{Turn{Degrees: 450, Loosen: true}, "mark once round to 9 o'clock"},
		{Turn{Degrees: 900}, "mark 2 times round to 6 o'clock"},
		{Turn{Degrees: 350}, "mark from 12 to about 12 o'clock"},
	}
	for _, c := range cases {
		if got := c.turn.mark(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.turn, got, c.want)
		}
	}
}

func TestLineGivesWayToNarrowRooms(t *testing.T) {
	turn := Turn{Degrees: 120, Left: true, Corners: 6}
	for w, want := range map[int]string{
		80: "↺ 120° = 2 flats = ⅓ turn, anticlockwise, mark from 12 to 8 o'clock",
		60: "↺ 120° = 2 flats = ⅓ turn, mark from 12 to 8 o'clock",
		42: "↺ 120° = 2 flats = ⅓ turn, anticlockwise",
		26: "↺ 120° = 2 flats = ⅓ turn",
		10: "↺ 120°",
		4:  "120°",
		3:  "…",
		0:  "",
	} {
		if got := line(turn, w, false); got != want {
			t.Errorf("in %d cells: %q, want %q", w, got, want)
		}
	}
}
