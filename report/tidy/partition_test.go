package tidy

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"

	"repsift/ingest/rep"
)

// Signs are those that Hive's FileUtils escapes; letters of other scripts are
// not among them.
func TestHive(t *testing.T) {
	for value, want := range map[string]string{
		"Ines Duarte": "Ines Duarte", "Käthe": "Käthe", "a/b": "a%2Fb", "50% = half": "50%25 %3D half", "..": ".%2E",
		"C:\\x": "C%3A%5Cx", "": "__HIVE_DEFAULT_PARTITION__", "line\nend ": "line%0Aend%20", "what?": "what%3F",
	} {
		if got := hive(value); got != want {
			t.Errorf("%q is %q, want %q", value, got, want)
		}
	}
}

// The parts hold every row once, in the order of the whole table, without the
// column that their folders name.
func TestParts(t *testing.T) {
	res := sample(5000)
	for _, by := range Partitions {
		parts, err := RepsParts(by, res.Reps, res.Kept)
		if err != nil {
			t.Fatal(err)
		}
		want := map[string][]int32{} // rows of the sources by folder
		var values []string
		for _, row := range res.Kept {
			r := res.Reps.Rep(row)
			value := map[Partition]string{"lifter": r.Lifter, "lift": r.Lift, "month": r.Date.String()[:7]}[by]
			folder := string(by) + "=" + hive(value)
			if want[folder] == nil {
				values = append(values, value)
			}
			want[folder] = append(want[folder], r.Row)
		}
		got := map[string][]int32{}
		for _, part := range parts.List {
			var b bytes.Buffer
			if err := parts.Write(&b, part); err != nil {
				t.Fatal(err)
			}
			f, err := parquet.OpenFile(bytes.NewReader(b.Bytes()), int64(b.Len()))
			if err != nil {
				t.Fatal(err)
			}
			if _, there := f.Schema().Lookup(string(by)); there {
				t.Errorf("%s: the files hold the column too", by)
			}
			type row struct {
				Row int32 `parquet:"row"`
			}
			rows, err := parquet.Read[row](bytes.NewReader(b.Bytes()), int64(b.Len()))
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range rows {
				got[part.Folder] = append(got[part.Folder], r.Row)
			}
		}
		slices.Sort(values)
		for i, value := range values {
			if parts.List[i].Folder != string(by)+"="+hive(value) {
				t.Errorf("%s: part %d is %s, want that of %s", by, i, parts.List[i].Folder, value)
			}
		}
		if !maps.EqualFunc(got, want, slices.Equal) {
			t.Errorf("%s: %d parts, want %d; or other rows", by, len(got), len(want))
		}
	}
}

func TestLongFolder(t *testing.T) {
	sets := rep.NewSets(rep.Set{Lifter: strings.Repeat("n", 300)})
	_, err := SetsParts("lifter", &sets)
	if err == nil || !strings.Contains(err.Error(), "too long") {
		t.Errorf("%v", err)
	}
}
