package ingest

import (
	"cmp"
	"io/fs"

	"repsift/ingest/season"
	"repsift/ingest/table"
)

// File is one open source as a table of cells, whatever it holds. Close it.
type File struct {
	*table.File
	tree *tree
}

// Close closes the archive that the source is a member of, if it is one.
func (f *File) Close() { f.tree.close() }

// Open opens one source as [Read] would: the name may be a file or the member
// of an archive. The delimiter, where it is not empty, is that with which the
// source was read; a nil season declares nothing. Errors begin with the name
// and say what to do.
func Open(fsys fs.FS, name, delimiter string, s *season.Season) (*File, error) {
	t := newTree(fsys)
	opt := tableOptions(name, s)
	opt.Delimiter = cmp.Or(delimiter, opt.Delimiter)
	f, err := table.Open(t, name, opt)
	if err != nil {
		t.close()
		return nil, plain(name, err)
	}
	return &File{f, t}, nil
}

// tableOptions returns what the season file declares of a source as a table.
func tableOptions(name string, s *season.Season) table.Options {
	d := s.Source(name)
	if d.Delimiter == " " {
		d.Delimiter = "blanks"
	}
	return table.Options{Encoding: d.Encoding, Delimiter: d.Delimiter, Decimal: d.Decimal}
}
