package spec

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	strictly "github.com/pelletier/go-toml/v2"
)

// examples are documents around every rule of TOML that the tree enforces itself.
var documents = []string{
	"a = 1\n", "a = 1\na = 2\n", "[a]\n[a]\n", "[a.b]\n[a]\n", "[a]\n[a.b]\n[a]\n", "a.b = 1\na.c = 2\n", "a.b = 1\n[a]\n", "[a]\nb.c = 1\n[a.b]\n",
	"a = {b = 1}\n[a.c]\n", "a = {b = 1, b = 2}\n", "a = {b.c = 1, b.d = 2}\n", "[[a]]\n[[a]]\n[a.b]\n[[a]]\n[a.b]\n", "[a]\n[[a]]\n", "a = []\n[[a]]\n", "[[a.b]]\n[a]\n", "[[a.b]]\n[a.b]\n",
	"a = 01\n", "a = 1_000\n", "a = 1__0\n", "a = 0x_1\n", "a = 0xff\n", "a = 1.\n", "a = .5\n", "a = 1e5\n", "a = inf\n", "a = -nan\n", "a = 1e999\n", "a = 99999999999999999999\n", "a = +0\n", "a = -0.0\n", "a = 1_e5\n",
	"a = \"x\\u0041\"\n", "a = \"\\q\"\n", "a = \"\"\"\nx\n\"\"\"\n", "a = '''x'''\n", "a = 'x\n", "\"a b\" = 1\n", "'' = 1\n", "a = [1, \"x\", [2]]\n", "a = [1,,2]\n", "a = 2026-01-02\n", "a = 07:32:00\n", "a\n", "= 1\n", "[]\n", "[a\n", "a = 1 b = 2\n",
	"a = true\n", "a = True\n", "# only\n", "", "\xef\xbb\xbfa = 1\n", "a = {}\n", "a = {\n b = 1,\n}\n", "a.b.c = 1\n[a.b]\n", "[a.b]\nc.d = 1\n[a]\nb.e = 2\n",
}

// The tree accepts what go-toml's own strict decoder accepts, and gives the
// values that BurntSushi's library gives (which opens tables twice without a word).
func FuzzTreeAgreesWithTwoDecoders(f *testing.F) {
	for _, e := range documents {
		f.Add(e)
	}
	files, _ := filepath.Glob("../testdata/bad/*.toml")
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
		if strings.ContainsRune(text, '\x00') || strings.ToValidUTF8(text, "") != text || differs(text) {
			return // Read refuses the first two before it parses
		}
		root, faults := parseTree([]byte(text))
		var strict, want map[string]any
		err := strictly.Unmarshal([]byte(text), &strict)
		if (err == nil) != (len(faults) == 0) {
			t.Fatalf("%q: the strict decoder says %v, the tree says %v", text, err, faults)
		}
		if _, lenient := toml.Decode(text, &want); lenient != nil || err != nil {
			return
		}
		if !agrees(root, want) {
			t.Fatalf("%q: values differ: want %v", text, want)
		}
	})
}

// differs marks what the two libraries read differently without harm here: our
// format has no dates, and neither a byte order mark nor a lone carriage
// return is of use to anybody.
func differs(text string) bool {
	return strings.Count(text, ".") >= maxDepth || strings.ContainsAny(text, ":\r\ufeff") || strings.Contains(text, "-0") || strings.Contains(text, `\e`) || strings.Contains(text, `\x`) || hasDateDigits(text)
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
	for _, pattern := range []string{"../testdata/bad/*.toml", "../procedures/*.toml"} {
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
		p, problems := Read("x\x1b.toml", text)
		if p == nil && len(problems.Errors()) == 0 {
			t.Fatal("no procedure and no problem")
		}
		lines := 1 + strings.Count(string(text), "\n")
		for _, q := range problems {
			if q.Line < 1 || q.Line > lines || q.Column < 1 {
				t.Fatalf("a problem outside the file: %v", q)
			}
			printed := q.Error() + q.Context(text)
			if i := strings.IndexFunc(q.Error(), func(r rune) bool { return !allowedRune(r) && r != '\uFFFD' }); i >= 0 {
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
			p, problems := Read("x", []byte(c.text))
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
	_, problems := Read("x", []byte(b.String()))
	if len(problems) != maxProblems+1 || !strings.Contains(problems.Error(), "19800 more problems are not listed") {
		t.Errorf("%d problems, last: %v", len(problems), problems[len(problems)-1])
	}
}
