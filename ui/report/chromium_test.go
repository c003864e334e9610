package report

import (
	"fmt"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"evenpull/spec/outside"
)

// chromium asks a headless browser about a page: with no picture wanted, for
// the page as it understood it, and else for the shades of its picture. The
// flags keep it from looking for its own servers.
func chromium(t *testing.T, name, page string, picture bool, flags ...string) string {
	t.Helper()
	return outside.Answer(t, outside.Question{
		Name: "chromium-" + name, Command: "chromium --headless " + strings.Join(flags, " ") + " page.html",
		Version: []string{"chromium", "--version"}, Install: "chromium", Input: page,
		Ask: func() (string, error) {
			dir := t.TempDir()
			file, shot := filepath.Join(dir, "page.html"), filepath.Join(dir, "page.png")
			if err := os.WriteFile(file, []byte(page), 0o600); err != nil {
				return "", err
			}
			args := append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
				"--disable-component-update", "--disable-sync", "--user-data-dir=" + filepath.Join(dir, "user"), "--enable-logging=stderr", "--v=0"}, flags...)
			if picture {
				args = append(args, "--screenshot="+shot)
			}
			cmd := exec.Command("chromium", append(args, "file://"+file)...)
			var out, errs strings.Builder
			cmd.Stdout, cmd.Stderr = &out, &errs
			if err := cmd.Run(); err != nil {
				return "", fmt.Errorf("%w\n%s", err, errs.String())
			}
			if picture {
				return shades(shot)
			}
			return console(errs.String()) + out.String(), nil
		},
	})
}

// console is what the page itself had to complain of.
func console(log string) string {
	var lines strings.Builder
	for line := range strings.Lines(log) {
		if strings.Contains(line, "CONSOLE") {
			lines.WriteString(line)
		}
	}
	return lines.String()
}

// The page as the browser understood it: hostile text is text, the matrix and
// the map are there, and the console has nothing to say.
func TestPageRendersInChromium(t *testing.T) {
	page := printed(t, onA4, eventful(t).sheet(`<script>document.title="owned"</script>`))
	dom := chromium(t, "dom", page, false, "--dump-dom")
	contains(t, "the page", dom, `<td class="done">9 N·m !</td>`, `<td class="open"><span class="box"></span> open</td>`, "<tbody><tr><td>3</td><th scope=\"row\">R1</th>", "The engine's own service manual governs.")
	if n := strings.Count(dom, `<circle class="ring`); n != 6 {
		t.Errorf("the map shows %d fasteners, want 6", n)
	}
	if strings.Contains(dom, "<script") || strings.Contains(dom, "owned</title>") {
		t.Error("a tag from the record became part of the page")
	}
	if strings.Contains(dom, "CONSOLE") {
		t.Errorf("the browser complains:\n%s", dom)
	}
}

// The picture has black ink on white paper and no colour, whatever the browser prefers.
func TestPageHasInkOnPaper(t *testing.T) {
	page := printed(t, onA4, finished(t).sheet("stand 2"))
	for name, flag := range map[string]string{"light": "--blink-settings=preferredColorScheme=1", "dark": "--blink-settings=preferredColorScheme=0"} {
		answer := chromium(t, "picture-"+name, page, true, "--window-size=900,1400", "--hide-scrollbars", "--disable-lcd-text", flag)
		var dark, light, other, coloured int
		if n, err := fmt.Sscanf(answer, shadesFormat, &dark, &light, &other, &coloured); n != 4 {
			t.Fatalf("%s: %q: %v", name, answer, err)
		}
		// Text and rules cover some percent of a printed page, never a third.
		if total := dark + light + other; total != 900*1400 || light < total*6/10 || dark < total/200 || coloured > 0 {
			t.Errorf("%s: of %d pixels %d are dark, %d light and %d coloured: that is no page", name, total, dark, light, coloured)
		}
	}
}

const shadesFormat = "pixels of the picture: %d dark, %d light, %d between, %d coloured\n"

// shades counts the pixels of a picture by how bright they are.
func shades(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		return "", err
	}
	var dark, light, other, coloured int
	box := img.Bounds()
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			if r != g || g != b {
				coloured++
			}
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
	return fmt.Sprintf(shadesFormat, dark, light, other, coloured), nil
}

func TestPageIsOnItsOwn(t *testing.T) {
	html := printed(t, onA4, hostile(t))
	harmless(t, html)
	for _, bad := range []string{"<script", "http://", "https://", "src=", "url(", "@import", "<link", "onload", "javascript:"} {
		if strings.Contains(strings.ReplaceAll(html, "http-equiv", ""), bad) {
			t.Errorf("the page has %q in it", bad)
		}
	}
	contains(t, "the page", html, "&lt;script&gt;", "default-src 'none'")
}
