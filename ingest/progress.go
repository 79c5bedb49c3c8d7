package ingest

import (
	"io"
	"io/fs"
	"sync/atomic"
)

// budget is how many bytes of a source still count as progress: a file that is
// looked at twice is not done twice.
type budget struct {
	to   *reader
	left atomic.Int64
}

func (r *reader) budget(bytes int64) *budget {
	b := &budget{to: r}
	b.left.Store(bytes)
	return b
}

func (b *budget) spend(n int) {
	if n <= 0 {
		return
	}
	left := b.left.Add(-int64(n))
	if k := int64(n) + min(left, 0); k > 0 {
		b.to.advance(k)
	}
}

func (r *reader) advance(n int64) {
	done := r.done.Add(n)
	if r.opt.Progress == nil {
		return
	}
	r.told.Lock()
	defer r.told.Unlock()
	r.opt.Progress(min(done, r.total), r.total)
}

// counted tells progress as a file is read.
type counted struct {
	r io.Reader
	b *budget
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.b.spend(n)
	return n, err
}

// countedFS tells progress as the files of a tree are read.
type countedFS struct {
	fsys fs.FS
	b    *budget
}

// Open implements fs.FS. Files that can be read at any place still can.
func (c *countedFS) Open(name string) (fs.File, error) {
	f, err := c.fsys.Open(name)
	if err != nil {
		return nil, err
	}
	counting := &countedFile{f, c.b}
	at, okAt := f.(io.ReaderAt)
	seek, okSeek := f.(io.Seeker)
	if okAt && okSeek {
		return &countedAt{countedFile: counting, at: at, Seeker: seek}, nil
	}
	return counting, nil
}

type countedFile struct {
	fs.File
	b *budget
}

func (c *countedFile) Read(p []byte) (int, error) {
	n, err := c.File.Read(p)
	c.b.spend(n)
	return n, err
}

type countedAt struct {
	*countedFile
	io.Seeker
	at io.ReaderAt
}

func (c *countedAt) ReadAt(p []byte, off int64) (int, error) {
	n, err := c.at.ReadAt(p, off)
	c.b.spend(n)
	return n, err
}
