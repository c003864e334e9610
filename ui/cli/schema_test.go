package cli

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/jsonschema-go/jsonschema"

	"evenpull/procedures/engine"
	"evenpull/procedures/plan"
	"evenpull/ui/internal/golden"
	"evenpull/ui/report"
)

// written is everything --json writes, by the name of its schema.
var written = map[string]any{
	"check": []jsonChecked{}, "plan": plan.Document{}, "plan-ready": plan.Ready{}, "convert": jsonConversion{}, "convert-wrench": jsonForWrench{},
	"clamp": answer{}, "clamp-procedure": jsonStudy{}, "wrenches": jsonDrawer{}, "wrenches-procedure": jsonFit{},
	"records": []jsonRecord{}, "show": report.Sheet{}, "verify": []jsonVerified{}, "compare": report.Comparison{},
	"engines": []engine.Brief{}, "engine": jsonEngine{}, "parts": []engineParts{},
}

// The schemas in the repository are those of the types as they are. With
// -update they are written anew; fields may be added, never renamed or taken out.
func TestGoldenSchemasAreOfWhatIsWritten(t *testing.T) {
	texts := map[string]string{}
	for name, v := range written {
		m := schemaMaker{docs: map[string]map[string]string{}, known: map[reflect.Type]string{}, defs: map[string]any{}}
		doc := m.of(reflect.TypeOf(v))
		doc["$schema"], doc["title"] = "http://json-schema.org/draft-07/schema#", "evenpull: "+name
		if len(m.defs) > 0 {
			doc["definitions"] = m.defs
		}
		var b bytes.Buffer
		if err := writeJSON(&b, doc); err != nil {
			t.Fatal(err)
		}
		texts[name+schemaEnding] = b.String()
	}
	golden.In(t, "schema", texts)
}

// schemaMaker derives a schema from a type as encoding/json would write it.
// The comment behind a field is its description.
type schemaMaker struct {
	docs  map[string]map[string]string // package → Type.Field → comment
	known map[reflect.Type]string
	defs  map[string]any
}

func (m schemaMaker) of(t reflect.Type) map[string]any {
	switch t.Kind() {
	case reflect.Pointer:
		inner := m.of(t.Elem())
		if word, ok := inner["type"].(string); ok {
			inner["type"] = []string{word, "null"}
			return inner
		}
		return map[string]any{"anyOf": []any{inner, map[string]any{"type": "null"}}}
	case reflect.Slice:
		return map[string]any{"type": "array", "items": m.of(t.Elem())}
	case reflect.Map:
		return map[string]any{"type": "object", "additionalProperties": m.of(t.Elem())}
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Int64:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Struct:
		if t == reflect.TypeFor[time.Time]() {
			return map[string]any{"type": "string", "format": "date-time"}
		}
		return m.reference(t)
	}
	panic("no schema for " + t.String())
}

// reference describes a struct once, under its name.
func (m schemaMaker) reference(t reflect.Type) map[string]any {
	name := strings.ToLower(strings.TrimPrefix(t.Name(), "json"))
	if _, ok := m.known[t]; !ok {
		for _, taken := m.defs[name]; taken; _, taken = m.defs[name] {
			name += "-2" // two types of one name, from two packages
		}
		m.known[t], m.defs[name] = name, nil
		props, required := map[string]any{}, []string{}
		m.fields(t, props, &required)
		m.defs[name] = map[string]any{"type": "object", "properties": props, "required": required}
	}
	return map[string]any{"$ref": "#/definitions/" + m.known[t]}
}

func (m schemaMaker) fields(t reflect.Type, props map[string]any, required *[]string) {
	for f := range t.Fields() {
		tag, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && tag == "":
			m.fields(f.Type, props, required)
		case f.IsExported() && tag != "-":
			p := m.of(f.Type)
			if doc := m.doc(t, f.Name); doc != "" {
				if _, ref := p["$ref"]; ref {
					p = map[string]any{"allOf": []any{p}}
				}
				p["description"] = doc
			}
			props[tag] = p
			if options != "omitempty" {
				*required = append(*required, tag)
			}
		}
	}
}

// doc is the comment behind a field in the source.
func (m schemaMaker) doc(t reflect.Type, field string) string {
	pkg := t.PkgPath()
	if m.docs[pkg] == nil {
		m.docs[pkg] = commentsOf(filepath.Join("../..", strings.TrimPrefix(pkg, "evenpull/")))
	}
	return m.docs[pkg][t.Name()+"."+field]
}

func commentsOf(dir string) map[string]string {
	found := map[string]string{}
	files, _ := filepath.Glob(filepath.Join(dir, "*.go"))
	for _, path := range files {
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments)
		if err != nil {
			panic(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok {
				return true
			}
			if s, ok := spec.Type.(*ast.StructType); ok {
				for _, f := range s.Fields.List {
					for _, name := range f.Names {
						found[spec.Name.Name+"."+name.Name] = strings.TrimSpace(f.Comment.Text())
					}
				}
			}
			return true
		})
	}
	return found
}

