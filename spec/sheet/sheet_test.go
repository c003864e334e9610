package sheet

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"pgregory.net/rapid"
)

func read(t testing.TB, text string) *Sheet {
	t.Helper()
	s, err := Read([]byte(text))
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return s
}

// tree is what the nodes say is in the text, as the decoder would have it.
func (s *Sheet) tree(n *node) any {
	switch {
	case n.form == value:
		v, _ := decoded(s.text[n.value.from:n.value.to])
		return v
	case n.form == array:
		list := []any{}
		for _, item := range n.items {
			list = append(list, s.tree(item))
		}
		return list
	case n.form == listed:
		list := []map[string]any{}
		for _, item := range n.items {
			list = append(list, s.tree(item).(map[string]any))
		}
		return list
	}
	m := map[string]any{}
	for name, child := range n.table {
		m[name] = s.tree(child)
	}
	return m
}

// plain makes lists of tables and lists of anything one kind, which the decoder has two of.
func plain(v any) any {
	switch v := v.(type) {
	case map[string]any:
		m := map[string]any{}
		for k, child := range v {
			m[k] = plain(child)
		}
		return m
	case []map[string]any:
		list := []any{}
		for _, child := range v {
			list = append(list, plain(child))
		}
		return list
	case []any:
		list := []any{}
		for _, child := range v {
			list = append(list, plain(child))
		}
		return list
	}
	return v
}

func decode(t interface {
	Helper()
	Fatalf(string, ...any)
}, text []byte) any {
	t.Helper()
	var v map[string]any
	if _, err := toml.Decode(string(text), &v); err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return plain(v)
}

const shapes = "# top\r\nformat = 1 # one\r\n\r\n[a]\r\nx.y = 1\r\nx.z.\"q r\" = 'two'\r\n[a.in]\r\ndeep = { p = 1, q.r = [1, 2,], \"s t\" = {} }\r\n" +
	"[[l]]\r\nm = \"\"\"\r\nthree # no comment\r\n\"\"\"\r\n[l.sub]\r\nk = 1979-05-27T07:32:00Z\r\n[[l]]\r\n[[l.more]]\r\nn = [\r\n  \"a\", # of a\r\n  \"b\" # of b\r\n]\r\n[late.of]\r\nz = -1.5e3\r\n[late]\r\ny = true"

// texts are real sheets, bad ones that are TOML, and every shape there is.
func texts(t testing.TB) map[string]string {
	t.Helper()
	all := map[string]string{"shapes": shapes, "empty": "", "no newline": "a = 1"}
	for _, pattern := range []string{"../../procedures/*.toml", "../../testdata/bad/*.toml"} {
		files, _ := filepath.Glob(pattern)
		if len(files) == 0 {
			t.Fatalf("no files %s", pattern)
		}
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			var v map[string]any
			if _, err := toml.Decode(string(text), &v); err == nil {
				all[filepath.Base(f)] = string(text)
			}
		}
	}
	return all
}

