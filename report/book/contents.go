package book

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"repsift/ingest/rep"
)

// contents writes the first sheet: where everything is, and what became of
// every row of every source.
func (p *print) contents(b *Book, n names, tables []*table, maxRows int) error {
	c := &pencil{p: p, sheet: n.contents}
	c.widths(30, 60, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10)
	name := b.Season
	if name == "" {
		name = "Bar speeds of a season"
	}
	c.put(1, 1, name, title)
	c.put(1, 2, "Units stand in the headings; loads are in kilograms. An empty cell means not known, never zero.", note)

	row := 4
	for i, h := range []string{"Sheet", "What it holds", "Rows"} {
		c.put(1+i, row, h, heading)
	}
	for k, t := range tables {
		row++
		c.link(row, t.sheet)
		c.put(2, row, t.about, plain)
		c.put(3, row, t.rows, plain)
		if t.rows >= maxRows {
			c.put(2, row, "left out: more rows than a spreadsheet works with; they are all in "+t.file, plain)
		}
		if k > 0 {
			continue // the lifters' sheets stand behind the first table
		}
		for i, sheet := range n.lifters {
			row++
			c.link(row, sheet)
			l := &b.Profiles.Lifters[i]
			c.put(2, row, fmt.Sprintf("numbers and charts of %s, %s to %s", l.Name, l.From, l.To), plain)
		}
		if many := len(b.Profiles.Lifters); many > MaxLifters {
			row++
			c.put(2, row, fmt.Sprintf("no sheets of their own for %d lifters: see their pages", many), plain)
		}
	}

	row += 2
	c.put(1, row, "What became of every row", section)
	row++
	heads := []string{"Source", "SHA-256", "Rows", "Rep rows", "Set notes", "Unread", "Not data", "Reps read", "Kept", "Set aside", "Joined", "Alone"}
	for i, h := range heads {
		c.put(1+i, row, h, heading)
	}
	total := rep.Ledger{Source: "all"}
	for _, l := range b.Result.Ledger {
		row++
		c.ledger(row, l, plain)
		total.Rows, total.RepRows, total.SetNotes = total.Rows+l.Rows, total.RepRows+l.RepRows, total.SetNotes+l.SetNotes
		total.Unread, total.NotData, total.Reps = total.Unread+l.Unread, total.NotData+l.NotData, total.Reps+l.Reps
		total.Kept, total.SetAside = total.Kept+l.Kept, total.SetAside+l.SetAside
		total.Joined, total.Alone = total.Joined+l.Joined, total.Alone+l.Alone
	}
	row++
	c.ledger(row, total, cellStyle{bold: true})
	row += 2
	for _, caution := range b.Profiles.Cautions {
		c.put(1, row, caution, note)
		row++
	}
	if c.err != nil {
		return c.err
	}
	return p.pageAcross(n.contents)
}

func (c *pencil) ledger(row int, l rep.Ledger, s cellStyle) {
	c.put(1, row, l.Source, s)
	c.put(2, row, l.SHA256, s)
	for i, n := range []int{l.Rows, l.RepRows, l.SetNotes, l.Unread, l.NotData, l.Reps, l.Kept, l.SetAside, l.Joined, l.Alone} {
		c.put(3+i, row, n, s)
	}
}

// link writes the name of a sheet in the first column, as a link to it.
func (c *pencil) link(row int, sheet string) {
	c.put(1, row, sheet, cellStyle{color: first})
	if c.err != nil {
		return
	}
	var at string
	if at, c.err = excelize.CoordinatesToCellName(1, row); c.err == nil {
		c.err = c.p.SetCellHyperLink(c.sheet, at, quoted(sheet)+"!A1", "Location")
	}
}
