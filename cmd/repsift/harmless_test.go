package main

import (
	"archive/zip"
	"encoding/csv"
	"encoding/json"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"repsift/ingest/rep"
)

// mark stands in every text that a hostile input would have run.
const mark = "pwned"

// ledgerOf reads the ledger of an output folder.
func ledgerOf(t *testing.T, out string) []rep.Ledger {
	t.Helper()
	var run struct{ Sources []rep.Ledger }
	b, err := os.ReadFile(filepath.Join(out, "run.json"))
	must(t, err)
	must(t, json.Unmarshal(b, &run))
	return run.Sources
}

// harmless fails where a file of an output folder would run something that an
// input brought along: script in a page, a formula in a table, a link.
func harmless(t *testing.T, out string) {
	t.Helper()
	err := filepath.WalkDir(out, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		switch filepath.Ext(name) {
		case ".html":
			harmlessPage(t, name, string(b))
		case ".md": // viewers of Markdown pass tags on
			harmlessPage(t, name, string(b))
		case ".csv":
			harmlessCSV(t, name, string(b))
		case ".xlsx":
			harmlessBook(t, name)
		case ".json":
			if !json.Valid(b) {
				t.Errorf("%s is not JSON", name)
			}
		}
		return nil
	})
	must(t, err)
}

func harmlessPage(t *testing.T, name, page string) {
	t.Helper()
	z := html.NewTokenizer(strings.NewReader(page))
	inside := ""
	for {
		switch z.Next() {
		case html.ErrorToken:
			return
		case html.TextToken:
			if raw := string(z.Raw()); (inside == "script" || inside == "style") && strings.Contains(raw, mark) {
				t.Errorf("%s: inside <%s>: %.80q", name, inside, raw)
			}
		case html.CommentToken:
			if strings.Contains(string(z.Raw()), mark) {
				t.Errorf("%s: in a remark: %.80q", name, z.Raw())
			}
		case html.StartTagToken, html.SelfClosingTagToken:
			tag := z.Token()
			inside = tag.Data
			if contains([]string{"iframe", "object", "embed", "base", "form"}, tag.Data) {
				t.Errorf("%s: %s", name, tag)
			}
			for _, a := range tag.Attr {
				value := strings.ToLower(strings.TrimSpace(a.Val))
				switch {
				case strings.HasPrefix(a.Key, "on"), strings.Contains(a.Key, mark),
					(a.Key == "style" || a.Key == "src") && strings.Contains(a.Val, mark),
					a.Key == "href" && (strings.HasPrefix(value, "javascript:") || strings.HasPrefix(value, "data:")):
					t.Errorf("%s: %s", name, tag)
				}
			}
		case html.EndTagToken:
			inside = ""
		}
	}
}

func harmlessCSV(t *testing.T, name, text string) {
	t.Helper()
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	must(t, err)
	for _, row := range rows {
		for _, cell := range row {
			if _, err := strconv.ParseFloat(cell, 64); err == nil {
				continue
			}
			for _, sign := range "=+-@\t\r＝＋－＠" {
				if strings.HasPrefix(cell, string(sign)) {
					t.Errorf("%s: the cell %.80q", name, cell)
				}
			}
		}
	}
}

// inSheet is a range of a sheet, whatever the sheet is called.
var inSheet = regexp.MustCompile(`^'([^']|'')*'!\$[A-Z]+\$\d+(:\$[A-Z]+\$\d+)?$`)

func harmlessBook(t *testing.T, name string) {
	t.Helper()
	z, err := zip.OpenReader(name)
	must(t, err)
	defer z.Close()
	for _, f := range z.File {
		r, err := f.Open()
		must(t, err)
		b, err := io.ReadAll(r)
		must(t, err)
		r.Close()
		for chunk := range strings.SplitSeq(string(b), "<f") {
			formula, _, ok := strings.Cut(chunk, "</f>")
			formula = html.UnescapeString(strings.TrimPrefix(formula, ">"))
			if ok && strings.Contains(formula, mark) && !inSheet.MatchString(formula) {
				t.Errorf("%s, %s: the formula %.80q", name, f.Name, formula)
			}
		}
		if strings.HasSuffix(f.Name, ".rels") && strings.Contains(string(b), mark) {
			t.Errorf("%s, %s: a link", name, f.Name)
		}
	}
}
