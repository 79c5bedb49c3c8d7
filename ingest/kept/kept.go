// Package kept keeps what was read of sources for the next reading, in one file.
//
// The file is a zip archive: first the list of what is kept, each entry with its
// head, which is needed of every source before any is taken, then for each entry
// in their order a body. Both are written with encoding/gob and packed with zstd.
// An archive is for one key, which stands in its comment; with another key, or
// where the file is damaged, it is as if nothing had been kept. Deleting the file
// is always safe.
//
// A body that is taken as it was goes into the next file byte for byte, and the
// same heads and bodies give the same file.
package kept

import (
	"archive/zip"
	"bytes"
	"encoding/gob"
	"errors"
	"hash/crc32"
	"io"
	"reflect"
	"strconv"
	"sync"

	"github.com/klauspost/compress/zstd"
)

// Entry is one source that is kept.
type Entry[H any] struct {
	Name  string
	Sum   [32]byte // SHA-256 of its content
	Bytes int64    // of its content
	Head  H
}

// Body is a body, packed.
type Body struct {
	packed []byte
	bytes  uint64
	crc    uint32
}

// mostBytes is how large a list or body may be, before it is packed. Only large
// ones of a damaged file are larger: a million reps take 20 MB.
const mostBytes = 1 << 30

var (
	encoder = sync.OnceValue(func() *zstd.Encoder {
		e, err := zstd.NewWriter(nil, zstd.WithEncoderLevel(zstd.SpeedFastest), zstd.WithLowerEncoderMem(true))
		if err != nil {
			panic(err) // options of our own
		}
		return e
	})
	unpack = zstd.ZipDecompressor(zstd.WithDecoderMaxWindow(16 << 20))
)

// Pack packs a body: what fill puts, in that order. Types that are put should
// hold no maps, so that the same values are the same bytes.
func Pack(fill func(put func(any) error) error) (*Body, error) {
	var b bytes.Buffer
	if err := fill(gob.NewEncoder(&b).Encode); err != nil {
		return nil, err
	}
	if b.Len() > mostBytes {
		return nil, errors.New("too large to be kept")
	}
	return &Body{encoder().EncodeAll(b.Bytes(), nil), uint64(b.Len()), crc32.ChecksumIEEE(b.Bytes())}, nil
}

// Last is what the last reading kept. The zero Last kept nothing.
type Last[H any] struct {
	entries map[string]*Entry[H]
	members map[string]*zip.File
	file    []byte
}

// Open opens a file that Next wrote for the same key. Of any other file the
// result has kept nothing.
func Open[H any](file []byte, key string) *Last[H] {
	l := &Last[H]{file: file}
	r, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil || r.Comment != key || len(r.File) == 0 {
		return l
	}
	r.RegisterDecompressor(zstd.ZipMethodWinZip, unpack)
	var list []Entry[H]
	if err := read(r.File[0], func(get func(any) error) error { return get(&list) }); err != nil || len(list) != len(r.File)-1 {
		return l
	}
	l.entries, l.members = make(map[string]*Entry[H], len(list)), make(map[string]*zip.File, len(list))
	for i := range list {
		l.entries[list[i].Name], l.members[list[i].Name] = &list[i], r.File[i+1]
	}
	return l
}

// Has reports whether a source of that name and size was kept.
func (l *Last[H]) Has(name string, bytes int64) bool {
	e := l.entries[name]
	return e != nil && e.Bytes == bytes
}

// Head returns the head of a source with that content; nil where none was kept.
func (l *Last[H]) Head(name string, sum [32]byte) *H {
	if e := l.entries[name]; e != nil && e.Sum == sum {
		return &e.Head
	}
	return nil
}

// Read gives fill what was put into the body of a source, in the same order, and
// returns the body. After an error nothing that fill got is to be used.
func (l *Last[H]) Read(name string, fill func(get func(any) error) error) (*Body, error) {
	m := l.members[name]
	if m == nil {
		return nil, errors.New("not kept")
	}
	if err := read(m, fill); err != nil {
		return nil, err
	}
	from, err := m.DataOffset()
	if err != nil || m.CompressedSize64 > uint64(int64(len(l.file))-from) {
		return nil, errors.Join(zip.ErrFormat, err)
	}
	return &Body{l.file[from:][:m.CompressedSize64], m.UncompressedSize64, m.CRC32}, nil
}

// read reads a member to its end, where its checksum is compared.
func read(m *zip.File, fill func(get func(any) error) error) error {
	if m.UncompressedSize64 > mostBytes {
		return zip.ErrFormat
	}
	r, err := m.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	d := gob.NewDecoder(r)
	if err := fill(d.Decode); err != nil {
		return err
	}
	if err := d.DecodeValue(reflect.Value{}); err != io.EOF {
		return errors.Join(zip.ErrFormat, err)
	}
	return nil
}

// Next is what a reading keeps.
type Next[H any] struct {
	key     string
	entries []Entry[H]
	bodies  []*Body
}

// For returns a Next that has kept nothing yet.
func For[H any](key string) *Next[H] { return &Next[H]{key: key} }

// Add adds a source.
func (n *Next[H]) Add(e Entry[H], b *Body) {
	n.entries, n.bodies = append(n.entries, e), append(n.bodies, b)
}

// Write writes the file.
func (n *Next[H]) Write(to io.Writer) error {
	list, err := Pack(func(put func(any) error) error { return put(n.entries) })
	if err != nil {
		return err
	}
	w := zip.NewWriter(to)
	if err := w.SetComment(n.key); err != nil {
		return err
	}
	for i, b := range append([]*Body{list}, n.bodies...) {
		member, err := w.CreateRaw(&zip.FileHeader{Name: strconv.Itoa(i), Method: zstd.ZipMethodWinZip, CRC32: b.crc,
			CompressedSize64: uint64(len(b.packed)), UncompressedSize64: b.bytes})
		if err != nil {
			return err
		}
		if _, err := member.Write(b.packed); err != nil {
			return err
		}
	}
	return w.Close()
}
