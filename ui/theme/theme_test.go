package theme

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	_ "evenpull/ui/internal/golden" // the flag -update
)

func env(pairs ...string) func(string) string {
	return func(name string) string {
		for _, p := range pairs {
			if value, ok := strings.CutPrefix(p, name+"="); ok {
				return value
			}
		}
		return ""
	}
}

func TestSettingsFromEnvironment(t *testing.T) {
	plain := Settings{Dark: true, Colour: true}
	cases := []struct {
		name string
		env  []string
		want Settings
	}{
		{"nothing set is dark, in colour, in UTF-8", nil, plain},
		{"own word for light", []string{"EVENPULL_BACKGROUND=Light"}, Settings{Colour: true}},
		{"own word beats COLORFGBG", []string{"EVENPULL_BACKGROUND=dark", "COLORFGBG=0;15"}, plain},
		{"unknown own word is as if unset", []string{"EVENPULL_BACKGROUND=grey", "COLORFGBG=0;15"}, Settings{Colour: true}},
		{"white background", []string{"COLORFGBG=0;15"}, Settings{Colour: true}},
		{"three fields", []string{"COLORFGBG=0;default;7"}, Settings{Colour: true}},
		{"dark grey background", []string{"COLORFGBG=15;8"}, plain},
		{"background named default", []string{"COLORFGBG=0;default"}, plain},
		{"NO_COLOR takes the hues", []string{"NO_COLOR=1"}, Settings{Dark: true}},
		{"empty NO_COLOR does not", []string{"NO_COLOR="}, plain},
		{"CLICOLOR=0", []string{"CLICOLOR=0"}, Settings{Dark: true}},
		{"CLICOLOR_FORCE wins over CLICOLOR", []string{"CLICOLOR=0", "CLICOLOR_FORCE=1"}, plain},
		{"NO_COLOR wins over CLICOLOR_FORCE", []string{"NO_COLOR=1", "CLICOLOR_FORCE=1"}, Settings{Dark: true}},
		{"dumb terminal", []string{"TERM=dumb", "LANG=en_GB.UTF-8"}, Settings{Dark: true, ASCII: true}},
		{"console with few glyphs", []string{"TERM=linux", "LANG=en_GB.UTF-8"}, Settings{Dark: true, Colour: true, ASCII: true}},
		{"console, told otherwise", []string{"TERM=linux", "EVENPULL_ASCII=0"}, plain},
		{"told to keep to ASCII", []string{"EVENPULL_ASCII=1", "LANG=C.UTF-8"}, Settings{Dark: true, Colour: true, ASCII: true}},
		{"C locale", []string{"LANG=C"}, Settings{Dark: true, Colour: true, ASCII: true}},
		{"LC_ALL beats LANG", []string{"LC_ALL=POSIX", "LANG=C.UTF-8"}, Settings{Dark: true, Colour: true, ASCII: true}},
		{"utf8 spelt short", []string{"LC_CTYPE=de_DE.utf8"}, plain},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := FromEnv(env(c.env...)); got != c.want {
				t.Errorf("FromEnv(%q) = %+v, want %+v", c.env, got, c.want)
			}
		})
	}
}

// WCAG 2.1 success criterion 1.4.3 asks 4.5:1 for text; the formulae are its
// definitions of contrast ratio and relative luminance (from memory).
func TestEveryHueReadsOnItsBackgrounds(t *testing.T) {
	backgrounds := map[bool][]string{true: {"#000000", "#1e1e1e", "#303030"}, false: {"#ffffff", "#f2f2f2", "#eee8d5"}}
	for r, l := range looks {
		for dark, grounds := range backgrounds {
			h := l.light
			if dark {
				h = l.dark
			}
			if h.rgb == "" {
				continue
			}
			if got := cubeColour(t, h.c256); got != h.rgb {
				t.Errorf("role %d: 256-colour %s is %s, but the 16-million colour is %s", r, h.c256, got, h.rgb)
			}
			for _, ground := range grounds {
				if c := contrast(t, h.rgb, ground); c < 4.5 {
					t.Errorf("role %d: %s on %s has contrast %.2f, want at least 4.5", r, h.rgb, ground, c)
				}
			}
		}
	}
}

