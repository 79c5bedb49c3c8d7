// Package text cuts delimited text into rows of cells and recognises its
// dialect.
//
// A [Dialect] is a delimiter, a quote and an escape style. [Recognise] finds it
// in a sample. A [Scanner] cuts a block of text into rows by RFC 4180, widened
// by what files really hold:
//
//   - a line ends with LF, CRLF or CR, whatever the others end with;
//   - a quoted cell may be led and followed by blanks;
//   - a quote that is not followed by a delimiter or a line end belongs to the
//     cell; where that does not give the usual number of cells, other readings
//     of the line are tried;
//   - a quoted cell holds line breaks only if the lines taken in are no rows of
//     their own: an unclosed quote breaks its own line and no other;
//   - a line that is in quotes as a whole is read as the line in them, if that
//     has the usual number of cells;
//   - a line of more than [MaxLine] bytes breaks, and the next is read.
//
// [Blocks] cuts a stream into blocks at the ends of rows, so that blocks can be
// scanned side by side.
package text

// Limits on a row.
const (
	MaxLine    = 1 << 20 // bytes
	MaxColumns = 1 << 15 // cells; a spreadsheet has at most 16,384
)

// Dialect is how a text writes rows. The zero Dialect makes one cell of each
// line.
type Dialect struct {
	Delimiter string // one or more characters; "" with Blanks 0: none
	Blanks    int    // at least so many blanks are a delimiter; 0: Delimiter is
	Cuts      []int  // where columns of fixed width begin, in characters; lines that do not keep to it are read by Blanks
	Lead      bool   // blanks after the delimiter belong to it
	Trim      bool   // blanks on both sides of cells belong to none
	Framed    bool   // rows begin and end with the delimiter, as drawn tables do
	Quote     byte   // '"', '\'' or 0: no quotes
	Escape    byte   // of quotes in quoted cells: Quote itself: doubled; '\\'; 0: doubled as well
	Width     int    // usual number of cells of a row; 0: not known
}

// Blank reports whether blanks part cells.
func (d Dialect) Blank() bool { return d.Blanks > 0 || d.Delimiter == " " }

// Pairs reports whether the delimiter is one that parts names and values rather
// than cells: "name: value", "name=value".
func (d Dialect) Pairs() bool { return d.Delimiter == "=" || d.Delimiter == ":" && d.Lead }

// Name returns the delimiter as people name it: the character, "blanks" for
// runs of blanks, "" for none.
func (d Dialect) Name() string {
	if d.Blanks > 0 {
		return "blanks"
	}
	return d.Delimiter
}
