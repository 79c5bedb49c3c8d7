package around

import (
	"slices"

	"repsift/ingest/date"
	"repsift/ingest/number"
	"repsift/ingest/shape/words"
	"repsift/ingest/shorthand"
	"repsift/ingest/spelling"
	"repsift/ingest/table"
)

// Rejoin puts a table that goes on below what looked like new headings together
// again: "headings" that are a lift, a date, a set in shorthand, and no word of a
// heading, are rows of the table above. Layout alone cannot tell: rows of a hand
// log are texts like any heading.
func Rejoin(tables []table.Region) []table.Region {
	var out []table.Region
	for _, r := range tables {
		if n := len(out); n > 0 && goesOn(&out[n-1], &r) {
			above := &out[n-1]
			above.NotData = append(append(append(above.NotData, above.FooterRows...), r.PreambleRows...), r.NotData...)
			slices.Sort(above.NotData)
			above.Labels = append(above.Labels, r.Labels...)
			above.FooterRows, above.LastData = r.FooterRows, r.LastData
			continue
		}
		out = append(out, r)
	}
	return out
}

func goesOn(above, r *table.Region) bool {
	if above.FirstData == 0 || above.LastData == 0 || r.FirstData == 0 || len(above.HeadingRows) == 0 || len(r.HeadingRows) == 0 ||
		len(r.Preamble) > 0 || r.UnitsRow > 0 || r.FirstCol < above.FirstCol || r.LastCol > above.LastCol {
		return false
	}
	cells, heads := 0, 0
	for _, h := range r.Headings {
		switch {
		case h == "":
		case isCell(h):
			cells++
		case words.Parse(h).Has != 0:
			heads++
		}
	}
	return cells > heads
}

// isCell reports whether a text is one of a cell with data.
func isCell(text string) bool {
	if _, _, ok := spelling.KnownLift(text); ok {
		return true
	}
	if _, err := number.Parse(text, number.AnyMark); err == nil {
		return true
	}
	var e date.Evidence
	if e.Add(text); e.Dates+e.Unix > 0 {
		return true
	}
	entries, err := shorthand.Parse(text, shorthand.Options{})
	return err == nil && slices.ContainsFunc(entries, func(e shorthand.Entry) bool { return e.Reps > 0 || e.Sets > 0 || len(e.RepsList) > 0 })
}
