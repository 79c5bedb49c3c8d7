package tidy

import (
	"bytes"
	"encoding/csv"
	"io"
	"reflect"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/format"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// output is one file of one table.
type output struct {
	name    string
	columns []rep.Column
	write   func(io.Writer, *clean.Result) error
}

var parquetFiles = []output{
	{"reps", rep.Columns, func(w io.Writer, r *clean.Result) error { return RepsParquet(w, r.Reps, r.Kept) }},
	{"set_aside", rep.AsideColumns, func(w io.Writer, r *clean.Result) error { return AsideParquet(w, r.Reps, r.Aside) }},
	{"sets", rep.SetColumns, func(w io.Writer, r *clean.Result) error { return SetsParquet(w, &r.Sets) }},
}

var csvFiles = []output{
	{"reps", rep.Columns, func(w io.Writer, r *clean.Result) error { return RepsCSV(w, r.Reps, r.Kept) }},
	{"set_aside", rep.AsideColumns, func(w io.Writer, r *clean.Result) error { return AsideCSV(w, r.Reps, r.Aside) }},
	{"sets", rep.SetColumns, func(w io.Writer, r *clean.Result) error { return SetsCSV(w, &r.Sets) }},
	{"unread", rep.UnreadColumns, func(w io.Writer, r *clean.Result) error { return UnreadCSV(w, r.Unread) }},
}

func bytesOf(t *testing.T, o output, r *clean.Result) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := o.write(&b, r); err != nil {
		t.Fatalf("%s: %v", o.name, err)
	}
	return b.Bytes()
}

func open(t *testing.T, o output, r *clean.Result) *parquet.File {
	t.Helper()
	b := bytesOf(t, o, r)
	f, err := parquet.OpenFile(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatalf("%s: %v", o.name, err)
	}
	return f
}

// The files have the columns of package rep: name, order, type, null.
func TestParquetColumns(t *testing.T) {
	for _, o := range parquetFiles {
		for _, n := range []int{0, 10} {
			fields := open(t, o, sample(n)).Schema().Fields()
			if len(fields) != len(o.columns) {
				t.Fatalf("%s has %d columns, wants %d", o.name, len(fields), len(o.columns))
			}
			for i, f := range fields {
				want := o.columns[i]
				if f.Name() != want.Name || f.Optional() != want.Null || typeOf(f) != want.Type {
					t.Errorf("%s column %d: %s null %v type %d, wants %+v", o.name, i, f.Name(), f.Optional(), typeOf(f), want)
				}
			}
		}
	}
}

func typeOf(f parquet.Field) rep.Type {
	logical := func() any {
		if l := f.Type().LogicalType(); l != nil {
			return l.Value
		}
		return nil
	}
	if !f.Leaf() {
		if _, ok := logical().(*format.ListType); ok && f.Fields()[0].Fields()[0].Type().Kind() == parquet.ByteArray {
			return rep.StringList
		}
		return 99
	}
	switch l := logical().(type) {
	case *format.DateType:
		return rep.Date
	case *format.StringType:
		return rep.String
	case *format.TimestampType:
		if _, ms := l.Unit.Value.(*format.MilliSeconds); ms && l.IsAdjustedToUTC && f.Type().Kind() == parquet.Int64 {
			return rep.Timestamp
		}
	case nil:
		switch f.Type().Kind() {
		case parquet.Double:
			return rep.Float64
		case parquet.Boolean:
			return rep.Bool
		}
	}
	if f.Type().Kind() == parquet.Int32 {
		return rep.Int32
	}
	return 99
}

