package season

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"repsift/ingest/season/located"
	"repsift/ingest/spelling"
)

// maxSize is the size past which a file is no season file.
const maxSize = 1 << 20

// reader reads one season file.
type reader struct {
	*located.File
	s *Season
}

// Read reads a season file of at most 1 MiB; name is used in messages only.
// What is wrong in it is returned together, as a [*Faults]; any other error
// comes from r.
//
// Names are put into the season's spelling on the way: wherever a lifter or
// lift is named, by any declared or usual spelling, the Season holds the name
// itself ("Kniebeuge" becomes "squat"). Units hold the usual symbols.
func Read(name string, r io.Reader) (*Season, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxSize+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(data) > maxSize {
		return nil, whole(name, "larger than 1 MiB; this is no season file")
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) || bytes.IndexByte(data, 0) >= 0 {
		return nil, whole(name, "not UTF-8 text; save the season file as UTF-8")
	}
	file, root := located.Parse(data)
	d := &reader{file, &Season{File: name}}
	d.root(root)
	if faults := d.Faults(name); faults != nil {
		return nil, faults
	}
	return d.s, nil
}

func whole(name, problem string) *Faults {
	return &Faults{File: name, List: []Fault{{Problem: problem}}}
}

// section is one kind of table of a season file, with what it becomes.
type section[T any] struct {
	name    string
	meaning string
	keys    []key[T]

	// first sets what does not come from a key; it may be nil.
	first func(to *T, line int)
	// other takes keys that are not in the list; false leaves them unknown.
	other func(d *reader, table *located.Node, e *located.Entry, to *T) bool
	// done checks what only the keys together tell; it may be nil.
	done func(d *reader, table *located.Node, to *T)
}

// key is one key of a section.
type key[T any] struct {
	name    string
	form    string // what stands behind =, as the reference shows it
	meaning string
	needed  bool
	read    func(d *reader, v *located.Node, to *T)
}

// read reads all tables of a section below root.
func (sec *section[T]) read(d *reader, root *located.Node) []T {
	e := root.Get(sec.name)
	if e == nil {
		return nil
	}
	if e.Val.Kind != located.ArrayTable {
		d.Fault(e.Off, e.End, "write [[%s]], with two brackets; there may be several", sec.name)
		return nil
	}
	var out []T
	for _, t := range e.Val.Items {
		var to T
		if sec.first != nil {
			sec.first(&to, d.Line(t.Off))
		}
		sec.fill(d, t, &to)
		out = append(out, to)
	}
	return out
}

// fill reads the keys of one table, in the order of the section's list.
func (sec *section[T]) fill(d *reader, t *located.Node, to *T) {
	names := make([]string, len(sec.keys))
	for i, k := range sec.keys {
		names[i] = k.name
		e := t.Get(k.name)
		switch {
		case e != nil:
			k.read(d, e.Val, to)
		case k.needed && !t.Broken:
			d.At(t, "%s is missing: add %s = %s", k.name, k.name, k.form)
		}
	}
	for _, e := range t.Entries {
		if slices.Contains(names, e.Key) || sec.other != nil && sec.other(d, t, e, to) {
			continue
		}
		d.unknown(e, sec.name, names)
	}
	if sec.done != nil {
		sec.done(d, t, to)
	}
}

// unknown notes a key that a section does not have.
func (d *reader) unknown(e *located.Entry, in string, names []string) {
	var elsewhere []string
	for _, s := range Sections() {
		for _, k := range s.Keys {
			if k.Name == e.Key && s.Name == "" {
				d.Fault(e.Off, e.End, "%q belongs at the top of the file, before the first [[…]]", e.Key)
				return
			}
			if k.Name == e.Key {
				elsewhere = append(elsewhere, "[["+s.Name+"]]")
			}
		}
	}
	where := "[[" + in + "]]"
	if in == "" {
		where = "the file's top"
	} else if in == "samples" {
		where = in
	}
	if spelling.Nearest(e.Key, names) == "" && elsewhere != nil {
		d.Fault(e.Off, e.End, "%q is no key of %s; it belongs under %s", e.Key, where, list(elsewhere))
		return
	}
	d.Fault(e.Off, e.End, "%q is no key of %s; %s", e.Key, where, meant(e.Key, names))
}

// printable reports whether a text has no control characters.
func printable(s string) bool {
	return utf8.ValidString(s) && !strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r == 0x7f })
}
