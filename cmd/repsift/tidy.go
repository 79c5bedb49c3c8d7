package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/pflag"

	"repsift/clean"
	"repsift/ingest"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shelf"
	"repsift/profile"
	"repsift/report"
	"repsift/report/card"
	"repsift/report/pack"
	"repsift/report/screen"
	tidytables "repsift/report/tidy"
	"repsift/report/tidy/stored"
)

var tidyCommand = command{
	name: "tidy", args: "INPUT… --out DIR",
	does: "read exports and hand logs, clean them, write tables, pages and workbook",
	more: `
INPUT is a folder of exports (searched with all folders below it), a file, a
pattern or a .zip. A season.toml in the input folder declares what the exports
do not say. Inputs are never written to.

DIR is replaced whole, or not at all. A folder that repsift did not write is
not replaced. Where DIR holds an earlier run, what is new since is said, and what
it read of files that did not change is taken from there.

INPUT may also be a folder that repsift wrote, a hand-over above all: its tables
are read as they are, and pages and profiles are made anew.`,
	examples: []string{
		"repsift tidy testdata/demo --out demo",
		"repsift tidy testdata/demo/north testdata/demo/slate --season testdata/demo/season.toml --out two-units --csv",
	},
	declare: func(f *pflag.FlagSet) func(context.Context, []string, *console) error {
		var o tidyOptions
		f.StringVarP(&o.out, "out", "o", "", "folder to write; replaced whole")
		f.StringVar(&o.season, "season", "", "season file (default: season.toml of the input folder)")
		f.BoolVar(&o.csv, "csv", false, "also write reps.csv, sets.csv and set_aside.csv")
		f.BoolVar(&o.tables, "tables", false, "tables and profiles.json only: no page a lifter, no workbook")
		f.StringVar(&o.partition, "partition", "", "cut the Parquet tables by lifter, lift or month, into a folder for each")
		f.StringVar(&o.memory, "memory", "", "how much memory may be taken, such as 4GB; more reps than fit go to the disk beside DIR meanwhile (default: 80 % of the machine's)")
		f.BoolVarP(&o.quiet, "quiet", "q", false, "no progress, no tables; only what went wrong")
		f.BoolVar(&o.json, "json", false, "say as JSON what became of everything, for scripts")
		return func(ctx context.Context, args []string, c *console) error { return tidy(ctx, args, o, c) }
	},
}

type tidyOptions struct {
	out, season string
	partition   string
	memory      string
	csv, tables bool
	quiet, json bool

	since *sinceLast // what is new; nil where there is no earlier run
}

func tidy(ctx context.Context, args []string, o tidyOptions, c *console) error {
	if o.out == "" {
		return usagef("tidy: say where to write: --out DIR")
	}
	by := tidytables.Partition(o.partition)
	if by != "" && !slices.Contains(tidytables.Partitions, by) {
		return usagef("tidy: --partition takes lifter, lift or month, not %q", o.partition)
	}
	room, err := parseMemory(o.memory)
	if err != nil {
		return err
	}
	defer room.limit()()
	in, err := resolve(args)
	if err != nil {
		return err
	}
	if err := report.Check(o.out, in.roots); err != nil {
		return err
	}
	if in.names == nil && stored.Is(in.fsys) {
		return tidyAgain(ctx, in, o, c)
	}
	s, seasonFile, err := readSeason(o.season, in)
	if err != nil {
		return err
	}
	p := c.startProgress(o.quiet)
	defer p.clear()
	p.part(0, 0.35)

	last := func() *lastRun { return nil }
	if !o.quiet || o.json {
		var leave func()
		last, leave = lastOf(ctx, o.out)
		defer leave()
	}
	var much sync.Once
	reading, err := ingest.Read(ctx, in.fsys, in.names, s, ingest.Options{
		Most: room.most(!o.tables), Disk: func() (shelf.File, error) { return openDisk(o.out) },
		Last: room.kept(o.out), For: keptFor(buildID(), s, seasonFile),
		Progress: func(done, total int64) {
			much.Do(func() { room.expect(total / 2) })
			p.bar("reading", share(done, total))
		},
	})
	if err != nil {
		return err
	}
	defer reading.Close() // of what it holds nothing is needed then
	if len(reading.Ledger) == 0 {
		return fmt.Errorf("nothing to read: there is no table in %s", args[0])
	}
	run := &report.Run{
		Version: version(), Season: s, SeasonFile: seasonFile, Inputs: in.roots, Inferred: inferred(reading),
		CSV: o.csv, Tables: o.tables, Partition: by,
		Progress: func(name string, share float64) { p.bar("writing "+name, share) },
	}
	if reading.Keeps() {
		run.Keep = reading.Keep
	}
	if reading.Shelved != nil {
		if run.Groups, err = groupsOf(reading, s, o, room); err != nil {
			return err
		}
		p.part(0.35, 1)
	} else if err := cleanAll(ctx, reading, run, p); err != nil {
		return err
	}
	before := last() // which is about to be replaced
	if err := report.Write(ctx, o.out, run); err != nil {
		return err
	}
	if o.since = before.since(run); o.since != nil {
		o.since.Taken = reading.Taken
	}
	p.done()
	if o.json {
		return tellJSON(c, o, run, reading)
	}
	return summarise(c, o, reading, run.Result)
}

