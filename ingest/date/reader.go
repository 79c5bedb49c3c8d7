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

// Parse reads a date, as [Parse] with the order of the Reader does.
func (r *Reader) Parse(text string) (Stamp, error) {
	if n := len(r.text); n > 0 && len(text) > n && (text[n] == 'T' || text[n] == ' ') && text[:n] == string(r.text) {
		var f form
		if f.fastClock(text[n+1:]) {
			return f.stamp(r.day), nil
		}
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
