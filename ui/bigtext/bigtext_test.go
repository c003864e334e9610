package bigtext

import (
	"math/bits"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"pgregory.net/rapid"

	"evenpull/ui/fit"
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
		{"signs", ".,·±–-/°:+%×?!=()≥≤→'\";&", 240, 7, false},
		{"marks-large", "↻ ↺ 8.8", 80, 7, false},
		{"marks-medium", "↻ ↺ 8.8", 80, 5, false},
		{"marks-low", "↻ ↺ 8.8", 80, 4, false},
		{"marks-small", "↻ ↺ 8.8", 80, 3, false},
		{"marks-ascii", "↻ ↺ 8.8", 80, 5, true},
		{"narrow", "TIGHTEN ↺ 0.05–0.2", 45, 3, false},
		{"ascii-low", "TIGHTEN 8.8", 60, 4, true},
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
		{"pair-narrow", "25", "N·m", 38, 5}, {"pair-stacked", "27", "N·m ± 5 %", 38, 9}, {"pair-condensed", "0.05–0.2", "mm", 38, 4},
	} {
		drawn[c.file] = pair(c.figure, c.unit, c.width, c.height, false)
	}
	question := "Both faces bare, wiped with solvent, dry?"
	drawn["words-wide"], drawn["words-narrow"] = words(question, 80, 12, false), words(question, 40, 11, false)
	drawn["words-ascii"] = words(question, 80, 17, true)
	drawn["plate"], drawn["plate-small"], drawn["plate-ascii"] = plate("LOOSEN", 50, 4, false), plate("LOOSEN", 25, 4, false), plate("LOOSEN", 50, 7, true)
	golden.Screens(t, drawn)
}

