// Package peers looks at what repsift writes through readers that are not
// ours. It is a module of its own, so that users do not download them.
//
//	go test ./...                      builds repsift and reads the demo season
//	REPSIFT_OUT=DIR go test ./...      reads a folder that tidy --csv wrote
package peers

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/apache/arrow-go/v18/arrow"
	"github.com/apache/arrow-go/v18/arrow/array"
	"github.com/apache/arrow-go/v18/arrow/memory"
	"github.com/apache/arrow-go/v18/parquet"
	"github.com/apache/arrow-go/v18/parquet/file"
	"github.com/apache/arrow-go/v18/parquet/pqarrow"
	"github.com/apache/arrow-go/v18/parquet/schema"
)

// outs are folders that tidy --csv wrote: of the demo season, and of enough
// rows that columns are written in the ways that only long ones are.
var outs []string

func TestMain(m *testing.M) {
	os.Exit(func() int {
		if out := os.Getenv("REPSIFT_OUT"); out != "" {
			outs = []string{out}
			return m.Run()
		}
		dir, err := os.MkdirTemp("", "peers")
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		defer os.RemoveAll(dir)
		outs = []string{filepath.Join(dir, "demo"), filepath.Join(dir, "long")}
		repsift, long := filepath.Join(dir, "repsift"), filepath.Join(dir, "long.csv")
		for _, cmd := range []*exec.Cmd{
			exec.Command("go", "build", "-o", repsift, "./cmd/repsift"),
			exec.Command(repsift, "tidy", "testdata/demo", "--out", outs[0], "--csv", "--quiet"),
			exec.Command("go", "run", "./testdata/bench", "-rows", "20000", "-write", long),
			exec.Command(repsift, "tidy", long, "--out", outs[1], "--csv", "--tables", "--quiet"),
		} {
			cmd.Dir = filepath.Join("..", "..")
			said, err := cmd.CombinedOutput()
			if exit, ok := err.(*exec.ExitError); ok && exit.ExitCode() == 3 {
				continue // done, and the demo holds a source that cannot be read whole
			}
			if err != nil {
				fmt.Fprintf(os.Stderr, "%s: %v\n%s", cmd, err, said)
				return 1
			}
		}
		return m.Run()
	}())
}

// field is a column as datapackage.json declares it.
type field struct {
	Name, Type  string
	Delimiter   string
	Constraints struct{ Required bool }
}

