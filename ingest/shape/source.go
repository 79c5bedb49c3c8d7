package shape

import (
	"context"
	"fmt"

	"repsift/ingest/rep"
	"repsift/ingest/table"
)

// Decode reads the rows of the source into a sink by the plans that Settle
// compiled. Every row is counted once: as what the strongest of the tables it is
// part of made of it. The error is of reading or of the context.
func (s *Source) Decode(ctx context.Context, out *Sink) error {
	for _, sheet := range s.file.Sheets {
		var here []*decoder
		for _, p := range s.Parts {
			if p.sheet == sheet && p.plan != nil {
				here = append(here, newDecoder(p.plan, p.Region, out))
			}
		}
		if err := s.decodeSheet(ctx, sheet, here, out); err != nil {
			return err
		}
	}
	s.unusedCorrections()
	return nil
}

func (s *Source) decodeSheet(ctx context.Context, sheet *table.Sheet, here []*decoder, out *Sink) error {
	n := 0
	next := int32(1)
	for row, err := range sheet.Rows() {
		if err != nil {
			return err
		}
		next = out.gap(next, &row)
		if n++; n&0xfff == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if row.Err != nil && s.within(here, &row) {
			out.count(s.broken(sheet, &row, out))
			continue
		}
		best := notData
		for len(here) > 0 && here[0].region.LastData != 0 && row.Line > here[0].region.LastData {
			s.end(here[0])
			here = here[1:]
		}
		for _, d := range here {
			if d.region.FirstData > row.Line {
				break
			}
			if d.region.Data(&row) {
				best = max(best, d.row(&row))
			}
		}
		out.count(best)
	}
	for _, d := range here {
		s.end(d)
	}
	return ctx.Err()
}

// end closes a table behind its last row.
func (s *Source) end(d *decoder) {
	if end := d.plan.shape.end; end != nil {
		end(d)
	}
	for line := range d.used {
		if s.corrected == nil {
			s.corrected = make(map[int]bool)
		}
		s.corrected[line] = true
	}
}

// within reports whether a row lies in the data of a table.
func (s *Source) within(here []*decoder, row *table.Row) bool {
	for _, d := range here {
		if r := d.region; r.FirstData != 0 && row.Line >= r.FirstData && (r.LastData == 0 || row.Line <= r.LastData) {
			return true
		}
	}
	return false
}

// broken files a row that is no record.
func (s *Source) broken(sheet *table.Sheet, row *table.Row, out *Sink) outcome {
	out.Unread = append(out.Unread, rep.Unread{
		Lost:    rep.LostRow,
		Place:   rep.Place{Source: s.Name, Sheet: sheet.Name, Row: row.Line},
		Text:    row.Err.Text,
		Problem: row.Err.Problem,
	})
	return unread
}

// unusedCorrections warns of declared corrections that met no row.
func (s *Source) unusedCorrections() {
	for _, c := range s.season.Corrections {
		if c.Source == s.Name && !s.corrected[c.Line] {
			s.warn("%s:%d: the correction of row %d changed nothing: there is no such rep or set", s.season.File, c.Line, c.Row)
		}
	}
}

// Stopped fills the ledger of a source that was not read: all its rows are
// lost, with one line that says why.
func (s *Source) Stopped(cause error, out *Sink) {
	for _, sheet := range s.file.Sheets {
		next := int32(1)
		for row, err := range sheet.Rows() {
			if err != nil {
				break
			}
			next = out.gap(next, &row)
			if row.Blank() {
				out.count(notData)
			} else {
				out.count(unread)
			}
		}
	}
	out.Unread = append(out.Unread, rep.Unread{Lost: rep.LostRow, Place: rep.Place{Source: s.Name}, Problem: reason(cause)})
}

// reason returns an error without the place it begins with.
func reason(err error) string {
	if a, ok := err.(*Ask); ok {
		bare := *a
		bare.Place = rep.Place{Column: a.Column}
		return bare.problem(a.Source)
	}
	return fmt.Sprint(err)
}

// gap counts the blank rows before a row, which spreadsheets leave out, and
// returns the line after it.
func (s *Sink) gap(next int32, row *table.Row) int32 {
	if blanks := int(row.Line - next); blanks > 0 {
		s.Ledger.Rows += blanks
		s.Ledger.NotData += blanks
	}
	return row.Line + max(1, row.Lines)
}

// Count fills the ledger of a source that holds no data.
func (s *Source) Count(out *Sink) {
	for _, sheet := range s.file.Sheets {
		next := int32(1)
		for row, err := range sheet.Rows() {
			if err != nil {
				break
			}
			next = out.gap(next, &row)
			out.count(notData)
		}
	}
}

// Decimal returns the decimal mark of the source, "" where no number told it.
func (s *Source) Decimal() string { return s.mark.String() }

// DateOrder returns the order of the source's dates, "" where no date told it.
func (s *Source) DateOrder() string { return s.order.String() }

// LocalTimes reports whether the source has times of day.
func (s *Source) LocalTimes() bool {
	for _, p := range s.Parts {
		if p.plan != nil && p.plan.timed {
			return true
		}
	}
	return false
}
