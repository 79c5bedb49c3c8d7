package date

import (
	"strings"

	"repsift/ingest/rep"
)

// Reader reads dates like [Parse], those of one column one after the other: the
// day is worked out once for the rows that share it. The zero Reader is ready
// and knows no order.
type Reader struct {
	Order Order

	text []byte // of the last day, as fast reads it
	day  rep.Day
}

// On returns what [Reader.Parse] and [Stamp.In] return, day and moment, where
// the text has the day of the one before and a clock behind it.
func (r *Reader) On(text string, z *Zone) (rep.Day, rep.Instant, bool) {
	var f form
	if !r.same(text, &f) {
		return 0, 0, false
	}
	if !f.zoned {
		return r.day, z.Instant(r.day, f.clock.V), true
	}
	at := rep.Instant(r.day)*day + rep.Instant(f.clock.V) - rep.Instant(f.offset)*60_000
	if f.offset == 0 {
		return z.Day(at), at, true
	}
	return r.day, at, true
}

// same reports whether a text has the day of the one before and a clock behind
// it, which it reads.
func (r *Reader) same(text string, f *form) bool {
	n := len(r.text)
	return n > 0 && len(text) > n && (text[n] == 'T' || text[n] == ' ') && text[:n] == string(r.text) && f.fastClock(text[n+1:])
}

// Parse reads a date, as [Parse] with the order of the Reader does.
func (r *Reader) Parse(text string) (Stamp, error) {
	if f := (form{}); r.same(text, &f) {
		return f.stamp(r.day), nil
	}
	s, err := Parse(text, r.Order)
	if err == nil {
		r.remember(text)
	}
	return s, err
}

// remember keeps the day of a text that was read, where a clock stands behind it.
func (r *Reader) remember(text string) {
	day := text
	if i := strings.IndexAny(text, "T "); i >= 0 {
		day = text[:i]
	}
	var f form
	if string(r.text) == day || !f.fast(day) {
		return
	}
	if d, _, problem := f.day(r.Order); problem == "" {
		r.text, r.day = append(r.text[:0], day...), d
	}
}
