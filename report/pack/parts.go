package pack

import (
	"fmt"
	"slices"
	"strings"
)

// partOf returns the table that a file is a part of, and the column that the
// file's folder names: "reps/lifter=Mira/part-0.parquet" is one of reps, cut by
// lifter. False for a whole file.
func partOf(name string) (table, column string, ok bool) {
	table, rest, below := strings.Cut(name, "/")
	column, _, ok = strings.Cut(rest, "=")
	return table, column, below && ok
}

// cut is a table in parts.
type cut struct {
	table  *table
	column string
	files  []string
}

// cuts returns the tables that are cut in parts, in the order of their files.
func cuts(files []File) []cut {
	var all []cut
	for _, f := range files {
		name, column, ok := partOf(f.Name)
		if !ok {
			continue
		}
		if n := len(all); n == 0 || all[n-1].table.name != name {
			i := slices.IndexFunc(tables, func(t table) bool { return t.name == name })
			all = append(all, cut{table: &tables[i], column: column})
		}
		c := &all[len(all)-1]
		c.files = append(c.files, f.Name)
	}
	return all
}

// about says what the folder of a table in parts is.
func (c *cut) about() string {
	return fmt.Sprintf("%s, a folder for each %s as Hive has them: its name holds the column %s, which the files leave out", c.table.title, c.column, c.column)
}

// resource describes all files of a table in parts at once; run.json has the
// checksum of each.
func (c *cut) resource() resource {
	known := formats[".parquet"]
	s := c.table.schema()
	s.Fields = slices.DeleteFunc(s.Fields, func(f field) bool { return f.Name == c.column })
	return resource{Schema: resourceSchema, Name: slug(c.table.name), Type: "table", Path: c.files, Title: c.table.title,
		Description: c.table.about + " In parts: " + c.about() + ".",
		Format:      known.format, MediaType: known.mediaType, Table: s}
}