func contrast(t *testing.T, a, b string) float64 {
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func luminance(t *testing.T, rgb string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(rgb, "#"), 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	linear := func(shift uint) float64 {
		c := float64(n>>shift&255) / 255
		if c <= 0.03928 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(16) + 0.7152*linear(8) + 0.0722*linear(0)
}

// cubeColour is the RGB of an entry of xterm's 256-colour table, 16 to 255.
func cubeColour(t *testing.T, index string) string {
	t.Helper()
	n, err := strconv.Atoi(index)
	if err != nil || n < 16 || n > 255 {
		t.Fatalf("256-colour %q: want 16 to 255, the entries every terminal agrees on", index)
	}
	hex := func(r, g, b int) string {
		s := strconv.FormatInt(int64(1<<24|r<<16|g<<8|b), 16)
		return "#" + s[1:]
	}
	if n >= 232 {
		v := 8 + 10*(n-232)
		return hex(v, v, v)
	}
	steps := []int{0, 95, 135, 175, 215, 255}
	n -= 16
	return hex(steps[n/36], steps[n/6%6], steps[n%6])
}

// Nothing is told by colour alone.
func TestRolesDifferWithoutColour(t *testing.T) {
	for r := range roleCount {
		l := looks[r]
		if r == Plain || r == Quiet {
			continue
		}
		if !l.bold && !l.reverse && !l.underline && l.mark == "" {
			t.Errorf("role %d has neither emphasis nor a mark", r)
		}
		if lipgloss.Width(l.mark) > 1 || len(l.asciiMark) > 1 || (l.mark == "") != (l.asciiMark == "") {
			t.Errorf("role %d: marks %q and %q, want one cell each, or neither", r, l.mark, l.asciiMark)
		}
	}
	seen := map[string]Role{}
	for _, r := range []Role{Current, Done, Outstanding, Warning, Renew, Hollow} {
		for _, mark := range []string{"u" + looks[r].mark, "a" + looks[r].asciiMark} {
			if other, twice := seen[mark]; twice {
				t.Errorf("roles %d and %d share the mark %q", other, r, mark)
			}
			seen[mark] = r
		}
	}
	for _, s := range build(false) {
		if _, none := s.GetForeground().(lipgloss.NoColor); !none {
			t.Errorf("a style built without colour has foreground %v", s.GetForeground())
		}
	}
	if !build(false)[Current].GetReverse() {
		t.Error("the current role is not reversed without colour")
	}
}

func TestFoldSpellsWhatTheScreensWrite(t *testing.T) {
	cases := []struct{ in, want string }{
		{"25 N·m", "25 N.m"},
		{"90° = 1½ flats = ¼ turn", "90 deg = 1 1/2 flats = 1/4 turn"},
		{"½ turn", "1/2 turn"},
		{" indented", " indented"},
		{"27 ± 2", "27 +/- 2"},
		{"漢\x1b[2J", "??[2J"},
		{"two\nlines", "two\nlines"},
		{"", ""},
	}
	for _, c := range cases {
		if got := Fold(c.in); got != c.want {
			t.Errorf("Fold(%q) = %q, want %q", c.in, got, c.want)
		}
	}
	if got := Clean("M3\x1b[2J\u202e µ\n", false); got != "M3?[2J? µ\n" {
		t.Errorf("Clean leaves control characters: %q", got)
	}
	for r := range roleCount {
		if looks[r].mark != "" && strings.Contains(Fold(looks[r].mark), "?") {
			t.Errorf("Fold has no spelling for the mark %q", looks[r].mark)
		}
	}
}

// One file picks colours; all others name a role.
func TestNoOtherFilePicksColours(t *testing.T) {
	pickers := []string{"Color", "ANSIColor", "AdaptiveColor", "CompleteColor", "CompleteAdaptiveColor", "SetHasDarkBackground", "SetColorProfile"}
	files, picked := 0, map[string]bool{}
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) {
			return nil // another test cleared its own folder away meanwhile
		}
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		files++
		tree, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return nil // not this test's business: the compiler will say it
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			s, ok := n.(*ast.SelectorExpr)
			if !ok || !slices.Contains(pickers, s.Sel.Name) {
				return true
			}
			if pkg, ok := s.X.(*ast.Ident); ok && pkg.Name == "lipgloss" {
				picked[path] = true
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files < 5 || !picked[filepath.Join("..", "..", "ui", "theme", "roles.go")] {
		t.Fatalf("looked at %d files and did not even find this package's own colours: %v", files, picked)
	}
	for path := range picked {
		// what is under internal drives screens in tests, and ships nothing
		if dir := filepath.Base(filepath.Dir(path)); dir != "theme" && !strings.HasPrefix(path, filepath.Join("..", "..", "ui", "internal")+string(filepath.Separator)) {
			t.Errorf("%s picks colours: name a theme.Role instead", path)
		}
	}
}

// What is drawn fast is drawn as Lip Gloss does, by what the terminal is now; an underlined
// line in one piece and not letter by letter.
func TestALineIsDrawnAsItsStyleDoes(t *testing.T) {
	profile, dark := lipgloss.ColorProfile(), lipgloss.HasDarkBackground()
	t.Cleanup(func() { lipgloss.SetColorProfile(profile); lipgloss.SetHasDarkBackground(dark) })
	for _, profile := range []termenv.Profile{termenv.Ascii, termenv.ANSI, termenv.ANSI256, termenv.TrueColor} {
		for _, dark := range []bool{true, false} {
			lipgloss.SetColorProfile(profile)
			lipgloss.SetHasDarkBackground(dark)
			for r := range roleCount {
				for _, text := range []string{"", "x", "22 N·m", "\tset", "one\r\ntwo lines", "ordre 曲轴箱"} {
					want := Style(r).Render(text)
					if looks[r].underline && text != "" && !strings.ContainsAny(text, "\r\n\t") {
						want = strings.Replace(Style(r).Render("x"), "x", text, 1)
					}
					if got := Render(r, text); got != want {
						t.Errorf("role %d, %v, dark %v: %q, want %q", r, profile, dark, got, want)
					}
				}
			}
		}
	}
}
