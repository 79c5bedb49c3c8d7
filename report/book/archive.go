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
	"runtime"
	"slices"
	"sync"
)

// archive is the zip file around the parts of a workbook. The library hands
// the parts over in the order of a map; here they are kept, packed side by side
// and written by name at the end, the list of types first as the format advises.
// There are no times in it.
type archive struct {
	w     io.Writer
	rows  map[string]rows // of long sheets, by the name of their part
	parts []*part
}

type part struct {
	name   string
	text   bytes.Buffer
	packed bytes.Buffer
	sum    hash.Hash32
	size   int64
	err    error
}

// Create begins a part.
func (a *archive) Create(name string) (io.Writer, error) {
	p := &part{name: name, sum: crc32.NewIEEE()}
	a.parts = append(a.parts, p)
	return &p.text, nil
}

// compressors are large, and parts many.
var compressors = sync.Pool{New: func() any {
	flat, err := flate.NewWriter(nil, flate.BestSpeed)
	if err != nil {
		panic(err) // the level is one of the package's own
	}
	return flat
}}

// pack compresses a part, a long sheet with its rows.
func (a *archive) pack(p *part) error {
	flat := compressors.Get().(*flate.Writer)
	defer compressors.Put(flat)
	flat.Reset(&p.packed)
	w := io.MultiWriter(flat, p)
	var err error
	if r, long := a.rows[p.name]; long {
		err = r.into(w, p.text.Bytes())
	} else {
		_, err = w.Write(p.text.Bytes())
	}
	p.text = bytes.Buffer{}
	return errors.Join(err, flat.Close())
}

// Write counts what is packed.
func (p *part) Write(b []byte) (int, error) {
	p.size += int64(len(b))
	return p.sum.Write(b)
}

// AddFS is part of what the library asks of an archive; it never calls it for
// a workbook.
func (a *archive) AddFS(fs.FS) error { return errors.ErrUnsupported }

// Close writes everything.
func (a *archive) Close() error {
	if err := a.sortTypes(); err != nil {
		return err
	}
	var wg sync.WaitGroup
	atOnce := make(chan struct{}, runtime.GOMAXPROCS(0))
	for _, p := range a.parts {
		wg.Go(func() {
			atOnce <- struct{}{}
			p.err = a.pack(p)
			<-atOnce
		})
	}
	wg.Wait()
	for _, p := range a.parts {
		if p.err != nil {
			return p.err
		}
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
	if err := xml.NewDecoder(&a.parts[i].text).Decode(&list); err != nil {
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