func TestTheNodesAreWhatTheDecoderReads(t *testing.T) {
	for name, text := range texts(t) {
		s, err := Read([]byte(text))
		if err != nil {
			if name != "table-given-twice.toml" { // the decoder alone lets it pass
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if got, want := plain(s.tree(s.root)), decode(t, s.text); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: got\n%v\nwant\n%v", name, got, want)
		}
		if string(s.Bytes()) != text {
			t.Errorf("%s is not the same after nothing was changed", name)
		}
	}
}

// every walks all paths, lists and tables included.
func (s *Sheet) every(n *node, p Path, visit func(Path, *node)) {
	if len(p) > 0 {
		visit(p, n)
	}
	for i, item := range n.items {
		s.every(item, At(p, i), visit)
	}
	for _, name := range n.keys {
		s.every(n.table[name], At(p, name), visit)
	}
}

// put changes a decoded document the way an edit of the text should.
func put(doc any, p Path, to any) any {
	if len(p) == 0 {
		return to
	}
	switch at := doc.(type) {
	case map[string]any:
		m := map[string]any{}
		for k, v := range at {
			m[k] = v
		}
		if v := put(m[p[0]], p[1:], to); v == nil {
			delete(m, p[0])
		} else {
			m[p[0]] = v
		}
		return m
	case []any:
		list := []any{}
		for i, v := range at {
			if fmt.Sprint(i) == p[0] {
				v = put(v, p[1:], to)
			}
			if v != nil {
				list = append(list, v)
			}
		}
		return list
	}
	return put(map[string]any{}, p, to)
}

// pruned drops tables that hold nothing: of what dotted keys made, nothing is left behind.
func pruned(v any) any {
	switch v := v.(type) {
	case map[string]any:
		m := map[string]any{}
		for k, child := range v {
			if child = pruned(child); !empty(child) {
				m[k] = child
			}
		}
		return m
	case []any:
		list := []any{}
		for _, child := range v {
			list = append(list, pruned(child))
		}
		return list
	}
	return v
}

func empty(v any) bool {
	switch v := v.(type) {
	case map[string]any:
		return len(v) == 0
	case []any:
		return len(v) == 0
	}
	return false
}

// touched counts the lines of a text that another one has changed.
func touched(before, after string) (changed int) {
	a, b := strings.SplitAfter(before, "\n"), strings.SplitAfter(after, "\n")
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	return len(a)
}

func TestEditsChangeWhatTheyNameAndNothingElse(t *testing.T) {
	all := texts(t)
	var names []string
	for name := range all {
		if name != "table-given-twice.toml" {
			names = append(names, name)
		}
	}
	rapid.Check(t, func(rt *rapid.T) {
		name := rapid.SampledFrom(names).Draw(rt, "text")
		s, err := Read([]byte(all[name]))
		if err != nil {
			rt.Fatalf("%v", err)
		}
		var paths []Path
		s.every(s.root, nil, func(p Path, n *node) { paths = append(paths, p) })
		paths = append(paths, At("new"), At("new", "deep", "key"))
		p := rapid.SampledFrom(paths).Draw(rt, "path")
		n := s.find(p)
		doc := decode(rt, s.text)
		literal, means := "\"é \\\" #\"", any("é \" #")
		var got *Sheet
		var want any
		inList := n != nil && len(p) > 1 && (s.find(p[:len(p)-1]).form == array || s.find(p[:len(p)-1]).form == listed)
		switch what := rapid.SampledFrom([]string{"same", "set", "remove", "add"}).Draw(rt, "what"); {
		case what == "same" && n != nil && n.form <= braces:
			got, err = s.Set(p[:len(p)-1], Entry{Key: p[len(p)-1], Value: string(s.text[n.value.from:n.value.to])})
			if err == nil && string(got.Bytes()) != all[name] {
				rt.Fatalf("setting %v to what it is changed the text", p)
			}
			return
		case what == "remove":
			got, err = s.Remove(p)
			want = put(doc, p, nil)
		case what == "add" && n != nil && n.form.isTable():
			got, err = s.Set(p, Entry{Key: "new key", Value: literal, Comment: "why"})
			want = put(doc, At(p, "new key"), means)
		default:
			if n != nil && inList && n.form > braces {
				return // an entry of [[list]] is no value
			}
			got, err = s.Set(p[:len(p)-1], Entry{Key: p[len(p)-1], Value: literal})
			want = put(doc, p, means)
			if err == nil && n != nil && n.form == value {
				from, to := s.Lines(p)
				if lines := touched(string(s.text), string(got.text)); lines > to-from+1 {
					rt.Fatalf("setting %v touched %d lines", p, lines)
				}
			}
		}
		if err != nil {
			rt.Fatalf("%v: %v", p, err)
		}
		if have := decode(rt, got.text); !reflect.DeepEqual(pruned(have), pruned(want)) {
			rt.Fatalf("%v: got\n%v\nwant\n%v\n%s", p, have, want, got.text)
		}
		if strings.Count(string(got.text), "\r\n") > 0 && strings.Count(string(got.text), "\n") != strings.Count(string(got.text), "\r\n") {
			rt.Fatalf("mixed line ends:\n%q", got.text)
		}
	})
}

func TestEditsLookAsAHandWouldHaveWrittenThem(t *testing.T) {
	const small = "# first\nformat = 1\n\n[group.main]\ntitle  = \"bolts\"   # their name\nthread = \"M8\"\n# bore = \"2 mm\"\n\n[group.main.at]\nM1 = [0, 0]\n\n# the first pass\n[[pass]]\nname = \"One\"\n\n# the second\n[[pass]]\nname = \"Two\"\ntorque = { main = \"8 N·m\" }\n"
	must := func(s *Sheet, err error) *Sheet {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	tests := []struct {
		name string
		edit func(*Sheet) *Sheet
		was  string
		is   string
	}{
		{"a value beside its comment", func(s *Sheet) *Sheet { return must(s.Set(At("group", "main"), Entry{Key: "title", Value: `"nuts"`})) },
			"\"bolts\"   # their name", "\"nuts\"   # their name"},
		{"a new key in the column of its neighbours", func(s *Sheet) *Sheet {
			return must(s.Set(At("group", "main"), Entry{Key: "bore", Value: `"3 mm"`, Comment: "hollow"}))
		}, "thread = \"M8\"\n", "thread = \"M8\"\nbore   = \"3 mm\"                      # hollow\n"},
		{"a new bolt", func(s *Sheet) *Sheet {
			return must(s.Set(At("group", "main", "at"), Entry{Key: "M2", Value: "[70, 0]"}))
		},
			"M1 = [0, 0]\n", "M1 = [0, 0]\nM2 = [70, 0]\n"},
		{"a new group behind the last", func(s *Sheet) *Sheet {
			return must(s.AddTable(At("group", "rim"), Block{"of the rim\nall round", []Entry{{Key: "title", Value: `"rim bolts"`}, {Key: "one_use", Value: "true"}}, 9}))
		}, "M1 = [0, 0]\n", "M1 = [0, 0]\n\n# of the rim\n# all round\n[group.rim]\ntitle    = \"rim bolts\"\none_use  = true\n"},
		{"a pass between two", func(s *Sheet) *Sheet {
			return must(s.AddEntry("pass", 1, Block{Entries: []Entry{{Key: "name", Value: `"Between"`}}}))
		}, "# the second\n", "[[pass]]\nname = \"Between\"\n\n# the second\n"},
		{"a pass at the end", func(s *Sheet) *Sheet {
			return must(s.AddEntry("pass", 2, Block{Entries: []Entry{{Key: "name", Value: `"Three"`}}}))
		}, "torque = { main = \"8 N·m\" }\n", "torque = { main = \"8 N·m\" }\n\n[[pass]]\nname = \"Three\"\n"},
		{"the first of a list", func(s *Sheet) *Sheet {
			return must(s.AddEntry("part", 0, Block{Entries: []Entry{{Key: "name", Value: `"shim"`}}}))
		},
			"torque = { main = \"8 N·m\" }\n", "torque = { main = \"8 N·m\" }\n\n[[part]]\nname = \"shim\"\n"},
		{"a figure in braces", func(s *Sheet) *Sheet {
			return must(s.Set(At("pass", 1, "torque"), Entry{Key: "rim", Value: `"4 N·m"`}))
		}, "\"8 N·m\" }", "\"8 N·m\", rim = \"4 N·m\" }"},
		{"two passes exchanged with their comments", func(s *Sheet) *Sheet { return must(s.Swap("pass", 0)) },
			"# the first pass\n[[pass]]\nname = \"One\"\n\n# the second\n[[pass]]\nname = \"Two\"\ntorque = { main = \"8 N·m\" }\n",
			"# the second\n[[pass]]\nname = \"Two\"\ntorque = { main = \"8 N·m\" }\n\n# the first pass\n[[pass]]\nname = \"One\"\n"},
		{"a pass taken out, not its comment", func(s *Sheet) *Sheet { return must(s.Remove(At("pass", 0))) },
			"[[pass]]\nname = \"One\"\n\n", "\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			want := strings.Replace(small, tt.was, tt.is, 1)
			if want == small {
				t.Fatal("the case names nothing that is there")
			}
			if got := string(tt.edit(read(t, small)).Bytes()); got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

func TestItemsOfAListOnLinesOfTheirOwn(t *testing.T) {
	s := read(t, "a = [\n  \"one\", # of one\n  \"two\" # of two\n]\n")
	s, err := s.AddItem(At("a"), `"three"`)
	if err != nil {
		t.Fatal(err)
	}
	if s, err = s.Remove(At("a", 0)); err != nil {
		t.Fatal(err)
	}
	if got, want := string(s.Bytes()), "a = [\n  \"two\",\n  \"three\" # of two\n]\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if s, err = s.Remove(At("a", 1)); err != nil {
		t.Fatal(err)
	}
	if got, want := string(s.Bytes()), "a = [\n  \"two\" # of two\n]\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestAByteOrderMarkStays(t *testing.T) {
	s := read(t, "\xef\xbb\xbfa = 1\n")
	s, err := s.Set(nil, Entry{Key: "b", Value: "2"})
	if err != nil || string(s.Bytes()) != "\xef\xbb\xbfa = 1\nb = 2\n" {
		t.Errorf("got %q, %v", s.Bytes(), err)
	}
}

func TestWhatWouldBreakTheTextIsRefused(t *testing.T) {
	if _, err := read(t, "a = 1\n").Set(nil, Entry{Key: "b", Value: `"no end`}); err == nil {
		t.Error("half a string was written")
	}
}

func TestTextIsReadBackAsItWas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		v, err := decoded([]byte(Text(text)))
		if err != nil || v != text {
			t.Fatalf("%q came back as %q, %v", text, v, err)
		}
	})
}

func TestListsThatHaveNoneOrOne(t *testing.T) {
	s, err := read(t, "a = [ \"one\", # of one\n]\n").Remove(At("a", 0))
	if err != nil || string(s.Bytes()) != "a = []\n" {
		t.Errorf("got %q, %v", s.Bytes(), err)
	}
	if s, err = s.AddItem(At("a"), "1"); err != nil || string(s.Bytes()) != "a = [1]\n" {
		t.Errorf("got %q, %v", s.Bytes(), err)
	}
	if s, err = s.AddItem(At("t", "b"), "2"); err != nil || string(s.Bytes()) != "a = [1]\n\n[t]\nb = [2]\n" {
		t.Errorf("got %q, %v", s.Bytes(), err)
	}
	if s, err = read(t, "a = { b = 1 }").Remove(At("a", "b")); err != nil || string(s.Bytes()) != "a = {}" {
		t.Errorf("got %q, %v", s.Bytes(), err)
	}
	if s, err = read(t, "a = [\n 1, # of one\n 2]").Remove(At("a", 1)); err != nil || string(s.Bytes()) != "a = [\n 1 # of one\n ]" {
		t.Errorf("got %q, %v", s.Bytes(), err)
	}
	if s, err = read(t, "p = [{ n = 1 }]\n").AddEntry("p", 0, Block{Entries: []Entry{{Key: "n", Value: "2"}, {Key: "m", Value: "3"}}}); err != nil || string(s.Bytes()) != "p = [{ n = 1 }, { n = 2, m = 3 }]\n" {
		t.Errorf("got %q, %v", s.Bytes(), err)
	}
}
