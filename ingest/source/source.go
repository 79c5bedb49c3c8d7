package source

import (
	"context"
	"errors"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/shape"
	"repsift/ingest/shape/column"
	"repsift/ingest/table"
)

// Decode reads the rows of the source into a sink by the plans that Settle
// compiled. Every row is counted once: as what the strongest of the tables it is
// part of made of it. A large text is read in blocks by the workers; bytes
// is its size. The error is of reading or of the context.
func (s *Source) Decode(ctx context.Context, workers int, bytes int64, out *shape.Sink) error {
	for _, sheet := range s.file.Sheets {
		var here []decoding
		for _, p := range s.Parts {
			if p.sheet != sheet {
				continue
			}
			plan := p.plan
			if plan == nil {
				if plan = s.leaveOut(p); plan == nil {
					continue
				}
			}
			here = append(here, decoding{shape.NewDecoder(plan, out), plan, p.Region})
		}
		decode := s.decodeSheet
		if _, ok := sheet.Blocks(); ok && bytes > blocksFrom && sideBySide(here) {
			decode = func(ctx context.Context, sheet *table.Sheet, here []decoding, out *shape.Sink) error {
				return s.decodeBlocks(ctx, sheet, here[0], workers, bytes, out)
			}
		}
		if err := decode(ctx, sheet, here, out); err != nil {
			return err
		}
	}
	s.unusedCorrections()
	return nil
}

// decoding is a table that is being read.
type decoding struct {
	*shape.Decoder
	plan   *shape.Plan
	region *table.Region
}

func (d *decoding) over(line int32) bool { return d.region.LastData != 0 && line > d.region.LastData }

func (s *Source) decodeSheet(ctx context.Context, sheet *table.Sheet, here []decoding, out *shape.Sink) error {
	n := 0
	next := int32(1)
	var first *table.Region
	if len(here) > 0 {
		first = here[0].region
	}
	for row, err := range sheet.Rows() {
		if err != nil {
			return err
		}
		next = gap(out, next, &row)
		if row.Err != nil && first != nil && beyond(&row, first) {
			out.Count(broken(s.Name, sheet, &row, out))
			continue
		}
		if n++; n&0xfff == 0 {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if out.Came != nil {
				if _, err := out.Came(0); err != nil {
					return err
				}
			}
		}
		for len(here) > 0 && here[0].over(row.Line) {
			s.end(here[0])
			here = here[1:]
		}
		out.Count(s.decodeRow(&row, here))
	}
	for _, d := range here {
		s.end(d)
	}
	return ctx.Err()
}

// decodeRow reads a row by the tables it can be part of and returns what the
// strongest made of it.
func (s *Source) decodeRow(row *table.Row, here []decoding) shape.Outcome {
	best := shape.NotData
	for i := range here {
		d := &here[i]
		if d.region.FirstData == 0 || d.over(row.Line) {
			continue
		}
		if d.region.FirstData > row.Line {
			break
		}
		if d.region.Data(row) {
			best = max(best, d.Row(row))
		}
	}
	return best
}

// end closes a table behind its last row.
func (s *Source) end(d decoding) {
	d.End()
	for _, said := range d.Said() {
		s.say("%s", said)
	}
	s.markCorrected(d.Corrected())
}

func (s *Source) markCorrected(lines []int) {
	for _, line := range lines {
		if s.corrected == nil {
			s.corrected = make(map[int]bool)
		}
		s.corrected[line] = true
	}
}

// leaveOut returns the plan of a table that is not read: one that holds reps or
// sets is lost row by row. Any other is no data; that is said, and the plan nil.
func (s *Source) leaveOut(p *Part) *shape.Plan {
	lost := &shape.Plan{Source: s.Name, Sheet: p.Sheet, Season: s.season}
	where := rep.Place{Source: s.Name, Sheet: p.Sheet, Row: p.Region.FirstData}
	if p.ask != nil {
		s.asked(p.ask)
		lost.Lost = p.ask.problem(s.Name)
		return lost
	}
	for _, f := range []column.Field{column.MeanVelocity, column.PeakVelocity, column.Speeds, column.LastVelocity, column.FastestVelocity, column.RepNumber} {
		if c := p.kind.Column(f); c != nil && c.Words.Has != 0 && c.Stats.Filled() > 0 {
			s.warn("row %d: the table with the headings %s is of no known shape; declare its columns, or its shape, in the season file", where.Row, p.kind.headings())
			lost.Lost = "the row is part of a table of no known shape; declare its columns, or its shape, in the season file"
			return lost
		}
	}
	if h := p.kind.headings(); h != "" {
		s.say("%s: a table without reps or sets is not read; its headings are %s", where, h)
	}
	return nil
}

// beyond reports whether a row stands at or behind the first data. Where a row
// is broken there it is lost, though it seems to lie behind the table: such a
// row is what may have cut the table short.
func beyond(row *table.Row, first *table.Region) bool {
	return first.FirstData > 0 && row.Line >= first.FirstData
}

// broken files a row that is no record.
func broken(source string, sheet *table.Sheet, row *table.Row, out *shape.Sink) shape.Outcome {
	out.Unread = append(out.Unread, rep.Unread{
		Lost:    rep.LostRow,
		Place:   rep.Place{Source: source, Sheet: sheet.Name, Row: row.Line},
		Text:    row.Err.Text,
		Problem: row.Err.Problem,
	})
	return shape.Unread
}

// unusedCorrections warns of declared corrections that met no row.
func (s *Source) unusedCorrections() {
	for _, c := range s.season.Corrections {
		if c.Source == s.Name && !s.corrected[c.Line] {
			s.warn("%s:%d: the correction of row %d changed nothing: there is no such rep or set", s.season.File, c.Line, c.Row)
		}
	}
}

// Lose fills the ledger of a source that was not read: all its rows are
// lost, with one line that says why.
func (s *Source) Lose(cause error, out *shape.Sink) {
	for _, sheet := range s.file.Sheets {
		next := int32(1)
		for row, err := range sheet.Rows() {
			if err != nil {
				break
			}
			next = gap(out, next, &row)
			if row.Blank() {
				out.Count(shape.NotData)
			} else {
				out.Count(shape.Unread)
			}
		}
	}
	u := rep.Unread{Lost: rep.LostRow, Place: rep.Place{Source: s.Name}}
	var ask *Ask
	if errors.As(cause, &ask) {
		u.Place, u.Problem = ask.Place, ask.problem(s.Name)
	} else {
		u.Problem = strings.TrimPrefix(strings.TrimPrefix(cause.Error(), s.Name), ": ")
	}
	out.Unread = append(out.Unread, u)
}

// gap counts the blank rows before a row, which spreadsheets leave out, and
// returns the line after it.
func gap(out *shape.Sink, next int32, row *table.Row) int32 {
	if blanks := int(row.Line - next); blanks > 0 {
		out.Ledger.Rows += blanks
		out.Ledger.NotData += blanks
	}
	return row.Line + max(1, row.Lines)
}

// Skip fills the ledger of a source that holds no data.
func (s *Source) Skip(out *shape.Sink) {
	for _, sheet := range s.file.Sheets {
		next := int32(1)
		for row, err := range sheet.Rows() {
			if err != nil {
				break
			}
			next = gap(out, next, &row)
			out.Count(shape.NotData)
		}
	}
}

// Forget lets go of what the survey counted in the columns, which takes more
// memory than the reps of a small source. Nothing is settled or decoded after it.
func (s *Source) Forget() {
	for _, k := range s.kinds {
		for _, c := range k.Columns {
			c.Stats = &column.Stats{}
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
		if p.timed {
			return true
		}
	}
	return false
}