// Never a cell outside the room given, and always a full rectangle inside it.
func TestFitsAnyRoom(t *testing.T) {
	texts := rapid.OneOf(rapid.SampledFrom([]string{"25 N·m", "18.4 lbf·ft", "1½ flats", "LOOSEN", "122", "", " ", "漢字 9", "a\x1b[2Jb\n", "\u0903"}), rapid.String())
	rapid.Check(t, func(t *rapid.T) {
		text, unit := texts.Draw(t, "text"), texts.Draw(t, "unit")
		w, h := rapid.IntRange(-1, 130).Draw(t, "width"), rapid.IntRange(-1, 20).Draw(t, "height")
		ascii := rapid.Bool().Draw(t, "ascii")
		for _, got := range []string{render(text, w, h, ascii), pair(text, unit, w, h, ascii), words(text, w, h, ascii), plate(text, w, h, ascii)} {
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
		text := rapid.SampledFrom([]string{"25 N·m", "18.4 lbf·ft", "LOOSEN", "0.05–0.2"}).Draw(t, "text")
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

// In large letters a figure has its unit in large letters too, and the smallest
// column of the stand has room for that.
func TestTheUnitStaysInLargeLetters(t *testing.T) {
	for _, c := range [][2]string{{"8.8", "N·m"}, {"37–43", "N·m"}, {"0.05–0.2", "mm"}, {"0.897", "kgf·m"}, {"1.5–1.567", "lbf·ft"}, {"27", "N·m ± 5 %"}} {
		for w := 1; w < 100; w += 3 {
			for h := 1; h < 16; h += 2 {
				got := pair(c[0], c[1], w, h, false)
				if big := strings.Contains(got, "\n"); big && strings.ContainsFunc(got, func(r rune) bool { return r > ' ' && r < 0x7f }) {
					t.Fatalf("%s %s in %d×%d parts large figure and plain unit:\n%s", c[0], c[1], w, h, got)
				} else if !big && w >= 38 && h >= 6 {
					t.Fatalf("%s %s in %d×%d is small: %q", c[0], c[1], w, h, got)
				}
			}
		}
	}
}

func TestWordsAreNeverCut(t *testing.T) {
	question := "Both faces bare, wiped with solvent, dry?"
	var inks []int
	for _, s := range sizes(false) {
		inks = append(inks, ink(strings.Join(s.draw(question, 10_000, 100), "\n")))
	}
	for w := 1; w < 130; w += 3 {
		for h := 1; h < 30; h += 2 {
			got := words(question, w, h, false)
			if got == "" {
				continue
			}
			if !slices.Contains(inks, ink(got)) {
				t.Fatalf("in %d×%d there is more or less ink than in one line of any size:\n%s", w, h, got)
			}
		}
	}
	if got := words("unbreakableness", 20, 30, false); got != "" {
		t.Errorf("a word wider than the room is drawn:\n%s", got)
	}
	if got := words("漢字 in place?", 80, 30, false); got != "" {
		t.Errorf("what has no letters here is drawn:\n%s", got)
	}
}

// ink counts the quarters of cells that are filled.
func ink(drawn string) (n int) {
	for _, r := range drawn {
		n += bits.OnesCount(uint(max(0, slices.Index(quarters, r))))
	}
	return n
}

// What is measured before it is drawn is what is drawn.
func TestTheExtentIsThatOfTheDrawing(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		for n, s := range sizes(ascii) {
			for _, text := range []string{"M", "LOOSEN", "N·m", "i.", "↺90°"} {
				for between := range 3 {
					for _, m := range []margin{{}, plateMargin, {3, 2}} {
						w, h, ok := s.extent(text, between, m)
						if !ok {
							if !s.coarse {
								t.Errorf("size %d has no extent for %q", n, text)
							}
							continue
						}
						lines := s.cells.draw(s.enlarge(s.font().set(text, between)).cutOut(m))
						if len(lines) != h || lipgloss.Width(lines[0]) != w {
							t.Errorf("size %d, %q, %d apart, margin %v: %d×%d was measured, %d×%d drawn", n, text, between, m, w, h, lipgloss.Width(lines[0]), len(lines))
						}
					}
				}
			}
		}
	}
}

// Between two lines there is half a row of blank at least.
func TestLinesDoNotTouch(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		for n, s := range sizes(ascii) {
			one := s.draw("HH", 200, 50)
			two := s.wrap("HH HH", fit.Width(one[0]))
			if len(two) < 2*len(one) {
				t.Fatalf("size %d: two lines of %d rows take %d", n, len(one), len(two))
			}
			above := two[len(one)-1]
			if len(two) > 2*len(one) {
				above = two[len(one)]
			}
			if strings.ContainsAny(above, "█#▌▐▄o") {
				t.Errorf("size %d: the upper line reaches down to the lower:\n%s", n, strings.Join(two, "\n"))
			}
		}
	}
}

// A plate has the letters as holes: what is dark on one is light on the other.
func TestAPlateIsTheLettersCutOut(t *testing.T) {
	letters := font5().set("LOOSEN", 2)
	cut := letters.cutOut(plateMargin)
	if cut.width() != letters.width()+4 || len(cut) != len(letters)+2 {
		t.Fatalf("a plate of %d×%d pixels for letters of %d×%d", cut.width(), len(cut), letters.width(), len(letters))
	}
	for y := range cut {
		for x := range cut[y] {
			if cut.at(x, y) == letters.at(x-2, y-1) {
				t.Fatalf("pixel %d,%d is alike in both", x, y)
			}
		}
	}
}

// In ASCII three rows are too coarse for digits.
func TestNoDigitsInCoarseLetters(t *testing.T) {
	if got := render("89", 40, 3, true); got != "89" {
		t.Errorf("digits in three rows of ASCII:\n%s", got)
	}
	if got := render("FIT", 40, 3, true); !strings.Contains(got, "\n") {
		t.Errorf("FIT is %q, want three rows", got)
	}
}

// A stroke is one pixel wide; the point is more, both ways.
func TestTheDecimalPointIsHeavy(t *testing.T) {
	for f, want := range map[*font]int{ptr(font7()): 3, ptr(font5()): 2} {
		point := f.glyphs['.']
		for y := f.height - want; y < f.height; y++ {
			for x := range want {
				if !point.at(x, y) {
					t.Errorf("%d pixels high: the point is not %d by %d pixels on the foot", f.height, want, want)
				}
			}
		}
	}
}

func ptr[T any](v T) *T { return &v }

func TestASCIIStaysSevenBit(t *testing.T) {
	for _, text := range []string{"27 ± 2 N·m", "90° = 1½ flats", "≥ 122 N·m", "漢"} {
		for _, h := range []int{1, 3, 4, 5, 7, 14} {
			for _, r := range render(text, 300, h, true) + words(text, 90, h, true) {
				if r > 0x7e {
					t.Fatalf("%q at %d rows draws %q", text, h, r)
				}
			}
		}
	}
}

func TestBothAlphabetsAreComplete(t *testing.T) {
	const needed = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.,·±–-/°:+%×?!=()≥≤→↻↺'’\";& "
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
