package pack

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// A table in parts is one resource with all its files, and one line of the
// codebook.
func TestCutTables(t *testing.T) {
	run := &Run{Files: []File{
		{Name: "reps/lifter=Ines Duarte/part-0.parquet", Bytes: 5, SHA256: "1"},
		{Name: "reps/lifter=Käthe/part-0.parquet", Bytes: 6, SHA256: "2"},
		{Name: "sets/lifter=Käthe/part-0.parquet", Bytes: 7, SHA256: "3"},
	}}
	var b bytes.Buffer
	if err := WriteDataPackage(&b, run); err != nil {
		t.Fatal(err)
	}
	var p struct {
		Resources []struct {
			Name   string
			Path   []string
			Hash   *string
			Bytes  *int
			Schema struct{ Fields []struct{ Name string } }
		}
	}
	if err := json.Unmarshal(b.Bytes(), &p); err != nil {
		t.Fatal(err)
	}
	if len(p.Resources) != 2 || len(p.Resources[0].Path) != 2 || p.Resources[0].Name != "reps" || p.Resources[0].Hash != nil || p.Resources[0].Bytes != nil {
		t.Fatalf("%+v", p.Resources)
	}
	for _, f := range p.Resources[0].Schema.Fields {
		if f.Name == "lifter" {
			t.Error("the column that the folders name is said to be in the files")
		}
	}
	b.Reset()
	if err := WriteCodebook(&b, run); err != nil {
		t.Fatal(err)
	}
	if text := b.String(); strings.Contains(text, "part-0") || !strings.Contains(text, "| reps/ | Kept reps, a folder for each lifter") || !strings.Contains(text, "## Kept reps") {
		t.Errorf("%s", text)
	}
}
