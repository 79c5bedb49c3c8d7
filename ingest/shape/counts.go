package shape

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/table"
)

// parseSet reads the number of a set. Marks only tell sets apart, so a text
// without a number ("top") becomes one.
func parseSet(d *Decoder, _ *Cell, cell *table.Cell) string {
	if n, ok := wholeNumber(cell); ok {
		d.v.SetMark = rep.Some(n)
		return ""
	}
	const offset, prime = 2166136261, 16777619 // FNV-1a
	h := uint32(offset)
	for _, b := range []byte(words.Fold(cell.Text)) {
		h = (h ^ uint32(b)) * prime
	}
	d.v.SetMark = rep.Some(int32(h>>2 | 1<<29))
	return ""
}

func parseRepNumber(d *Decoder, _ *Cell, cell *table.Cell) string {
	n, ok := wholeNumber(cell)
	if !ok {
		return fmt.Sprintf("%q is not the number of a rep", cell.Text)
	}
	d.v.RepRecorded = rep.Some(n)
	return ""
}

func parseSetRep(d *Decoder, _ *Cell, cell *table.Cell) string {
	set, n, ok := column.SetAndRep(cell.Text)
	if !ok {
		return fmt.Sprintf("%q is not the number of a set and of a rep", cell.Text)
	}
	d.v.SetMark, d.v.RepRecorded = rep.Some(set), rep.Some(n)
	return ""
}

// wholeNumber reads "3", "3.0", "#3", "Set 3", "3/5", "3.".
func wholeNumber(cell *table.Cell) (int32, bool) {
	if cell.Kind == table.Number {
		if cell.Num != math.Trunc(cell.Num) || math.Abs(cell.Num) > 1e6 {
			return 0, false
		}
		return int32(cell.Num), true
	}
	text := cell.Text
	if len(text) == 1 && text[0]-'0' <= 9 {
		return int32(text[0] - '0'), true
	}
	if n, err := strconv.ParseInt(text, 10, 32); err == nil {
		return int32(n), n >= 0
	}
	if n, ok := column.OfMany(text); ok {
		return n, true
	}
	h := words.Parse(text)
	if h.Number > 0 && h.Unknown == 0 && (h.Words == 0 || h.Has != 0) && !h.Has.Any(words.Load, words.Velocity) && !strings.ContainsAny(text, "xX×@") {
		return int32(h.Number), true
	}
	return 0, false
}

func parseSets(d *Decoder, _ *Cell, cell *table.Cell) string {
	n, ok := wholeNumber(cell)
	if !ok {
		return fmt.Sprintf("%q is not a number of sets", cell.Text)
	}
	d.v.sets = rep.Some(n)
	return ""
}

func parseReps(d *Decoder, _ *Cell, cell *table.Cell) string {
	if n, ok := wholeNumber(cell); ok && !strings.ContainsAny(cell.Text, "/,-+(") {
		d.v.reps = rep.Some(n)
		return ""
	}
	d.v.repsText = cell.Text
	return ""
}
