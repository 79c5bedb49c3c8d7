package table

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"iter"

	"repsift/ingest/table/layout"
	"repsift/ingest/table/xlsx"
)

// maxKept is the size of a workbook that is kept in memory where the file
// system does not read at any place: inside archives.
const maxKept = 512 << 20

// bookSource is the rows of one sheet of a workbook.
type bookSource struct {
	in     input
	index  int
	merged xlsx.Merged
}

func (f *File) openBook(in input) error {
	f.Format = "xlsx"
	return in.withBook(func(b *xlsx.Book) error {
		if len(b.Sheets) == 0 {
			return &OpenError{Name: in.name, Problem: "the workbook has no sheets of cells"}
		}
		for i, s := range b.Sheets {
			f.Sheets = append(f.Sheets, &Sheet{Name: s.Name, Hidden: s.Hidden, Date1904: b.Date1904, source: &bookSource{in: in, index: i}})
			if s.Hidden {
				f.Said = append(f.Said, fmt.Sprintf("sheet %q is hidden and read all the same", s.Name))
			}
		}
		if b.Date1904 {
			f.Said = append(f.Said, "dates count from 1904 (date system of old Macintosh spreadsheets)")
		}
		return nil
	})
}

// withBook opens the workbook for as long as use takes.
func (in *input) withBook(use func(*xlsx.Book) error) error {
	r, size, shut, err := in.at()
	if err != nil {
		return err
	}
	defer shut.Close()
	b, err := xlsx.Open(r, size)
	if err != nil {
		return &OpenError{Name: in.name, Problem: err.Error(), Err: err}
	}
	return use(b)
}

// at opens the content for reading at any place.
func (in *input) at() (io.ReaderAt, int64, io.Closer, error) {
	if !in.gzip {
		f, err := in.fsys.Open(in.name)
		if err != nil {
			return nil, 0, nil, err
		}
		if r, ok := f.(io.ReaderAt); ok {
			info, err := f.Stat()
			if err != nil {
				f.Close()
				return nil, 0, nil, err
			}
			return r, info.Size(), f, nil
		}
		f.Close()
	}
	r, err := in.open()
	if err != nil {
		return nil, 0, nil, err
	}
	defer r.Close()
	all, err := io.ReadAll(io.LimitReader(r, maxKept+1))
	if err != nil {
		return nil, 0, nil, err
	}
	if len(all) > maxKept {
		return nil, 0, nil, &OpenError{Name: in.name, Problem: fmt.Sprintf("a packed workbook of more than %d MB; unpack it", maxKept>>20)}
	}
	return bytes.NewReader(all), int64(len(all)), io.NopCloser(nil), nil
}

func (s *bookSource) rows() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		s.read(func(sheet *xlsx.Sheet) iter.Seq2[Row, error] { return sheet.Rows(&xlsx.Notes{}, &s.merged) }, yield)
	}
}

// read yields the rows of the sheet and an error, if there is one.
func (s *bookSource) read(rows func(*xlsx.Sheet) iter.Seq2[Row, error], yield func(Row, error) bool) {
	stopped := false
	err := s.in.withBook(func(b *xlsx.Book) error {
		if s.index >= len(b.Sheets) {
			return fmt.Errorf("%s: changed while it was read", s.in.name)
		}
		for row, err := range rows(&b.Sheets[s.index]) {
			if err != nil {
				return &OpenError{Name: s.in.name, Problem: err.Error(), Err: err}
			}
			if !yield(row, nil) {
				stopped = true
				return nil
			}
		}
		return nil
	})
	if err != nil && !stopped {
		if _, ok := errors.AsType[*fs.PathError](err); ok {
			err = fmt.Errorf("%s: %w", s.in.name, err)
		}
		yield(Row{}, err)
	}
}

// recognise reads the sheet as if no ranges were merged, as in most, and once
// more where there are some.
func (s *bookSource) recognise(h *firstRows) (Layout, error) {
	var notes xlsx.Notes
	look := func(rows func(*xlsx.Sheet, *xlsx.Notes, *xlsx.Merged) iter.Seq2[Row, error]) (Layout, error) {
		return layout.Recognise(h.keep(func(yield func(Row, error) bool) {
			s.read(func(sheet *xlsx.Sheet) iter.Seq2[Row, error] { return rows(sheet, &notes, &s.merged) }, yield)
		}), layout.Options{})
	}
	l, err := look((*xlsx.Sheet).Bare)
	if err == nil && s.merged.Any() {
		l, err = look((*xlsx.Sheet).Rows)
	}
	if err != nil {
		return l, err
	}
	if n := notes.HiddenColumns; n > 0 {
		l.Said = append(l.Said, count(n, "column is", "columns are")+" hidden and read all the same")
	}
	if n := notes.NoValue; n > 0 {
		l.Said = append(l.Said, count(n, "formula", "formulas")+" without a stored value read as blank: open the workbook in a spreadsheet program and save it")
	}
	return l, nil
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
