package main

import (
	"bufio"
	"errors"
	"fmt"
	"strings"

	"repsift/ingest"
	"repsift/ingest/season"
	"repsift/ingest/table"
	"repsift/report/screen"
)

// cells writes the table of one file as it was read, whatever it holds: of a
// workbook all sheets, or the one named. What could not be read of it is told,
// and makes the exit status that of a source not read whole.
func cells(in inputs, s *season.Season, sheet string, c *console) error {
	if len(in.names) != 1 {
		return usagef("peek: --cells shows one file; name it")
	}
	name := in.names[0]
	f, err := ingest.Open(in.fsys, name, "", s)
	if err != nil {
		return err
	}
	defer f.Close()
	sheets, err := sheetsOf(f, sheet)
	if err != nil {
		return err
	}
	tables, broken := 0, 0
	shown := &screen.Lines{W: c.out}
	out := bufio.NewWriter(c.out)
	if c.terminal {
		out = bufio.NewWriter(shown)
	}
	for _, sh := range sheets {
		l, err := sh.Layout()
		if err != nil {
			return err
		}
		if len(l.Tables) == 0 {
			continue
		}
		if tables > 0 {
			out.WriteString("\r\n")
		}
		tables += len(l.Tables)
		if err := table.WriteCells(out, sh, l); err != nil {
			return err
		}
		for row, err := range sh.Rows() {
			if err != nil {
				return err
			}
			if row.Err != nil {
				if broken++; broken <= 6 {
					fmt.Fprintln(c.err, screen.Clean(fmt.Sprintf("repsift: %s:%d: %s", name, row.Line, row.Err.Problem)))
				}
			}
		}
	}
	if err := errors.Join(out.Flush(), shown.Flush()); err != nil {
		return err
	}
	switch {
	case tables == 0:
		fmt.Fprintln(c.err, screen.Clean(fmt.Sprintf("repsift: %s: there is no table in it: no rows of cells", name)))
		return errPartly
	case broken > 0:
		return errPartly
	}
	return nil
}

// sheetsOf returns the sheets of a file, or the one named.
func sheetsOf(f *ingest.File, name string) ([]*table.Sheet, error) {
	if name == "" {
		return f.Sheets, nil
	}
	var names []string
	for _, s := range f.Sheets {
		if strings.EqualFold(s.Name, name) {
			return []*table.Sheet{s}, nil
		}
		if s.Name != "" {
			names = append(names, fmt.Sprintf("%q", s.Name))
		}
	}
	if names == nil {
		return nil, usagef("%s is no workbook: it has no sheets", f.Name)
	}
	return nil, usagef("%s has no sheet %q; it has %s", f.Name, name, strings.Join(names, ", "))
}
