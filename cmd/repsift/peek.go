package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"

	"github.com/spf13/pflag"

	"repsift/ingest"
	"repsift/ingest/rep"
	"repsift/report/screen"
)

var peekCommand = command{
	name: "peek", args: "INPUT…",
	does: "show how each file would be read; write nothing",
	more: `
For each file: encoding and delimiter, the shape of its tables, which column
became which field in which unit and why, what was inferred, the first reps,
what could not be read, and for what is ambiguous the line to add to
season.toml.

With --cells a single file, of bar speed or not, is written to standard output
as it was read, as CSV in UTF-8 with CRLF: one line of headings if the table has
any (several lines of them joined by a blank, none invented), then its rows of
data, filled up to the width of the table. Preamble, units, repeated headings,
comments, totals and footer are left out; a blank line parts tables. Dates of
workbooks are written as 2026-03-04 or 2026-03-04 18:05:00, numbers as short as
they can be, percents as the number stored (0.125), truth as TRUE and FALSE; a
merged cell's text stands in each of its cells.

With --json everything recognised of each file is written as JSON: encoding,
delimiter ("blanks" for runs of them), delimiter_padding (blanks that belong to
no cell: "after" the delimiter, or "around" it), quote and escape ("" where none
was seen), line_end, decimal_mark, and for each sheet whether it is hidden and
counts days from 1904; for each of its tables heading_rows, units_row,
first_data_row, last_data_row (null: to the end), label_rows, not_data_rows,
footer_rows and preamble_rows, as line or row numbers from 1; for each column its
letters, heading and samples, and the field and unit it was taken for and why.`,
	examples: []string{
		"repsift peek testdata/demo",
		"repsift peek 'testdata/demo/hand log.xlsx' --season testdata/demo/season.toml",
		"repsift peek --cells 'testdata/demo/slate/April 2026.csv'",
	},
	declare: func(f *pflag.FlagSet) func(context.Context, []string, *console) error {
		var o peekOptions
		f.StringVar(&o.season, "season", "", "season file (default: season.toml of the input folder)")
		f.IntVar(&o.first, "first", 3, "reps to show of each file")
		f.BoolVar(&o.json, "json", false, "for programs: one JSON document")
		f.BoolVar(&o.cells, "cells", false, "write the table of one file as it was read, as CSV")
		f.StringVar(&o.sheet, "sheet", "", "with --cells: the sheet of a workbook (default: all of them)")
		return func(ctx context.Context, args []string, c *console) error { return peek(ctx, args, o, c) }
	},
}

type peekOptions struct {
	season string
	sheet  string
	first  int
	json   bool
	cells  bool
}

func peek(ctx context.Context, args []string, o peekOptions, c *console) error {
	in, err := resolve(args)
	if err != nil {
		return err
	}
	s, _, err := readSeason(o.season, in)
	if err != nil {
		return err
	}
	switch {
	case o.cells && o.json:
		return usagef("peek: --cells or --json, not both")
	case o.cells:
		return cells(in, s, o.sheet, c)
	case o.sheet != "":
		return usagef("peek: --sheet goes with --cells")
	}
	p := c.startProgress(o.json)
	reading, err := ingest.Read(ctx, in.fsys, in.names, s, ingest.Options{
		FirstReps: max(0, o.first),
		Progress:  func(done, total int64) { p.bar("reading", share(done, total)) },
	})
	p.done()
	if err != nil {
		return err
	}
	ledgers := map[string]rep.Ledger{}
	for _, l := range reading.Ledger {
		ledgers[l.Source] = l
	}
	if o.json {
		var text bytes.Buffer
		e := json.NewEncoder(&text)
		e.SetIndent("", "  ")
		document, err := peekDocument(in.fsys, reading, s, ledgers)
		if err != nil {
			return err
		}
		if err := e.Encode(document); err != nil {
			return err
		}
		if _, err := io.WriteString(c.out, escapeUnseen(text.String())); err != nil {
			return err
		}
		return wholly(reading)
	}
	scr := c.screen()
	for i := range reading.Sources {
		src := &reading.Sources[i]
		scr.Source(src, ledgers[src.Name])
	}
	for _, n := range reading.NotRead {
		scr.Item("–", fmt.Sprintf("%s is not read: %s", n.Name, n.Why))
	}
	for _, said := range reading.Said {
		scr.Item("·", said)
	}
	if parts := unreadParts(reading); len(parts) > 0 {
		scr.Heading("What could not be read")
		scr.Unread(parts)
	}
	return wholly(reading)
}

// escapeUnseen writes the characters of a JSON document that could command a
// terminal, and that its encoder leaves, as JSON allows: \u009b.
func escapeUnseen(document string) string {
	var b strings.Builder
	for _, r := range document {
		if r > '~' && screen.Clean(string(r)) != string(r) && r != unicode.ReplacementChar {
			fmt.Fprintf(&b, `\u%04x`, r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// wholly returns errPartly where something of the sources was not read.
func wholly(reading *ingest.Reading) error {
	if len(reading.Unread) > 0 {
		return errPartly
	}
	for _, src := range reading.Sources {
		if src.Err != nil || len(src.Warnings) > 0 {
			return errPartly
		}
	}
	return nil
}
