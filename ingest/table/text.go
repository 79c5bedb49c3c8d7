package table

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"io"
	"iter"
	"strings"
	"unicode/utf8"

	"repsift/ingest/table/charset"
	"repsift/ingest/table/layout"
	"repsift/ingest/table/text"
)

// HeadBytes is the size of a text up to which the whole of it is looked at for
// its layout; of larger ones the head is.
const HeadBytes = 16 << 20

// How many rows are looked at of a larger text, and of any: what has more in
// [HeadBytes] has rows too short for reps.
const (
	headRows = 5000
	mostRows = 400_000
)

// textSource is the rows of a text.
type textSource struct {
	in      input
	charset charset.Charset
	dialect text.Dialect
	front   int32 // lines of front matter
	large   bool
}

func (f *File) openText(in input, head []byte, whole bool, opt Options) error {
	set, err := f.recogniseCharset(in, head, whole, opt)
	if err != nil {
		return err
	}
	raw, err := io.ReadAll(charset.NewReader(strings.NewReader(string(head)), set))
	if err != nil {
		return &OpenError{Name: in.name, Problem: fmt.Sprintf("is not text in %s; declare its encoding in the season file", set.Name), Err: err}
	}
	sample := string(raw)
	if !whole {
		sample = strings.TrimRight(sample, string(utf8.RuneError)) // a character that was cut off
	}
	found := text.Recognise(sample, whole, text.Declared{Delimiter: opt.Delimiter, Quote: opt.Quote, Decimal: opt.Decimal})
	f.Format, f.LineEnd, f.Delimiter = "text", found.LineEnd, found.Name()
	switch {
	case found.Trim:
		f.Padding = "around"
	case found.Lead:
		f.Padding = "after"
	}
	if found.Quoted {
		f.Quote = string(found.Quote)
	}
	if found.Escaped {
		f.Escape = string(found.Escape)
	}
	f.say(set, found, opt, len(head) == 0)
	src := &textSource{in: in, charset: set, dialect: found.Dialect, front: found.Front, large: !whole && in.larger(HeadBytes)}
	f.Sheets = []*Sheet{{source: src}}
	return nil
}

// recogniseCharset settles the encoding. Where the head has nothing but ASCII,
// more of the file is looked at.
func (f *File) recogniseCharset(in input, head []byte, whole bool, opt Options) (charset.Charset, error) {
	set := charset.Recognise(head)
	if opt.Encoding != "" {
		var err error
		if set, err = charset.Named(opt.Encoding, head); err != nil {
			return set, &OpenError{Name: in.name, Problem: err.Error()}
		}
	} else if set.ASCII && !whole {
		more, err := in.beyondASCII()
		if err != nil {
			return set, err
		}
		bom := set.BOM
		set = charset.Recognise(more)
		set.BOM = bom
	}
	if isBinary(head) && !strings.HasPrefix(set.Name, "UTF-16") && !strings.HasPrefix(set.Name, "UTF-32") {
		return set, &OpenError{Name: in.name, Problem: "not a text and not a workbook; " + saveAs}
	}
	f.Encoding, f.BOM = set.Name, set.BOM > 0
	for _, other := range set.Rivals {
		f.Rivals = append(f.Rivals, Rival{Encoding: other.Key(), Not: set.Key(), own: set, other: other})
	}
	return set, nil
}

// beyondASCII returns pieces of the file that have more than ASCII, from its
// first 32 MB.
func (in *input) beyondASCII() ([]byte, error) {
	const look, piece, enough = 32 << 20, 64 << 10, 256 << 10
	r, err := in.open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	var found []byte
	buf := make([]byte, piece)
	for at := 0; at < look && len(found) < enough; at += piece {
		n, err := io.ReadFull(r, buf)
		if !isASCII(buf[:n]) {
			found = append(found, buf[:n]...)
		}
		if err != nil {
			break // what is wrong is said when the file is read
		}
	}
	return found, nil
}

