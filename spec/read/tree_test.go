package read

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	strictly "github.com/pelletier/go-toml/v2"

	"evenpull/spec"
)

// examples are documents around every rule of TOML that the tree enforces itself.
var documents = []string{
	"a = 1\n", "a = 1\na = 2\n", "[a]\n[a]\n", "[a.b]\n[a]\n", "[a]\n[a.b]\n[a]\n", "a.b = 1\na.c = 2\n", "a.b = 1\n[a]\n", "[a]\nb.c = 1\n[a.b]\n",
	"a = {b = 1}\n[a.c]\n", "a = {b = 1, b = 2}\n", "a = {b.c = 1, b.d = 2}\n", "[[a]]\n[[a]]\n[a.b]\n[[a]]\n[a.b]\n", "[a]\n[[a]]\n", "a = []\n[[a]]\n", "[[a.b]]\n[a]\n", "[[a.b]]\n[a.b]\n",
	"a = 01\n", "a = 1_000\n", "a = 1__0\n", "a = 0x_1\n", "a = 0xff\n", "a = 1.\n", "a = .5\n", "a = 1e5\n", "a = inf\n", "a = -nan\n", "a = 1e999\n", "a = 99999999999999999999\n", "a = +0\n", "a = -0.0\n", "a = 1_e5\n",
	"a = \"x\\u0041\"\n", "a = \"\\q\"\n", "a = \"\"\"\nx\n\"\"\"\n", "a = '''x'''\n", "a = 'x\n", "\"a b\" = 1\n", "'' = 1\n", "a = [1, \"x\", [2]]\n", "a = [1,,2]\n", "a = 2026-01-02\n", "a = 07:32:00\n", "a\n", "= 1\n", "[]\n", "[a\n", "a = 1 b = 2\n",
	"a = true\n", "a = True\n", "# only\n", "", "\xef\xbb\xbfa = 1\n", "a = {}\n", "a = {\n b = 1,\n}\n", "a.b.c = 1\n[a.b]\n", "[a.b]\nc.d = 1\n[a]\nb.e = 2\n",
}

// A document is read if BurntSushi's decoder reads it and no table is opened
// that may not be, which makes it what go-toml's own strict decoder reads. The
// tree then has the values decoded, and each node has a place, its key's.
func FuzzTreeAgreesWithTwoDecoders(f *testing.F) {
	for _, e := range documents {
		f.Add(e)
	}
	files, _ := filepath.Glob("../../testdata/bad/*.toml")
	if len(files) == 0 {
		f.Fatal("no example files")
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		if strings.ContainsRune(text, '\x00') || strings.ToValidUTF8(text, "") != text {
			return // Read refuses these before it decodes
		}
		r := newReader("x", []byte(text))
		root, faults := r.decode()
		var strict, want map[string]any
		if err := strictly.Unmarshal(r.text, &strict); !differs(text) && (err == nil) != (len(faults) == 0) {
			t.Fatalf("%q: the strict decoder says %v, the tree says %v", text, err, faults)
		}
		for _, f := range faults {
			if f.at < 0 || f.at > len(r.text) || f.what == "" {
				t.Fatalf("%q: a fault outside: %+v", text, f)
			}
		}
		if len(faults) > 0 {
			return
		}
		if _, err := toml.Decode(text, &want); err != nil || !agrees(root, want) {
			t.Fatalf("%q: values differ, %v: want %v", text, err, want)
		}
		for _, n := range r.nodes {
			if problem := misplaced(r, n); problem != "" {
				t.Fatalf("%q: %s", text, problem)
			}
		}
	})
}

// misplaced says what is wrong with the place of a node, if anything is.
func misplaced(r *reader, n *node) string {
	s, exact := r.spotOf(n)
	if !exact {
		return fmt.Sprintf("no place for %q of %v", n.name, n.up)
	}
	if n.up == nil || n.up.kind != tableKind {
		return ""
	}
	key, quoted := string(r.text[s.keyAt:]), strings.ContainsAny(string(r.text[s.keyAt:min(s.keyAt+1, len(r.text))]), `"'`)
	if !quoted && !strings.HasPrefix(key, n.name) {
		return fmt.Sprintf("the key %q is placed at %.20q", n.name, key)
	}
	if value := string(r.text[s.at:]); n.kind == boolKind && !strings.HasPrefix(value, fmt.Sprint(n.truth)) || n.kind == stringKind && !strings.ContainsAny(value[:1], `"'`) {
		return fmt.Sprintf("the value of %q is placed at %.20q", n.name, value)
	}
	return ""
}

