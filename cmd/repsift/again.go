package main

import (
	"context"
	"fmt"

	"repsift/clean"
	"repsift/profile"
	"repsift/report"
	"repsift/report/pack"
	"repsift/report/screen"
	tidytables "repsift/report/tidy"
	"repsift/report/tidy/stored"
)

// tidyAgain makes pages and tables from a folder of our own, a hand-over above
// all: its tables are read back as they are, nothing is cleaned a second time,
// and profiles are worked out anew.
func tidyAgain(ctx context.Context, in inputs, o tidyOptions, c *console) error {
	p := c.startProgress(o.quiet)
	defer p.clear()
	p.step("reading " + in.given)
	res, ran, err := stored.Read(in.fsys)
	if err != nil {
		return fmt.Errorf("%s: %w", in.given, err)
	}
	before, err := readProfiles(in.given)
	if err != nil {
		return err
	}
	s := ran.Declared.Season()
	s.Name = ran.Season
	if o.season != "" {
		var file *pack.File
		if s, file, err = readSeason(o.season, in); err != nil {
			return err
		}
		ran.SeasonFile = file
	}
	p.part(0.4, 1)
	p.bar("working out profiles", 0)
	profiles := profile.All(res, s)
	profiles.Agreement = before.Agreement // which sets two units shared is not in the tables
	run := &report.Run{
		Version: version(), Season: s, SeasonFile: ran.SeasonFile, Inputs: in.roots, Inferred: ran.Inferred,
		Result: res, Profiles: profiles, CSV: o.csv, Tables: o.tables, Partition: tidytables.Partition(o.partition), Handover: ran.Handover,
		Progress: func(name string, share float64) { p.bar("writing "+name, share) },
	}
	if err := report.Write(ctx, o.out, run); err != nil {
		return err
	}
	p.done()
	if o.json {
		return tellJSON(c, o, run, nil)
	}
	if !o.quiet {
		tellAgain(c, o, in, res)
	}
	return nil
}

func tellAgain(c *console, o tidyOptions, in inputs, res *clean.Result) {
	s := c.screen()
	s.Line("%s is a folder of repsift's own: its tables were read as they are, profiles worked out anew", in.given)
	s.Line("%s kept, %s set aside", screen.Of(len(res.Kept), "rep", "reps"), screen.Count(len(res.Aside)))
	s.Heading("What was kept and set aside")
	s.Kept(res)
	whereItIs(s, o)
}
