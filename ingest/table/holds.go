package table

import (
	"io"

	"repsift/ingest/table/charset"
)

// Holds reports whether a text may hold a character of ASCII anywhere; false is
// sure. It reads the file once, whatever is asked how often.
func (f *File) Holds(char byte) bool {
	seen := f.bytes()
	return seen == nil || seen[char]
}

// ReadsSame reports whether a text in an encoding of one byte a character surely
// reads the same in another one.
func (f *File) ReadsSame(encoding string) bool {
	seen := f.bytes()
	other, err := charset.Named(encoding, nil)
	if seen == nil || err != nil {
		return false
	}
	own := f.Sheets[0].source.(*textSource).charset
	for b := 0x80; b < len(seen); b++ {
		if seen[b] && !own.Alike(other, byte(b)) {
			return false
		}
	}
	return true
}

// bytes returns which bytes a text has; nil where that cannot be told.
func (f *File) bytes() *[256]bool {
	if f.seen != nil || f.Format != "text" {
		return f.seen
	}
	in := f.Sheets[0].source.(*textSource).in
	r, err := in.open()
	if err != nil {
		return nil
	}
	defer r.Close()
	var seen [256]bool
	buf := make([]byte, 64<<10)
	for {
		n, err := r.Read(buf)
		for _, b := range buf[:n] {
			seen[b] = true
		}
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil
		}
	}
	f.seen = &seen
	return f.seen
}
