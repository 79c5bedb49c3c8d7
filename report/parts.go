package report

import (
	"bytes"
	"io"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/ahead"
	"repsift/report/tidy"
)

// table returns an output that is one Parquet file, or where parts are asked
// for, a folder of them.
func table(name string, columns []rep.Column, rows func(*clean.Result) *tidy.Grid, cut func(tidy.Partition, *clean.Result) (*tidy.Parts, error)) output {
	return output{name: name, begin: func(f *folder, run *Run) (*begun, error) {
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
