package pack

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/tidy"
)

func result() *clean.Result {
	t := new(rep.Table)
	for i := range 6 {
		q := rep.Rep{Lifter: "=Ines, \"D\"", Date: 20600, Lift: "squat", LoadKg: 102.05828325, MeanVelocity: 0.5, Source: "a.csv", Row: int32(i + 2),
			Session: 1, Set: 1, Rep: int32(i + 1), Role: rep.Top}
		if i%2 == 0 {
			q.PerformedAt, q.RPE, q.RPEFrom = rep.Some(rep.Instant(1769875500123)), rep.Some(8.5), rep.RPEExport
			q.Flags = q.Flags.With(rep.LoadCheck).With(rep.FlexAllowance)
		}
		t.Append(&q)
	}
	return &clean.Result{Reps: t, Kept: []int32{0, 1, 2, 3, 4}, Aside: []clean.Aside{{Row: 5, Filter: rep.ShortTravel, Reason: "short", Limit: rep.Some(0.1)}},
		Sets: rep.NewSets(rep.Set{Lifter: "Ines", Date: 20600, Lift: "squat", Reps: 5, Source: "a.csv", Row: 2, Role: rep.Top},
			rep.Set{Lifter: "Ines", Date: 20600, Lift: "squat", Source: "b.xlsx", Row: 2}),
		Unread: []rep.Unread{{Lost: rep.LostCell, Place: rep.Place{Source: "a.csv", Row: 9}, Text: "12O", Problem: "is not a number"}},
		Ledger: []rep.Ledger{{Source: "a.csv", SHA256: "ab", Rows: 8, RepRows: 6, Unread: 1, NotData: 1, Reps: 6, Kept: 5, SetAside: 1},
			{Source: "log|<b>.csv", Rows: 1, SetNotes: 1, Alone: 1}},
		Filters: []clean.InForce{{Kind: rep.ShortTravel, Where: "everywhere", Sentence: "Sets aside | what is short.",
			Limits: []clean.Limit{{Name: "floor_m", Lift: "squat", Value: 0.1, Source: "common practice, no source"}, {Name: "most_m", Value: math.Inf(1)}}, SetAside: 1}},
		Doubts: []clean.Doubt{{Lifter: "Ines", Text: "4 or 5?", Places: []rep.Place{{Source: "a.csv", Row: 3}}}},
	}
}

