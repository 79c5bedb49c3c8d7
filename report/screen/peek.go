package screen

import (
	"fmt"
	"strings"

	"repsift/ingest"
	"repsift/ingest/rep"
)

// Source shows how one source would be read: what it is, which column became
// which field and why, what was inferred, the first reps.
func (s *Screen) Source(src *ingest.Source, ledger rep.Ledger) {
	s.Heading(Clean(src.Name))
	if src.SameAs != "" {
		s.Line("the same content as %s, which is read in its place", Clean(src.SameAs))
		return
	}
	s.Line("%s", strings.Join(facts(src), ", "))
	if src.Err != nil {
		s.Item("!", src.Err.Error())
	}
	for _, w := range src.Warnings {
		s.Item("!", w)
	}
	for i := range src.Tables {
		s.tableRead(&src.Tables[i])
	}
	for _, said := range src.Said {
		s.Item("·", said)
	}
	if len(src.FirstReps) > 0 {
		s.Line("")
		s.Table(firstReps(src.FirstReps))
	}
	if ledger.Rows > 0 {
		s.Line("%s: %s, %s, %s unread, %s other", Of(ledger.Rows, "row", "rows"), Of(ledger.RepRows, "rep row", "rep rows"),
			Of(ledger.SetNotes, "set note", "set notes"), Count(ledger.Unread), Count(ledger.NotData))
	}
}

func facts(src *ingest.Source) []string {
	var out []string
	add := func(format, text string) {
		if text != "" {
			out = append(out, fmt.Sprintf(format, Clean(text)))
		}
	}
	add("%s", src.Format)
	add("%s", src.Encoding)
	add("delimiter %s", map[string]string{"\t": "tab", ",": "comma", ";": "semicolon", "|": "bar", ":": "colon"}[src.Delimiter])
	add("decimal mark %s", src.Decimal)
	add("dates %s", src.DateOrder)
	add("unit %q", src.Device)
	if out == nil {
		return []string{"not recognised"}
	}
	return out
}

func (s *Screen) tableRead(t *ingest.Table) {
	where := ""
	if t.Sheet != "" {
		where = fmt.Sprintf("sheet %q, ", t.Sheet)
	}
	rows := fmt.Sprintf("rows %d to the end", t.From)
	if t.From == 0 {
		rows = "no rows of data"
	}
	if t.To > 0 {
		rows = fmt.Sprintf("rows %d to %d", t.From, t.To)
	}
	shape := t.Shape
	if shape == "" {
		shape = "not read"
	}
	s.Line("")
	s.Item("▪", where+rows+": "+shape)
	if t.Why != "" {
		s.Item(" ", t.Why)
	}
	cols := Table{Head: []string{"column", "field", "unit", "unit from", "evidence"}, Left: map[int]bool{1: true, 2: true, 3: true, 4: true}}
	for _, c := range t.Columns {
		field := c.Field
		switch {
		case field == "":
			field = "(not needed)"
		case c.Rep > 0:
			field = fmt.Sprintf("%s, rep %d", field, c.Rep)
		}
		cols.Rows = append(cols.Rows, []string{Clean(c.Heading), field, Clean(c.Unit), Clean(c.UnitFrom), Clean(c.Evidence)})
	}
	if cols.Rows != nil {
		s.Table(cols)
	}
	for _, c := range t.Carried {
		s.Item(" ", fmt.Sprintf("%s: %s (%s)", c.Field, c.Text, c.From))
	}
}

func firstReps(reps []rep.Rep) Table {
	t := Table{Head: []string{"lifter", "date", "lift", "kg", "rep", "m/s", "ROM m", "RPE"}, Left: map[int]bool{1: true, 2: true}}
	number := func(n rep.Null[float64], digits int) string {
		if !n.OK {
			return ""
		}
		return fmt.Sprintf("%.*f", digits, n.V)
	}
	for _, r := range reps {
		lift := r.Lift
		if r.Variant != "" {
			lift += ", " + r.Variant
		}
		at := ""
		if r.RepRecorded.OK {
			at = fmt.Sprint(r.RepRecorded.V)
		}
		t.Rows = append(t.Rows, []string{Clean(r.Lifter), r.Date.String(), Cut(Clean(lift), 22), fmt.Sprintf("%.1f", r.LoadKg), at,
			fmt.Sprintf("%.3f", r.MeanVelocity), number(r.ROM, 3), number(r.RPE, 1)})
	}
	return t
}