// Read back with the library's own row reader, the rows are what went in.
func TestParquetValues(t *testing.T) {
	res := sample(12_000)
	check := func(name string, got, want any) {
		t.Helper()
		g, w := reflect.ValueOf(got), reflect.ValueOf(want)
		if g.Len() != w.Len() {
			t.Fatalf("%s: %d rows, wants %d", name, g.Len(), w.Len())
		}
		for i := range g.Len() {
			if !reflect.DeepEqual(g.Index(i).Interface(), w.Index(i).Interface()) {
				t.Fatalf("%s row %d:\n got %+v\nwant %+v", name, i, g.Index(i), w.Index(i))
			}
		}
	}
	var reps []Rep
	for _, row := range res.Kept {
		r := repOf(res.Reps, row)
		reps = append(reps, r)
	}
	check("reps", read[Rep](t, parquetFiles[0], res, func(r *Rep) { r.Flags = normal(r.Flags) }), reps)
	var aside []Aside
	for i := range res.Aside {
		aside = append(aside, asideOf(res.Reps, &res.Aside[i]))
	}
	check("set_aside", read[Aside](t, parquetFiles[1], res, func(r *Aside) { r.Flags = normal(r.Flags) }), aside)
	var sets []Set
	for _, s := range res.Sets.All() {
		sets = append(sets, setOf(&s))
	}
	check("sets", read[Set](t, parquetFiles[2], res, func(*Set) {}), sets)
	for _, a := range aside {
		if a.Set != nil || a.Number != nil || a.Session != nil || a.Role != "" {
			t.Fatalf("a rep set aside is numbered: %+v", a)
		}
	}
}

// Columns whose values repeat have a dictionary, numbers too; where nearly
// every value is new there is none, and where there is no value at all.
func TestDictionaries(t *testing.T) {
	want := map[string]bool{"rep_id": false, "performed_at": false, "missed": false, "lifter": true, "load_kg": true, "mean_velocity_m_s": true,
		"session_date": true, "row": false, "flags": true, "rpe_from": true, "concentric_recorded_s": false}
	for _, c := range open(t, parquetFiles[0], sample(12_000)).Metadata().RowGroups[0].Columns {
		if has, asked := want[c.MetaData.PathInSchema[0]]; asked && has != (c.MetaData.DictionaryPageOffset > 0) {
			t.Errorf("%s: dictionary %v, wants %v", c.MetaData.PathInSchema[0], !has, has)
		}
	}
}