// sample returns a run and the files it names.
func sample(t *testing.T) (*Run, map[string][]byte) {
	t.Helper()
	res := result()
	files := map[string][]byte{"season.xlsx": nil, "profiles/Ines.html": nil, "profiles.json": nil, "README.md": nil}
	for name, write := range map[string]func(*bytes.Buffer) error{
		"reps.csv":          func(b *bytes.Buffer) error { return tidy.RepsCSV(b, res.Reps, res.Kept) },
		"set_aside.csv":     func(b *bytes.Buffer) error { return tidy.AsideCSV(b, res.Reps, res.Aside) },
		"sets.csv":          func(b *bytes.Buffer) error { return tidy.SetsCSV(b, &res.Sets) },
		"unread.csv":        func(b *bytes.Buffer) error { return tidy.UnreadCSV(b, res.Unread) },
		"reps.parquet":      func(b *bytes.Buffer) error { return tidy.RepsParquet(b, res.Reps, res.Kept) },
		"set_aside.parquet": func(b *bytes.Buffer) error { return tidy.AsideParquet(b, res.Reps, res.Aside) },
		"sets.parquet":      func(b *bytes.Buffer) error { return tidy.SetsParquet(b, &res.Sets) },
	} {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		files[name] = b.Bytes()
	}
	run := Of(res)
	run.Season, run.Version = "Winter block, harbour gym", "1.2.3"
	run.SeasonFile = &File{"season.toml", 12, "cd"}
	run.Inferred = []Inferred{{"a.csv", "load is in lb: a guess `x`"}}
	for name, b := range files {
		run.Files = append(run.Files, File{name, int64(len(b)), strings.Repeat("0f", 32)})
	}
	slices.SortFunc(run.Files, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	return run, files
}

func written(t *testing.T, write func(*bytes.Buffer) error) []byte {
	t.Helper()
	var a bytes.Buffer
	if err := write(&a); err != nil {
		t.Fatal(err)
	}
	return a.Bytes()
}

// The package keeps the rules of Data Package v2 and Table Schema v2
// (datapackage.org, state of May 2026, restated in the checks below).
func TestDataPackage(t *testing.T) {
	run, files := sample(t)
	b := written(t, func(b *bytes.Buffer) error { return WriteDataPackage(b, run) })
	var p map[string]any
	if err := json.Unmarshal(b, &p); err != nil {
		t.Fatal(err)
	}
	if p["$schema"] != "https://datapackage.org/profiles/2.0/datapackage.json" {
		t.Errorf("$schema is %v: absent or another means version 1", p["$schema"])
	}
	name := regexp.MustCompile(`^[a-z0-9._-]+$`)
	if !name.MatchString(p["name"].(string)) {
		t.Errorf("name %q", p["name"])
	}
	if _, clock := p["created"]; clock {
		t.Error("a clock got in")
	}
	for _, s := range p["sources"].([]any) {
		if s.(map[string]any)["title"] == "" {
			t.Error("a source without a title")
		}
	}
	resources := p["resources"].([]any)
	if len(resources) != len(files) {
		t.Errorf("%d resources for %d files", len(resources), len(files))
	}
	seen := map[string]bool{}
	for _, x := range resources {
		r := x.(map[string]any)
		n, file := r["name"].(string), r["path"].(string)
		if !name.MatchString(n) || seen[n] {
			t.Errorf("resource name %q", n)
		}
		seen[n] = true
		if _, data := r["data"]; data {
			t.Errorf("%s: path and data", n)
		}
		content, known := files[file]
		if !known || path.IsAbs(file) || strings.Contains(file, "..") || strings.Contains(file, `\`) {
			t.Errorf("path %q", file)
		}
		if r["bytes"] != float64(len(content)) || !regexp.MustCompile(`^sha256:[0-9a-f]{64}$`).MatchString(r["hash"].(string)) {
			t.Errorf("%s: %v bytes, hash %v", n, r["bytes"], r["hash"])
		}
		for _, key := range []string{"title", "description", "format", "mediatype"} {
			if r[key] == "" {
				t.Errorf("%s has no %s", n, key)
			}
		}
		table := r["type"] == "table"
		if _, has := r["schema"]; has != table || table != (strings.HasSuffix(file, ".csv") || strings.HasSuffix(file, ".parquet")) {
			t.Errorf("%s: type %v, schema %v", n, r["type"], has)
		}
		if table {
			checkSchema(t, n, r["schema"].(map[string]any))
		}
		if strings.HasSuffix(file, ".csv") {
			checkCSV(t, file, content, r["schema"].(map[string]any))
		}
	}
}

var fieldTypes = strings.Fields("string number integer boolean object array list datetime date time year yearmonth duration geopoint geojson any")

func checkSchema(t *testing.T, name string, s map[string]any) {
	t.Helper()
	fields := s["fields"].([]any)
	seen := map[string]bool{}
	for _, x := range fields {
		f := x.(map[string]any)
		n := f["name"].(string)
		if n == "" || seen[n] {
			t.Errorf("%s: field %q", name, n)
		}
		seen[n] = true
		if !slices.Contains(fieldTypes, f["type"].(string)) {
			t.Errorf("%s: type %v", n, f["type"])
		}
		if f["type"] == "list" && (f["itemType"] != "string" || f["delimiter"] != "; ") {
			t.Errorf("%s: a list of %v, between them %q", n, f["itemType"], f["delimiter"])
		}
		if unit, has := f["unit"]; has && !strings.Contains(f["description"].(string), unit.(string)) {
			t.Errorf("%s: the unit is not in the description", n)
		}
		if c, has := f["constraints"]; has {
			for k := range c.(map[string]any) {
				if !slices.Contains(strings.Fields("required unique pattern enum"), k) {
					t.Errorf("%s: constraint %s", n, k)
				}
			}
		}
	}
	if !reflect.DeepEqual(s["missingValues"], []any{""}) {
		t.Errorf("%s: missing values %v", name, s["missingValues"])
	}
	if key, has := s["primaryKey"]; has {
		for _, k := range key.([]any) {
			if !seen[k.(string)] {
				t.Errorf("%s: key %v is no field", name, k)
			}
		}
	}
}

// checkCSV reads every row of a CSV file by the types and constraints that its
// schema declares.
func checkCSV(t *testing.T, name string, content []byte, s map[string]any) {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(content)).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(rows), err)
	}
	for i, x := range s["fields"].([]any) {
		f := x.(map[string]any)
		if rows[0][i] != f["name"] {
			t.Errorf("%s: column %d is %s, declared %s", name, i, rows[0][i], f["name"])
		}
		c, _ := f["constraints"].(map[string]any)
		seen := map[string]bool{}
		for _, row := range rows[1:] {
			if problem := cellProblem(row[i], f["type"].(string), c); problem != "" {
				t.Errorf("%s, %s: %q %s", name, f["name"], row[i], problem)
			}
			if c["unique"] == true && seen[row[i]] {
				t.Errorf("%s, %s: %q twice", name, f["name"], row[i])
			}
			seen[row[i]] = true
		}
	}
}

func cellProblem(cell, kind string, c map[string]any) string {
	if cell == "" {
		if c["required"] == true {
			return "is missing"
		}
		return ""
	}
	if p, has := c["pattern"]; has && !regexp.MustCompile("^(?:"+p.(string)+")$").MatchString(cell) {
		return "does not match"
	}
	if e, has := c["enum"]; has && !slices.Contains(e.([]any), any(cell)) {
		return "is not one of the declared"
	}
	var err error
	switch kind {
	case "number":
		_, err = strconv.ParseFloat(cell, 64)
	case "integer":
		_, err = strconv.ParseInt(cell, 10, 64)
	case "boolean":
		if cell != "true" && cell != "false" {
			return "is no boolean"
		}
	case "date":
		_, err = time.Parse(time.DateOnly, cell)
	case "datetime":
		_, err = time.Parse("2006-01-02T15:04:05.000Z", cell)
	}
	if err != nil {
		return err.Error()
	}
	return ""
}

// run.json comes back as it went, and says whose folder it is.
func TestRunRoundTrip(t *testing.T) {
	run, _ := sample(t)
	b := written(t, func(b *bytes.Buffer) error { return WriteRun(b, run) })
	back, err := ReadRun(fstest.MapFS{RunFile: {Data: b}})
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(run, back) {
		t.Errorf("got %+v, wants %+v", back, run)
	}
	if want := (Totals{Sources: 2, Rows: 9, RepRows: 6, SetNotes: 1, Unread: 1, NotData: 1, Reps: 6, Kept: 5, SetAside: 1, Alone: 1}); run.Totals != want {
		t.Errorf("totals %+v, wants %+v", run.Totals, want)
	}
	if l := run.Filters[0].Limits; *l[0].Value != 0.1 || l[0].Lift != "squat" || l[1].Value != nil {
		t.Errorf("limits %+v", l)
	}
	for _, text := range []string{"", "{}", `{"format":"repsift run 2"}`, "no json"} {
		if _, err := ReadRun(fstest.MapFS{RunFile: {Data: []byte(text)}}); err == nil {
			t.Errorf("%q passes for a run", text)
		}
	}
	if _, err := ReadRun(fstest.MapFS{}); err == nil {
		t.Error("a folder without a run passes")
	}
}

// The codebook names every file and every column, and nothing from outside is
// markup in it.
func TestCodebook(t *testing.T) {
	run, files := sample(t)
	text := string(written(t, func(b *bytes.Buffer) error { return WriteCodebook(b, run) }))
	for name := range files {
		if path.Dir(name) == "." && !strings.Contains(text, name) {
			t.Errorf("%s is not explained", name)
		}
	}
	for _, table := range [][]rep.Column{rep.Columns, rep.AsideColumns, rep.SetColumns, rep.UnreadColumns} {
		for _, c := range table {
			if !strings.Contains(text, "| `"+c.Name+"` |") {
				t.Errorf("%s is not explained", c.Name)
			}
		}
	}
	for _, want := range []string{"5 kept", "floor\\_m of the squat 0.1", "most\\_m none", `Sets aside \| what is short.`, "a guess 'x'"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in the codebook", want)
		}
	}
	if strings.Contains(text, "<b>") {
		t.Error("markup from outside")
	}
	// A table row has as many cells as its heading.
	cells := 0
	for _, line := range strings.Split(text, "\n") {
		n := strings.Count(strings.ReplaceAll(line, `\|`, ""), "|")
		if cells > 0 && n > 0 && n != cells {
			t.Errorf("%d bars instead of %d: %s", n, cells, line)
		}
		cells = n
	}
}

func TestSlug(t *testing.T) {
	for text, want := range map[string]string{"repsift Winter block, harbour gym": "repsift-winter-block-harbour-gym", "repsift ": "repsift",
		"repsift Käthe": "repsift-k-the", "profiles-Ines Duarte.html": "profiles-ines-duarte.html", "Übung": "bung"} {
		if got := slug(text); got != want {
			t.Errorf("%q became %q, wants %q", text, got, want)
		}
	}
}

// Two lifters whose names become one slug keep two resources.
func TestResourcesNamedApart(t *testing.T) {
	run := Of(&clean.Result{})
	run.Files = []File{{Name: "profiles/李.html"}, {Name: "profiles/娜.html"}}
	b := written(t, func(b *bytes.Buffer) error { return WriteDataPackage(b, run) })
	for i, want := range []string{`"name": "profiles-.html"`, `"name": "profiles-.html-2"`} {
		if !bytes.Contains(b, []byte(want)) {
			t.Errorf("resource %d: no %s in\n%s", i, want, b)
		}
	}
	if !bytes.Equal(b, written(t, func(b *bytes.Buffer) error { return WriteDataPackage(b, run) })) {
		t.Error("two writes differ")
	}
	run.Files = []File{{Name: "x.exe"}}
	if err := WriteDataPackage(new(bytes.Buffer), run); err == nil || !strings.Contains(fmt.Sprint(err), "x.exe") {
		t.Errorf("an unknown file: %v", err)
	}
}
