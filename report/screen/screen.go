// Package screen draws what a person sees on the terminal at the end of a
// run: the ledger of every source, what was kept and set aside of each lifter
// and why, and what to look at. It returns text; where that goes, and whether
// it may be coloured, is its caller's to say.
//
// No text of the inputs reaches the terminal unwashed: see [Clean].
package screen

import (
	"bytes"
	"fmt"
	"io"
	"strings"
)

// Screen is a terminal or a file that is written to as if it were one.
type Screen struct {
	W      io.Writer
	Width  int  // cells a line; 0 is 80
	Colour bool // emphasis by escape sequences
}

// Line writes a formatted line.
func (s *Screen) Line(format string, args ...any) { fmt.Fprintf(s.W, format+"\n", args...) }

// Heading writes a heading after a blank line.
func (s *Screen) Heading(text string) { s.Line("\n%s", s.bold(text)) }

// Table writes a table.
func (s *Screen) Table(t Table) {
	for i, line := range t.Render(s.width()) {
		if i == 0 {
			line = s.bold(line)
		}
		s.Line("%s", line)
	}
}

// Item writes a paragraph behind a mark, wrapped and indented.
func (s *Screen) Item(mark, text string) {
	indent := strings.Repeat(" ", cells(mark)+1)
	for i, line := range Wrap(Clean(text), s.width()-len(indent)) {
		if i == 0 {
			s.Line("%s %s", mark, line)
		} else {
			s.Line("%s%s", indent, line)
		}
	}
}

// Lines passes text on to a terminal, washed line by line: for what is written
// for programs and shown on a terminal all the same.
type Lines struct {
	W    io.Writer
	rest []byte // of a line that has not ended
}

// Write implements io.Writer. What follows the last line end waits for [Lines.Flush].
func (l *Lines) Write(p []byte) (int, error) {
	l.rest = append(l.rest, p...)
	end := bytes.LastIndexByte(l.rest, '\n') + 1
	err := l.wash(l.rest[:end])
	l.rest = append(l.rest[:0], l.rest[end:]...)
	return len(p), err
}

// Flush writes a last line without an end.
func (l *Lines) Flush() error {
	err := l.wash(l.rest)
	l.rest = l.rest[:0]
	return err
}

func (l *Lines) wash(p []byte) error {
	for line := range bytes.Lines(p) {
		text, end := strings.CutSuffix(string(line), "\n")
		text = Clean(strings.TrimSuffix(text, "\r"))
		if end {
			text += "\n"
		}
		if _, err := io.WriteString(l.W, text); err != nil {
			return err
		}
	}
	return nil
}

func (s *Screen) width() int {
	if s.Width <= 0 {
		return 80
	}
	return max(40, s.Width)
}

func (s *Screen) bold(text string) string {
	if !s.Colour {
		return text
	}
	return "\x1b[1m" + text + "\x1b[0m"
}

// Count returns a whole number with a thin gap every three digits: 12 345.
func Count(n int) string {
	digits := fmt.Sprint(n)
	for at := len(digits) - 3; at > 0; at -= 3 {
		digits = digits[:at] + " " + digits[at:]
	}
	return digits
}

// Of returns a count with its noun: "1 row", "12 345 rows".
func Of(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return Count(n) + " " + many
}
