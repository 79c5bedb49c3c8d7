// Package located reads TOML into a tree in which every table, key and value has
// its place, and gathers all that is wrong, each fault with the line it stands in
// and a caret below. What cannot be read is left out, and reading goes on at the
// next line that looks like TOML, so that all faults of a file are told at once.
//
// [Parse] reads; the caller walks the tree and adds faults of meaning with
// [File.Fault] and [File.At]; [File.Faults] returns all of them in order.
// The package does not know which keys a file may have.
package located

import (
	"cmp"
	"slices"

	"github.com/pelletier/go-toml/v2/unstable"
)

// File is a text that is read, with the faults found in it.
type File struct {
	data   []byte
	starts []int // where each line begins
	faults []Fault
	more   bool
}

// Kind says what a node is.
type Kind = unstable.Kind

// The kinds.
const (
	String        = unstable.String
	Integer       = unstable.Integer
	Float         = unstable.Float
	Bool          = unstable.Bool
	LocalDate     = unstable.LocalDate
	LocalTime     = unstable.LocalTime
	LocalDateTime = unstable.LocalDateTime
	DateTime      = unstable.DateTime
	Array         = unstable.Array
	InlineTable   = unstable.InlineTable
	Table         = unstable.Table
	ArrayTable    = unstable.ArrayTable
)

// Parse reads a text, which is UTF-8 where it is sound.
func Parse(data []byte) (*File, *Node) {
	f := &File{data: slices.Clip(data), starts: []int{0}}
	for i, c := range data {
		if c == '\n' {
			f.starts = append(f.starts, i+1)
		}
	}
	return f, f.parse()
}

// Faults returns all faults so far, sorted by line and column; nil for none.
func (d *File) Faults(name string) *Faults {
	if len(d.faults) == 0 {
		return nil
	}
	slices.SortStableFunc(d.faults, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return &Faults{File: name, List: d.faults, More: d.more}
}
