package table

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"io/fs"
)

// headSize is the beginning of a file that is looked at to recognise it.
const headSize = 128 << 10

// Open opens a source and recognises what it is. There is nothing to close:
// files are opened when they are read, and closed after. An empty file is a
// text without rows. A gzip file is read as what it holds. Errors say what to
// do; those that are not of reading the disk are of type [*OpenError].
func Open(fsys fs.FS, name string, opt Options) (*File, error) {
	if opt.MaxBytes <= 0 {
		opt.MaxBytes = DefaultMaxBytes
	}
	in := input{fsys: fsys, name: name, max: opt.MaxBytes}
	head, whole, err := in.head()
	if err != nil {
		return nil, err
	}
	f := &File{Name: name}
	if bytes.HasPrefix(head, []byte("PK\x03\x04")) || bytes.HasPrefix(head, []byte("PK\x05\x06")) {
		err = f.openBook(in)
	} else if is := noTable(name, head); is != "" {
		return nil, &OpenError{Name: name, Problem: is}
	} else {
		err = f.openText(in, head, whole, opt)
	}
	if err != nil {
		return nil, err
	}
	return f, nil
}

// input is a file that can be read from its beginning again and again.
type input struct {
	fsys fs.FS
	name string
	gzip bool
	max  int64
}

// open opens the content, unpacked.
func (in *input) open() (*limited, error) {
	f, err := in.fsys.Open(in.name)
	if err != nil {
		return nil, err
	}
	if !in.gzip {
		return &limited{r: f, file: f, in: in}, nil
	}
	packed := &counted{r: f}
	z, err := gzip.NewReader(packed)
	if err != nil {
		f.Close()
		return nil, in.damaged(err)
	}
	return &limited{r: z, file: f, in: in, packed: packed}, nil
}

func (in *input) damaged(err error) error {
	return &OpenError{Name: in.name, Problem: "the packed file is damaged or cut off; copy or export it again", Err: err}
}

// head reads the beginning of the content and reports whether that is all of
// it.
func (in *input) head() (head []byte, whole bool, err error) {
	for {
		r, err := in.open()
		if err != nil {
			return nil, false, err
		}
		head = make([]byte, in.headRoom(r))
		n, err := io.ReadFull(r, head)
		r.Close()
		whole = errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF)
		if err != nil && !whole {
			return nil, false, err
		}
		head = head[:n]
		if in.gzip || n < 2 || head[0] != 0x1F || head[1] != 0x8B {
			return head, whole, nil
		}
		in.gzip = true
	}
}

// headRoom returns how large a head is at most: a small file is one byte smaller,
// so that its end is met.
func (in *input) headRoom(r *limited) int64 {
	if info, err := r.file.Stat(); err == nil && !in.gzip && info.Size() < headSize {
		return info.Size() + 1
	}
	return headSize
}

// counted counts what is read.
type counted struct {
	r io.Reader
	n int64
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += int64(n)
	return n, err
}

// Packed text grows to ten times its size; what grows more than this is made to
// fill a machine, if it is large.
const (
	maxRatio  = 400
	ratioFrom = 64 << 20
)

// limited reads no more of a file than is allowed, and gives its errors a
// place.
type limited struct {
	r      io.Reader
	file   fs.File
	in     *input
	packed *counted
	n      int64
}

func (l *limited) Read(p []byte) (int, error) {
	n, err := l.r.Read(p)
	l.n += int64(n)
	switch {
	case l.n > l.in.max:
		return n, &OpenError{Name: l.in.name, Problem: fmt.Sprintf("holds more than %d MB; split it", l.in.max>>20)}
	case l.packed != nil && l.n > ratioFrom && l.n/maxRatio > l.packed.n:
		return n, &OpenError{Name: l.in.name, Problem: fmt.Sprintf("unpacks to more than %d times its size, which no table does; unpack it by hand if it is one", maxRatio)}
	case err == nil || errors.Is(err, io.EOF) && err == io.EOF:
		return n, err
	case l.packed != nil && (errors.Is(err, gzip.ErrChecksum) || errors.Is(err, gzip.ErrHeader) || errors.Is(err, io.ErrUnexpectedEOF)):
		return n, l.in.damaged(err)
	}
	return n, fmt.Errorf("%s: %w", l.in.name, err)
}

func (l *limited) Close() error { return l.file.Close() }
