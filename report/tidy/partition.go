package tidy

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// Partition is what a table is cut by, into a folder for each value, as
// engines that spread over many machines know it from Hive: lifter=Ines
// Duarte/part-0.parquet. The column that the folder names is not in its files.
type Partition string

// Partitions lists what a table can be cut by.
var Partitions = []Partition{ByLifter, "lift", "month"}

// ByLifter cuts so that no part holds reps of two lifters.
const ByLifter Partition = "lifter"

// filing returns what tells the value that a row of a table is filed under.
func (p Partition) filing() func(lifter, lift string, day rep.Day) string {
	var last rep.Day
	month := last.Time().Format("2006-01")
	return func(lifter, lift string, day rep.Day) string {
		switch p {
		case "lifter":
			return lifter
		case "lift":
			return lift
		}
		if day != last {
			last, month = day, day.Time().Format("2006-01")
		}
		return month
	}
}

// Part is one file of a table that is cut in parts.
type Part struct {
	Folder   string // "lifter=Ines Duarte"
	from, to int
}

// Parts is a table cut in parts. Rows of a part keep their order.
type Parts struct {
	List    []Part // by value
	columns []rep.Column
	sources map[string]any
}

// Write writes the file of one part.
func (p *Parts) Write(w io.Writer, part Part) error {
	return columnar.Write(w, p.columns, p.sources, part.from, part.to, columnar.RowGroup)
}

// RepsParts cuts the named rows of t.
func RepsParts(by Partition, t *rep.Table, rows []int32) (*Parts, error) {
	value := by.filing()
	order, list, err := by.cut(len(rows), func(i int) string {
		r := rows[i]
		return value(t.Text.Text(t.Lifter.At(r)), t.Text.Text(t.Lift.At(r)), t.Date.At(r))
	})
	if err != nil {
		return nil, err
	}
	for i, k := range order {
		order[i] = rows[k]
	}
	return &Parts{list, by.Columns(rep.Columns), drawn{t, order}.reps()}, nil
}

// AsideParts cuts reps set aside.
func AsideParts(by Partition, t *rep.Table, aside []clean.Aside) (*Parts, error) {
	value := by.filing()
	order, list, err := by.cut(len(aside), func(i int) string {
		r := aside[i].Row
		return value(t.Text.Text(t.Lifter.At(r)), t.Text.Text(t.Lift.At(r)), t.Date.At(r))
	})
	if err != nil {
		return nil, err
	}
	sources := asideSources(t, len(aside), func(i int) *clean.Aside { return &aside[order[i]] })
	return &Parts{list, by.Columns(rep.AsideColumns), sources}, nil
}

// SetsParts cuts sets.
func SetsParts(by Partition, sets *rep.Sets) (*Parts, error) {
	value := by.filing()
	order, list, err := by.cut(sets.Len(), func(i int) string {
		return value(sets.Lifter(i), sets.Lift(i), sets.Date(i))
	})
	if err != nil {
		return nil, err
	}
	sources := setSources(sets, func(i int) int { return int(order[i]) })
	return &Parts{list, by.Columns(rep.SetColumns), sources}, nil
}

// Rows returns how many rows the part has.
func (p Part) Rows() int { return p.to - p.from }

// Columns leaves out the column that the folders name.
func (p Partition) Columns(all []rep.Column) []rep.Column {
	return slices.DeleteFunc(slices.Clone(all), func(c rep.Column) bool { return c.Name == string(p) })
}

// cut returns the order of n rows in which those of a value are neighbours, and
// the parts in that order.
func (p Partition) cut(n int, value func(i int) string) (order []int32, parts []Part, err error) {
	numbers := map[string]int{}
	var values []string
	var rows [][]int32 // of each value
	number := 0
	for i := range n {
		if v := value(i); i == 0 || v != values[number] { // most are filed with the row above
			known := false
			if number, known = numbers[v]; !known {
				number = len(values)
				numbers[v] = number
				values, rows = append(values, v), append(rows, nil)
			}
		}
		rows[number] = append(rows[number], int32(i))
	}
	slices.Sort(values)
	order = make([]int32, 0, n)
	for _, v := range values {
		folder := string(p) + "=" + hive(valid(v))
		if len(folder) > longestName {
			return nil, nil, fmt.Errorf("the %s %.40s… is too long for the name of a folder; give a shorter one in the season file", p, v)
		}
		filed := rows[numbers[v]]
		parts = append(parts, Part{folder, len(order), len(order) + len(filed)})
		order = append(order, filed...)
		rows[numbers[v]] = nil
	}
	return order, parts, nil
}

// longestName is how many bytes the name of a folder has on most systems.
const longestName = 255

// hive returns a value as the name of a Hive partition: signs that have a
// meaning in paths or are refused by a file system are written as % and two
// hexadecimal digits, and a missing value has a name of its own. Letters of
// every script stay: Hive takes the digits back byte by byte, which only fits
// ASCII. Signs as in Hive's FileUtils (from memory), and those of Windows.
func hive(value string) string {
	if value == "" {
		return "__HIVE_DEFAULT_PARTITION__"
	}
	var b strings.Builder
	for i := 0; i < len(value); i++ {
		c := value[i]
		last := i == len(value)-1 && (c == '.' || c == ' ') // which Windows drops
		if c < ' ' || c == 0x7f || last || strings.IndexByte("\"#%'*/:=?\\{[]^<>|", c) >= 0 {
			fmt.Fprintf(&b, "%%%02X", c)
			continue
		}
		b.WriteByte(c)
	}
	return b.String()
}
