package report

import (
	"bytes"
	"io"

	"repsift/report/ahead"
	"repsift/report/tidy"
)

// table returns an output that is one Parquet file, or where parts are asked
// for, a folder of them.
func table(name string, whole func(io.Writer, *Run) error, cut func(*Run) (*tidy.Parts, error)) output {
	return output{name: name, write: func(f *folder, run *Run) error {
		if run.Partition == "" {
			return f.write(name+".parquet", func(w io.Writer) error { return whole(w, run) })
		}
		parts, err := cut(run)
		if err != nil {
			return err
		}
		for i, part := range ahead.Of(len(parts.List), func(i int) filled { return encoded(parts, parts.List[i]) }) {
			if err := f.put(name+"/"+parts.List[i].Folder+"/part-0.parquet", part); err != nil {
				return err
			}
			f.told(float64(i+1) / float64(len(parts.List)))
		}
		return nil
	}}
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
