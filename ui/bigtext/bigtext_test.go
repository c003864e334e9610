package bigtext

import (
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"pgregory.net/rapid"

	"evenpull/ui/internal/golden"
)

func TestGoldenFigures(t *testing.T) {
	cases := []struct {
		file, text    string
		width, height int
		ascii         bool
	}{
		{"digits-large", "0123456789", 120, 7, false},
		{"digits-medium", "0123456789", 120, 5, false},
		{"digits-low", "0123456789", 120, 4, false},
		{"digits-small", "0123456789", 120, 3, false},
		{"newton-metres", "25 N·m", 80, 7, false},
		{"tolerance", "27 ± 2 N·m", 80, 7, false},
		{"pounds-feet", "18.4 lbf·ft", 80, 7, false},
		{"turn", "90°", 40, 14, false},
		{"remove", "REMOVE", 80, 7, false},
		{"fully", "FULLY", 40, 5, false},
		{"ascii", "45.5 N·m", 80, 7, true},
		{"capitals", "ABCDEFGHIJKLMNOPQRSTUVWXYZ", 200, 5, false},
		{"lower-case", "abcdefghijklmnopqrstuvwxyz", 200, 5, false},
		{"signs", ".,·±–-/°:+%×?!=()≥≤", 200, 7, false},
	}
	drawn := map[string]string{}
	for _, c := range cases {
		drawn[c.file] = render(c.text, c.width, c.height, c.ascii)
	}
	for _, c := range []struct {
		file, figure, unit string
		width, height      int
	}{
		{"pair-design-size", "18.4", "lbf·ft", 60, 7}, {"pair-medium", "18.4", "lbf·ft", 54, 7},
		{"pair-wide", "122", "N·m", 120, 14},
		{"pair-narrow", "25", "N·m", 38, 5},
	} {
		drawn[c.file] = pair(c.figure, c.unit, c.width, c.height, false)
	}
	golden.Screens(t, drawn)
}

// Never a cell outside the room given, and always a full rectangle inside it.
func TestFitsAnyRoom(t *testing.T) {
	texts := rapid.OneOf(rapid.SampledFrom([]string{"25 N·m", "18.4 lbf·ft", "1½ flats", "LOOSEN", "122", "", " ", "漢字 9", "a\x1b[2Jb\n", "\u0903"}), rapid.String())
	rapid.Check(t, func(t *rapid.T) {
		text, unit := texts.Draw(t, "text"), texts.Draw(t, "unit")
		w, h := rapid.IntRange(-1, 130).Draw(t, "width"), rapid.IntRange(-1, 20).Draw(t, "height")
		ascii := rapid.Bool().Draw(t, "ascii")
		for _, got := range []string{render(text, w, h, ascii), pair(text, unit, w, h, ascii)} {
			if got == "" {
				continue
			}
			lines := strings.Split(got, "\n")
			if len(lines) > h {
				t.Fatalf("%d lines in a room of %d:\n%s", len(lines), h, got)
			}
			for _, line := range lines {
				if lw := lipgloss.Width(line); lw > w || lw != lipgloss.Width(lines[0]) {
					t.Fatalf("line of %d cells in a room of %d, first line %d:\n%s", lw, w, lipgloss.Width(lines[0]), got)
				}
				if strings.ContainsAny(line, "\x1b\r\t\x00") {
					t.Fatalf("control characters in %q", line)
				}
			}
		}
	})
}

// More room never makes the figure smaller.
func TestMoreRoomIsNeverSmaller(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom([]string{"25 N·m", "18.4 lbf·ft", "LOOSEN"}).Draw(t, "text")
		w, h := rapid.IntRange(1, 130).Draw(t, "width"), rapid.IntRange(1, 20).Draw(t, "height")
		more := rapid.IntRange(0, 20).Draw(t, "more")
		if a, b := lipgloss.Height(render(text, w, h, false)), lipgloss.Height(render(text, w+more, h+more, false)); b < a {
			t.Fatalf("%q: %d rows in %d×%d, but %d with %d more of each", text, a, w, h, b, more)
		}
	})
}

func TestFigureIsNeverCutShort(t *testing.T) {
	cases := []struct {
		text  string
		width int
		ascii bool
		want  string
	}{
		{"122 N·m", 7, false, "122 N·m"},
		{"122 N·m", 6, false, "…"},
		{"122 N·m", 1, true, "~"},
		{"LOOSEN", 4, false, "LOO…"},
		{"漢字", 4, false, "漢字"},
	}
	for _, c := range cases {
		if got := render(c.text, c.width, 1, c.ascii); got != c.want {
			t.Errorf("render(%q, %d, 1) = %q, want %q", c.text, c.width, got, c.want)
		}
	}
	if got := pair("122", "N·m", 5, 20, false); got != "…" {
		t.Errorf(`pair("122", "N·m", 5, 20) = %q, want "…": the unit doesn't fit, so the figure must not stand alone`, got)
	}
}

func TestASCIIStaysSevenBit(t *testing.T) {
	for _, text := range []string{"27 ± 2 N·m", "90° = 1½ flats", "≥ 122 N·m", "漢"} {
		for _, h := range []int{1, 5, 7, 14} {
			for _, r := range render(text, 300, h, true) {
				if r > 0x7e {
					t.Fatalf("%q at %d rows draws %q", text, h, r)
				}
			}
		}
	}
}

func TestBothAlphabetsAreComplete(t *testing.T) {
	const needed = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.,·±–-/°:+%×?!=()≥≤ "
	for height, f := range map[int]font{7: font7(), 5: font5()} {
		for _, r := range needed {
			if f.glyphs[r] == nil {
				t.Errorf("the alphabet %d pixels high has no %q", height, r)
			}
		}
		// "0" and "O", "l" and bars never meet in one word here; digits must
		// never be taken for one another.
		for _, a := range "0123456789" {
			for _, b := range "0123456789" {
				if d := differing(f.glyphs[a], f.glyphs[b]); a < b && d < 2 {
					t.Errorf("%d pixels high: %q and %q differ in %d pixels, want 2 or more", height, a, b, d)
				}
			}
		}
	}
}

func differing(a, b bitmap) (n int) {
	for y := range a {
		for x := range max(a.width(), b.width()) {
			if a.at(x, y) != b.at(x, y) {
				n++
			}
		}
	}
	return n
}

func TestSheetMistakesAreNamed(t *testing.T) {
	cases := []struct{ name, sheet, want string }{
		{"a row short", "A\n#", `block "A" has 1 rows of pixels, want 2`},
		{"a glyph short in a row", "A B\n# #\n#", `row 2 has 1 glyphs, want 2`},
		{"ragged glyph", "A\n##\n#", `row 2 is 1 pixels wide, want 2`},
		{"drawn twice", "A A\n# #\n# #", `glyph "A" is drawn twice`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if _, err := readSheet(c.sheet, 2); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("readSheet(%q): %v, want it to say %q", c.sheet, err, c.want)
			}
		})
	}
}
