package shape

import (
	"fmt"
	"strings"

	"repsift/ingest/number"
	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/shorthand"
	"repsift/ingest/table"
)

func parseRPE(d *Decoder, _ *Cell, cell *table.Cell) string {
	low, high := cell.Num, 0.0
	if cell.Kind == table.Text {
		if v, err := number.Parse(cell.Text, number.Point); err == nil && v.Unit == "" && !v.Percent {
			low = v.V
		} else if low, high, err = shorthand.ParseRPE(cell.Text); err != nil {
			return fmt.Sprintf("%q is not an RPE from 1 to 10", cell.Text)
		}
	}
	return d.putRPE(low, high, cell.Text)
}

func (d *Decoder) putRPE(low, high float64, text string) string {
	if !(low >= 1 && low <= 10) || high != 0 && (high < low || high > 10) {
		return fmt.Sprintf("%q is not an RPE from 1 to 10", text)
	}
	d.v.RPE = rep.Some(low)
	if high != 0 && high != low {
		d.v.rpeHigh = rep.Some(high)
	}
	return ""
}

// parseRIR turns reps in reserve into RPE: RPE = 10 − RIR (Zourdos et al. 2016,
// J Strength Cond Res 30:267–275). A given RPE wins.
func parseRIR(d *Decoder, _ *Cell, cell *table.Cell) string {
	n := cell.Num
	if cell.Kind == table.Text {
		v, err := number.Parse(strings.TrimSuffix(cell.Text, "+"), number.Point)
		if err != nil {
			rpe, high, err := shorthand.ParseRPE(cell.Text)
			if err != nil || d.v.have.Has(column.RPE) {
				return fmt.Sprintf("%q is not a number of reps in reserve", cell.Text)
			}
			return d.putRPE(rpe, high, cell.Text)
		}
		n = v.V
	}
	if n < 0 || n > 9 {
		return fmt.Sprintf("%q is not a number of reps in reserve", cell.Text)
	}
	if d.v.have.Has(column.RPE) {
		return ""
	}
	return d.putRPE(10-n, 0, cell.Text)
}

func markOf(cell *table.Cell) words.Mark {
	if cell.Kind == table.Bool || cell.Kind == table.Number {
		if cell.Num != 0 || strings.EqualFold(cell.Text, "true") {
			return words.Yes
		}
		return words.No
	}
	return words.MarkOf(cell.Text)
}

func parseMissed(d *Decoder, _ *Cell, cell *table.Cell) string {
	switch markOf(cell) {
	case words.Yes, words.Miss:
		d.v.Missed, d.v.missed = true, 1
	case words.No, words.Made:
	default:
		n, ok := wholeNumber(cell) // how many of the set
		if !ok {
			return fmt.Sprintf("%q does not say whether the rep was missed", cell.Text)
		}
		d.v.Missed, d.v.missed = n > 0, n
	}
	return ""
}

func parseSuccess(d *Decoder, _ *Cell, cell *table.Cell) string {
	switch markOf(cell) {
	case words.Yes, words.Made:
	case words.No, words.Miss:
		d.v.Missed, d.v.missed = true, 1
	default:
		return fmt.Sprintf("%q does not say whether the rep was made", cell.Text)
	}
	return ""
}
