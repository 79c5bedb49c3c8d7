package tidy

import (
	"bufio"
	"io"
	"strings"

	"github.com/gocarina/gocsv"

	"repsift/clean"
	"repsift/ingest/rep"
)

// RepsCSV writes the named rows of t, in that order.
func RepsCSV(w io.Writer, t *rep.Table, rows []int32) error {
	return writeCSV(w, len(rows), func(i int) Rep { return repOf(t, rows[i]) })
}

// AsideCSV writes reps set aside, in the order given.
func AsideCSV(w io.Writer, t *rep.Table, aside []clean.Aside) error {
	return writeCSV(w, len(aside), func(i int) Aside { return asideOf(t, &aside[i]) })
}

// SetsCSV writes sets, in the order given.
func SetsCSV(w io.Writer, sets *rep.Sets) error {
	return writeCSV(w, sets.Len(), func(i int) Set { s := sets.At(i); return setOf(&s) })
}

// UnreadCSV writes what could not be read, in the order given.
func UnreadCSV(w io.Writer, unread []rep.Unread) error {
	return writeCSV(w, len(unread), func(i int) Unread { return unreadOf(&unread[i]) })
}

// batch is how many rows are made at a time.
const batch = 4096

func writeCSV[T any](w io.Writer, n int, row func(int) T) error {
	out := &lines{bufio.NewWriterSize(w, 1<<16)}
	rows := make([]T, 0, min(n, batch))
	if err := gocsv.MarshalCSV(rows, out); err != nil { // the heading
		return err
	}
	for at := 0; at < n; at += batch {
		rows = rows[:0]
		for i := at; i < min(at+batch, n); i++ {
			rows = append(rows, row(i))
		}
		if err := gocsv.MarshalCSVWithoutHeaders(rows, out); err != nil {
			return err
		}
	}
	return out.w.Flush()
}

// lines writes records as RFC 4180 has them. encoding/csv would not do: told
// to end lines in CRLF it changes line ends inside a text too.
type lines struct{ w *bufio.Writer }

// Write writes one record. A field is quoted where it holds a separator of
// any kind, a quote, a line end or a blank at an end.
func (l *lines) Write(record []string) error {
	for i, field := range record {
		if i > 0 {
			l.w.WriteByte(',')
		}
		if !strings.ContainsAny(field, ",;|\t\"\r\n") && strings.TrimSpace(field) == field {
			l.w.WriteString(field)
			continue
		}
		l.w.WriteByte('"')
		l.w.WriteString(strings.ReplaceAll(field, `"`, `""`))
		l.w.WriteByte('"')
	}
	_, err := l.w.WriteString("\r\n")
	return err
}

// Flush does nothing: there is one flush, at the end.
func (l *lines) Flush() {}

// Error returns nil: the buffer keeps a write error and returns it at the end.
func (l *lines) Error() error { return nil }
