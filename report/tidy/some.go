package tidy

import (
	"io"

	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// Parquet is a Parquet file that is written some rows at a time. Its bytes are
// those of a file that is written at once: rows that do not fill a row group are
// held until others come.
type Parquet struct {
	file     *columnar.File
	rowGroup int
	held     Held
}

// NewParquet returns a file without rows.
func NewParquet(w io.Writer, columns []rep.Column) *Parquet {
	return newParquet(w, columns, columnar.RowGroup)
}

func newParquet(w io.Writer, columns []rep.Column, rowGroup int) *Parquet {
	return &Parquet{columnar.NewFile(w, columns, rowGroup), rowGroup, Held{Columns: columns}}
}

// Add writes rows behind those that are there; last says that none will follow.
func (p *Parquet) Add(g *Grid, last bool) error { return p.add(g, 0, g.Rows, last) }

// AddPart writes the rows of a part behind those that are there, where the file
// has the columns of [Partition.Columns].
func (p *Parquet) AddPart(parts *Parts, part Part) error {
	return p.add(gridOf(parts.columns, parts.sources, part.to), part.from, part.to, false)
}

func (p *Parquet) add(g *Grid, from, to int, last bool) error {
	at := from
	if p.held.n > 0 {
		at = min(to, from+p.rowGroup-p.held.n)
		p.held.add(g, from, at)
		if p.held.n == p.rowGroup {
			if err := p.flush(); err != nil {
				return err
			}
		}
	}
	end := to
	if !last {
		end -= (to - at) % p.rowGroup
	}
	if err := p.file.Rows(g.sources, at, end); err != nil {
		return err
	}
	p.held.add(g, end, to)
	return nil
}

// Close writes what is held, and the end of the file.
func (p *Parquet) Close() error {
	if err := p.flush(); err != nil {
		return err
	}
	return p.file.Close()
}

func (p *Parquet) flush() error {
	g := p.held.Grid()
	p.held.reset()
	return p.file.Rows(g.sources, 0, g.Rows)
}
