package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/pflag"

	"repsift/ingest"
	"repsift/ingest/season/draft"
	"repsift/report/screen"
)

var draftCommand = command{
	name: "draft", args: "FOLDER [--out season.toml]",
	does: "write a commented season file from the exports themselves",
	more: `
The draft names the units it tells apart by the likeness of their exports, says
in comments how each column is read, what is ambiguous with the lines that
would settle it, which spellings may be one lifter, and where there is no
session for two weeks or more. Nothing is merged or decided by it: take away
the # where a suggestion is right.

Nothing is declared while drafting: a season.toml that lies in the folder is
not looked at. A file that exists is never overwritten.`,
	examples: []string{
		"repsift draft testdata/demo",
		"repsift draft exports --out exports/season.toml",
	},
	declare: func(f *pflag.FlagSet) func(context.Context, []string, *console) error {
		var out string
		f.StringVarP(&out, "out", "o", "", "file to write (default: standard output); must not exist")
		return func(ctx context.Context, args []string, c *console) error { return draftSeason(ctx, args, out, c) }
	},
}

func draftSeason(ctx context.Context, args []string, out string, c *console) error {
	in, err := resolve(args)
	if err != nil {
		return err
	}
	if _, err := os.Lstat(out); out != "" && err == nil {
		return exists(out)
	}
	p := c.startProgress(false)
	defer p.clear()
	reading, assumed, asks, err := readAsking(ctx, in, p)
	if err != nil {
		return err
	}
	if len(reading.Ledger) == 0 {
		return fmt.Errorf("nothing to read: there is no table in %s", args[0])
	}
	var text bytes.Buffer
	if err := draft.Write(&text, draftFacts(reading, assumed, asks)); err != nil {
		return err
	}
	p.done()
	if err := putDraft(out, text.Bytes(), c); err != nil {
		return err
	}
	return tellDraft(in, out, reading, asks, c)
}

func exists(out string) error {
	return fmt.Errorf("%s exists and is never overwritten: name another file with --out, or move it away", out)
}

// putDraft writes the draft to standard output or to a new file.
func putDraft(out string, text []byte, c *console) error {
	if out == "" {
		_, err := c.out.Write(text)
		return err
	}
	f, err := os.OpenFile(out, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return exists(out)
	}
	if err != nil {
		return plain(err)
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Close())
}

// tellDraft says beside the draft what it does not hold: files that could not
// be read at all. Open questions are in the draft; they are counted.
func tellDraft(in inputs, out string, reading *ingest.Reading, asks asked, c *console) error {
	e := &screen.Screen{W: c.err, Width: c.width}
	if out != "" {
		e.Line("%s is written: read it, and take away the # where a suggestion is right", out)
	}
	if in.given != "" {
		if _, err := os.Stat(filepath.Join(in.given, ingest.SeasonFile)); err == nil && filepath.Base(out) != ingest.SeasonFile {
			e.Item("·", filepath.Join(in.given, ingest.SeasonFile)+" is there already and was not looked at")
		}
	}
	open, lost := 0, len(reading.Unread)
	for i := range reading.Sources {
		src := &reading.Sources[i]
		open += len(asks[src.Name])
		if src.Err != nil {
			lost -= lostOf(reading, src.Name)
		}
		if src.Err != nil && len(asks[src.Name]) == 0 {
			e.Item("!", src.Err.Error())
		}
	}
	if open > 0 {
		e.Item("!", screen.Of(open, "question", "questions")+" to settle: see \"To be settled\" in the draft")
	}
	if lost > 0 {
		e.Item("!", screen.Of(lost, "cell or row", "cells and rows")+" could not be read: repsift peek shows which")
	}
	if open > 0 {
		return errPartly
	}
	return wholly(reading)
}

// lostOf counts what could not be read of a source.
func lostOf(reading *ingest.Reading, name string) int {
	n := 0
	for _, u := range reading.Unread {
		if u.Source == name {
			n++
		}
	}
	return n
}
