package markup

import (
	"encoding/base64"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
	"pgregory.net/rapid"

	_ "evenpull/ui/internal/golden" // the flag -update
)

// hostile draws texts that an enemy of a page would write.
var hostile = rapid.Custom(func(t *rapid.T) string {
	piece := rapid.OneOf(rapid.SampledFrom([]string{
		`<script>alert(1)</script>`, `"`, `'`, `>`, `<`, `</style>`, `</title>`, `-->`, `<!--`, `]]>`, `&lt;`, `&`, `{}`, ` onload=alert(1) `, `javascript:alert(1)`, `data:text/html,x`,
		`\`, `\"`, `"} body{display:none} .x{"`, `*/`, `/*`, `url(http://x)`, "\x00", "\xff", "\xc3", "\u2028", "\u2029", "\ufeff", "\ufffe", "\u202e", "\r\n", "\n", "\t", "\v", "\x1b[2J", "\u0085", "+ADw-script+AD4-", "a", "0", " ",
	}), rapid.String(), rapid.Map(rapid.SliceOfN(rapid.Byte(), 0, 6), func(b []byte) string { return string(b) }))
	return strings.Join(rapid.SliceOfN(piece, 0, 6).Draw(t, "pieces"), "")
})

// asShown is what has to be read where a text was put.
func asShown(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return r
		case r < ' ' || r >= 0x7f && r < 0xa0 || r&0xfffe == 0xfffe:
			return utf8.RuneError
		}
		return r
	}, text)
}

func written(t interface{ Fatal(...any) }, put func(*Page)) string {
	var b strings.Builder
	p := New(&b)
	put(p)
	if err := p.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Whatever the text is, a reader of HTML finds the elements that were written, and the
// text in them.
func TestATextStaysAText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body, class := hostile.Draw(t, "body"), hostile.Draw(t, "class")
		text := written(t, func(p *Page) { p.Put(`<p class="a {}">x{}</p><b>end</b>`, class, body) })
		doc, err := html.ParseFragment(strings.NewReader(text), &html.Node{Type: html.ElementNode, DataAtom: atom.Div, Data: "div"})
		if err != nil || len(doc) != 2 || doc[0].Data != "p" || doc[1].Data != "b" || doc[1].FirstChild.Data != "end" || len(doc[0].Attr) != 1 || doc[0].Attr[0].Key != "class" {
			t.Fatalf("%q became other elements: %v", text, err)
		}
		inside := doc[0].FirstChild
		if inside.NextSibling != nil || inside.Type != html.TextNode || inside.Data != "x"+asShown(body) || doc[0].Attr[0].Val != "a "+asShown(class) {
			t.Fatalf("%q and %q became %q and %q", body, class, inside.Data, doc[0].Attr[0].Val)
		}
	})
}

// A style reads to its end as it was written, and its text as it was put.
func TestATextStaysInTheQuotesOfAStyle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		foot := hostile.Draw(t, "foot")
		text := written(t, func(p *Page) { p.Put(`<style>.x { width: {}mm; content: "{}"; }</style>`, 12.5, foot) })
		content, whole := strings.CutPrefix(text, `<style>.x { width: 12.5mm; content: "`)
		content, end := strings.CutSuffix(content, `"; }</style>`)
		if !whole || !end || strings.ContainsAny(content, "\"\n<") {
			t.Fatalf("%q leaves its quotes: %q", foot, text)
		}
		// CSS Syntax 3, 4.3.7: up to six digits, and a blank that belongs to them.
		read := regexp.MustCompile(`\\([0-9a-f]{1,6}) |\\(.|$)`).ReplaceAllStringFunc(content, func(escape string) string {
			n, err := strconv.ParseUint(strings.Trim(escape, `\ `), 16, 32)
			if err != nil {
				t.Fatalf("%q holds %q", content, escape)
			}
			return string(rune(n))
		})
		if want := strings.NewReplacer("\n", "\ufffd", "\t", "\ufffd").Replace(asShown(foot)); read != want {
			t.Fatalf("%q is read as %q", want, read)
		}
	})
}

