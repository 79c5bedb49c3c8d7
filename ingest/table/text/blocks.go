package text

import (
	"io"
	"iter"
	"strings"
	"sync"

	"repsift/ingest/table/cell"
)

// Block is a piece of a text that begins and ends at a row.
type Block struct {
	Text string
	Line int32 // of its first line, 1-based

	long bool // the beginning of one line that is too long
}

// Rows returns the rows of the block. A row is valid until the next.
func (b Block) Rows(d Dialect) iter.Seq[*cell.Row] {
	return func(yield func(*cell.Row) bool) {
		if b.long {
			err := tooLong(b.Text)
			yield(&cell.Row{Line: b.Line, Lines: 1, Cells: []cell.Cell{textCell(err.Text)}, Err: err})
			return
		}
		var row cell.Row
		for s := d.Scan(b.Text, b.Line); s.Next(&row); {
			if !yield(&row) {
				return
			}
		}
	}
}

// Quotes reports whether cells in quotes, and escaped quotes, are in the block.
func (b Block) Quotes(d Dialect) Quotes {
	if b.long || d.Quote == 0 || strings.IndexByte(b.Text, d.Quote) < 0 {
		return Quotes{}
	}
	s := d.Scan(b.Text, b.Line)
	s.bounds = true
	var row cell.Row
	for s.Next(&row) && !s.quotes.Escaped {
	}
	return s.quotes
}

// Sizes of blocks: Large ones cost little beside scanning where they are read
// side by side, and stay in a processor's cache; of Small ones, for one reader,
// little is read in vain where only the first rows are wanted.
const (
	Large = 1 << 20
	Small = 1 << 17
)

// Blocks cuts a text in UTF-8 into blocks of about a size. An error of reading
// comes last, after what could be read.
func Blocks(r io.Reader, d Dialect, size int) iter.Seq2[Block, error] {
	return func(yield func(Block, error) bool) {
		b := blocks{r: r, d: d, line: 1, size: size}
		for {
			block, ok := b.next()
			if ok && !yield(block, nil) {
				return
			}
			if !ok {
				if b.err != io.EOF {
					yield(Block{}, b.err)
				}
				return
			}
		}
	}
}

type blocks struct {
	r    io.Reader
	d    Dialect
	text strings.Builder // read and not yet given: blocks are parts of it, which saves a copy
	err  error           // of reading; io.EOF at the end
	line int32
	size int
}

const chunkSize = 64 << 10

// chunks are what is read into, passed on: most files are smaller than one.
var chunks = sync.Pool{New: func() any {
	b := make([]byte, chunkSize)
	return &b
}}

// next returns the next block; false at the end, with err set.
func (b *blocks) next() (Block, bool) {
	for want := b.size; ; want += b.size {
		b.fill(want)
		final := b.err != nil
		if b.text.Len() == 0 {
			return Block{}, false
		}
		cut := b.cut(final)
		switch {
		case cut > 0:
			return b.take(cut), true
		case b.text.Len() > MaxLine:
			return b.skipLine(), true
		case final:
			return b.take(b.text.Len()), true
		}
	}
}

// fill reads until there are so many bytes or reading ends.
func (b *blocks) fill(want int) {
	chunk := chunks.Get().(*[]byte)
	defer chunks.Put(chunk)
	for b.text.Len() < want && b.err == nil {
		n, err := b.r.Read(*chunk)
		if b.text.Len()+n > b.text.Cap() {
			room := n // most files are small
			if b.text.Len() > 0 {
				room += want
			}
			b.text.Grow(room)
		}
		b.text.Write((*chunk)[:n])
		b.err = err
	}
}

// take removes the first bytes of the text and makes them a block.
func (b *blocks) take(n int) Block {
	block := Block{Text: b.text.String()[:n], Line: b.line}
	b.line += countLines(block.Text)
	b.drop(n)
	return block
}

// drop removes the first bytes of the text.
func (b *blocks) drop(n int) {
	rest := b.text.String()[n:]
	b.text.Reset()
	if b.err == nil {
		b.text.Grow(b.size + chunkSize)
	}
	b.text.WriteString(rest)
}

// cut returns the length of the longest run of whole rows at the start of the
// text, 0 if none can be told yet.
func (b *blocks) cut(final bool) int {
	text := b.text.String()
	if final && len(text) <= b.size {
		return len(text)
	}
	if b.d.Quote == 0 || strings.IndexByte(text, b.d.Quote) < 0 {
		return lastBreak(text)
	}
	// Where quotes are, rows have to be looked at one by one.
	s := b.d.Scan(text, b.line)
	s.bounds = true
	var row cell.Row
	for {
		start := s.pos
		s.hitEnd = false
		if !s.Next(&row) {
			return start
		}
		open := s.hitEnd && len(s.text)-start < MaxLine
		if !final && (open || s.pos == len(s.text)) {
			return start
		}
	}
}

// lastBreak returns the position after the last line break, leaving one that
// may be half of a CRLF.
func lastBreak(text string) int {
	if i := strings.LastIndexByte(text, '\n'); i >= 0 {
		return i + 1
	}
	if n := len(text); n > 2 {
		return strings.LastIndexByte(text[:n-2], '\r') + 1
	}
	return 0
}

// skipLine reads past a line that is longer than the text at hand and returns
// its beginning as a block.
func (b *blocks) skipLine() Block {
	block := Block{Text: excerpt(b.text.String()[:MaxLine]), Line: b.line, long: true}
	b.line++
	for {
		text := b.text.String()
		end := strings.IndexAny(text, "\r\n")
		if end >= 0 && (len(text)-end > 2 || b.err != nil) {
			b.drop(end + breakLen(text[end:min(end+3, len(text))]))
			return block
		}
		if b.err != nil {
			b.drop(len(text))
			return block
		}
		if end < 0 {
			end = len(text)
		}
		b.drop(end)
		b.fill(b.size)
	}
}

// countLines returns the number of lines of a text, the last one with or
// without its break.
func countLines(s string) int32 {
	n := int32(strings.Count(s, "\n"))
	for i := find(s, 0, '\r'); i < len(s); i = find(s, i, '\r') {
		skip := breakLen(s[i:])
		if skip == 1 {
			n++
		}
		i += skip
	}
	if s != "" && !isBreak(s[len(s)-1]) {
		n++
	}
	return n
}
