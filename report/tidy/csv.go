package tidy

import (
	"bytes"
	"io"
	"runtime"
	"slices"
	"strings"
	"sync"

	"github.com/gocarina/gocsv"

	"repsift/clean"
	"repsift/ingest/rep"
)

// RepsCSV writes the named rows of t, in that order.
func RepsCSV(w io.Writer, t *rep.Table, rows []int32) error { return NewCSV(w).Reps(t, rows) }

// AsideCSV writes reps set aside, in the order given.
func AsideCSV(w io.Writer, t *rep.Table, aside []clean.Aside) error { return NewCSV(w).Aside(t, aside) }

// SetsCSV writes sets, in the order given.
func SetsCSV(w io.Writer, sets *rep.Sets) error { return NewCSV(w).Sets(sets) }

// UnreadCSV writes what could not be read, in the order given.
func UnreadCSV(w io.Writer, unread []rep.Unread) error {
	return writeCSV(NewCSV(w), len(unread), func(i int) Unread { return unreadOf(&unread[i]) })
}

// batch is how many rows are made at a time.
const batch = 4096

// writeCSV writes n rows, as many batches side by side as there are processors.
func writeCSV[T any](c *CSV, n int, row func(int) T) error {
	workers := make([]csvBatch[T], max(1, min(runtime.GOMAXPROCS(0), (n+batch-1)/batch)))
	if !c.headed {
		c.headed = true
		if err := workers[0].fill(0, 0, row); err != nil {
			return err
		}
		if _, err := workers[0].text.WriteTo(c.w); err != nil {
			return err
		}
	}
	for at := 0; at < n; at += len(workers) * batch {
		var wg sync.WaitGroup
		for k := range workers {
			from := min(at+k*batch, n)
			wg.Go(func() { workers[k].err = workers[k].fill(from, min(from+batch, n), row) })
		}
		wg.Wait()
		for k := range workers {
			if err := workers[k].err; err != nil {
				return err
			}
			if _, err := workers[k].text.WriteTo(c.w); err != nil {
				return err
			}
		}
	}
	return nil
}

// csvBatch is some rows and their text.
type csvBatch[T any] struct {
	rows []T
	text bytes.Buffer
	err  error
}

// fill writes rows from…to, or the heading where there is none of them.
func (b *csvBatch[T]) fill(from, to int, row func(int) T) error {
	b.rows = slices.Grow(b.rows[:0], to-from)
	for i := from; i < to; i++ {
		b.rows = append(b.rows, row(i))
	}
	if to == 0 {
		return gocsv.MarshalCSV(b.rows, &lines{&b.text})
	}
	return gocsv.MarshalCSVWithoutHeaders(b.rows, &lines{&b.text})
}

// lines writes records as RFC 4180 has them. encoding/csv would not do: told
// to end lines in CRLF it changes line ends inside a text too.
type lines struct{ w *bytes.Buffer }

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
	l.w.WriteString("\r\n")
	return nil
}

// Flush does nothing: there is nothing between this and the buffer.
func (l *lines) Flush() {}

// Error returns nil: a buffer takes everything.
func (l *lines) Error() error { return nil }
