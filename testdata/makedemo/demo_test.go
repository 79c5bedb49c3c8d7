package main

import (
	"bytes"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// The files that are checked in are what the program writes, to the byte.
func TestCheckedIn(t *testing.T) {
	d, err := makeDemo()
	if err != nil {
		t.Fatal(err)
	}
	files := d.files()
	for name, want := range files {
		got, err := os.ReadFile(filepath.Join("..", filepath.FromSlash(name)))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("testdata/%s is not what makedemo writes (%v); run go run ./testdata/makedemo", name, err)
		}
	}
	err = filepath.WalkDir("../demo", func(path string, e os.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			rel, _ := filepath.Rel("..", path)
			if _, ok := files[filepath.ToSlash(rel)]; !ok {
				t.Errorf("%s is not a file of the demo", rel)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The truth names every line of every text and every row of every sheet, and
// no other; of a trace all but the samples.
func TestTruthIsComplete(t *testing.T) {
	d, err := makeDemo()
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(bytes.NewReader(d.truthCSV()))
	told := make(map[string]map[string]bool) // source and sheet → rows
	if _, err := r.Read(); err != nil {
		t.Fatal(err)
	}
	for {
		line, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		key := line[0] + "[" + line[1] + "]"
		if told[key] == nil {
			told[key] = make(map[string]bool)
		}
		told[key][line[2]] = true
	}
	for _, name := range sortedKeys(d.out) {
		if name == "season.toml" || strings.HasPrefix(name, "traces/") {
			continue
		}
		rows := map[string]int{name + "[]": bytes.Count(d.out[name], []byte("\n"))}
		if strings.HasSuffix(name, ".xlsx") {
			rows = sheetRows(t, d.out[name], name)
		}
		for _, key := range sortedKeys(rows) {
			if len(told[key]) != rows[key] {
				t.Errorf("%s has %d rows, the truth tells of %d", key, rows[key], len(told[key]))
			}
		}
	}
}

func sheetRows(t *testing.T, content []byte, name string) map[string]int {
	f, err := excelize.OpenReader(bytes.NewReader(content))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows := make(map[string]int)
	for _, sheet := range f.GetSheetList() {
		all, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		rows[name+"["+sheet+"]"] = len(all)
	}
	return rows
}

// A fate for every rep and note, and a filter where a rep is set aside.
func TestTruthIsWhole(t *testing.T) {
	d, err := makeDemo()
	if err != nil {
		t.Fatal(err)
	}
	places := make(map[place]bool)
	for _, tr := range d.truths {
		places[tr.place] = true
	}
	for _, tr := range d.truths {
		switch tr.what {
		case isRep:
			if (tr.fate == setAside) != (tr.filter != "") || tr.of == nil || tr.mean <= 0 {
				t.Errorf("%v: %+v", tr.place, tr)
			}
		case isNote:
			if !slices.Contains([]string{joined, alone}, tr.fate) || (tr.fate == joined) != places[tr.belongs] {
				t.Errorf("%v: %+v", tr.place, tr)
			}
		}
		if copied := tr.filter == byDuplicate || tr.filter == bySecondDevice; copied && !places[tr.belongs] {
			t.Errorf("%v is a copy of nothing", tr.place)
		}
	}
}
