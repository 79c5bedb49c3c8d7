package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"repsift/report"
	"repsift/report/leak"
	"repsift/report/pack"
	"repsift/report/pseudonym"
	"repsift/report/screen"
	"repsift/report/tidy/stored"
)

var handoverCommand = command{
	name: "handover", args: "DIR --to DIR2 --key FILE\n  repsift handover DIR --check DIR2",
	does: "make a copy of a season for a student or researcher, codes for names",
	more: `
DIR is a folder that tidy wrote. DIR2 gets tables as Parquet and CSV, codebook,
data package, methods, pages and scripts to start from; it is replaced whole, or
not at all. Lifters, files and sheets get codes; the hand log's own words and
what could not be read are left out.

FILE is the key that codes are made from. It is made where it is not there yet,
and never goes into DIR2. Keep it, and the same lifter keeps the code in the
next hand-over; lose it, and nobody can make the codes again.

Before DIR2 takes its place it is searched for every name and alias that DIR
knows: in any case and Unicode form, each word of a name, in file names, tables,
pages, workbook and Parquet. Where one is left, nothing is written. --check
searches a folder again, with DIR or --names saying whose names.

Ask every lifter before you hand anything on.`,
	examples: []string{
		"repsift handover demo --to for-lena --key season.key",
		"repsift handover demo --to for-lena --key season.key --shift-dates --without 'Ruben Aske'",
		"repsift handover demo --check for-lena",
	},
	declare: func(f *pflag.FlagSet) func(context.Context, []string, *console) error {
		var o handoverOptions
		f.StringVar(&o.to, "to", "", "folder to write; replaced whole")
		f.StringVar(&o.key, "key", "", "key file; made where it is not there yet")
		f.BoolVar(&o.shift, "shift-dates", false, "move each lifter's dates back by weeks of their own")
		f.StringArrayVar(&o.without, "without", nil, "leave a lifter out, who does not want to be in it (may be repeated)")
		f.StringArrayVar(&o.others, "also", nil, "another name to look for: a coach, a training partner (may be repeated)")
		f.StringArrayVar(&o.allow, "allow", nil, "a word that is part of a name but no name here (may be repeated)")
		f.BoolVar(&o.workbook, "workbook", false, "also write season.xlsx")
		f.StringVar(&o.check, "check", "", "only search this folder for names")
		f.StringArrayVar(&o.names, "names", nil, "with --check: a season file or a folder of tidy whose names to look for (may be repeated)")
		f.BoolVarP(&o.quiet, "quiet", "q", false, "say only what went wrong")
		return func(ctx context.Context, args []string, c *console) error { return handover(ctx, args, o, c) }
	},
}

type handoverOptions struct {
	to, key, check         string
	without, others, allow []string
	names                  []string
	shift, workbook, quiet bool
}

