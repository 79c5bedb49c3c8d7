package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"
)

// stages are the arrows of the design: a package may import packages of its
// own stage and of those below, never above.
var stages = []string{"ingest", "clean", "profile", "report", "cmd"}

// leaves may import nothing of the project but what is named.
var leaves = map[string][]string{
	"ingest/rep":       {},
	"ingest/unit":      {},
	"ingest/number":    {"ingest/unit"},
	"ingest/date":      {"ingest/rep"},
	"ingest/shorthand": {"ingest/unit"},
	"ingest/letter":    {},
	"ingest/spelling":  {"ingest/letter"},
	"ingest/season":    {"ingest/rep", "ingest/season/located", "ingest/spelling", "ingest/unit"},
	"ingest/bar":       {},

	"ingest/season/located": {},
	"ingest/shelf":          {"ingest/rep"},
	"ingest/kept":           {},
	"ingest/trace":          {"ingest/bar", "ingest/rep", "ingest/trace/clock", "ingest/trace/fit", "ingest/trace/lowpass"},
	"ingest/trace/clock":    {"ingest/rep"},
	"ingest/trace/fit":      {},
	"ingest/trace/lowpass":  {},
	"clean/robust":          {},
	"clean/usual":           {"clean/robust"},
	"report/ahead":          {},
	"report/tidy/columnar":  {"ingest/rep", "report/ahead"},
}

// homes says where a library may be imported: in the named folders and those
// below them. A library that is not here has not earned its place.
var homes = map[string][]string{
	"github.com/xuri/excelize/v2":      {"ingest/table", "report/book"},
	"github.com/parquet-go/parquet-go": {"report/tidy"},
	"github.com/gocarina/gocsv":        {"report/tidy"},
	"github.com/klauspost/compress":    {"report/tidy/columnar", "ingest/kept"},
	"github.com/pelletier/go-toml/v2":  {"ingest/season/located"},
	"github.com/spf13/pflag":           {"cmd"},
	"gonum.org/v1/gonum":               {"clean/robust", "profile"},
	"gonum.org/v1/plot":                {"report/chart"},
	"golang.org/x/text":                {"ingest", "report"},
	"golang.org/x/term":                {"cmd"},
	"golang.org/x/sys":                 {"report"},
}

func TestArrows(t *testing.T) {
	const root = "../.."
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && (name == "testdata" || name == "calibrate" || name == "simulate" || strings.HasPrefix(name, ".") && name != ".." && file != root) {
			return filepath.SkipDir // build-ignored programs import what they measure
		}
		if d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		rel, _ := filepath.Rel(root, file)
		pkg := path.Dir(filepath.ToSlash(rel))
		src, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, im := range src.Imports {
			to := strings.Trim(im.Path.Value, `"`)
			if reason := refused(pkg, to); reason != "" {
				t.Errorf("%s imports %s: %s", rel, to, reason)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// refused returns why pkg may not import to; empty where it may.
func refused(pkg, to string) string {
	if inside, ok := strings.CutPrefix(to, "repsift/"); ok {
		if allowed, leaf := leaves[pkg]; leaf && !contains(allowed, inside) {
			return "it is a leaf"
		}
		if stage(inside) > stage(pkg) {
			return "arrows run cmd → report → profile → clean → ingest"
		}
		return ""
	}
	if first, _, _ := strings.Cut(to, "/"); !strings.Contains(first, ".") {
		return "" // standard library
	}
	for lib, folders := range homes {
		if to != lib && !strings.HasPrefix(to, lib+"/") {
			continue
		}
		for _, f := range folders {
			if pkg == f || strings.HasPrefix(pkg, f+"/") {
				return ""
			}
		}
		return "the library is used in " + strings.Join(folders, ", ") + " only"
	}
	return "the library is not on the list"
}

func stage(pkg string) int {
	first, _, _ := strings.Cut(pkg, "/")
	for i, s := range stages {
		if s == first {
			return i
		}
	}
	return len(stages)
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// The owner's list of what may stand at the top of the project.
func TestTopLevel(t *testing.T) {
	allowed := "cmd ingest clean profile report testdata README.md DEVELOPERS.md go.mod go.sum"
	entries, err := os.ReadDir("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !contains(strings.Fields(allowed), e.Name()) {
			t.Errorf("%s does not belong at the top level", e.Name())
		}
	}
}