// fields returns the columns that datapackage.json declares for a file.
func fields(t *testing.T, out, name string) []field {
	t.Helper()
	var p struct {
		Resources []struct {
			Path   string
			Schema struct{ Fields []field }
		}
	}
	b, err := os.ReadFile(filepath.Join(out, "datapackage.json"))
	if err == nil {
		err = json.Unmarshal(b, &p)
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range p.Resources {
		if r.Path == name {
			return r.Schema.Fields
		}
	}
	t.Fatalf("datapackage.json does not know %s", name)
	return nil
}

// logical is the logical type a declared column must have in Parquet.
func logical(t string) schema.LogicalType {
	switch t {
	case "string":
		return schema.StringLogicalType{}
	case "date":
		return schema.DateLogicalType{}
	case "datetime":
		return schema.NewTimestampLogicalType(true, schema.TimeUnitMillis) // adjusted to UTC
	case "list":
		return schema.NewListLogicalType()
	}
	return schema.NoLogicalType{}
}

// Arrow's Go library reads each Parquet file: the columns have the declared
// names, logical types and nulls, and every value is that of the CSV beside it.
func TestArrow(t *testing.T) {
	for _, out := range outs {
		for _, name := range []string{"reps", "set_aside", "sets"} {
			t.Run(filepath.Base(out)+"/"+name, func(t *testing.T) { arrowReads(t, out, name) })
		}
	}
}

func arrowReads(t *testing.T, out, name string) {
	want := fields(t, out, name+".parquet")
	r, err := file.OpenParquetFile(filepath.Join(out, name+".parquet"), false)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	root := r.MetaData().Schema.Root()
	if root.NumFields() != len(want) {
		t.Fatalf("%d columns, wants %d", root.NumFields(), len(want))
	}
	for i, w := range want {
		n := root.Field(i)
		if n.Name() != w.Name || !n.LogicalType().Equals(logical(w.Type)) {
			t.Errorf("column %d is %s, %s; wants %s, %s", i, n.Name(), n.LogicalType(), w.Name, logical(w.Type))
		}
		if nullable := n.RepetitionType() == parquet.Repetitions.Optional; w.Type != "list" && nullable == w.Constraints.Required {
			t.Errorf("column %s: null %v", w.Name, nullable)
		}
	}
	fr, err := pqarrow.NewFileReader(r, pqarrow.ArrowReadProperties{}, memory.DefaultAllocator)
	if err != nil {
		t.Fatal(err)
	}
	table, err := fr.ReadTable(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	defer table.Release()
	compare(t, table, want, rows(t, out, name+".csv"))
}

func rows(t *testing.T, out, name string) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(out, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all[1:]
}

func compare(t *testing.T, table arrow.Table, want []field, rows [][]string) {
	if int(table.NumRows()) != len(rows) || len(rows) == 0 {
		t.Fatalf("%d rows, the CSV has %d", table.NumRows(), len(rows))
	}
	nulls := 0
	for c, f := range want {
		row := 0
		for _, chunk := range table.Column(c).Data().Chunks() {
			for i := range chunk.Len() {
				cell := rows[row][c]
				if chunk.IsNull(i) {
					nulls++
					if cell != "" {
						t.Fatalf("%s, row %d: null, the CSV has %q", f.Name, row, cell)
					}
				} else if problem := differs(chunk, i, cell, f); problem != "" {
					t.Fatalf("%s, row %d: %s, the CSV has %q", f.Name, row, problem, cell)
				}
				row++
			}
		}
	}
	if nulls == 0 {
		t.Error("not one null: this proves nothing about them")
	}
}

// differs returns the value of a cell where it is not the one of the CSV.
func differs(a arrow.Array, i int, cell string, f field) string {
	switch a := a.(type) {
	case *array.String:
		if a.Value(i) != restore(cell) && strings.ReplaceAll(a.Value(i), "\r\n", "\n") != restore(cell) { // as encoding/csv reads line ends
			return fmt.Sprintf("%q", a.Value(i))
		}
		if cell == "" && !f.Constraints.Required {
			return "empty, not null"
		}
	case *array.Date32:
		if d := a.Value(i).ToTime().Format(time.DateOnly); d != cell {
			return d
		}
	case *array.Timestamp:
		zone := a.DataType().(*arrow.TimestampType).TimeZone
		at := a.Value(i).ToTime(arrow.Millisecond)
		if w, err := time.Parse(time.RFC3339, cell); err != nil || !w.Equal(at) || zone != "UTC" {
			return fmt.Sprintf("%s (zone %q)", at, zone)
		}
	case *array.Int32:
		if n := strconv.Itoa(int(a.Value(i))); n != cell {
			return n
		}
	case *array.Float64:
		if w, err := strconv.ParseFloat(cell, 64); err != nil || w != a.Value(i) {
			return fmt.Sprint(a.Value(i))
		}
	case *array.Boolean:
		if b := strconv.FormatBool(a.Value(i)); b != cell {
			return b
		}
	case *array.List:
		var items []string
		from, to := a.ValueOffsets(i)
		for k := from; k < to; k++ {
			items = append(items, a.ListValues().(*array.String).Value(int(k)))
		}
		if got := strings.Join(items, f.Delimiter); got != cell {
			return got
		}
	default:
		return fmt.Sprintf("unexpected type %T", a)
	}
	return ""
}

// restore undoes what the README says of formulas in CSV.
func restore(cell string) string {
	var b strings.Builder
	signs := "=+-@\uFF1D\uFF0B\uFF0D\uFF20"
	risky := signs + "\t\r\n"
	for i, r := range cell {
		rest := strings.TrimLeft(cell[i:], "'")
		if r == '\'' && rest != "" && strings.ContainsRune(risky, []rune(rest)[0]) {
			risky = ""
			continue
		}
		b.WriteRune(r)
		risky = ""
		if strings.ContainsRune(",;|\t\r\n", r) {
			risky = signs
		}
	}
	return b.String()
}
