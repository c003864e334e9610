package report

import (
	"bytes"
	"encoding/json"
	"io"
	"math/rand/v2"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"evenpull/spec/outside"
	"evenpull/ui/markup"
)

// pieces are what texts of an enemy are made of.
var pieces = rapid.OneOf(rapid.SampledFrom([]string{
	`<script>alert(1)</script>`, `<img src=x onerror=alert(1)>`, `<svg/onload=alert(1)>`, `<a href="javascript:x">`, `<iframe src=//x>`, `<link rel=stylesheet href=//x>`, `<meta http-equiv=refresh content="0;url=//x">`,
	`"`, `'`, `>`, `<`, `</style>`, `</title>`, `</desc>`, `</svg>`, `</section>`, `-->`, `<!--`, `<![CDATA[`, `]]>`, `&lt;script&gt;`, `&`, `{}`, `{{.}}`, ` onload="alert(1)`, `" style="x`, `javascript:x`, `data:text/html,x`,
	`\`, `"} body{display:none} @page{"`, `*/`, `url(http://x)`, "\x00", "\xff", "\xc3(", "\u2028", "\u2029", "\ufeff", "\ufffe", "\u202e", "\r\n", "\n", "\t", "\x1b[2J", "\u0085", "+ADw-script+AD4-", "done", "png", "0",
}), rapid.String(), rapid.Map(rapid.SliceOfN(rapid.Byte(), 0, 6), func(b []byte) string { return string(b) }))

// texts draws a few hostile ones, and deals them out: with one draw for each field of a
// sheet a failing example would fill pages, and take seconds.
// What was one text stays one: passes and groups are known by their names.
func texts(t *rapid.T) func(old string) string {
	few := rapid.SliceOfN(rapid.Map(rapid.SliceOfN(pieces, 0, 4), func(p []string) string { return strings.Join(p, "") }), 1, 5).Draw(t, "texts")
	dice := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "dealt by"), 0))
	dealt := map[string]string{}
	return func(old string) string {
		if dealt[old] == "" || old == "" {
			dealt[old] = few[dice.IntN(len(few))]
		}
		return dealt[old]
	}
}

// fill puts a text into every field that holds text, down to the last list.
func fill(v reflect.Value, text func(string) string) {
	switch v.Kind() {
	case reflect.String:
		if v.CanSet() {
			v.SetString(text(v.String()))
		}
	case reflect.Pointer:
		if v.IsNil() && v.CanSet() {
			v.Set(reflect.New(v.Type().Elem()))
		}
		if !v.IsNil() {
			fill(v.Elem(), text)
		}
	case reflect.Slice:
		if v.Len() == 0 && v.CanSet() {
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		}
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i), text)
		}
	case reflect.Map:
		if v.CanSet() {
			v.Set(reflect.ValueOf(map[string]string{text(""): text("")}))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), text)
		}
	}
}

// allowed are the elements of a page, with their attributes.
var allowed = map[string]string{
	"html": "lang", "head": "", "meta": "charset http-equiv content name", "title": "", "style": "", "body": "", "section": "class", "header": "", "div": "class style role", "p": "class style", "h1": "", "h2": "", "b": "", "i": "", "br": "",
	"span": "class", "figure": "style", "figcaption": "", "img": "src alt style", "table": "class", "thead": "", "tbody": "", "tr": "", "th": "scope", "td": "class", "ul": "class", "li": "class", "dl": "", "dt": "", "dd": "", "time": "",
	"svg": "xmlns viewBox width height role color font-family text-anchor", "desc": "", "g": "", "path": "class d fill stroke stroke-width",
	"circle": "class cx cy r fill stroke stroke-width stroke-dasharray", "text": "class x y dy text-anchor font-size font-weight fill",
}

// values are those that some attributes may have; class may have any.
var values = map[string]*regexp.Regexp{
	"src":     regexp.MustCompile(`^data:image/(png|jpeg|gif|webp);base64,[A-Za-z0-9+/]+=*$`),
	"style":   regexp.MustCompile(`^(font-size: [0-9.]+mm|width: 88mm; break-inside: avoid|border: .3mm dashed #000; padding: 4mm|display: (flex|block); [-a-z0-9:;. ]+)$`),
	"content": regexp.MustCompile(`^(default-src 'none'; style-src 'unsafe-inline'(; img-src data:)?|width=device-width, initial-scale=1)$`),
	"fill":    regexp.MustCompile(`^(none|currentColor|#fff)$`), "d": regexp.MustCompile(`^[-MA0-9.e+ ]+$`),
	"http-equiv": regexp.MustCompile(`^Content-Security-Policy$`), "xmlns": regexp.MustCompile(`^http://www.w3.org/2000/svg$`),
}

