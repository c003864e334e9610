package read

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/google/jsonschema-go/jsonschema"

	"evenpull/spec"
	"evenpull/spec/clamp"
	"evenpull/spec/measure"
)

// schema is procedure.schema.json, for editors.
func schema(t *testing.T) (*jsonschema.Schema, *jsonschema.Resolved) {
	t.Helper()
	text, err := os.ReadFile("../procedure.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var s jsonschema.Schema
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	r, err := s.Resolve(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &s, r
}

// asJSON reads a TOML file into what JSON would hold.
func asJSON(t *testing.T, path string) any {
	t.Helper()
	var doc map[string]any
	if _, err := toml.DecodeFile(path, &doc); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	text, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	var value any
	if err := json.Unmarshal(text, &value); err != nil {
		t.Fatal(err)
	}
	return value
}

func TestSchemaAcceptsEveryGoodProcedure(t *testing.T) {
	_, schema := schema(t)
	files, err := filepath.Glob("../../procedures/*.toml")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d bundled files, %v", len(files), err)
	}
	for _, path := range append(files, "../../testdata/bad/plain-good.toml", "../../testdata/bad/warnings-only.toml", "../../testdata/bad/parts-only-good.toml") {
		if err := schema.Validate(asJSON(t, path)); err != nil {
			t.Errorf("%s: %v", path, err)
		}
	}
}

// What a schema can know of, it refuses. These are mistakes of shape; those of
// sense are for check alone.
func TestSchemaRefusesMistakesOfShape(t *testing.T) {
	_, schema := schema(t)
	for _, name := range []string{"misspelt-key", "format-missing", "format-two", "nothing-in-it", "two-actions", "wrong-types", "friction", "each-steps"} {
		if err := schema.Validate(asJSON(t, "../../testdata/bad/"+name+".toml")); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
}

// properties gathers the names of everything a schema describes, apart from the
// tables a person names.
func properties(s *jsonschema.Schema, into map[string]bool) {
	for name, p := range s.Properties {
		into[name] = true
		properties(p, into)
	}
	for _, d := range s.Definitions {
		properties(d, into)
	}
	for _, list := range [][]*jsonschema.Schema{s.AnyOf, s.AllOf, s.OneOf} {
		for _, p := range list {
			properties(p, into)
		}
	}
	if s.Items != nil {
		properties(s.Items, into)
	}
}

func TestSchemaKnowsTheKeysTheReaderKnows(t *testing.T) {
	s, _ := schema(t)
	described := map[string]bool{}
	properties(s, described)
	asked := keysAsked(t)
	for key := range asked {
		if !described[key] {
			t.Errorf("the schema does not know %s", key)
		}
	}
	page, err := os.ReadFile("../FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	for key := range described {
		if !strings.Contains(string(page), "`"+key) && !strings.Contains(string(page), "["+key) {
			t.Errorf("the schema describes %s, which FORMAT.md does not name", key)
		}
	}
}

func TestSchemaListsTheWordsTheReaderTakes(t *testing.T) {
	s, _ := schema(t)
	d := s.Definitions
	for _, c := range []struct {
		what string
		enum []any
		want []string
	}{
		{"kind of part", d["part"].Properties["kind"].Enum, spec.PartKinds},
		{"kind of callout", d["callout"].Properties["kind"].Enum, spec.CalloutKinds},
		{"kind of check", d["check"].Properties["kind"].Enum, measure.Names()},
		{"order", d["pass"].Properties["order"].AnyOf[0].Enum, spec.Orders},
		{"friction", d["group"].Properties["friction"].AnyOf[0].Enum, clamp.FrictionNames()},
	} {
		var words []string
		for _, w := range c.enum {
			words = append(words, w.(string))
		}
		slices.Sort(words)
		if !slices.Equal(words, slices.Sorted(slices.Values(c.want))) {
			t.Errorf("%s: the schema takes %v, the reader %v", c.what, words, c.want)
		}
	}
}
