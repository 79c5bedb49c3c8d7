package report

import (
	"bytes"
	"io"
	"maps"
	"slices"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/ahead"
	"repsift/report/tidy"
)

// table returns an output that is one Parquet file, or where parts are asked
// for, a folder of them.
func table(name string, columns []rep.Column, rows func(*clean.Result) *tidy.Grid, cut func(tidy.Partition, *clean.Result) (*tidy.Parts, error)) output {
	return output{name: name, begin: func(f *folder, run *Run) (*begun, error) {
		if run.Groups != nil && run.Partition != "" && run.Partition != tidy.ByLifter {
			return partsAcross(f, run, name, columns, cut), nil
		}
		if run.Partition != "" {
			return &begun{
				add: func(res *clean.Result, _ bool) error {
					parts, err := cut(run.Partition, res)
					if err != nil {
						return err
					}
					return putParts(f, name, parts)
				},
				end: func() error { return nil },
			}, nil
		}
		m, err := f.create(name + ".parquet")
		if err != nil {
			return nil, err
		}
		p := tidy.NewParquet(m, columns)
		return &begun{
			add: func(res *clean.Result, last bool) error { return failed(f, m, p.Add(rows(res), last)) },
			end: func() error { return f.close(m, p.Close()) },
		}, nil
	}}
}

// heldAtOnce is how many rows the files that are written beside one another may
// hold.
const heldAtOnce = 4 * tidy.MostHeld

// partsAcross cuts a table of which each part has rows of many groups. What is
// written of a part at once are whole row groups, and the rest of all parts
// together might be the whole table: so only some parts are written at a time,
// and the groups gone through again for the next ones.
func partsAcross(f *folder, run *Run, name string, columns []rep.Column, cut func(tidy.Partition, *clean.Result) (*tidy.Parts, error)) *begun {
	rows := map[string]int{} // by folder
	some := func(res *clean.Result, do func(*tidy.Parts, tidy.Part) error) error {
		parts, err := cut(run.Partition, res)
		if err != nil {
			return err
		}
		for _, part := range parts.List {
			if err := do(parts, part); err != nil {
				return err
			}
		}
		return nil
	}
	add := func(res *clean.Result, _ bool) error {
		return some(res, func(_ *tidy.Parts, part tidy.Part) error { rows[part.Folder] += part.Rows(); return nil })
	}
	type part struct {
		*measured
		table *tidy.Parquet
	}
	end := func() error {
		folders := slices.Sorted(maps.Keys(rows))
		for first := 0; first < len(folders); {
			open := map[string]part{}
			next := first
			for held := 0; next < len(folders) && (next == first || held+min(rows[folders[next]], tidy.MostHeld) <= heldAtOnce); next++ {
				held += min(rows[folders[next]], tidy.MostHeld)
				m, err := f.create(name + "/" + folders[next] + "/part-0.parquet")
				if err != nil {
					return err
				}
				open[folders[next]] = part{m, tidy.NewParquet(m, run.Partition.Columns(columns))}
			}
			if _, err := run.Groups.Each(f.ctx, func(res *clean.Result, done float64) error {
				f.told((float64(first) + done*float64(next-first)) / float64(len(folders)))
				return some(res, func(parts *tidy.Parts, cut tidy.Part) error {
					if p, ok := open[cut.Folder]; ok {
						return failed(f, p.measured, p.table.AddPart(parts, cut))
					}
					return nil
				})
			}); err != nil {
				return err
			}
			for _, folder := range folders[first:next] {
				p := open[folder]
				if err := f.close(p.measured, p.table.Close()); err != nil {
					return err
				}
			}
			first = next
		}
		return nil
	}
	return &begun{add: add, end: end, endWork: 3 * groupWork}
}

// putParts writes the files of a table that is cut.
func putParts(f *folder, name string, parts *tidy.Parts) error {
	for i, part := range ahead.Of(len(parts.List), func(i int) filled { return encoded(parts, parts.List[i]) }) {
		if err := f.put(name+"/"+parts.List[i].Folder+"/part-0.parquet", part); err != nil {
			return err
		}
		f.told(float64(i+1) / float64(len(parts.List)))
	}
	return nil
}

func encoded(parts *tidy.Parts, part tidy.Part) filled {
	var b bytes.Buffer
	err := parts.Write(&b, part)
	return filled{b.Bytes(), err}
}

// filled is a file as it goes to disk, or why it could not be made.
type filled struct {
	content []byte
	err     error
}

// put writes a file that was made beforehand.
func (f *folder) put(name string, file filled) error {
	if file.err != nil {
		return file.err
	}
	return f.write(name, func(w io.Writer) error { _, err := w.Write(file.content); return err })
}
