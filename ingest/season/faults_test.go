package season

import (
	"errors"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"repsift/ingest/season/located"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const faultsFile = "testdata/faults.txtar"

// Every message of a season file, side by side: each NAME.toml is followed by
// what reading says of it.
func TestFaults(t *testing.T) {
	a, err := txtar.ParseFile(faultsFile)
	if err != nil {
		t.Fatal(err)
	}
	var out []txtar.File
	for i, f := range a.Files {
		name, isSeason := strings.CutSuffix(f.Name, ".toml")
		if !isSeason {
			continue
		}
		_, err := Read("season.toml", strings.NewReader(string(f.Data)))
		got := ""
		if err != nil {
			got = err.Error() + "\n"
		}
		out = append(out, f, txtar.File{Name: name + ".said", Data: []byte(got)})
		if *update {
			continue
		}
		if i+1 == len(a.Files) || a.Files[i+1].Name != name+".said" {
			t.Errorf("%s has no %s.said; run with -update", f.Name, name)
		} else if want := string(a.Files[i+1].Data); got != want {
			t.Errorf("%s: got\n%swant\n%s", f.Name, got, want)
		}
		var faults *Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: no faults are told", f.Name)
		}
	}
	if *update {
		if err := os.WriteFile(faultsFile, txtar.Format(&txtar.Archive{Comment: a.Comment, Files: out}), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// Every message that the code can write about a file's content stands in the
// golden file, so that all can be read side by side.
func TestFaultsShowsEveryMessage(t *testing.T) {
	golden, err := os.ReadFile(faultsFile)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	below, err := filepath.Glob("located/*.go")
	if err != nil || len(below) == 0 {
		t.Fatal("no files of package located", err)
	}
	files = append(files, below...)
	seen := 0
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		for _, m := range messages(t, file) {
			seen++
			if !shown(m, string(golden)) {
				t.Errorf("%s: %q is in no case of %s", file, m, faultsFile)
			}
		}
	}
	if seen < 50 {
		t.Errorf("only %d messages found in the code: the search is broken", seen)
	}
}

// messages returns the formats of faults in a file.
func messages(t *testing.T, file string) []string {
	tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	add := func(e ast.Expr) {
		if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if s, err := strconv.Unquote(lit.Value); err == nil && s != "%s" {
				out = append(out, s)
			}
		}
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			name := ""
			switch f := n.Fun.(type) {
			case *ast.SelectorExpr:
				name = f.Sel.Name
			case *ast.Ident:
				name = f.Name
			}
			switch {
			case name == "At" && len(n.Args) > 1:
				add(n.Args[1])
			case name == "Fault" && len(n.Args) > 2:
				add(n.Args[2])
			}
		case *ast.FuncDecl:
			if n.Name.Name == "patternProblem" {
				ast.Inspect(n, func(m ast.Node) bool {
					if r, ok := m.(*ast.ReturnStmt); ok {
						add(r.Results[0])
						if c, ok := r.Results[0].(*ast.CallExpr); ok {
							add(c.Args[0])
						}
					}
					return true
				})
			}
			if n.Name.Name == "ParseNameParts" {
				ast.Inspect(n, func(m ast.Node) bool {
					if c, ok := m.(*ast.CallExpr); ok {
						if f, ok := c.Fun.(*ast.SelectorExpr); ok && f.Sel.Name == "Errorf" {
							add(c.Args[0])
						}
					}
					return true
				})
			}
		case *ast.ValueSpec:
			if n.Names[0].Name == "slipsOfSyntax" {
				for _, row := range n.Values[0].(*ast.CompositeLit).Elts {
					add(row.(*ast.CompositeLit).Elts[1])
				}
			}
		}
		return true
	})
	return slices.DeleteFunc(out, func(s string) bool { return s == "" })
}

var verb = regexp.MustCompile(`%[a-z]`)

// shown reports whether a format was used in a text.
func shown(format, text string) bool {
	parts := verb.Split(format, -1)
	for i := range parts {
		parts[i] = regexp.QuoteMeta(parts[i])
	}
	return regexp.MustCompile(strings.Join(parts, ".+")).MatchString(text)
}

// Faults of the file as a whole.
func TestFaultsOfTheWhole(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{strings.Repeat("# long\n", maxSize/7+1), "season.toml: larger than 1 MiB; this is no season file"},
		{"\xff\xfes\x00e\x00", "season.toml: not UTF-8 text; save the season file as UTF-8"},
		{"season = \"a\x00\"", "season.toml: not UTF-8 text; save the season file as UTF-8"},
	} {
		if _, err := Read("season.toml", strings.NewReader(c.text)); err == nil || err.Error() != c.want {
			t.Errorf("%.20q: got %v, want %s", c.text, err, c.want)
		}
	}
	if _, err := Read("season.toml", failing{}); err == nil || err.Error() != "season.toml: the disk is gone" {
		t.Errorf("got %v", err)
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errors.New("the disk is gone") }

// A table of speeds that was named season.toml by mistake, and brackets
// without end, are told briefly and soon.
func TestFaultsStop(t *testing.T) {
	for name, text := range map[string]string{
		"csv":      strings.Repeat("2026-01-05;Ines;140;0,41\n", 20000),
		"brackets": "a = " + strings.Repeat("[", 1<<19),
		"braces":   "a = " + strings.Repeat("{a=", 1<<17),
		"deep":     "a = " + strings.Repeat("[", 500) + strings.Repeat("]", 500),
		"headings": strings.Repeat("[[source]\n", 50000),
		"keys":     manyKeys(),
		"names":    manyNames(),
	} {
		_, err := Read("season.toml", strings.NewReader(text))
		var f *Faults
		if !errors.As(err, &f) || len(f.List) > located.MaxFaults || len(err.Error()) > 20000 {
			t.Errorf("%s: %.300v", name, err)
		}
	}
}

func manyKeys() string {
	var b strings.Builder
	for i := range 90000 {
		fmt.Fprintf(&b, "a%d = 1\n", i)
	}
	return b.String()
}

// manyNames has thousands of lifters and as many setups that name others.
func manyNames() string {
	var b strings.Builder
	for i := range 12000 {
		fmt.Fprintf(&b, "[[lifter]]\nname = \"Ä%d\"\n[[setup]]\nlifters = [\"Person %d\"]\n", i, i)
	}
	return b.String()
}