// harmless reads a page as a browser would, and reports what it has that none of
// ours has: an element, an attribute, a value, a style. It counts the elements read.
func harmless(t interface{ Errorf(string, ...any) }, page string) map[string]int {
	if strings.ContainsFunc(page, func(r rune) bool { return r == 0 || r == '\r' || r == 0x1b }) || strings.ToValidUTF8(page, "") != page {
		t.Errorf("the page is no text: %q", page)
	}
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Errorf("%v", err)
		return nil
	}
	count := map[string]int{}
	for n := range doc.Descendants() {
		switch n.Type {
		case html.TextNode:
			if n.Parent.Data == "style" {
				plain := regexp.MustCompile(`content: "(\\[0-9a-f]+ |[^"\\\n])*";`).ReplaceAllString(n.Data, "")
				if strings.Contains(plain, "display:none") || strings.Contains(plain, "url(") || strings.Contains(plain, "\\") || strings.Count(plain, "{") != strings.Count(plain, "}") {
					t.Errorf("the style is another:\n%s", n.Data)
				}
			}
		case html.ElementNode:
			count[n.Data]++
			attributes, known := allowed[n.Data]
			if !known {
				t.Errorf("the page has an element %s", n.Data)
			}
			for _, a := range n.Attr {
				if !strings.Contains(" "+attributes+" ", " "+a.Key+" ") || a.Namespace != "" {
					t.Errorf("%s has an attribute %s", n.Data, a.Key)
				}
				if must := values[a.Key]; must != nil && !must.MatchString(a.Val) {
					t.Errorf("%s has %s %q", n.Data, a.Key, a.Val)
				}
			}
		case html.DoctypeNode, html.DocumentNode:
		default:
			t.Errorf("a node that is no element and no text: %q", n.Data)
		}
	}
	return count
}

// pageOf parses what a writer writes, and holds it to what such a page has once.
func pageOf(t *rapid.T, write func(io.Writer) error) {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	count := harmless(t, b.String())
	if count["meta"] != 3 || count["style"] != 1 || count["html"] != 1 || count["body"] != 1 || count["title"] < 1 {
		t.Errorf("%v", count)
	}
	if last := strings.TrimSpace(b.String()); !strings.HasSuffix(last, "</html>") {
		t.Errorf("the page ends with %q", last[max(0, len(last)-80):])
	}
}

// copied is the same walk, to be changed.
func copied(t *rapid.T, s Sheet) (c Sheet) {
	text, err := json.Marshal(s)
	if err == nil {
		err = json.Unmarshal(text, &c)
	}
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Whatever stands in any field, a page is made of the elements, attributes and values
// that this program writes.
func TestNoFieldBreaksOutOfAPage(t *testing.T) {
	walks := []Sheet{finished(t).sheet("x"), eventful(t).sheet("x")}
	outside.Tries(t, 40, 100)
	rapid.Check(t, func(t *rapid.T) {
		text := texts(t)
		s := copied(t, walks[rapid.IntRange(0, 1).Draw(t, "walk")])
		fill(reflect.ValueOf(&s).Elem(), text)
		for i := range s.Passes {
			s.Passes[i].Wait = ""
		}
		s.Passes = append(s.Passes, Pass{Name: text(""), Wait: text("")})
		if rapid.Bool().Draw(t, "with pictures") {
			s.Photos[0].data = []byte("\xfb\xef\xbe<script>")
		}
		paper := rapid.SampledFrom([]Paper{A4, Letter}).Draw(t, "paper")
		pageOf(t, func(w io.Writer) error { return WriteHTML(w, s, paper) })
		var b Build
		fill(reflect.ValueOf(&b).Elem(), text)
		b.Sheets = []Sheet{s}
		pageOf(t, func(w io.Writer) error { return WriteBuildHTML(w, b, paper) })
		var svg bytes.Buffer
		if err := WriteSVG(&svg, s); err != nil {
			t.Fatal(err)
		}
		harmless(t, svg.String())
		wellFormed(t, "the map", svg.String())
		var c card
		fill(reflect.ValueOf(&c).Elem(), text)
		c.Sheet, c.Paper, c.Map = s, paper, s.draw(82, 78)
		pageOf(t, func(w io.Writer) error {
			p := markup.New(w)
			c.write(p)
			return p.Close()
		})
	})
}