func handover(ctx context.Context, args []string, o handoverOptions, c *console) (err error) {
	if o.check != "" {
		return checkHandover(ctx, args, o, c)
	}
	switch {
	case len(args) != 1:
		return usagef("handover: name the one folder that tidy wrote: repsift handover DIR --to DIR2 --key FILE")
	case o.to == "":
		return usagef("handover: say where to write: --to DIR2")
	case o.key == "":
		return usagef("handover: say where the key of the codes is kept: --key FILE; it is made where it is not there yet")
	case len(o.names) > 0:
		return usagef("handover: --names goes with --check")
	}
	dir := args[0]
	if err := report.Check(o.to, []string{dir}); err != nil {
		return err
	}
	if err := report.KeyPlace(o.key, o.to, dir); err != nil {
		return err
	}
	p := c.startProgress(o.quiet)
	defer p.clear()
	p.step("reading " + dir)
	res, ran, err := stored.Read(os.DirFS(dir))
	if err != nil {
		return fmt.Errorf("%s: %w; name a folder that repsift tidy wrote", dir, err)
	}
	if ran.Handover != nil {
		return fmt.Errorf("%s is a hand-over already: hand that on, or make one from the folder of repsift tidy", dir)
	}
	profiles, err := readProfiles(dir)
	if err != nil {
		return err
	}
	key, made, err := pseudonym.OpenKey(o.key)
	if err != nil {
		return plain(err)
	}
	defer func() {
		if err != nil && made {
			err = errors.Join(err, os.Remove(o.key))
		}
	}()
	codes, err := pseudonym.Of(key, res, ran, pseudonym.Options{Shift: o.shift, Without: o.without, Others: o.others})
	if err != nil {
		return err
	}
	p.part(0.5, 1)
	p.step("looking for words of our own")
	own, err := report.OwnWords(ctx)
	if err != nil {
		return err
	}
	search := leak.Search{Names: pseudonym.NewNames(codes.Spellings(), append(own, o.allow...)), Key: key.Text()}
	run := &report.Run{
		Version: ran.Version, Season: codes.Season(ran.Declared), Inputs: []string{dir}, Inferred: codes.Inferred(ran.Inferred),
		Result: codes.Result(res), Profiles: codes.Profiles(profiles), CSV: true, Handover: codes.Handover(), Workbook: o.workbook,
		Progress: func(name string, share float64) { p.bar("writing "+name, share) },
	}
	if err := report.WriteHandover(ctx, o.to, run, search); err != nil {
		return err
	}
	p.done()
	if o.quiet {
		return nil
	}
	s := c.screen()
	s.Line("%s: %s kept, %s set aside, %s", o.to, screen.Of(len(run.Result.Kept), "rep", "reps"),
		screen.Count(len(run.Result.Aside)), screen.Of(len(codes.People()), "lifter", "lifters"))
	s.Heading("Who is who: only here, and nowhere in the folder")
	t := screen.Table{Head: []string{"lifter", "code"}, Left: map[int]bool{1: true}}
	for _, who := range codes.People() {
		t.Rows = append(t.Rows, []string{screen.Clean(who.Name), who.Code})
	}
	s.Table(t)
	tellSearch(s, search, o.to)
	if made {
		s.Item("!", fmt.Sprintf("%s is new: keep it, outside of what you hand on; with it the codes stay the same", o.key))
	} else if info, err := os.Stat(o.key); err == nil && info.Mode().Perm()&0o077 != 0 {
		s.Item("!", fmt.Sprintf("%s can be read by others on this machine; the key makes codes guessable", o.key))
	}
	s.Item("!", "codes are not anonymity: hand it only to whom your lifters agreed to; "+filepath.Join(o.to, "README.md")+" lists what to agree on")
	return nil
}

// tellSearch says that nothing was found, and which words were passed over.
func tellSearch(s *screen.Screen, search leak.Search, dir string) {
	s.Heading("Search for names")
	s.Line("no name, alias or part of one is left in %s", dir)
	if passed := search.Names.Allowed(); len(passed) > 0 {
		s.Item("!", "not searched for, since these are also words of the files themselves or allowed: "+strings.Join(passed, ", "))
	}
}

func checkHandover(ctx context.Context, args []string, o handoverOptions, c *console) error {
	if o.to != "" {
		return usagef("handover: --check searches and --to writes: one at a time")
	}
	if len(args) > 1 || len(args)+len(o.names)+len(o.others) == 0 {
		return usagef("handover: say whose names to look for: repsift handover DIR --check %s, or --names season.toml", o.check)
	}
	people, err := people(append(slices.Clone(args), o.names...))
	if err != nil {
		return err
	}
	for _, name := range o.others {
		people = append(people, []string{name})
	}
	own, err := report.OwnWords(ctx)
	if err != nil {
		return err
	}
	search := leak.Search{Names: pseudonym.NewNames(people, append(own, o.allow...))}
	if o.key != "" {
		key, err := pseudonym.ReadKey(o.key)
		if err != nil {
			return plain(err)
		}
		search.Key = key.Text()
	}
	if info, err := os.Stat(o.check); err != nil {
		return plain(err)
	} else if !info.IsDir() {
		return usagef("handover: %s is no folder", o.check)
	}
	leaks, err := search.Folder(os.DirFS(o.check))
	if err != nil {
		return err
	}
	if len(leaks) > 0 {
		return &report.LeakError{Leaks: leaks}
	}
	if !o.quiet {
		s := c.screen()
		s.Line("looked for %s", screen.Of(len(people), "person", "people"))
		tellSearch(s, search, o.check)
	}
	return nil
}

// people returns the spellings of everyone that folders of tidy and season
// files name.
func people(from []string) ([][]string, error) {
	var out [][]string
	for _, name := range from {
		info, err := os.Stat(name)
		if err != nil {
			return nil, plain(err)
		}
		if info.IsDir() {
			res, run, err := stored.Read(os.DirFS(name))
			if err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
			out = append(out, pseudonym.Spellings(res, run)...)
			continue
		}
		s, _, err := readSeason(name, inputs{})
		if err != nil {
			return nil, err
		}
		run := &pack.Run{Declared: pack.DeclaredIn(s)}
		out = append(out, pseudonym.Spellings(nil, run)...)
		for _, src := range s.Sources {
			if src.Lifter != "" {
				out = append(out, []string{src.Lifter})
			}
		}
	}
	return out, nil
}