// differs marks what the two libraries read differently without harm here: our
// format has no dates, and a lone carriage return is of no use to anybody.
func differs(text string) bool {
	return strings.Count(text, ".") >= maxDepth || strings.ContainsAny(text, ":\r") || strings.Contains(text, "-0") || strings.Contains(text, `\e`) || strings.Contains(text, `\x`) || hasDateDigits(text)
}

func hasDateDigits(text string) bool {
	for i := 4; i < len(text); i++ {
		if text[i] == '-' && text[i-1] >= '0' && text[i-1] <= '9' {
			return true
		}
	}
	return false
}

func agrees(n *node, want any) bool {
	switch w := want.(type) {
	case map[string]any:
		if n.kind != tableKind || len(w) != len(n.table) {
			return false
		}
		for key, value := range w {
			if child := n.table[key]; child == nil || !agrees(child, value) {
				return false
			}
		}
		return true
	case []map[string]any:
		list := make([]any, len(w))
		for i := range w {
			list[i] = w[i]
		}
		return agrees(n, list)
	case []any:
		if n.kind != arrayKind || len(w) != len(n.items) {
			return false
		}
		for i := range w {
			if !agrees(n.items[i], w[i]) {
				return false
			}
		}
		return true
	case string:
		return n.kind == stringKind && n.text == w
	case int64:
		return n.kind == integerKind && n.number == float64(w)
	case float64:
		return n.kind == floatKind && (n.number == w || math.IsNaN(w) && math.IsNaN(n.number))
	case bool:
		return n.kind == boolKind && n.truth == w
	}
	return n.kind == dateKind
}

// Whatever the bytes, reading never panics, and every problem lies inside the
// file, prints in one line and holds nothing a terminal would obey.
func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"../../testdata/bad/*.toml", "../../procedures/*.toml"} {
		files, _ := filepath.Glob(pattern)
		if len(files) == 0 {
			f.Fatalf("no example files in %s", pattern)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	f.Add([]byte("\x1b[31m = \x1b]0;evil\x07"))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, problems := Procedure("x\x1b.toml", text)
		if p == nil && len(problems.Errors()) == 0 {
			t.Fatal("no procedure and no problem")
		}
		lines := 1 + strings.Count(string(text), "\n")
		for _, q := range problems {
			if q.Line < 1 || q.Line > lines || q.Column < 1 {
				t.Fatalf("a problem outside the file: %v", q)
			}
			printed := q.Error() + shown(q, text)
			if i := strings.IndexFunc(q.Error(), func(r rune) bool { return !spec.Harmless(r) && r != '\uFFFD' }); i >= 0 {
				t.Fatalf("a control character in %q", printed)
			}
		}
	})
}

func TestReadRefusesWhatIsNoProcedureFile(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "x:1:1: the file is empty; start from: evenpull new FILE"},
		{"blank", " \n\t\n", "x:1:1: the file is empty; start from: evenpull new FILE"},
		{"huge", strings.Repeat("# long\n", MaxFileBytes/7+1), "x:1:1: the file is larger than 1 MiB; split it: one joint a file"},
		{"binary", "format = 1\n\x7fELF\x00\x01", "x:2:5: the file is not text: it holds a zero byte; give a TOML text file"},
		{"latin-1", "format = 1\nname = \"N\xb7m\"\n", "x:2:10: the file is not UTF-8 here; save the file as UTF-8"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, problems := Procedure("x", []byte(c.text))
			if p != nil || problems.Error() != c.want {
				t.Errorf("got %q, want %q", problems.Error(), c.want)
			}
		})
	}
}

// A hostile file with thousands of mistakes is refused quickly and briefly.
func TestReadBoundsWhatItReports(t *testing.T) {
	var b strings.Builder
	b.WriteString("format = 1\n")
	for range 20_000 {
		b.WriteString("format = 1\n")
	}
	_, problems := Procedure("x", []byte(b.String()))
	if len(problems) != maxProblems+1 || !strings.Contains(problems.Error(), "19800 more problems are not listed") {
		t.Errorf("%d problems, last: %v", len(problems), problems[len(problems)-1])
	}
}

