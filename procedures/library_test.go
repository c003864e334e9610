//go:build unix

package procedures

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenpull/spec/read"
)

func TestNewChecksClean(t *testing.T) {
	p, problems := read.Procedure("mine.toml", []byte(New()))
	if len(problems) > 0 {
		t.Fatal(problems.Error())
	}
	if len(p.Passes) < 2 || len(p.Checks) < 2 || len(p.Parts) < 1 {
		t.Errorf("%d passes, %d checks, %d parts: too little to learn from", len(p.Passes), len(p.Checks), len(p.Parts))
	}
}

// What the new file keeps behind "# " must be right too, or taking the mark
// away would greet a person with an error.
func TestNewChecksCleanWithItsMarksTakenAway(t *testing.T) {
	text := New()
	for _, line := range strings.Split(text, "\n") {
		body, commented := strings.CutPrefix(line, "# ")
		if commented && (strings.HasPrefix(body, "[") || strings.Contains(body, " = ") && !strings.HasPrefix(body, "remove") && !strings.HasPrefix(body, "each")) {
			text = strings.Replace(text, line, body, 1)
		}
	}
	text = strings.Replace(text, `order   = "cross"`, `order   = "mine"`, 1) // an order that none uses is warned of
	p, problems := read.Procedure("mine.toml", []byte(text))
	if len(problems) > 0 {
		t.Fatalf("%s\n%s", problems.Error(), text)
	}
	g := p.Groups[0]
	if p.Sealant == nil || !g.LeftHand || !g.Hollow() || !g.OneUse || len(g.With) != 1 {
		t.Errorf("not every mark was taken away: sealant %v, group %+v", p.Sealant, g)
	}
}

func TestUserFilesAreFoundByNameAndByPath(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "gearbox.toml"), New())
	write(t, filepath.Join(dir, "crankcase-open.toml"), "not this one")
	write(t, filepath.Join(dir, "notes.txt"), "nor this")
	write(t, filepath.Join(dir, "bad\x1bname.toml"), New())
	lib := Library{Dir: dir}

	if got := lib.Own(); !slices.Equal(got, []string{"gearbox"}) {
		t.Errorf("own: %q", got)
	}
	for name, bundled := range map[string]bool{"gearbox": false, filepath.Join(dir, "gearbox.toml"): false, "crankcase-open": true} {
		src, err := lib.Find(name)
		if err != nil || src.Bundled != bundled || len(src.Text) == 0 {
			t.Errorf("%s: bundled %v, %d bytes, %v", name, src.Bundled, len(src.Text), err)
		}
		if p, problems, err := lib.Load(name); p == nil || len(problems) > 0 || err != nil {
			t.Errorf("%s: %v %v", name, problems, err)
		}
	}
	p, problems, err := lib.Load(filepath.Join(dir, "crankcase-open.toml"))
	if err != nil || p != nil || len(problems) == 0 {
		t.Errorf("a bad file gave %v, %v, %v; want problems and no procedure", p, problems, err)
	}
	if got := (Library{Dir: filepath.Join(dir, "none")}).Names(); !slices.Equal(got, Bundled()) {
		t.Errorf("a missing folder changes the names: %q", got)
	}
}

func TestABareFileNameIsFoundWhereTheProgramStands(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "mine", New())
	src, err := Library{}.Find("mine")
	if err != nil || src.Name != "mine" || string(src.Text) != New() {
		t.Errorf("%q, %v", src.Name, err)
	}
}

func TestUnknownNamesGetTheNearest(t *testing.T) {
	for name, want := range map[string]string{
		"crankcase-clos":  "did you mean crankcase-close?",
		"Crankcase-Close": "did you mean crankcase-close?",
		"rodbolt":         "did you mean rod-bolts?",
		"flywheel":        "did you mean flywheel-off or flywheel-nut or flywheel-nut-left?",
		"head_torque":     "did you mean head-retorque", // two letters away
		"zzz":             "known are: top-end-open, ",
		"":                "known are: top-end-open, ",
		"\x1b[2J":         "known are: ",
	} {
		_, err := Library{}.Find(name)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v; want %q in it", name, err, want)
			continue
		}
		if strings.ContainsRune(err.Error(), 0x1b) {
			t.Errorf("%q: the error carries an escape to the terminal", name)
		}
	}
}

func TestWhatIsNoPlainFileIsRefusedWithARemedy(t *testing.T) {
	dir := t.TempDir()
	pipe, big, secret := filepath.Join(dir, "pipe.toml"), filepath.Join(dir, "big.toml"), filepath.Join(dir, "secret.toml")
	makePipe(t, pipe)
	write(t, big, strings.Repeat("#", read.MaxFileBytes+1))
	write(t, secret, New())
	if err := os.Chmod(secret, 0); err != nil {
		t.Fatal(err)
	}
	cases := map[string]string{
		dir:                            "is a folder; give the path",
		pipe:                           "is a pipe; give the path",
		"/dev/zero":                    "is a device; give the path",
		big:                            "larger than 1 MiB; split it",
		filepath.Join(dir, "new.toml"): "evenpull new ",
	}
	if os.Getuid() != 0 { // root may read anything
		cases[secret] = "may not be read; "
	}
	for path, want := range cases {
		if _, err := ReadFile(path); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v; want %q in it", path, err, want)
		}
	}
}

func TestAFileOfExactlyTheLimitIsRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "full.toml")
	write(t, path, strings.Repeat("#", read.MaxFileBytes))
	if text, err := ReadFile(path); err != nil || len(text) != read.MaxFileBytes {
		t.Errorf("%d bytes, %v", len(text), err)
	}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// A bundled file is read once; who names what came of it names nobody else's.
func TestABundledProcedureIsNamedByWhoAskedForIt(t *testing.T) {
	one, another := load(t, "rod-bolts"), load(t, "rod-bolts")
	one.File = "mine"
	if again := load(t, "rod-bolts"); another.File != "rod-bolts" || again.File != "rod-bolts" {
		t.Errorf("called %q and %q, want rod-bolts", another.File, again.File)
	}
	if one.Groups[0] != another.Groups[0] {
		t.Error("it is read each time it is asked for")
	}
}
