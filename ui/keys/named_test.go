package keys

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// A text that names a key by hand goes on naming it when the key is another.
var namesKey = regexp.MustCompile(`(^|[ (])(esc|tab|enter|Enter|ctrl.[a-z]|[Pp]age [Dd]own|shift.tab)([ ,;:.]|$).*[a-z]|(^|[ :;,(])[a-zA-Z?] (closes|shows|lists|gives|takes back|seals|stops|keeps|says|goes on|for (yes|no)|adds)\b`)

// handWritten gives the texts of a file that name a key although no binding does.
func handWritten(t *testing.T, path string, src any) (list []string) {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), path, src, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			if on, ok := n.Fun.(*ast.SelectorExpr); ok {
				if pkg, ok := on.X.(*ast.Ident); ok && pkg.Name == "keys" {
					return false // a binding
				}
			}
		case *ast.BasicLit:
			if text, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING && namesKey.MatchString(text) {
				list = append(list, text)
			}
		}
		return true
	})
	return list
}

func TestNoTextNamesAKeyByHand(t *testing.T) {
	for _, src := range []string{`"Enter shows them."`, `"esc, or go on"`, `"tab adds " + unit`, `"d closes the walk"`, `"all done: d closes it"`, `"n for no, and why"`, `"; ? lists the keys"`} {
		if handWritten(t, "x.go", "package x\nvar _ = "+src) == nil {
			t.Errorf("%s is not noticed", src)
		}
	}
	for _, src := range []string{`keys.New("esc shows all", "d closes it")`, `"a tab-washer"`, `"M7: stripped"`, `"enter"`, `"keep a note"`} {
		if list := handWritten(t, "x.go", "package x\nvar _ = "+src); list != nil {
			t.Errorf("%s is noticed", src)
		}
	}
	files := 0
	for _, screen := range strings.Fields("stand start review renew convert entry things question page estimate scroll program fit words ask") {
		paths, err := filepath.Glob(filepath.Join("..", screen, "*.go"))
		if err != nil || len(paths) == 0 {
			t.Fatalf("%s: %v", screen, err)
		}
		for _, path := range paths {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			files++
			for _, text := range handWritten(t, path, nil) {
				t.Errorf("%s: %q names a key; take it from its binding", path, text)
			}
		}
	}
	if files < 40 {
		t.Errorf("only %d files were looked at", files)
	}
}
