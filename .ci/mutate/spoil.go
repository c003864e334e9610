package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strings"
)

// mutant is a file spoiled in one place: text[from:to] becomes with.
type mutant struct {
	path     string
	line     int
	from, to int
	with     string
	text     []byte // of the file unspoiled
}

// spoiled is the text of the file with the one place changed.
func (m mutant) spoiled() []byte {
	return slices.Concat(m.text[:m.from], []byte(m.with), m.text[m.to:])
}

// String gives the place and the line before and after.
func (m mutant) String() string {
	start := bytes.LastIndexByte(m.text[:m.from], '\n') + 1
	end := len(m.text)
	if n := bytes.IndexByte(m.text[m.to:], '\n'); n >= 0 {
		end = m.to + n
	}
	before := strings.TrimSpace(string(m.text[start:end]))
	after := strings.TrimSpace(string(m.text[start:m.from]) + m.with + string(m.text[m.to:end]))
	short := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	return fmt.Sprintf("%s:%d\n  - %s\n  + %s\n", m.path, m.line, short(before), short(after))
}

// turned gives for each operator the one it is changed into.
var turned = map[token.Token]string{
	token.EQL: "!=", token.NEQ: "==", token.LSS: "<=", token.LEQ: "<", token.GTR: ">=", token.GEQ: ">",
	token.LAND: "||", token.LOR: "&&", token.ADD: "-", token.SUB: "+", token.MUL: "/", token.QUO: "*",
}

// spoil lists all places of a file that can be spoiled, in their order.
func spoil(path string, text []byte) ([]mutant, error) {
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, path, text, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	s := spoiler{path: path, text: text, files: files}
	ast.Inspect(file, s.visit)
	slices.SortStableFunc(s.found, func(a, b mutant) int { return a.from - b.from })
	return s.found, nil
}

type spoiler struct {
	path  string
	text  []byte
	files *token.FileSet
	found []mutant
}

func (s *spoiler) change(from, to token.Pos, with string) {
	at := s.files.Position(from)
	s.found = append(s.found, mutant{s.path, at.Line, at.Offset, s.files.Position(to).Offset, with, s.text})
}

func (s *spoiler) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ImportSpec:
		return false
	case *ast.BinaryExpr:
		if with, ok := turned[n.Op]; ok && !(n.Op == token.ADD && (isText(n.X) || isText(n.Y))) {
			s.change(n.OpPos, n.OpPos+token.Pos(len(n.Op.String())), with)
		}
	case *ast.IfStmt:
		s.negate(n.Cond)
	case *ast.ForStmt:
		s.negate(n.Cond)
	case *ast.BasicLit:
		if n.Kind == token.INT || n.Kind == token.FLOAT {
			s.change(n.Pos(), n.End(), "("+n.Value+" + 1)")
		}
	case *ast.Ident:
		if n.Name == "true" || n.Name == "false" {
			s.change(n.Pos(), n.End(), "!"+n.Name)
		}
	case *ast.BlockStmt:
		s.statements(n.List)
	case *ast.CaseClause:
		s.statements(n.Body)
	case *ast.CommClause:
		s.statements(n.Body)
	}
	return true
}

// negate turns a condition over; comparisons are turned by their operators.
func (s *spoiler) negate(cond ast.Expr) {
	if cond == nil {
		return
	}
	if b, ok := cond.(*ast.BinaryExpr); ok && (b.Op == token.EQL || b.Op == token.NEQ) {
		return
	}
	s.change(cond.Pos(), cond.End(), "!("+string(s.text[s.files.Position(cond.Pos()).Offset:s.files.Position(cond.End()).Offset])+")")
}

// statements leaves out one statement after the other: what is assigned, called
// or put off, a break and a return. It stays in the text, so that all that it
// uses is still used.
func (s *spoiler) statements(list []ast.Stmt) {
	for _, stmt := range list {
		switch stmt := stmt.(type) {
		case *ast.AssignStmt:
			if stmt.Tok == token.DEFINE {
				continue
			}
		case *ast.ExprStmt:
			if call, ok := stmt.X.(*ast.CallExpr); !ok || calls(call, "panic") {
				continue
			}
		case *ast.IncDecStmt, *ast.DeferStmt, *ast.BranchStmt, *ast.ReturnStmt:
		default:
			continue
		}
		s.change(stmt.Pos(), stmt.Pos(), "if false { ")
		last := &s.found[len(s.found)-1]
		last.to = s.files.Position(stmt.End()).Offset
		last.with += string(s.text[last.from:last.to]) + " }"
	}
}

func calls(c *ast.CallExpr, name string) bool {
	id, ok := c.Fun.(*ast.Ident)
	return ok && id.Name == name
}

// isText reports whether an expression has a string in it: text is joined with
// +, and cannot be taken away.
func isText(e ast.Expr) bool {
	found := false
	ast.Inspect(e, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			found = true
		}
		return !found
	})
	return found
}