// What a page may not be made of is not written, and Close says so.
func TestWhatMayNotStand(t *testing.T) {
	photo, ok := PictureOf("jpg", []byte("x"))
	if !ok {
		t.Fatal("no picture")
	}
	for markup, values := range map[constant][]any{
		`<{}>`: {"b"}, `<b {}>`: {"x"}, `<b {}="x">`: {"x"}, `<b class={}>`: {"x"}, `<b class=x>`: nil, `<b class='{}'>`: {"x"}, `<b class="{}>`: {"x"}, `<b class="<">`: nil, `<b`: nil,
		`<b onclick="x">`: nil, `<a href="x">`: nil, `<b style="{}">`: {"x"}, `<path d="{}"/>`: {"M1 1"}, `<script>`: nil, `<script src="{}">`: {photo}, `<!-- x -->`: nil,
		`<style>a { x: {} }</style>`: {"url(x)"}, `<style>a { x: {}; }</style>`: {""}, `<style>a { x: "<" }</style>`: nil, `<style>a { x: "\" }</style>`: nil, `<style>`: nil,
		`<img src="{}">`: {"data:image/png;base64,AA"}, `<img src="x{}">`: {photo}, `<img src="{} ">`: {photo}, `<img src="http://x">`: nil, `<img src="{}" >`: {1}, `<b class="{}">`: {photo}, `<img srcset="x">`: nil,
		`<b>{}</b>`: nil, `<b></b>`: {"x"}, `<b>{}{}</b>`: {"x"},
	} {
		var b strings.Builder
		p := New(&b)
		p.Put(markup, values...)
		if err := p.Close(); err == nil {
			t.Errorf("%s with %v is written: %s", markup, values, b.String())
		}
		if got := b.String(); strings.Contains(got, "http:") || strings.Contains(got, "url(") {
			t.Errorf("%s: %s is written before it is refused", markup, got)
		}
	}
	page := written(t, func(p *Page) {
		p.Put(`<img src="{}" alt=""><circle cx="{}" fill="{}"/><style>@page { size: {}; }</style>`, photo, -1e7, "#fff", "A4")
	})
	if want := `<img src="data:image/jpeg;base64,eA==" alt=""><circle cx="-1e&#43;07" fill="#fff"/><style>@page { size: A4; }</style>`; page != want {
		t.Errorf("%s", page)
	}
}

func TestAPictureIsOneOfAKnownKindAndWhole(t *testing.T) {
	for _, kind := range []string{"svg", "svg+xml", "", "PNG", `png" onload="x`, "../png"} {
		if _, ok := PictureOf(kind, []byte("x")); ok {
			t.Errorf("%q is taken for a kind of picture", kind)
		}
	}
	if _, ok := PictureOf("png", nil); ok {
		t.Error("a picture without bytes is one")
	}
	data := []byte(strings.Repeat("\xfb\xef\xbe123", 3000)) // longer than a piece, and with plus signs in it
	photo, _ := PictureOf("webp", data)
	node, err := html.Parse(strings.NewReader(written(t, func(p *Page) { p.Put(`<img src="{}">`, photo) })))
	if err != nil {
		t.Fatal(err)
	}
	src := node.FirstChild.LastChild.FirstChild.Attr[0].Val
	if src != "data:image/webp;base64,"+base64.StdEncoding.EncodeToString(data) || !strings.Contains(src, "+") {
		t.Errorf("%.60s… of %d characters", src, len(src))
	}
}

// The compiler keeps out what is no constant.
func TestOnlyConstantsAreMarkup(t *testing.T) {
	said, err := exec.Command("go", "build", "-gcflags=-e", "-o", t.TempDir(), "./testdata/slips").CombinedOutput()
	if err == nil {
		t.Fatal("markup from a variable compiles")
	}
	for line := 16; line <= 23; line++ {
		if !strings.Contains(string(said), "main.go:"+strconv.Itoa(line)+":") {
			t.Errorf("line %d compiles:\n%s", line, said)
		}
	}
	if strings.Contains(string(said), "main.go:15:") {
		t.Errorf("what is right does not compile:\n%s", said)
	}
}
