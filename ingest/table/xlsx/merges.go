package xlsx

import (
	"bytes"
	"io"
	"slices"
	"strings"

	"repsift/ingest/table/cell"
)

// area is a merged range, 0-based columns and 1-based rows, all included.
type area struct {
	top, bottom, left, right int
	value                    cell.Cell
}

// Merged are the merged ranges of a sheet. They stand behind its cells, so it
// takes a reading of the sheet to know them; they stay known while the file does
// not change. The zero Merged is not known.
type Merged struct {
	known bool
	all   []area // by top
}

// Any reports whether there are merged ranges; false also where that is not
// known.
func (m *Merged) Any() bool { return len(m.all) > 0 }

// merges are the merged ranges of a sheet on the way down its rows.
type merges struct {
	all    []area // by top
	active []area
}

// findMerged looks for the merged ranges behind the cells.
func (s *Sheet) findMerged(m *Merged) error {
	r, err := s.book.open(s.part, maxSheet)
	if err != nil {
		return err
	}
	defer r.Close()
	rest := pastCells(r)
	if rest == nil {
		rest = strings.NewReader("") // damage is said when the rows are read
	}
	m.read(newScanner(rest))
	return nil
}

// read reads the merged ranges with a scanner that is past the cells.
func (m *Merged) read(sc *scanner) {
	*m = Merged{known: true}
	for {
		t, err := sc.next()
		if err != nil {
			break // the end, or damage behind the cells
		}
		if t == tagStart && string(sc.name) == "mergeCell" && len(m.all) < maxRows {
			if a, ok := areaOf(sc.attr("ref")); ok {
				m.all = append(m.all, a)
			}
		}
	}
	slices.SortStableFunc(m.all, func(a, b area) int { return a.top - b.top })
}

// pastCells reads up to the end of the cells and returns what follows; nil if
// they do not end.
func pastCells(r io.Reader) io.Reader {
	mark := []byte("sheetData>") // of the end tag, or of a start tag
	buf := make([]byte, 256<<10)
	kept := 0
	for {
		n, err := r.Read(buf[kept:])
		b := buf[:kept+n]
		for from := 0; ; {
			i := bytes.Index(b[from:], mark)
			if i < 0 {
				break
			}
			from += i
			if open := bytes.LastIndexByte(b[:from], '<'); open >= 0 && b[open+1] == '/' {
				return io.MultiReader(bytes.NewReader(b[from+len(mark):]), r)
			}
			from += len(mark)
		}
		if err != nil {
			return nil
		}
		kept = min(len(b), 64)
		copy(buf, b[len(b)-kept:])
	}
}

// areaOf reads a range: "B2:D4".
func areaOf(ref []byte) (area, bool) {
	from, to, ok := bytes.Cut(ref, []byte(":"))
	if !ok {
		return area{}, false
	}
	a := area{top: rowOf(from), bottom: rowOf(to)}
	var okLeft, okRight bool
	a.left, okLeft = columnOf(from)
	a.right, okRight = columnOf(to)
	if !okLeft || !okRight || a.top < 1 || a.bottom < a.top || a.right < a.left {
		return area{}, false
	}
	a.right = min(a.right, a.left+maxAcross-1, maxColumns-1)
	return a, true
}

// rowOf reads the digits of a cell's name.
func rowOf(ref []byte) int {
	return number(bytes.TrimLeft(ref, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"))
}

// enter makes the ranges active that begin at or before a row, and forgets those
// that ended.
func (m *merges) enter(row int) {
	if len(m.active) > 0 {
		m.active = slices.DeleteFunc(m.active, func(a area) bool { return a.bottom < row })
	}
	for len(m.all) > 0 && m.all[0].top <= row {
		if m.all[0].bottom >= row && len(m.active) < maxColumns { // no more fit side by side
			m.active = append(m.active, m.all[0])
		}
		m.all = m.all[1:]
	}
}

// fill gives the cells of a row the values of the ranges they are part of.
func (m *merges) fill(cells []cell.Cell, row int) []cell.Cell {
	if len(m.all) == 0 && len(m.active) == 0 {
		return cells
	}
	m.enter(row)
	for i := range m.active {
		a := &m.active[i]
		from := a.left
		if row == a.top {
			if a.left >= len(cells) {
				continue
			}
			a.value = cells[a.left]
			a.value.Text = strings.Clone(a.value.Text)
			a.value.Merged = true
			from++
		}
		if a.value.Kind == cell.Blank {
			continue
		}
		cells = grow(cells, a.right+1)
		for c := from; c <= a.right; c++ {
			cells[c] = a.value
		}
	}
	return cells
}