// isASCII looks at 32 bytes at a time, then at eight.
func isASCII(b []byte) bool {
	word := binary.LittleEndian.Uint64
	for ; len(b) >= 32; b = b[32:] {
		if (word(b)|word(b[8:])|word(b[16:])|word(b[24:]))&0x8080808080808080 != 0 {
			return false
		}
	}
	for ; len(b) >= 8; b = b[8:] {
		if word(b)&0x8080808080808080 != 0 {
			return false
		}
	}
	for _, c := range b {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// larger reports whether the file is larger than so many bytes, unpacked.
func (in *input) larger(n int64) bool {
	if in.gzip { // whose size tells nothing: it may hold a thousand times as much
		r, err := in.open()
		if err != nil {
			return false
		}
		defer r.Close()
		unpacked, _ := io.CopyN(io.Discard, r, n+1)
		return unpacked > n
	}
	f, err := in.fsys.Open(in.name)
	if err != nil {
		return false
	}
	defer f.Close()
	info, err := f.Stat()
	return err == nil && info.Size() > n
}

// say puts what was inferred into words.
func (f *File) say(set charset.Charset, found text.Found, opt Options, empty bool) {
	if empty {
		f.Said = append(f.Said, "the file is empty")
		return
	}
	if opt.Encoding == "" && f.Encoding != "UTF-8" {
		f.Said = append(f.Said, fmt.Sprintf("encoding recognised as %s", f.Encoding))
	}
	if set.Torn > 0 {
		f.Said = append(f.Said, fmt.Sprintf("%d bytes are not valid UTF-8 and were read as Windows-1252", set.Torn))
	}
	if found.Wrapped > 0 {
		f.Said = append(f.Said, "lines that are in quotes as a whole were read as if they were not")
	}
	switch {
	case found.Sep:
		f.Said = append(f.Said, fmt.Sprintf("delimiter %q as declared in the first line", f.Delimiter))
	case found.Cuts != nil:
		f.Said = append(f.Said, fmt.Sprintf("read as columns of fixed width, %d of them", len(found.Cuts)))
	case opt.Delimiter == "" && found.Rivalled() && f.Delimiter != "" && !(found.Blank() && found.Next.Blank()):
		f.Said = append(f.Said, fmt.Sprintf("delimiter recognised as %s, but %s is nearly as likely: declare it if cells are cut in the wrong places",
			quoteName(f.Delimiter), quoteName(found.Next.Name())))
	}
}

func quoteName(delimiter string) string {
	switch delimiter {
	case "":
		return "none"
	case "blanks":
		return "blanks"
	}
	return fmt.Sprintf("%q", delimiter)
}

// blocks cuts the text into blocks of rows of about a size.
func (s *textSource) blocks(size int) iter.Seq2[text.Block, error] {
	return func(yield func(text.Block, error) bool) {
		r, err := s.in.open()
		if err != nil {
			yield(text.Block{}, err)
			return
		}
		defer r.Close()
		for b, err := range text.Blocks(charset.NewReader(r, s.charset), s.dialect, size) {
			if !yield(b, err) {
				return
			}
		}
	}
}

func (s *textSource) rows() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		for b, err := range s.blocks(text.Small) {
			if err != nil {
				yield(Row{}, err)
				return
			}
			for row := range b.Rows(s.dialect) {
				if !yield(*row, nil) {
					return
				}
			}
		}
	}
}

func (s *textSource) recognise(h *firstRows) (Layout, error) {
	opt := layout.Options{Text: true, Limit: mostRows, Front: s.front, Pairs: s.dialect.Pairs()}
	if s.large {
		opt.Limit = headRows
	}
	return layout.Recognise(h.keep(s.rows()), opt)
}

// Block is a piece of a text that begins and ends at a row, so that blocks can
// be read side by side.
type Block struct {
	block   text.Block
	dialect text.Dialect
}

// Line returns the line that the block begins with.
func (b Block) Line() int32 { return b.block.Line }

// Rows returns the rows of the block. A row is valid until the next.
func (b Block) Rows() iter.Seq[*Row] { return b.block.Rows(b.dialect) }

// quotes reports whether cells in quotes, and escaped quotes, are anywhere in a
// text, and by which characters.
func (s *textSource) quotes() (quote, escape string, err error) {
	for b, err := range s.blocks(text.Large) {
		if err != nil {
			return quote, escape, err
		}
		seen := b.Quotes(s.dialect)
		if seen.Quoted {
			quote = string(s.dialect.Quote)
		}
		if seen.Escaped {
			return quote, string(cmp.Or(s.dialect.Escape, s.dialect.Quote)), nil
		}
	}
	return quote, "", nil
}

// Blocks returns a text's blocks in order, of about 1 MiB each; false for a
// sheet of a workbook, whose rows come one by one.
func (s *Sheet) Blocks() (iter.Seq2[Block, error], bool) {
	t, ok := s.source.(*textSource)
	if !ok {
		return nil, false
	}
	return func(yield func(Block, error) bool) {
		for b, err := range t.blocks(text.Large) {
			if !yield(Block{b, t.dialect}, err) {
				return
			}
		}
	}, true
}
