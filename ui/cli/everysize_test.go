package cli

import (
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"evenpull/ui/internal/anysize"
	"evenpull/ui/program"
	"evenpull/ui/theme"
)

// wide has letters of two cells, one that another joins, and signs of several.
const wide = "曲轴箱 e\u0301 締付け 🔧🇩🇪"

// wideSheet is one of a person's own in such letters.
const wideSheet = `format = 1
[procedure]
name      = "` + wide + `"
engine    = "` + wide + ` 380"
direction = "close"
source    = "` + wide + ` (invented)"
[group.main]
title  = "` + wide + `"
thread = "M8x1.25"
class  = "8.8"
torque = "22 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name   = "` + wide + `"
groups = ["main"]
torque = "22 N·m"
[[check]]
before = "` + wide + `"
ask    = "` + wide + `?"
`

// touring goes through all screens of the program, from one to the next as a person
// does, and keeps what is shown at each stop.
type touring struct {
	*across
	*app
	stops []anysize.Screen
	storm []anysize.Size // before each key
}

// newTour stands at the start screen of a workshop: an engine half apart, walks that are
// over and open, sheets of one's own in wide letters and with a mistake.
func newTour(t *testing.T, storm ...anysize.Size) *touring {
	t.Helper()
	x := &across{TB: t, now: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), dir: t.TempDir()}
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	a := &app{Env: Env{In: strings.NewReader(""), Out: io.Discard, Err: io.Discard, Now: func() time.Time { return x.now }, Getenv: func(string) string { return "" }}, recordsDir: x.dir}
	own := a.library().Dir
	err := os.MkdirAll(own, 0o755)
	for name, text := range map[string]string{"wide.toml": wideSheet, "wrong.toml": strings.ReplaceAll(wideSheet, "22 N·m", "22")} {
		if err == nil {
			err = os.WriteFile(filepath.Join(own, name), []byte(text), 0o600)
		}
	}
	if err == nil {
		err = writeDemo(x.dir, x.now)
	}
	if err != nil {
		t.Fatal(err)
	}
	return &touring{across: x, app: a, storm: storm}
}

// begins shows a screen, at the design size.
func (x *touring) begins(l program.Layer, err error) {
	x.Helper()
	if err != nil {
		x.Fatal(err)
	}
	x.model = program.New(l, x.Now)
	x.wait(x.model.Init())
	x.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	x.come()
}

// stop keeps the screen, which shows some text.
func (x *touring) stop(name string, shows ...string) {
	x.Helper()
	for _, text := range shows {
		x.across.shows(theme.Text(text))
	}
	if x.TB.(*testing.T).Failed() {
		x.FailNow()
	}
	x.stops = append(x.stops, anysize.Screen{Name: name, Model: x.model})
}

// press presses keys at a hand's pace, each after a storm of sizes and with all that
// comes of it.
func (x *touring) press(names ...string) *touring {
	for _, name := range names {
		x.model = anysize.At(x.model, append(x.storm, anysize.Size{W: 80, H: 24})...)
		x.keys(time.Second, name).come()
	}
	return x
}

func (x *touring) write(text string) *touring { return x.press(strings.Split(text, "")...) }

// find puts the hand on the first row of the start screen with a text.
func (x *touring) find(text string) *touring {
	return x.press("esc", "/", "esc", "/").write(text).press("enter")
}

// start goes through the faces of the start screen and the pages it leads to.
func (x *touring) start() {
	x.begins(x.startScreen())
	x.stop("start", "Left open", "Procedures")
	x.press("?").stop("start: keys", "any key")
	x.press("esc", "end").stop("start: records", "Records")
	x.press("/").write("crank zz").stop("start: nothing found", "crank zz")
	x.find("wrong").press("enter").stop("start: a sheet with a mistake", "problem", "see: evenpull check wrong")
	x.press("w").stop("start: name of a sheet", "gearbox")
	x.press(".", "enter").stop("start: no name", ".")
	x.find("close crankcase").press("enter").stop("start: tag", "masking tape")
	x.press("tab").stop("start: tag offered")
	x.press("esc").find("close crankcase").press("p").stop("ready", "Ready before starting")
	x.press("end").stop("ready: end", "service manual")
	x.press("q").find("osier-1 demo").press("enter").stop("engine", "engine osier-1")
	x.press("pgdown").stop("engine: further down", "engine osier-1")
	x.press("q", "esc", "c").stop("converter")
	x.write("22 N·m").stop("converter: figure", "16.23")
	x.write("!!").stop("converter: refused", "!!")
	x.press("esc")
}

