package main

import (
	"fmt"
	"strconv"
	"time"

	"github.com/xuri/excelize/v2"
)

// guest writes the week in a gym with pound plates: a row a set, reps across,
// one merged cell for the date of each session.
func (d *demo) guest(sets []*set) error {
	const name, sheet, across = "guest gym.xlsx", "Sets", 6
	b := newBook(d, name, sheet)
	b.row(sheet, "Week away, plates in pounds")
	b.notData(sheet, "preamble")
	b.row(sheet)
	b.notData(sheet, "blank")
	heading := []any{"Date", "Lifter", "Lift", "Load"}
	for i := range across {
		heading = append(heading, fmt.Sprintf("Rep %d (m/s)", i+1))
	}
	b.row(sheet, heading...)
	b.notData(sheet, "heading")
	var from int
	var before time.Time
	merge := func() error {
		if last := b.rows[sheet]; from > 0 && last > from {
			return b.file.MergeCell(sheet, "A"+strconv.Itoa(from), "A"+strconv.Itoa(last))
		}
		return nil
	}
	nth := 0
	for _, s := range sets {
		if s.to != toGuest {
			continue
		}
		nth++
		row := []any{nil, s.lifter.name, northLift(s), s.lb}
		if !s.date.Equal(before) {
			if err := merge(); err != nil {
				return err
			}
			row[0], before, from = s.date, s.date, b.rows[sheet]+1
		}
		p := b.place(sheet, 1)
		for i, r := range s.records(1, 0, 0) {
			r.mean = round(r.mean, 2)
			r.right = r.mean
			switch {
			case nth == 3 && i == 1: // typed without its point
				r.mean = round(r.mean*10, 1)
				r.fate, r.filter, r.why = setAside, bySpeedLimits, "speed slip"
			case nth == 9 && i == 2: // an l for a one
				row = append(row, "0.4l")
				d.tell(truth{place: p, rep: r.num, what: unreadCell, of: s, why: fmt.Sprintf("Rep %d (m/s)", i+1)})
				continue
			}
			row = append(row, r.mean)
			d.tellRecord(r, p)
		}
		if nth == 5 {
			row = append(row, "--")
		}
		b.row(sheet, row...)
	}
	if err := merge(); err != nil {
		return err
	}
	b.widths(sheet, 12, 16, 16, 8, 12, 12, 12, 12, 12, 12)
	return b.save()
}

// book is a workbook under construction.
type book struct {
	d    *demo
	name string
	file *excelize.File
	rows map[string]int // sheet → rows written
	date int            // style
	err  error
}

func newBook(d *demo, name, first string) *book {
	b := &book{d: d, name: name, file: excelize.NewFile(), rows: make(map[string]int)}
	b.err = b.file.SetSheetName("Sheet1", first)
	format := "yyyy-mm-dd"
	style, err := b.file.NewStyle(&excelize.Style{CustomNumFmt: &format})
	if err != nil {
		b.err = err
	}
	b.date = style
	return b
}

// place returns the place of the row that lies ahead rows below the last.
func (b *book) place(sheet string, ahead int) place {
	return place{b.name, sheet, b.rows[sheet] + ahead}
}

// row writes a row; nil is an empty cell, a time a real date.
func (b *book) row(sheet string, cells ...any) {
	b.rows[sheet]++
	for i, c := range cells {
		at, err := excelize.CoordinatesToCellName(i+1, b.rows[sheet])
		if err != nil {
			b.err = err
		}
		switch c := c.(type) {
		case nil:
			continue
		case time.Time:
			b.set(sheet, at, c.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours()/24)
			if err := b.file.SetCellStyle(sheet, at, at, b.date); err != nil {
				b.err = err
			}
		default:
			b.set(sheet, at, c)
		}
	}
}

func (b *book) set(sheet, at string, v any) {
	if err := b.file.SetCellValue(sheet, at, v); err != nil {
		b.err = err
	}
}

// notData says that the row written last holds no data.
func (b *book) notData(sheet, why string) {
	b.d.tell(truth{place: b.place(sheet, 0), what: notData, why: why})
}

// widths sets the widths of a sheet's first columns.
func (b *book) widths(sheet string, widths ...float64) {
	for i, w := range widths {
		column, err := excelize.ColumnNumberToName(i + 1)
		if err == nil {
			err = b.file.SetColWidth(sheet, column, column, w)
		}
		if err != nil {
			b.err = err
		}
	}
}

// save keeps the workbook.
func (b *book) save() error {
	if b.err != nil {
		return fmt.Errorf("%s: %w", b.name, b.err)
	}
	buf, err := b.file.WriteToBuffer()
	if err != nil {
		return err
	}
	b.d.out[b.name] = buf.Bytes()
	return b.file.Close()
}
