package around

import (
	"strings"

	"repsift/ingest/shape/column"
	"repsift/ingest/table"
)

// maxKeys is how many lines of keys stand above a table.
const maxKeys = 20

// KeysAbove takes tables of two columns that are nothing but keys and values
// ("Lifter", "Ines Duarte") for the lines above the table that follows. Layout
// alone cannot tell: it knows no words of the trade.
func KeysAbove(sheet *table.Sheet, tables []table.Region) ([]table.Region, error) {
	pairs := make([][]table.Pair, len(tables))
	last := int32(0)
	for i := range tables {
		r := &tables[i]
		if i+1 < len(tables) && r.Columns() <= 3 && r.LastData-r.FirstData < maxKeys && tables[i+1].FirstData > r.LastData {
			if len(r.HeadingRows) == 1 {
				pairs[i] = append(pairs[i], pairOf(r.Headings, r.HeadingRows[0], r.FirstCol))
			}
			last = max(last, r.LastData)
		}
	}
	if last == 0 {
		return splitAtKeys(sheet, tables)
	}
	at := 0
	for row, err := range sheet.Rows() {
		if err != nil {
			return nil, err
		}
		if row.Line > last {
			break
		}
		for at < len(tables) && tables[at].LastData != 0 && row.Line > tables[at].LastData {
			at++
		}
		if at < len(tables) && pairs[at] != nil && tables[at].Data(&row) {
			var texts []string
			for _, c := range tables[at].In(&row) {
				texts = append(texts, c.Text)
			}
			pairs[at] = append(pairs[at], pairOf(texts, row.Line, tables[at].FirstCol))
		}
	}
	var out []table.Region
	var above []table.Pair
	for i, r := range tables {
		if areKeys(pairs[i]) {
			above = append(append(above, r.Preamble...), pairs[i]...)
			continue
		}
		r.Preamble = append(above, r.Preamble...)
		for _, p := range above {
			r.PreambleRows = append(r.PreambleRows, p.Row)
		}
		above = nil
		out = append(out, r)
	}
	return splitAtKeys(sheet, out)
}

// splitAfter is how many rows of a table are looked at for the lines of a second
// block before it is taken for one table.
const splitAfter = 5000

// splitAtKeys cuts a table with lines of keys above it where such lines stand
// between its rows: blocks whose headings may be repeated or not.
func splitAtKeys(sheet *table.Sheet, tables []table.Region) ([]table.Region, error) {
	var out []table.Region
	for _, r := range tables {
		if !areKeys(r.Preamble) || r.FirstData == 0 {
			out = append(out, r)
			continue
		}
		cut, err := cutAtKeys(sheet, r)
		if err != nil {
			return nil, err
		}
		out = append(out, cut...)
	}
	return out, nil
}

func cutAtKeys(sheet *table.Sheet, r table.Region) ([]table.Region, error) {
	var out []table.Region
	cur := r
	var keys []table.Pair
	for row, err := range sheet.Rows() {
		switch {
		case err != nil:
			return nil, err
		case row.Line < r.FirstData || row.Err != nil:
			continue
		case r.LastData != 0 && row.Line > r.LastData, len(out) == 0 && row.Line > r.FirstData+splitAfter && keys == nil:
			return append(out, cur), nil
		}
		if p, ok := keyRow(&r, &row); ok {
			keys = append(keys, p)
			continue
		}
		if keys == nil || !r.Data(&row) {
			continue
		}
		if areKeys(keys) {
			end := cur
			end.LastData = keys[0].Row - 1
			out = append(out, end)
			cur.Preamble, cur.PreambleRows, cur.FirstData = keys, nil, row.Line
			for _, p := range keys {
				cur.PreambleRows = append(cur.PreambleRows, p.Row)
			}
		}
		keys = nil
	}
	return append(out, cur), nil
}

// keyRow returns a row between the data of a table that is a key and its value.
func keyRow(r *table.Region, row *table.Row) (table.Pair, bool) {
	var texts []string
	for _, c := range r.In(row) {
		if text := strings.TrimSpace(c.Text); text != "" {
			texts = append(texts, text)
		}
	}
	if len(texts) == 1 {
		key, value, _ := strings.Cut(texts[0], ":")
		texts = []string{key, strings.TrimSpace(value)}
	}
	if len(texts) != 2 {
		return table.Pair{}, false
	}
	p := pairOf(texts, row.Line, r.FirstCol)
	f, _, ok := keyField(p.Key)
	return p, ok && sensible(f, p.Value)
}

// pairOf returns a row of two cells as a pair; the zero Pair for others.
func pairOf(texts []string, row int32, col int) table.Pair {
	for len(texts) > 2 && strings.TrimSpace(texts[len(texts)-1]) == "" {
		texts = texts[:len(texts)-1]
	}
	if len(texts) != 2 {
		return table.Pair{}
	}
	return table.Pair{Key: strings.Clone(strings.TrimRight(texts[0], ": ")), Value: strings.Clone(texts[1]), Row: row, Col: col + 1}
}

// areKeys reports whether pairs are lines of keys and values: two or more
// different fields, and most lines.
func areKeys(pairs []table.Pair) bool {
	var seen column.Set
	n, known := 0, 0
	for _, p := range pairs {
		f, _, ok := keyField(p.Key)
		if !ok || !sensible(f, p.Value) {
			continue
		}
		known++
		if !seen.Has(f) {
			seen = seen.With(f)
			n++
		}
	}
	return n >= 2 && 2*known > len(pairs)
}
