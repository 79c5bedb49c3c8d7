// Package shelf keeps reps on disk that would take too much memory, page by page
// as they are read, and gives them back some lifters at a time.
//
// A page is what [Shelf.Put] gets at once. It is written by column, each as the
// different values it has and their numbers (page.go), with encoding/gob: nobody
// reads the file but the run that wrote it. What a page holds of whom is told by
// its [Page], so that pages without a lifter who is asked for are not read.
package shelf

import (
	"bytes"
	"encoding/gob"
	"fmt"
	"io"
	"slices"
	"sync"

	"repsift/ingest/rep"
)

// File is where pages go. It is used by several goroutines at once.
type File interface {
	io.WriterAt
	io.ReaderAt
	io.Closer
}

// Shelf is a file of pages. Its methods may be called side by side.
type Shelf struct {
	file File

	mu  sync.Mutex
	end int64
}

// On returns an empty shelf on a file, which is the shelf's to close.
func On(f File) *Shelf { return &Shelf{file: f} }

// Page tells of reps that were put on a shelf.
type Page struct {
	Who     []Who    // in order of their first rep
	Devices []string // likewise

	at, bytes int64
}

// Who is how many reps of a lifter, as written, a source has.
type Who struct {
	Lifter, Source string
	Reps           int
}

// Put writes rows from…to of a table as one page.
func (s *Shelf) Put(t *rep.Table, from, to int) (Page, error) {
	c := Of(t, from, to)
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(c); err != nil {
		return Page{}, err
	}
	p := Page{Who: c.who(), Devices: c.Device.Values, bytes: int64(b.Len())}
	s.mu.Lock()
	p.at = s.end
	s.end += p.bytes
	s.mu.Unlock()
	_, err := s.file.WriteAt(b.Bytes(), p.at)
	return p, err
}

// Add adds to a table those reps of a page whose lifters are asked for, in the
// order in which they were put; named gives the name that a lifter is to have
// instead of the written one.
func (s *Shelf) Add(to *rep.Table, p Page, named func(written string) (name string, asked bool)) error {
	if !slices.ContainsFunc(p.Who, func(w Who) bool { _, asked := named(w.Lifter); return asked }) {
		return nil
	}
	var c Columns
	if err := gob.NewDecoder(io.NewSectionReader(s.file, p.at, p.bytes)).Decode(&c); err != nil {
		return fmt.Errorf("reps that were put on disk cannot be read back: %w", err)
	}
	names, asked := make([]string, len(c.Lifter.Values)), make([]bool, len(c.Lifter.Values))
	for i, written := range c.Lifter.Values {
		names[i], asked[i] = named(written)
	}
	var r rep.Rep
	for i := range c.Row {
		if n := c.Lifter.number(i); asked[n] {
			c.rep(i, &r)
			r.Lifter = names[n]
			to.Append(&r)
		}
	}
	return nil
}

// Size returns how many bytes the pages take.
func (s *Shelf) Size() int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.end
}

// Close closes the file.
func (s *Shelf) Close() error { return s.file.Close() }