// asking goes through the faces of the screen that asks for a sheet.
func (x *touring) asking() {
	x.find("曲").press("e").stop("ask", "wide.toml")
	x.press("?").stop("ask: typed", "?")
	x.press("esc", "f1").stop("ask: keys")
	x.press("esc")
	for range 12 {
		x.press("pgdown")
		x.stop("ask: section")
	}
	x.press("esc").stop("start: back from asking", "Procedures")
}

// walking goes through a walk at the stand, from the start screen on.
func (x *touring) walking() {
	x.find("曲").press("enter").write(wide).stop("start: a wide tag", "曲轴箱")
	x.press("enter").stop("stand: a question", "0 of 2 stages")
	x.press("n").stop("stand: no, and why", "No, because")
	x.press("esc", "d").stop("stand: not done", "Not done")
	x.press("esc", "enter", "enter").stop("stand: the wrench", "set the wrench")
	x.press("enter").stop("stand: a figure", "M1")
	for _, key := range []string{"r", "N", "w", "i", "o", "c", "m", "t", "p", "u", "?", "s", "q"} {
		x.press(key).stop("stand: " + key)
		x.press("esc")
	}
	x.press("q", "q").stop("start: left open", wide)
	x.press("home", "enter").stop("stand: coming back", "Coming back")
	x.press("esc", "esc", "q", "q").find("osier-1 open").press("enter").stop("stand: found on the way apart", "Coming back")
	x.press("esc", "enter").stop("stand: a part comes off")
	x.press("f").stop("stand: found how", "found how")
	x.press("esc", "q", "q", "esc")
}

// reviewing goes through the list of records and every page of one.
func (x *touring) reviewing() {
	store, err := x.store()
	if err != nil {
		x.Fatal(err)
	}
	x.begins(x.reviewList(store))
	x.stop("review: list", "osier-1")
	x.press("/").write("open "+wide).stop("review: find", "find:")
	x.press("esc", "?").stop("review: keys of the list")
	x.press("esc", "end", "enter").stop("review: bolts", "Bolts")
	for _, page := range []string{"2", "3", "4", "5", "6", "7", "8"} {
		x.press(page).stop("review: page "+page, "["+page)
		x.press("end").stop("review: the end of page "+page, "["+page)
	}
	x.press("?").stop("review: keys")
	x.press("esc", "q", "q")
}

// whole is the tour.
func (x *touring) whole() []anysize.Screen {
	x.start()
	x.asking()
	x.walking()
	x.reviewing()
	return x.stops
}

// Every screen of the program, from the start screen on, at every size. Whatever sizes it
// is given between any two keys, what is shown at the end is the same.
func TestEveryScreenAtEverySize(t *testing.T) {
	plain := newTour(t).whole()
	anysize.AtEdges(t, plain...)
	for kind, ascii := range map[string]bool{"colour": false, "seven bits": true} {
		t.Run(kind, func(t *testing.T) {
			anysize.On(t, ascii)
			list := plain
			if ascii {
				list = newTour(t).whole()
			}
			anysize.Drawn(t, list...)
		})
	}
	folder := regexp.MustCompile(`/00\d`) // each tour has its own
	look := func(s anysize.Screen) string {
		return folder.ReplaceAllString(ansi.Strip(s.Model.View()), "/...")
	}
	for i, s := range newTour(t, anysize.Least, anysize.Most, anysize.Size{W: 36, H: 12}).whole() {
		if got, want := look(s), look(plain[i]); got != want {
			t.Errorf("%s after storms of sizes:\n%s\nwithout:\n%s", s.Name, got, want)
		}
	}
}
