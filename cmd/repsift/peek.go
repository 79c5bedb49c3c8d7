package main

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/spf13/pflag"

	"repsift/ingest"
	"repsift/ingest/rep"
)

var peekCommand = command{
	name: "peek", args: "INPUT…",
	does: "show how each file would be read; write nothing",
	more: `
For each file: encoding and delimiter, the shape of its tables, which column
became which field in which unit and why, what was inferred, the first reps,
what could not be read, and for what is ambiguous the line to add to
season.toml.`,
	examples: []string{
		"repsift peek testdata/demo",
		"repsift peek 'testdata/demo/hand log.xlsx' --season testdata/demo/season.toml",
	},
	declare: func(f *pflag.FlagSet) func(context.Context, []string, *console) error {
		var o peekOptions
		f.StringVar(&o.season, "season", "", "season file (default: season.toml of the input folder)")
		f.IntVar(&o.first, "first", 3, "reps to show of each file")
		f.BoolVar(&o.json, "json", false, "for programs: one JSON document")
		return func(ctx context.Context, args []string, c *console) error { return peek(ctx, args, o, c) }
	},
}

type peekOptions struct {
	season string
	first  int
	json   bool
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
		e := json.NewEncoder(c.out)
		e.SetIndent("", "  ")
		if err := e.Encode(peekDocument(reading, ledgers)); err != nil {
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
	if len(reading.Unread) > 0 {
		scr.Heading("What could not be read")
		scr.Unread(reading.Unread)
	}
	return wholly(reading)
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

// peekSource is a source in the JSON of peek.
type peekSource struct {
	Name      string         `json:"source"`
	SameAs    string         `json:"same_as,omitempty"`
	Format    string         `json:"format"`
	Encoding  string         `json:"encoding,omitempty"`
	Delimiter string         `json:"delimiter,omitempty"`
	Quote     string         `json:"quote,omitempty"`
	Decimal   string         `json:"decimal,omitempty"`
	Dates     string         `json:"date_order,omitempty"`
	Device    string         `json:"device,omitempty"`
	Sheets    []string       `json:"sheets,omitempty"`
	Tables    []ingest.Table `json:"tables"`
	Said      []string       `json:"said"`
	Warnings  []string       `json:"warnings"`
	Problem   string         `json:"problem,omitempty"`
	Ledger    rep.Ledger     `json:"ledger"`
}

func peekDocument(reading *ingest.Reading, ledgers map[string]rep.Ledger) any {
	sources := []peekSource{}
	for _, s := range reading.Sources {
		p := peekSource{Name: s.Name, SameAs: s.SameAs, Format: s.Format, Encoding: s.Encoding, Delimiter: s.Delimiter, Quote: s.Quote,
			Decimal: s.Decimal, Dates: s.DateOrder, Device: s.Device, Sheets: s.Sheets, Tables: s.Tables, Said: s.Said, Warnings: s.Warnings,
			Ledger: ledgers[s.Name]}
		if s.Err != nil {
			p.Problem = s.Err.Error()
		}
		sources = append(sources, p)
	}
	return struct {
		Sources []peekSource     `json:"sources"`
		NotRead []ingest.NotRead `json:"not_read"`
	}{sources, reading.NotRead}
}
