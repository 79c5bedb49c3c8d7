package tidy

import (
	"fmt"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/report/tidy/columnar"
)

// Kind says what a cell holds.
type Kind uint8

// The kinds of cells.
const (
	Null   Kind = iota
	Words       // Text; lists are joined as in CSV
	Number      // Float
	Whole       // Int
	Truth       // Int, 0 or 1
	Date        // Int, a [rep.Day]
	Moment      // Int, a [rep.Instant]
)

// Cell is the value of one column in one row. Text is as it was read: neither
// defused nor made valid UTF-8.
type Cell struct {
	Kind  Kind
	Float float64
	Int   int64
	Text  string
}

// Grid is a table of rows and columns that is asked cell by cell, which costs
// less than a row type where there are many rows. Any number of goroutines may
// ask at once.
type Grid struct {
	Columns []rep.Column
	Rows    int
	at      []func(i int) Cell // a column each
	sources map[string]any
}

// Cell returns the cell of a column in row i.
func (g *Grid) Cell(column, i int) Cell { return g.at[column](i) }

// RepsGrid returns the named rows of t, in that order.
func RepsGrid(t *rep.Table, rows []int32) *Grid {
	return gridOf(rep.Columns, drawn{t, rows}.reps(), len(rows))
}

// AsideGrid returns reps set aside, in the order given.
func AsideGrid(t *rep.Table, aside []clean.Aside) *Grid {
	return gridOf(rep.AsideColumns, asideSources(t, len(aside), func(i int) *clean.Aside { return &aside[i] }), len(aside))
}

// SetsGrid returns sets, in the order given.
func SetsGrid(sets *rep.Sets) *Grid {
	return gridOf(rep.SetColumns, setSources(sets, func(i int) int { return i }), sets.Len())
}

// UnreadGrid returns what could not be read, in the order given.
func UnreadGrid(unread []rep.Unread) *Grid {
	text := func(of func(*Unread) string) columnar.Texts {
		return func(i int) string { u := unreadOf(&unread[i]); return of(&u) }
	}
	return gridOf(rep.UnreadColumns, map[string]any{
		"lost":    text(func(u *Unread) string { return u.Lost }),
		"source":  text(func(u *Unread) string { return string(u.Source) }),
		"sheet":   text(func(u *Unread) string { return string(u.Sheet) }),
		"row":     columnar.Ints(func(i int) rep.Null[int32] { return rep.FromPtr(unreadOf(&unread[i]).Row) }),
		"column":  text(func(u *Unread) string { return string(u.Column) }),
		"text":    text(func(u *Unread) string { return string(u.Text) }),
		"problem": text(func(u *Unread) string { return string(u.Problem) }),
	}, len(unread))
}

func gridOf(columns []rep.Column, sources map[string]any, rows int) *Grid {
	g := &Grid{Columns: columns, Rows: rows, sources: sources}
	for _, c := range columns {
		g.at = append(g.at, cellsOf(sources[c.Name]))
	}
	return g
}

// cellsOf returns the cells that a source of the Parquet writer gives.
func cellsOf(source any) func(i int) Cell {
	switch s := source.(type) {
	case columnar.Floats:
		return func(i int) Cell {
			v := s(i)
			if !v.OK {
				return Cell{}
			}
			return Cell{Kind: Number, Float: v.V}
		}
	case columnar.Ints:
		return func(i int) Cell {
			v := s(i)
			if !v.OK {
				return Cell{}
			}
			return Cell{Kind: Whole, Int: int64(v.V)}
		}
	case columnar.Instants:
		return func(i int) Cell {
			v := s(i)
			if !v.OK {
				return Cell{}
			}
			return Cell{Kind: Moment, Int: int64(v.V)}
		}
	case columnar.Days:
		return func(i int) Cell { return Cell{Kind: Date, Int: int64(s(i))} }
	case columnar.Bools:
		return func(i int) Cell {
			if s(i) {
				return Cell{Kind: Truth, Int: 1}
			}
			return Cell{Kind: Truth}
		}
	case columnar.IDs:
		return func(i int) Cell { return Cell{Kind: Words, Text: ID(s.At(i))} }
	case columnar.Texts:
		return func(i int) Cell { return words(s(i)) }
	case columnar.Kinds:
		return func(i int) Cell { return words(s.Of[s.Rows[i]].String()) }
	case columnar.Missing:
		return func(int) Cell { return Cell{} }
	case columnar.Uniform:
		return func(int) Cell { return words(s.Text) }
	case columnar.Coded:
		return cellsOf(s.Cells)
	case columnar.Wholes:
		return cellsOf(s.Cells)
	case columnar.Reals:
		return cellsOf(s.Cells)
	}
	panic(fmt.Sprintf("there are no cells of %T", source)) // our own bug; a test asks every column
}

func words(text string) Cell {
	if text == "" {
		return Cell{}
	}
	return Cell{Kind: Words, Text: text}
}