// Ways of opening a table again that the decoder lets pass: refused, with both
// places named.
func TestATableIsNotOpenedTwice(t *testing.T) {
	for text, want := range map[string]string{
		"a.b = 1\n[a]\n":                      `x:2:2: "a" is already given on line 1; keep one of them`,
		"[a]\nb.c = 1\n[a.b]\n":               `x:3:4: "b" is already given on line 2; keep one of them`,
		"a = {b = 1}\n[a.c]\n":                `x:2:2: "a" is already given on line 1; keep one of them`,
		"a.b.c = 1\n[a.b]\n":                  `x:2:4: "b" is already given on line 1; keep one of them`,
		"[a]\nb={}\n[a.b.c]\n":                `x:3:4: "b" is already given on line 2; keep one of them`,
		"[a.b.c]\nz=9\n[a]\nb.c.t=1\n":        `x:4:3: "c" is already given on line 1; keep one of them`,
		"[[a]]\nb.c = 1\n[a.b]\n":             `x:3:4: "b" is already given on line 2; keep one of them`,
		"x = '= {'\na.b = 1\na.c = 2\n[c]\n":  "",
		"[a.b]\n[a]\nc = {d = 1}\n[a.e]\n":    "",
		"[[a]]\n[a.b]\n[[a]]\n[a.b]\nc = 1\n": "",
	} {
		r := newReader("x", []byte(text))
		_, faults := r.decode()
		for _, f := range faults {
			r.add(f.at, false, f.what, f.remedy)
		}
		if got := r.problems.Error(); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

// What only the decoder finds is said in its words, on its line.
func TestWhatOnlyTheDecoderFindsHasItsLine(t *testing.T) {
	for text, want := range map[string]string{
		"a = 1\nb = 2026-02-30\n": `x:2:5: not valid TOML: `,
		"a = 1\nb = 1e999\n":      `x:2:5: not valid TOML: `,
		"µ = 1\n":                 `x:1:1: not valid TOML: `,
		"\"µ\" = 1e999\n":         `x:1:7: not valid TOML: `,
	} {
		_, problems := Procedure("x", []byte(text))
		if len(problems) != 1 || !strings.HasPrefix(problems.Error(), want) {
			t.Errorf("%q: got %q, want %q", text, problems.Error(), want)
		}
	}
}

// A byte order mark is no part of the first line, and stays in the text kept.
func TestAByteOrderMarkIsReadOver(t *testing.T) {
	good, err := os.ReadFile("../../testdata/bad/plain-good.toml")
	if err != nil {
		t.Fatal(err)
	}
	marked := "\ufeff" + string(good)
	if p, problems := Procedure("x", []byte(marked)); p == nil || string(p.Text) != marked {
		t.Errorf("not read: %v", problems)
	}
	bad := "\ufeffformat = 2\n"
	_, problems := Procedure("x", []byte(bad))
	last := problems[len(problems)-1]
	if got := last.Error() + "\n" + shown(last, []byte(bad)); got != "x:1:10: format 2 is not known here; write format = 1\nformat = 2\n         ^" {
		t.Errorf("got %q", got)
	}
}

// Checks, parts and callouts are asked for in the order of the file, however
// their lists are mixed, and wherever a table lies the right line is named.
func TestOrderAndPlaceGoThroughTheWholeFile(t *testing.T) {
	r := newReader("x", []byte("[[part]]\nn = 1\n[[check]]\nn = 2\n[[part]]\nn = 3\ncallout = 0\n[[check]]\nn = 4\nw = [{ a = 1 }, { b = 2,\n b2 = [1, 'µ', true] }]\n"))
	root, faults := r.decode()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	part, check := root.table["part"].items, root.table["check"].items
	last := -1
	for i, n := range []*node{part[0], check[0], part[1], check[1]} {
		if n.order <= last || n.table["n"].number != float64(i+1) {
			t.Errorf("entry %d: order %d after %d, n = %v", i+1, n.order, last, n.table["n"].number)
		}
		last = n.order
		if line, column := r.place(n.table["n"].at); line != 2*i+2+i/3 || column != 5 {
			t.Errorf("entry %d: its n is placed at %d:%d", i+1, line, column)
		}
	}
	list := check[1].table["w"].items[1].table["b2"]
	for i, want := range [][2]int{{11, 8}, {11, 11}, {11, 16}} {
		if line, column := r.place(list.items[i].at); line != want[0] || column != want[1] {
			t.Errorf("item %d of the innermost array is placed at %d:%d, want %v", i+1, line, column, want)
		}
	}
}

// A key in quotes may hold what ends a key elsewhere.
func TestTheValueOfAQuotedKeyIsFound(t *testing.T) {
	for text, column := range map[string]int{
		`"a=b" = [1]`: 9, `'a=b'=[1]`: 7, `"a\"=b" = [1]`: 11, `'a\'  =  [1]`: 10, `"a'=b" = [1]`: 10, `'a"=b' = [1]`: 10, `a."b=".c = [1]`: 12,
	} {
		r := newReader("x", []byte(text))
		n, faults := r.decode()
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		for n.kind == tableKind {
			n = n.table[n.keys[0]]
		}
		if line, got := r.place(n.at); line != 1 || got != column {
			t.Errorf("%s: at %d:%d, want column %d", text, line, got, column)
		}
	}
}
