package read

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// keysAsked are the keys that the reader of procedures asks for.
func keysAsked(t *testing.T) map[string]bool {
	t.Helper()
	asks := regexp.MustCompile(`t\.(?:str|must|choice|flag|count|texts|length|duration|limit|get|tables|list|material)\("([a-z_]+)"|b\.listOf\(t, "([a-z_]+)"`)
	keys := map[string]bool{}
	files, _ := filepath.Glob("*.go")
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") || file == "drawer.go" { // a drawer of wrenches has keys of its own
			continue
		}
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range asks.FindAllStringSubmatch(string(source), -1) {
			keys[m[1]+m[2]] = true
		}
	}
	return keys
}

// Every key the reader asks for is on the page that describes the format.
func TestFormatPageNamesEveryKey(t *testing.T) {
	page, err := os.ReadFile("../FORMAT.md")
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
