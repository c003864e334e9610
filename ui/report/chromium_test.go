package report

import (
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// chromium runs a headless browser on the page and gives what it prints. The
// flags keep it from looking for its own servers.
func chromium(t *testing.T, page string, flags ...string) (stdout, stderr string) {
	t.Helper()
	bin, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatal("these tests look at the page in Chromium: install the package chromium")
	}
	args := append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--user-data-dir=" + t.TempDir(), "--enable-logging=stderr", "--v=0"}, flags...)
	cmd := exec.Command(bin, append(args, "file://"+page)...)
	var out, errs strings.Builder
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Fatalf("chromium: %v\n%s", err, errs.String())
	}
	return out.String(), errs.String()
}

func pageFile(t *testing.T, s Sheet) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "page.html")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := WriteHTML(f, s); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// The page as the browser understood it: hostile text is text, the matrix and
// the map are there, and the console has nothing to say.
func TestPageRendersInChromium(t *testing.T) {
	s := eventful(t).sheet(`<script>document.title="owned"</script>`)
	dom, log := chromium(t, pageFile(t, s), "--dump-dom")
	contains(t, "the page", dom, `<td class="done">ok <span class="mark">!</span></td>`, `<td class="open">open</td>`, "<tbody><tr><th scope=\"row\">R1</th>", "The engine's own service manual governs.")
	if n := strings.Count(dom, `<circle class="ring`); n != 6 {
		t.Errorf("the map shows %d fasteners, want 6", n)
	}
	if strings.Contains(dom, "<script") || strings.Contains(dom, "owned</title>") {
		t.Error("a tag from the record became part of the page")
	}
	if strings.Contains(log, "CONSOLE") {
		t.Errorf("the browser complains:\n%s", log)
	}
}

// The picture has ink on paper, dark on light or light on dark.
func TestPageHasInkOnPaper(t *testing.T) {
	page := pageFile(t, finished(t).sheet("stand 2"))
	for name, c := range map[string]struct {
		flag string
		dark bool
	}{"light": {"--blink-settings=preferredColorScheme=1", false}, "dark": {"--blink-settings=preferredColorScheme=0", true}} {
		shot := filepath.Join(t.TempDir(), "page.png")
		chromium(t, page, "--screenshot="+shot, "--window-size=900,1400", "--hide-scrollbars", c.flag)
		dark, light, other := shades(t, shot)
		paper, ink := light, dark
		if c.dark {
			paper, ink = dark, light
		}
		// Text and rules cover some percent of a printed page, never a third.
		if total := dark + light + other; paper < total*6/10 || ink < total/200 {
			t.Errorf("%s: of %d pixels %d are dark and %d light: that is no page", name, total, dark, light)
		}
	}
}

func shades(t *testing.T, path string) (dark, light, other int) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	box := img.Bounds()
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			switch grey := (r + g + b) / 3 >> 8; {
			case grey < 64:
				dark++
			case grey > 192:
				light++
			default:
				other++
			}
		}
	}
	return dark, light, other
}

func TestPageIsOnItsOwn(t *testing.T) {
	html := printed(t, func(w io.Writer, s Sheet) error { return WriteHTML(w, s) }, hostile(t))
	for _, bad := range []string{"<script", "http://", "https://", "src=", "url(", "@import", "<link", "onload", "javascript:"} {
		if strings.Contains(strings.ReplaceAll(html, "http-equiv", ""), bad) {
			t.Errorf("the page has %q in it", bad)
		}
	}
	contains(t, "the page", html, "&lt;script&gt;", "default-src 'none'")
}