// A file of many row groups holds the same rows, whatever the number of cores.
func TestRowGroups(t *testing.T) {
	res := sample(3000)
	write := func(cores, rowGroup int) []byte {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		var b bytes.Buffer
		if err := columnar.Write(&b, rep.Columns, drawn{res.Reps, res.Kept}.reps(), 0, len(res.Kept), rowGroup); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	b := write(1, 100)
	if !bytes.Equal(b, write(2, 100)) || !bytes.Equal(b, write(5, 100)) {
		t.Error("the number of cores changes the bytes")
	}
	f, err := parquet.OpenFile(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := len(f.RowGroups()), (len(res.Kept)+99)/100; got != want {
		t.Errorf("%d row groups, wants %d", got, want)
	}
	many, err := parquet.Read[Rep](bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	if one := read(t, parquetFiles[0], res, func(*Rep) {}); !reflect.DeepEqual(many, one) {
		t.Error("many row groups hold other rows than one")
	}
}

// normal makes the two ways to write an empty list one.
func normal(l List) List {
	if len(l) == 0 {
		return nil
	}
	return l
}

func read[T any](t *testing.T, o output, res *clean.Result, fix func(*T)) []T {
	t.Helper()
	b := bytesOf(t, o, res)
	rows, err := parquet.Read[T](bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatalf("%s: %v", o.name, err)
	}
	for i := range rows {
		fix(&rows[i])
	}
	return rows
}

// Texts that are no UTF-8 are made so in both formats.
func TestBrokenText(t *testing.T) {
	sets := rep.NewSets(rep.Set{Lifter: "a\xffb", Lift: "squat", Source: "x.csv"})
	var p, c bytes.Buffer
	if err := SetsParquet(&p, &sets); err != nil {
		t.Fatal(err)
	}
	if err := SetsCSV(&c, &sets); err != nil {
		t.Fatal(err)
	}
	rows, err := parquet.Read[Set](bytes.NewReader(p.Bytes()), int64(p.Len()))
	if err != nil || rows[0].Lifter != "a\uFFFDb" {
		t.Errorf("Parquet has %q, %v", rows[0].Lifter, err)
	}
	if !strings.Contains(c.String(), "a\uFFFDb,") {
		t.Errorf("CSV has %q", c.String())
	}
}

func TestSameBytes(t *testing.T) {
	for _, o := range append(parquetFiles, csvFiles...) {
		if !bytes.Equal(bytesOf(t, o, sample(2000)), bytesOf(t, o, sample(2000))) {
			t.Errorf("%s differs from one write to the next", o.name)
		}
	}
}

// A line of CSV has a cell for each column.
func TestLines(t *testing.T) {
	for _, l := range []struct {
		cells   []any
		columns []rep.Column
	}{
		{new(repLine).cells(), rep.Columns}, {new(asideLine).cells(), rep.AsideColumns},
		{new(setLine).cells(), rep.SetColumns}, {new(unreadLine).cells(), rep.UnreadColumns},
	} {
		if len(l.cells) != len(l.columns) {
			t.Errorf("a line has %d cells for %d columns (csv.go)", len(l.cells), len(l.columns))
		}
	}
}

// RFC 4180: records end in CRLF, fields with CRLF, quote or comma are quoted,
// quotes doubled, every record as long as the heading. Every cell reads as the
// type of its column, and empty only where null is allowed.
func TestCSV(t *testing.T) {
	for _, o := range csvFiles {
		b := bytesOf(t, o, sample(3000))
		if !bytes.HasSuffix(b, []byte("\r\n")) {
			t.Errorf("%s does not end in CRLF", o.name)
		}
		records, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", o.name, err)
		}
		var names []string
		for _, c := range o.columns {
			names = append(names, c.Name)
		}
		if !reflect.DeepEqual(records[0], names) {
			t.Fatalf("%s is headed %q, wants %q", o.name, records[0], names)
		}
		for line, record := range records[1:] {
			for i, cell := range record {
				if problem := mistyped(cell, o.columns[i]); problem != "" {
					t.Fatalf("%s record %d %s: %q %s", o.name, line+1, names[i], cell, problem)
				}
			}
		}
	}
}

func mistyped(cell string, c rep.Column) string {
	if cell == "" {
		if !c.Null && c.Type != rep.StringList {
			return "is empty"
		}
		return ""
	}
	var err error
	switch c.Type {
	case rep.Date:
		_, err = time.Parse(time.DateOnly, cell)
	case rep.Timestamp:
		_, err = time.Parse(time.RFC3339, cell)
		if !strings.HasSuffix(cell, "Z") {
			return "is not in UTC"
		}
	case rep.Int32:
		_, err = strconv.ParseInt(cell, 10, 32)
	case rep.Float64:
		_, err = strconv.ParseFloat(cell, 64)
	case rep.Bool:
		if cell != "true" && cell != "false" {
			return "is no bool"
		}
	case rep.String:
		if strings.ContainsAny(cell[:1], signs+blanks) {
			return "could run as a formula"
		}
	}
	if err != nil {
		return err.Error()
	}
	return ""
}

// Numbers come back exactly, texts after Restore.
func TestCSVValues(t *testing.T) {
	res := sample(1000)
	records, err := csv.NewReader(bytes.NewReader(bytesOf(t, csvFiles[0], res))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, record := range records[1:] {
		r := res.Reps.Rep(res.Kept[i])
		rom, _ := strconv.ParseFloat(record[15], 64)
		switch {
		case record[0] != ID(res.Reps.ID(res.Kept[i])):
			t.Fatalf("rep_id %q", record[0])
		case Restore(record[1]) != r.Lifter:
			t.Fatalf("lifter %q for %q", record[1], r.Lifter)
		case record[2] != r.Date.String():
			t.Fatalf("date %q for %s", record[2], r.Date)
		case (record[15] != "") != r.ROM.OK || rom != r.ROM.V:
			t.Fatalf("rom %q for %v", record[15], r.ROM)
		case record[22] != r.Flags.String():
			t.Fatalf("flags %q for %s", record[22], r.Flags)
		case Restore(record[28]) != strings.ReplaceAll(r.Sheet, "\r\n", "\n"): // as encoding/csv reads it
			t.Fatalf("sheet %q for %q", record[28], r.Sheet)
		}
	}
}
