package main

import (
	"io/fs"

	"repsift/ingest"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/table"
)

// peekSource is a source in the JSON of peek: how it lies in the file, and what
// its columns were taken for. Rows count from 1.
type peekSource struct {
	Name    string `json:"source"`
	SHA256  string `json:"sha256,omitempty"`
	SameAs  string `json:"same_as,omitempty"`
	Problem string `json:"problem,omitempty"`
	table.Writing
	Dates    string      `json:"date_order,omitempty"`
	Device   string      `json:"device,omitempty"`
	Shape    string      `json:"shape,omitempty"`
	Sheets   []peekSheet `json:"sheets"`
	Said     []string    `json:"said"`
	Warnings []string    `json:"warnings"`
	Ledger   rep.Ledger  `json:"ledger"`
}

type peekSheet struct {
	table.SheetDescription
	Tables []peekTable `json:"tables"`
}

type peekTable struct {
	Shape string `json:"shape,omitempty"`
	Why   string `json:"why,omitempty"`
	table.TableDescription
	Columns []peekColumn  `json:"columns"`
	Carried []peekCarried `json:"carried,omitempty"`
}

type peekColumn struct {
	table.ColumnDescription
	Rep      int    `json:"rep,omitempty"`
	UnitFrom string `json:"unit_from,omitempty"`
}

type peekCarried struct {
	Field string `json:"field"`
	Text  string `json:"text"`
	From  string `json:"from"`
}

// peekDocument returns what peek --json writes. The error is of reading.
func peekDocument(fsys fs.FS, reading *ingest.Reading, s *season.Season, ledgers map[string]rep.Ledger) (any, error) {
	sources := []peekSource{}
	for i := range reading.Sources {
		src := &reading.Sources[i]
		p := peekSource{Name: src.Name, SHA256: src.SHA256, SameAs: src.SameAs, Writing: table.Writing{Format: src.Format, Encoding: src.Encoding, Decimal: src.Decimal},
			Dates: src.DateOrder, Device: src.Device, Shape: src.Shape, Sheets: []peekSheet{}, Said: append([]string{}, src.Said...),
			Warnings: append([]string{}, src.Warnings...), Ledger: ledgers[src.Name]}
		if src.Err != nil {
			p.Problem = src.Err.Error()
		}
		if src.Format != "" {
			if err := p.describe(fsys, src, s); err != nil {
				return nil, err
			}
		}
		sources = append(sources, p)
	}
	type notRead struct {
		Name string `json:"name"`
		Why  string `json:"why"`
	}
	not := []notRead{}
	for _, n := range reading.NotRead {
		not = append(not, notRead{n.Name, n.Why})
	}
	return struct {
		Sources []peekSource `json:"sources"`
		NotRead []notRead    `json:"not_read"`
		Said    []string     `json:"said"`
	}{sources, not, append([]string{}, reading.Said...)}, nil
}

// describe adds how the source lies in its file, and to its tables and columns
// what they were taken for: recognition has the same tables, in order.
func (p *peekSource) describe(fsys fs.FS, src *ingest.Source, s *season.Season) error {
	f, err := ingest.Open(fsys, src.Name, src.Delimiter, s)
	if err != nil {
		return err
	}
	defer f.Close()
	d, err := table.Describe(f.File)
	if err != nil {
		p.Problem = err.Error() // a sheet that cannot be read
		return nil
	}
	if p.Decimal != "" {
		d.Decimal = p.Decimal // settled with more evidence
	}
	p.Writing = d.Writing
	taken := src.Tables
	for _, sd := range d.Sheets {
		sheet := peekSheet{SheetDescription: sd, Tables: []peekTable{}}
		for _, td := range sd.Tables {
			t := peekTable{TableDescription: td, Columns: []peekColumn{}}
			var read *ingest.Table
			if len(taken) > 0 {
				read, taken = &taken[0], taken[1:]
				t.Shape, t.Why = read.Shape, read.Why
				for _, c := range read.Carried {
					t.Carried = append(t.Carried, peekCarried(c))
				}
			}
			for i, cd := range td.Columns {
				c := peekColumn{ColumnDescription: cd}
				if read != nil && i < len(read.Columns) {
					r := &read.Columns[i]
					c.Field, c.Rep, c.Unit, c.UnitFrom, c.Evidence = r.Field, r.Rep, r.Unit, r.UnitFrom, r.Evidence
				}
				t.Columns = append(t.Columns, c)
			}
			sheet.Tables = append(sheet.Tables, t)
		}
		p.Sheets = append(p.Sheets, sheet)
	}
	return nil
}
