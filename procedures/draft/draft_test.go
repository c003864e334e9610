package draft

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenpull/spec"
	"evenpull/spec/outside"
	"evenpull/spec/read"
)

func question(t testing.TB, d Draft, id string) Question {
	t.Helper()
	for _, q := range d.Questions() {
		if q.ID == id {
			return q
		}
	}
	t.Fatalf("%s is not asked", id)
	return Question{}
}

// script answers questions from the first on, each line "question = answer", or the question
// alone for going on. It fails where another question is asked than the line names.
func script(t testing.TB, d Draft, lines string) (Draft, string) {
	t.Helper()
	at := d.Questions()[0].ID
	for line := range strings.Lines(strings.TrimSpace(lines)) {
		want, text, _ := strings.Cut(strings.TrimSpace(line), "=")
		want, text = strings.TrimSpace(want), strings.TrimSpace(text)
		q := question(t, d, at)
		if q.Ask != want {
			t.Fatalf("asked %q (%s), the script answers %q\n%s", q.Ask, at, want, d.Text())
		}
		next, then, no := d.Answer(at, q.Enter(text))
		if no != nil {
			t.Fatalf("%s = %s: %v\n%s", want, text, no, d.Text())
		}
		d, at = next, then
	}
	return d, at
}

func TestScriptsMakeSheetsThatCheckClean(t *testing.T) {
	files, _ := filepath.Glob("testdata/*.txt")
	if len(files) < 3 {
		t.Fatal("no scripts")
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".txt")
		t.Run(name, func(t *testing.T) {
			lines, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			d, at := script(t, New(name+".toml"), string(lines))
			if at != "save" {
				t.Errorf("ends at %s, not at the end", at)
			}
			want := filepath.Join("testdata", name+".toml")
			if *outside.Update && !outside.Asking {
				if err := os.WriteFile(want, d.Text(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			kept, err := os.ReadFile(want)
			if err != nil {
				t.Fatal(err)
			}
			if string(kept) != string(d.Text()) {
				t.Errorf("the sheet is not %s:\n%s", want, d.Text())
			}
			if _, problems := read.Procedure(want, kept); len(problems) > 0 {
				t.Error(problems)
			}
			again, err := Open(want, kept)
			if err != nil {
				t.Fatal(err)
			}
			if open := stillOpen(again); len(open) > 0 || !again.Ready() {
				t.Errorf("opened again it asks for %v", open)
			}
		})
	}
}

func stillOpen(d Draft) []string {
	var open []string
	for _, q := range d.Questions() {
		if q.Open() {
			open = append(open, q.ID)
		}
	}
	return open
}

// sheets are the bundled procedures and the commented one to fill in.
func sheets(t testing.TB) map[string][]byte {
	t.Helper()
	files, _ := filepath.Glob("../*.toml")
	all := map[string][]byte{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(f)] = text
	}
	if len(all) < 10 {
		t.Fatal("the bundled sheets are gone")
	}
	return all
}

func open(t testing.TB, name string, text []byte) Draft {
	t.Helper()
	d, err := Open(name, text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// asked opens up all rare questions.
func asked(t testing.TB, d Draft) Draft {
	t.Helper()
	for _, q := range d.Questions() {
		if strings.HasSuffix(q.ID, "/more") {
			next, _, no := d.Answer(q.ID, "yes")
			if no != nil {
				t.Fatal(no)
			}
			d = next
		}
	}
	return d
}

func TestASheetAnsweredAsItStandsStaysAsItIs(t *testing.T) {
	for name, text := range sheets(t) {
		d := asked(t, open(t, name, text))
		if len(d.Questions()) < 20 {
			t.Errorf("%s: only %d questions", name, len(d.Questions()))
		}
		for i, q := range d.Questions() {
			if i%outside.Times(3, 1) != 0 {
				continue
			}
			next, _, no := d.Answer(q.ID, q.Enter(""))
			if no != nil {
				t.Errorf("%s: %s = %q: %v", name, q.ID, q.Answer, no)
				continue
			}
			if string(next.Text()) != string(text) {
				t.Fatalf("%s: answering %s with what stands there, %q, changed the sheet", name, q.ID, q.Answer)
			}
		}
	}
}

// changed are the lines of a text that another one does not have in their place.
func changed(before, after string) []string {
	a, b := strings.SplitAfter(before, "\n"), strings.SplitAfter(after, "\n")
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	return a
}

func TestOneAnswerChangesItsOwnLinesAlone(t *testing.T) {
	all := sheets(t)
	names := slices.Sorted(func(yield func(string) bool) {
		for n := range all {
			if !yield(n) {
				return
			}
		}
	})
	full := map[string]Draft{}
	for _, name := range names {
		full[name] = asked(t, open(t, name, all[name]))
	}
	outside.Tries(t, 40, 100)
	rapid.Check(t, func(rt *rapid.T) {
		d := full[rapid.SampledFrom(names).Draw(rt, "sheet")]
		var told []Question
		for _, q := range d.Questions() {
			_, key, _ := strings.Cut(strings.TrimPrefix(q.ID, q.Thing), "/")
			if q.Kind == Line && slices.Contains([]string{"engine", "source", "title", "drive", "prep", "because", "caution", "remedy", "where", "ask", "say", "prepare"}, key) {
				told = append(told, q)
			}
		}
		q := rapid.SampledFrom(told).Draw(rt, "question")
		text := rapid.StringMatching(`[a-zA-Zé"\\' ]{0,20}[a-z]`).Draw(rt, "answer")
		next, _, no := d.Answer(q.ID, text)
		if no != nil {
			rt.Fatalf("%s = %q: %v", q.ID, text, no)
		}
		if got := question(t, next, q.ID).Answer; got != strings.TrimSpace(text) {
			rt.Fatalf("%s = %q reads back as %q", q.ID, text, got)
		}
		if lines := changed(string(d.Text()), string(next.Text())); len(lines) > 1 {
			rt.Fatalf("%s = %q changed %q", q.ID, text, lines)
		}
		back, _, no := next.Answer(q.ID, q.Answer)
		if no != nil || q.Answer != "" && string(back.Text()) != string(d.Text()) && !strings.Contains(string(d.Text()), "'") {
			rt.Fatalf("%s answered as it was is not as it was: %v", q.ID, no)
		}
	})
}

func TestWrongAnswersAreRefusedWithARemedyAndChangeNothing(t *testing.T) {
	made, _ := script(t, New("f"), "what is done = Fit the caps\nengine\ndirection\nsource = sheet 1\na caution\nwhich bolts = cap bolts\nthread = M8\nclass = 8.8\nhow they sit = 2 rows of 3\nfinal torque = 22 N·m")
	passed, _ := script(t, made, "what is done\nengine\ndirection\nsource\na caution\ncalled\nthread\nclass\nhow they sit\nfinal torque\nthreads\non the wrench\nnew ones each time\ngoes on with it\nmore\nmore bolts\nhow it is done = staged torque\nfigures = 40 %, 100 %")
	two, _, _ := passed.Answer("+group", "rim bolts") // one group alone is not asked which
	tests := []struct {
		d              Draft
		id, answer     string
		what, remedies string
	}{
		{made, "procedure/name", "", "what is done has to be answered", "write Fit the main bearing caps"},
		{made, "procedure/direction", "shut", `"shut" is none of the answers`, "write one of: close, open"},
		{made, "group/cap/thread", "M8x9", "thread \"M8x9\"", "M8x1.25"},
		{made, "group/cap/class", "8.7", "class \"8.7\"", "8.8"},
		{made, "group/cap/torque", "25", "it has no unit", "write the unit too"},
		{made, "group/cap/torque", "25 lb", "may be a torque or a force", "lbf"},
		{made, "group/cap/torque", "20/25 N·m", "20/25", "20 to 25"},
		{made, "group/cap/friction", "wet", `"wet" is none of the answers`, "dry, oiled, moly, threadlock"},
		{two, "group/rim/at", "somewhere", `"somewhere" says no shape`, "circle of 8"},
		{two, "group/rim/at", "2 rows of 5, 3 miles apart", "miles", "mm"},
		{two, "group/rim/at", "2 rows of 5, nearby", `"nearby" is not understood`, "rows 90 mm apart"},
		{two, "group/rim/at", "0", "makes 0 bolts", "circle of 8"},
		{two, "group/rim/at", "100000 rows of 100000", "bolts", "circle of 8"},
		{made, "group/cap/at", "2 rows of 4", "6 bolts are there already", "write again 2 rows of 4"},
		{made, "group/cap/at", "C9 right 10", `there is no bolt "C9"`, "name one that is there"},
		{made, "group/cap/at", "take out C9", `there is no bolt "C9"`, "C1, C2"},
		{made, "+pass/shape", "squeeze", `"squeeze" is none of the answers`, "staged torque"},
		{passed, "pass/0/figure", "90", "it has no unit", "22 N·m"},
		{passed, "pass/0/figure", "8 N·m, 90°", "does several things", "another pass"},
		{passed, "pass/0/figure", "12 kN", "none of what is done to a bolt", "write a torque"},
		{passed, "pass/1/order", "crosswise", `there is no order "crosswise"`, "cross"},
		{passed, "pass/1/order", "C1 C2 C9", `no fastener "C9"`, "C1"},
		{passed, "pass/1/order", "C1 C2 C3", `leaves out "C4"`, "name every fastener of the pass once"},
		{two, "pass/1/groups", "rum", `there is no group "rum"`, "rim"},
		{passed, "pass/1/name", "Draw down", "already on line", "a name of its own"},
		{passed, "+check", "float: loose", "are no limits", "0.05 mm to 0.20 mm"},
		{passed, "+check", "float: 0.05 to 0.2 apples", "apples", ""},
		{passed, "+part", "2000 x washer", "count is 2000", "from 1 to 1000"},
		{passed, "group/cap/+with", "30 x washer", "count is 30", "from 1 to 20"},
		{passed, "nonsense", "x", "is not asked here", ""},
	}
	for _, tt := range tests {
		next, then, no := tt.d.Answer(tt.id, tt.answer)
		if no == nil {
			t.Errorf("%s = %q was taken", tt.id, tt.answer)
			continue
		}
		if !strings.Contains(no.What, tt.what) || !strings.Contains(no.Remedy, tt.remedies) || no.Remedy == "" {
			t.Errorf("%s = %q: %q; %q, want %q; %q", tt.id, tt.answer, no.What, no.Remedy, tt.what, tt.remedies)
		}
		if then != tt.id || string(next.Text()) != string(tt.d.Text()) {
			t.Errorf("%s = %q was refused and went on to %s, or changed the sheet", tt.id, tt.answer, then)
		}
	}
}

// keys that are asked for otherwise than as a field, or that only an editor gives.
var otherwise = map[string][]string{
	"procedure": {"cautions"},
	"group":     {"at", "with", "caps"},
	"pass":      {"groups", "fasteners", "order", "by", "torque", "turn", "loosen", "remove", "verify", "stretch", "ceiling", "wait", "each"},
	"check":     {"before", "after", "wanted", "inputs", "pitch_radius", "dial_radius", "shim", "no_restarts"},
	"part":      {"before", "after"},
	"callout":   {"before", "id"},
	"sealant":   {"before"},
}

func TestEveryKeyOfTheFormatIsAskedForOrKnownNotToBe(t *testing.T) {
	var schema struct {
		Properties, Definitions map[string]struct{ Properties map[string]any }
	}
	if err := json.Unmarshal([]byte(spec.Schema), &schema); err != nil {
		t.Fatal(err)
	}
	for table, fields := range fieldsOf {
		keys := schema.Definitions[table].Properties
		if keys == nil {
			keys = schema.Properties[table].Properties
		}
		if len(keys) == 0 {
			t.Errorf("the schema has no %s", table)
		}
		for key := range keys {
			if _, asked := fieldOf(fields, key); asked == slices.Contains(otherwise[table], key) {
				t.Errorf("%s of %s: asked for as a field %v, and on the list of those that are not %v", key, table, asked, !asked)
			}
		}
		for _, f := range fields {
			if keys[f.key] == nil {
				t.Errorf("%s of %s is asked for, and is no key of the format", f.key, table)
			}
		}
	}
}

func TestCapsAndNamedOrdersAreAnsweredAndFollowTheBolts(t *testing.T) {
	text, err := os.ReadFile("testdata/main-caps.toml")
	if err != nil {
		t.Fatal(err)
	}
	d := open(t, "f", append(text, "\n[order.mine]\nreverse_of = \"hers\"\n[order.hers]\nrule = \"cross\"\n"...))
	take := func(id, answer string, has, not string) {
		t.Helper()
		next, _, no := d.Answer(id, answer)
		if no != nil {
			t.Fatalf("%s = %s: %v", id, answer, no)
		}
		if d = next; !strings.Contains(string(d.Text()), has) || not != "" && strings.Contains(string(d.Text()), not) {
			t.Errorf("after %s = %s:\n%s", id, answer, d.Text())
		}
	}
	if got := question(t, d, "pass/0/order").Answer; got != "spiral by cap" {
		t.Errorf("the order reads %q", got)
	}
	for _, c := range []string{"cross", "cross by cap", "mine", "hers"} {
		if !slices.Contains(question(t, d, "pass/0/order").Choices, c) {
			t.Errorf("%s is not offered", c)
		}
	}
	take("pass/0/order", "mine", `order   = "mine"`, "")
	take("pass/1/order", "cross", `order   = "cross"`, "")
	take("pass/2/order", "Listed by cap", "order   = \"listed\"", "")
	if n := strings.Count(string(d.Text()), "by      ="); n != 1 {
		t.Errorf("%d passes go by cap, want the last alone:\n%s", n, d.Text())
	}
	take("group/main-cap/at", "take out M3", `2 = ["M4"]`, "M3")
	take("group/main-cap/at", "take out M4", `3 = ["M5", "M6"]`, "2 =")
	take("group/main-cap/at", "again 2 rows of 4", "M8 = [120, 40]", ".caps]")
	if len(d.Problems().Errors()) == 0 {
		t.Error("a pass that goes by caps that are gone is not a problem")
	}
}
