package table

import (
	"cmp"
	"strings"

	"repsift/ingest/table/cell"
)

// Description is what was recognised of a file, for `peek --json`.
type Description struct {
	File string `json:"file"`
	Writing
	Said   []string           `json:"said"`
	Sheets []SheetDescription `json:"sheets"`
}

// Writing is how a file is written; the fields of [File] say what they mean.
// Those of a text are nil or empty for a workbook.
type Writing struct {
	Format    string  `json:"format"`
	Encoding  string  `json:"encoding,omitempty"`
	BOM       bool    `json:"byte_order_mark,omitempty"`
	Delimiter *string `json:"delimiter,omitempty"`
	Padding   string  `json:"delimiter_padding,omitempty"`
	Quote     *string `json:"quote,omitempty"`
	Escape    *string `json:"escape,omitempty"`
	LineEnd   string  `json:"line_end,omitempty"`
	Decimal   string  `json:"decimal_mark,omitempty"`
}

// SheetDescription is what was recognised of a sheet.
type SheetDescription struct {
	Name     string             `json:"name,omitempty"`
	Hidden   bool               `json:"hidden,omitempty"`
	Date1904 bool               `json:"date_system_1904,omitempty"`
	Rows     int                `json:"rows"`
	Said     []string           `json:"said"`
	Tables   []TableDescription `json:"tables"`
}

// TableDescription is where a table lies. Rows count from 1; LastData is null
// where the table was not followed to its end.
type TableDescription struct {
	HeadingRows  []int32             `json:"heading_rows"`
	UnitsRow     *int32              `json:"units_row"`
	FirstData    *int32              `json:"first_data_row"`
	LastData     *int32              `json:"last_data_row"`
	PreambleRows []int32             `json:"preamble_rows"`
	LabelRows    []int32             `json:"label_rows"` // of not_data_rows: they name the rows below them
	NotDataRows  []int32             `json:"not_data_rows"`
	FooterRows   []int32             `json:"footer_rows"`
	Columns      []ColumnDescription `json:"columns"`
}

// ColumnDescription is a column. Field, Unit and Evidence are for those who know
// what columns mean.
type ColumnDescription struct {
	Column   string   `json:"column"` // letters, as spreadsheets name it
	Heading  string   `json:"heading"`
	Units    string   `json:"units_row_text,omitempty"`
	Samples  []string `json:"samples"`
	Field    string   `json:"field,omitempty"`
	Unit     string   `json:"unit,omitempty"`
	Evidence string   `json:"evidence,omitempty"`
}

// Rows looked at for samples and the decimal mark, and samples of a column.
const (
	sampleRows = 500
	maxSamples = 3
)

// Describe recognises the layout of all sheets and puts it together.
func Describe(f *File) (*Description, error) {
	d := &Description{File: f.Name, Writing: Writing{Format: f.Format, Encoding: f.Encoding, BOM: f.BOM, Padding: f.Padding, LineEnd: f.LineEnd},
		Said: append([]string{}, f.Said...), Sheets: []SheetDescription{}}
	if f.Format == "text" {
		quote, escape := f.Quote, f.Escape
		if t, ok := f.Sheets[0].source.(*textSource); ok && escape == "" {
			q, e, err := t.quotes() // below the sample
			if err != nil {
				return nil, err
			}
			quote, escape = cmp.Or(quote, q), e
		}
		d.Delimiter, d.Quote, d.Escape = &f.Delimiter, &quote, &escape
	}
	points, commas := 0, 0
	for _, s := range f.Sheets {
		l, err := s.Layout()
		if err != nil {
			return nil, err
		}
		sd := SheetDescription{Name: s.Name, Hidden: s.Hidden, Date1904: s.Date1904, Said: append([]string{}, l.Said...), Tables: []TableDescription{}}
		for i := range l.Tables {
			sd.Tables = append(sd.Tables, describe(&l.Tables[i]))
		}
		seen, walk := make([]int, len(l.Tables)), NewWalk(l.Tables)
		for row, err := range s.Rows() {
			if err != nil {
				return nil, err
			}
			sd.Rows++
			for _, i := range walk.At(row.Line) {
				t := &l.Tables[i]
				if seen[i] >= sampleRows || !t.Data(&row) {
					continue
				}
				seen[i]++
				for c, v := range t.In(&row) {
					p, k := decimalMark(&v)
					points, commas = points+p, commas+k
					if col := &sd.Tables[i].Columns[c]; len(col.Samples) < maxSamples && !v.Blank() {
						col.Samples = append(col.Samples, strings.Clone(v.Text))
					}
				}
			}
		}
		d.Sheets = append(d.Sheets, sd)
	}
	switch {
	case commas > points:
		d.Decimal = ","
	case points > 0:
		d.Decimal = "."
	}
	return d, nil
}

func describe(t *Region) TableDescription {
	d := TableDescription{
		HeadingRows:  append([]int32{}, t.HeadingRows...),
		UnitsRow:     orNil(t.UnitsRow),
		FirstData:    orNil(t.FirstData),
		LastData:     orNil(t.LastData),
		PreambleRows: append([]int32{}, t.PreambleRows...),
		LabelRows:    []int32{},
		NotDataRows:  append([]int32{}, t.NotData...),
		FooterRows:   append([]int32{}, t.FooterRows...),
		Columns:      make([]ColumnDescription, t.Columns()),
	}
	for _, l := range t.Labels {
		d.LabelRows = append(d.LabelRows, l.Row)
	}
	for i := range d.Columns {
		c := ColumnDescription{Column: ColumnName(t.FirstCol + i), Heading: t.Headings[i], Samples: []string{}}
		if t.UnitsRow != 0 {
			c.Units = t.Units[i]
		}
		d.Columns[i] = c
	}
	return d
}

func orNil(n int32) *int32 {
	if n == 0 {
		return nil
	}
	return &n
}

// ColumnName returns a 0-based column's letters: A, B, …, Z, AA.
func ColumnName(col int) string {
	if col < 26 {
		return string(rune('A' + col))
	}
	return ColumnName(col/26-1) + string(rune('A'+col%26))
}

// decimalMark counts a cell's decimal point or comma, where it can be no
// thousands mark.
func decimalMark(c *Cell) (points, commas int) {
	if c.Kind != Text || cell.OfText(c.Text) != cell.Numeric {
		return 0, 0
	}
	i := strings.LastIndexAny(c.Text, ".,")
	if i < 0 {
		return 0, 0
	}
	digits := 0
	for _, r := range c.Text[i+1:] {
		if r < '0' || r > '9' {
			break
		}
		digits++
	}
	whole := strings.Trim(c.Text[:i], "+-− ")
	if digits == 3 && whole != "0" && whole != "" && !strings.ContainsAny(whole, ".,") {
		return 0, 0 // 1.234: either
	}
	if c.Text[i] == ',' {
		return 0, 1
	}
	return 1, 0
}