// Every output is what its schema says, empty and full.
func TestEveryOutputFitsItsSchema(t *testing.T) {
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	config := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", config)
	writeDrawer(t, filepath.Join(config, "evenpull"))
	demo := filepath.Join(t.TempDir(), "demo")
	run := func(args ...string) []byte {
		t.Helper()
		var out, said bytes.Buffer
		env := Env{In: strings.NewReader(""), Out: &out, Err: &said, Now: time.Now, Getenv: os.Getenv}
		if code := Run(args, env); code != ExitDone && code != ExitProblem {
			t.Fatalf("%q: exit %d, %s", args, code, said.String())
		}
		return out.Bytes()
	}
	run("demo", demo)
	run("--records", demo, "mark", demoTag, "crankshaft", "back")
	tried := map[string]bool{}
	for _, c := range []struct {
		schema string
		args   []string
	}{
		{"check", []string{"check", "rod-bolts", "../../testdata/bad/misspelt-key.toml", "../../testdata/bad/warnings-only.toml", "nowhere.toml", "--json"}},
		{"convert", []string{"convert", "22 Nm", "--json"}},
		{"convert", []string{"convert", "90°", "--json"}},
		{"convert-wrench", []string{"convert", "22 Nm", "--wrench", "small click", "--json"}},
		{"clamp", []string{"clamp", "M8", "--class", "8.8", "--torque", "25 Nm", "--json"}},
		{"clamp", []string{"clamp", "M10x1.25", "--class", "10.9", "--torque", "30 Nm", "--turn", "90°", "--grip", "112 mm", "--bench", "dry", "--into", "cast aluminium", "--engagement", "8 mm", "--json"}},
		{"clamp", []string{"clamp", "M8", "--class", "12.9", "--stretch", "0.12 mm", "--grip", "50 mm", "--json"}},
		{"clamp-procedure", []string{"clamp", "--procedure", "head-torque-turn", "--compare", "--json"}},
		{"clamp-procedure", []string{"clamp", "--procedure", "crankcase-open", "--compare", "--json"}},
		{"wrenches", []string{"wrenches", "--json"}},
		{"wrenches-procedure", []string{"wrenches", "crankcase-close", "--json"}},
		{"records", []string{"records", "--json"}},
		{"records", []string{"records", "--json", "--records", demo}},
		{"verify", []string{"verify", "last", "nothing", "--json", "--records", demo}},
		{"compare", []string{"compare", "last", "--json", "--records", demo}},
		{"engines", []string{"engine", "--json"}},
		{"engines", []string{"engine", "--json", "--records", demo}},
		{"engine", []string{"engine", demoTag, "--json", "--records", demo}},
		{"parts", []string{"parts", "--json"}},
		{"parts", []string{"parts", "--json", "--records", demo}},
	} {
		tried[c.schema] = true
		validate(t, c.schema, run(c.args...), c.args)
	}
	for _, name := range recordFiles(t, demo) {
		tried["show"] = true
		validate(t, "show", run("show", name, "--json", "--records", demo), []string{"show", name})
		validate(t, "compare", run("compare", name, "last", "--json", "--records", demo), []string{"compare", name})
	}
	for _, name := range (&app{Env: Env{In: strings.NewReader("")}}).procedureNames() {
		tried["plan"] = true
		validate(t, "plan", run("plan", name, "--json"), []string{"plan", name})
		tried["plan-ready"] = true
		validate(t, "plan-ready", run("plan", name, "--ready", "--json"), []string{"plan", name, "--ready"})
	}
	for name := range written {
		if !tried[name] {
			t.Errorf("nothing was tried of %s", name)
		}
	}
}

func writeDrawer(t *testing.T, dir string) {
	t.Helper()
	const drawer = "format = 1\n[[wrench]]\nname = \"small click\"\ntype = \"II A\"\nunit = \"N·m\"\nrange = \"5 N·m to 25 N·m\"\ngraduation = \"0.5 N·m\"\n[[adapter]]\nname = \"crowfoot\"\nlength = \"50 mm\"\n"
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, drawerName), []byte(drawer), 0o600); err != nil {
		t.Fatal(err)
	}
}

func recordFiles(t *testing.T, dir string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.jsonl"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no records in %s: %v", dir, err)
	}
	return files
}

func validate(t *testing.T, name string, output []byte, args []string) {
	t.Helper()
	var s jsonschema.Schema
	if err := json.Unmarshal([]byte(schemaTexts()[name]), &s); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	r, err := s.Resolve(nil)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var value any
	if err := json.Unmarshal(output, &value); err != nil {
		t.Fatalf("%q: %v", args, err)
	}
	if err := r.Validate(value); err != nil {
		t.Errorf("%q: %v", args, err)
	}
}
