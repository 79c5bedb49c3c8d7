package book

import (
	"archive/zip"
	"bytes"
	"cmp"
	"compress/flate"
	"encoding/xml"
	"errors"
	"hash"
	"hash/crc32"
	"io"
	"io/fs"
	"slices"
)

// archive is the zip file around the parts of a workbook. The library hands
// the parts over in the order of a map; here they are kept, compressed, and
// written by name at the end, the list of types first as the format advises.
// There are no times in it.
type archive struct {
	w          io.Writer
	parts      []*part
	compressor *flate.Writer // of the part that is open
}

type part struct {
	*flate.Writer
	name   string
	packed bytes.Buffer
	sum    hash.Hash32
	size   int64
}

func newArchive(w io.Writer) *archive { return &archive{w: w} }

// Create begins a part and ends the one before.
func (a *archive) Create(name string) (io.Writer, error) {
	p := &part{name: name, sum: crc32.NewIEEE()}
	if a.compressor == nil {
		var err error
		if a.compressor, err = flate.NewWriter(&p.packed, flate.BestSpeed); err != nil {
			return nil, err
		}
	} else {
		if err := a.compressor.Close(); err != nil {
			return nil, err
		}
		a.compressor.Reset(&p.packed)
	}
	p.Writer = a.compressor
	a.parts = append(a.parts, p)
	return p, nil
}

func (p *part) Write(b []byte) (int, error) {
	n, err := p.Writer.Write(b)
	p.sum.Write(b[:n])
	p.size += int64(n)
	return n, err
}

// AddFS is part of what the library asks of an archive; it never calls it for
// a workbook.
func (a *archive) AddFS(fs.FS) error { return errors.ErrUnsupported }

// Close writes everything.
func (a *archive) Close() error {
	if err := a.sortTypes(); err != nil {
		return err
	}
	if err := a.compressor.Close(); err != nil {
		return err
	}
	slices.SortFunc(a.parts, func(p, q *part) int {
		return cmp.Or(b2i(q.name == types)-b2i(p.name == types), cmp.Compare(p.name, q.name))
	})
	z := zip.NewWriter(a.w)
	for _, p := range a.parts {
		w, err := z.CreateRaw(&zip.FileHeader{Name: p.name, Method: zip.Deflate, CRC32: p.sum.Sum32(),
			CompressedSize64: uint64(p.packed.Len()), UncompressedSize64: uint64(p.size)})
		if err != nil {
			return err
		}
		if _, err := p.packed.WriteTo(w); err != nil {
			return err
		}
	}
	return z.Close()
}

const types = "[Content_Types].xml"

// sortTypes puts the list of types in order: the library takes that from a map
// too.
func (a *archive) sortTypes() error {
	i := slices.IndexFunc(a.parts, func(p *part) bool { return p.name == types })
	if i < 0 {
		return errors.New("the workbook has no list of types")
	}
	if err := a.compressor.Close(); err != nil {
		return err
	}
	type kind struct {
		Extension   string `xml:"Extension,attr,omitempty"`
		PartName    string `xml:"PartName,attr,omitempty"`
		ContentType string `xml:"ContentType,attr"`
	}
	var list struct {
		XMLName   xml.Name `xml:"http://schemas.openxmlformats.org/package/2006/content-types Types"`
		Defaults  []kind   `xml:"Default"`
		Overrides []kind   `xml:"Override"`
	}
	if err := xml.NewDecoder(flate.NewReader(&a.parts[i].packed)).Decode(&list); err != nil {
		return err
	}
	slices.SortFunc(list.Defaults, func(x, y kind) int { return cmp.Compare(x.Extension, y.Extension) })
	slices.SortFunc(list.Overrides, func(x, y kind) int { return cmp.Compare(x.PartName, y.PartName) })
	text, err := xml.Marshal(list)
	if err != nil {
		return err
	}
	a.parts = slices.Delete(a.parts, i, i+1)
	w, err := a.Create(types)
	if err != nil {
		return err
	}
	_, err = w.Write(append([]byte(xml.Header), text...))
	return err
}
