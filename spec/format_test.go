package spec

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// keysAsked are the keys that the reader of procedures asks for.
func keysAsked(t *testing.T) map[string]bool {
	t.Helper()
	asks := regexp.MustCompile(`t\.(?:str|must|choice|flag|count|texts|length|duration|limit|get|tables|material)\("([a-z_]+)"`)
	keys := map[string]bool{}
	for _, file := range []string{"read.go", "passes.go", "steps.go", "extras.go", "measured.go", "cover.go"} {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range asks.FindAllStringSubmatch(string(source), -1) {
			keys[m[1]] = true
		}
	}
	return keys
}

// Every key the reader asks for is on the page that describes the format.
func TestFormatPageNamesEveryKey(t *testing.T) {
	page, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	keys := keysAsked(t)
	if len(keys) < 40 {
		t.Fatalf("only %d keys found in the reader", len(keys))
	}
	for key := range keys {
		if !strings.Contains(string(page), "`"+key) {
			t.Errorf("FORMAT.md does not name %s", key)
		}
	}
}
