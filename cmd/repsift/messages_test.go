package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Every question that recognition can ask stands in the story of every error, or
// in the tests and exports of ingest beside the file that it is asked of.
func TestStoryShowsEveryQuestion(t *testing.T) {
	shown := ""
	exports, err := filepath.Glob("../../ingest/testdata/exports/*.txtar")
	if err != nil || len(exports) == 0 {
		t.Fatal("no exports", err)
	}
	for _, file := range append(exports, "../../testdata/stories/every-error.txtar", "../../ingest/shapes_test.go") {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		shown += strings.Join(strings.Fields(strings.ReplaceAll(strings.ReplaceAll(string(text), `""`, `"`), `\"`, `"`)), " ")
	}
	files, err := filepath.Glob("../../ingest/source/*.go")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, file := range files {
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range questions(tree) {
			seen++
			parts := regexp.MustCompile(`%[a-z]`).Split(m, -1)
			for i := range parts {
				parts[i] = regexp.QuoteMeta(strings.Join(strings.Fields(" "+parts[i]+" "), " "))
			}
			if !regexp.MustCompile(strings.Join(parts, ".*")).MatchString(shown) {
				t.Errorf("%s: %q is in no story", filepath.Base(file), m)
			}
		}
	}
	if seen < 12 {
		t.Errorf("only %d questions found in the code: the search is broken", seen)
	}
}

// questions returns the texts and formats of problems in a file: those of an Ask,
// of ask and of warn.
func questions(tree *ast.File) (out []string) {
	add := func(e ast.Expr) {
		if c, ok := e.(*ast.CallExpr); ok && len(c.Args) > 0 { // Sprintf
			e = c.Args[0]
		}
		if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if s, err := strconv.Unquote(lit.Value); err == nil && strings.Contains(s, " ") {
				out = append(out, s)
			}
		}
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.KeyValueExpr:
			if key, ok := n.Key.(*ast.Ident); ok && key.Name == "Problem" {
				add(n.Value)
			}
		case *ast.AssignStmt:
			if sel, ok := n.Lhs[0].(*ast.SelectorExpr); ok && sel.Sel.Name == "Problem" && n.Tok == token.ASSIGN {
				add(n.Rhs[0])
			}
		case *ast.CallExpr:
			sel, ok := n.Fun.(*ast.SelectorExpr)
			switch {
			case !ok:
			case sel.Sel.Name == "ask" && len(n.Args) > 1:
				add(n.Args[1])
			case sel.Sel.Name == "warn" && len(n.Args) > 0:
				add(n.Args[0])
			}
		}
		return true
	})
	return out
}