// cleanAll fills the run with what becomes of reps that are all in memory.
func cleanAll(ctx context.Context, reading *ingest.Reading, run *report.Run, p *progress) error {
	p.part(0.35, 0.55)
	p.bar("cleaning", 0)
	result, err := clean.RunContext(ctx, &reading.Batch, run.Season)
	if err := errors.Join(err, ctx.Err()); err != nil {
		return err
	}
	p.part(0.55, 1)
	p.bar("working out profiles", 0)
	run.Result = result
	if run.Tables {
		run.Work = profile.Of(result, run.Season)
		run.Profiles = run.Work.Around()
	} else {
		run.Profiles = profile.All(result, run.Season)
	}
	return nil
}

func share(done, total int64) float64 {
	if total <= 0 {
		return 0
	}
	return float64(done) / float64(total)
}

// readSeason reads the season file that was named, else the one of the single
// input folder, else declares nothing.
func readSeason(named string, in inputs) (*season.Season, *pack.File, error) {
	file := named
	if file == "" {
		if in.names != nil {
			return &season.Season{}, nil, nil
		}
		file = filepath.Join(in.given, ingest.SeasonFile)
		switch info, err := os.Stat(file); {
		case os.IsNotExist(err):
			return &season.Season{}, nil, nil
		case err == nil && !info.Mode().IsRegular():
			return nil, nil, fmt.Errorf("%s is no file; move it away or name a season file with --season", file)
		}
	}
	f, err := os.Open(file)
	if err != nil {
		return nil, nil, plain(err)
	}
	defer f.Close()
	var text bytes.Buffer
	s, err := season.Read(filepath.ToSlash(file), io.TeeReader(f, &text))
	if err != nil {
		return nil, nil, err
	}
	sum := sha256.Sum256(text.Bytes())
	return s, &pack.File{Name: filepath.Base(file), Bytes: int64(text.Len()), SHA256: hex.EncodeToString(sum[:])}, nil
}

// inferred lists what was read from values rather than said by anyone.
func inferred(reading *ingest.Reading) []pack.Inferred {
	var out []pack.Inferred
	for _, said := range reading.Said {
		out = append(out, pack.Inferred{Text: said})
	}
	for _, src := range reading.Sources {
		for _, said := range src.Said {
			out = append(out, pack.Inferred{Source: src.Name, Text: said})
		}
	}
	return out
}

// summarise tells what became of everything, and returns errPartly where some
// source was not read whole.
func summarise(c *console, o tidyOptions, reading *ingest.Reading, result *clean.Result) error {
	s := c.screen()
	if !o.quiet {
		total := screen.Total(result.Ledger)
		s.Line("%s: %s kept, %s set aside", screen.Of(len(result.Ledger), "source", "sources"),
			screen.Of(total.Kept, "rep", "reps"), screen.Count(total.SetAside))
		s.Heading("What became of every row")
		s.Ledger(result.Ledger)
		s.Heading("What was kept and set aside")
		s.Kept(result)
		if len(result.Doubts) > 0 {
			s.Heading("Worth a look")
			s.Doubts(result.Doubts)
		}
		if len(reading.Said) > 0 {
			s.Heading("Said once, for the whole season")
			for _, said := range reading.Said {
				s.Item("·", said)
			}
		}
		if twice := readOnce(reading); len(twice) > 0 {
			s.Heading("Read once, or not at all")
			for _, line := range twice {
				s.Item("·", line)
			}
		}
		if parts := unreadParts(reading); len(parts) > 0 {
			s.Heading("Not read, in unread.csv")
			s.Unread(parts)
		}
	}
	warn(c, reading)
	if !o.quiet {
		if o.since != nil {
			o.since.tell(s)
		}
		whereItIs(s, o)
	}
	return wholly(reading)
}

func whereItIs(s *screen.Screen, o tidyOptions) {
	s.Heading("Where it is")
	if !o.tables {
		s.Line("%s links to the page of each lifter", filepath.Join(o.out, "profiles", card.IndexFile))
		s.Line("%s", filepath.Join(o.out, "season.xlsx"))
	}
	s.Line("%s says what every other file is", filepath.Join(o.out, "README.md"))
}

// warn tells what was wrong with whole sources.
func warn(c *console, reading *ingest.Reading) {
	e := &screen.Screen{W: c.err, Width: c.width}
	for _, src := range reading.Sources {
		if src.Err != nil {
			e.Item("!", src.Err.Error())
		}
		for _, w := range src.Warnings {
			e.Item("!", src.Name+": "+w)
		}
	}
}

// unreadParts lists what could not be read of sources, without those that were
// not read at all: of them the warnings tell.
func unreadParts(reading *ingest.Reading) []rep.Unread {
	failed := map[string]string{}
	for _, src := range reading.Sources {
		if src.Err != nil {
			failed[src.Name] = src.Err.Error()
		}
	}
	var parts []rep.Unread
	for _, u := range reading.Unread {
		if why := failed[u.Source]; why == "" || !strings.HasSuffix(why, strings.TrimPrefix(u.Problem, ingest.TheRest)) {
			parts = append(parts, u)
		}
	}
	return parts
}

// readOnce lists files that gave nothing of their own: copies, and what is no
// table.
func readOnce(reading *ingest.Reading) []string {
	var lines []string
	for _, src := range reading.Sources {
		if src.SameAs != "" {
			lines = append(lines, fmt.Sprintf("%s has the same content as %s", src.Name, src.SameAs))
		}
	}
	for _, n := range reading.NotRead {
		lines = append(lines, fmt.Sprintf("%s: %s", n.Name, n.Why))
	}
	return lines
}
