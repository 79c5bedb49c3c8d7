package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"repsift/clean"
	"repsift/ingest"
	"repsift/ingest/season"
	"repsift/profile"
	"repsift/profile/agree"
	"repsift/report/card"
	"repsift/report/pack"
)

var agreeCommand = command{
	name: "agree", args: "DIR | INPUT…",
	does: "how well two units agree on the sets that both measured, and what corrects one to the other",
	more: `
DIR is a folder that tidy wrote; INPUT is what tidy is given. Two units are
compared on their pairs of sets: bias, limits of agreement, error in proportion,
concordance, each with its interval. Units that never measured the same set
cannot be compared, and profiles keep them apart.

Where there are enough sets, the lines that read one unit as the other are shown,
to be put into season.toml. --take-over does that: it adds them to the end of the
season file and changes nothing else.`,
	examples: []string{
		"repsift agree testdata/demo",
		"repsift agree demo --out agreement.html",
	},
	declare: func(f *pflag.FlagSet) func(context.Context, []string, *console) error {
		var o agreeOptions
		f.StringVarP(&o.out, "out", "o", "", "also write the comparison as a page: FILE.html")
		f.StringVar(&o.season, "season", "", "season file (default: season.toml of the input folder)")
		f.BoolVar(&o.takeOver, "take-over", false, "add the correction to the season file")
		return func(ctx context.Context, args []string, c *console) error { return compareUnits(ctx, args, o, c) }
	},
}

type agreeOptions struct {
	out, season string
	takeOver    bool
}

func compareUnits(ctx context.Context, args []string, o agreeOptions, c *console) error {
	if o.out != "" && !strings.EqualFold(filepath.Ext(o.out), ".html") {
		return usagef("agree: the page is written as HTML: --out FILE.html")
	}
	profiles, file, partly, err := unitsOf(ctx, args, o, c)
	if err != nil {
		return err
	}
	if o.takeOver && file == "" {
		return usagef("agree: say which season file to add to: --season FILE")
	}
	var offered []season.DeviceCorrection
	for i := range profiles.Agreement {
		tellAgreement(c, &profiles.Agreement[i])
	}
	offered = offers(profiles.Agreement)
	tellApart(c, profiles)
	if !o.takeOver {
		for i := range offered {
			c.screen().Line("\nTo read the %s as the %s in profiles, put this into season.toml, or ask again with --take-over:\n\n%s", offered[i].Device, offered[i].As,
				indented(offered[i].TOML()))
		}
	}
	if o.out != "" {
		var page bytes.Buffer
		if err := card.WriteUnits(&page, profiles); err != nil {
			return err
		}
		if err := writeOut(o.out, page.Bytes(), c); err != nil {
			return err
		}
	}
	if o.takeOver {
		if err := takeOver(file, offered, c); err != nil {
			return err
		}
	}
	return partly
}

// unitsOf returns the profiles of an output folder or of inputs, the season file
// that a correction would go to (empty: not clear), and whether some source was
// not read whole.
func unitsOf(ctx context.Context, args []string, o agreeOptions, c *console) (p *profile.Profiles, file string, partly, err error) {
	if len(args) == 1 {
		if info, failed := os.Stat(args[0]); failed == nil && info.IsDir() {
			if _, failed := pack.ReadRun(os.DirFS(args[0])); failed == nil {
				p, err = readProfiles(args[0])
				return p, o.season, nil, err
			}
		}
	}
	in, err := resolve(args)
	if err != nil {
		return nil, "", nil, err
	}
	s, _, err := readSeason(o.season, in)
	if err != nil {
		return nil, "", nil, err
	}
	file = o.season
	if file == "" && in.names == nil {
		file = filepath.Join(in.given, ingest.SeasonFile)
	}
	bar := c.startProgress(false)
	defer bar.done()
	reading, err := ingest.Read(ctx, in.fsys, in.names, s, ingest.Options{
		Progress: func(done, total int64) { bar.bar("reading", share(done, total)) },
	})
	if err != nil {
		return nil, "", nil, err
	}
	result, err := clean.RunContext(ctx, &reading.Batch, s)
	if err := errors.Join(err, ctx.Err()); err != nil {
		return nil, "", nil, err
	}
	p = profile.All(result, s)
	bar.done()
	warn(c, reading)
	return p, file, wholly(reading), nil
}

// tellAgreement shows how one pair of units agrees.
func tellAgreement(c *console, g *profile.Agreement) {
	s := c.screen()
	s.Heading(fmt.Sprintf("%s against %s", g.Other, g.Reference))
	s.Line("%d %s, %s to %s; the fastest rep of each set, %s minus %s", g.Pairs, agree.PairedSets, g.From, g.To, g.Other, g.Reference)
	for _, row := range []struct {
		what string
		e    profile.Estimate
		unit string
	}{
		{"bias", g.Bias, "m/s"}, {"lower limit of agreement", g.LowerLimit, "m/s"}, {"upper limit of agreement", g.UpperLimit, "m/s"},
		{"change with speed", g.Proportional, "m/s per m/s"}, {"slope of the line", g.Slope, ""}, {"intercept of the line", g.Intercept, "m/s"},
		{"concordance (Lin)", g.Concordance, ""},
	} {
		if !row.e.Known {
			s.Line("  %-25s %s", row.what, row.e)
			continue
		}
		s.Line("  %-25s %s", row.what, strings.TrimSpace(fmt.Sprintf("%7.3f  (%.3f to %.3f) %s", row.e.Value, row.e.Lo, row.e.Hi, row.unit)))
	}
	for _, text := range g.Cautions {
		s.Item("·", text)
	}
	if lack, ok := g.Enough(); !ok {
		s.Item("·", fmt.Sprintf("A correction: %s.", lack))
	}
}

// tellApart names the units of a lifter that nothing compares.
func tellApart(c *console, p *profile.Profiles) {
	var units []string
	for i := range p.Lifters {
		for k := range p.Lifters[i].Lifts {
			l := &p.Lifters[i].Lifts[k]
			units = append(units, l.Main.Device)
			for n := range l.Splits {
				units = append(units, l.Splits[n].Device)
			}
		}
	}
	slices.Sort(units)
	units = slices.DeleteFunc(slices.Compact(units), func(u string) bool { return u == "" || u == "hand log" })
	s := c.screen()
	if len(units) < 2 && len(p.Agreement) == 0 {
		s.Line("There is one unit or none, nothing to compare.")
		return
	}
	for i, a := range units {
		for _, b := range units[i+1:] {
			if !slices.ContainsFunc(p.Agreement, func(g profile.Agreement) bool {
				return g.Reference == a && g.Other == b || g.Reference == b && g.Other == a
			}) {
				s.Line("\n%s and %s never measured the same set: nothing says how they differ, and profiles\nkeep them apart. Put both on the bar for %d sets or more, light to heavy.", a, b, agree.NeedCorrection)
			}
		}
	}
}

// offers returns the corrections that the pairs are enough for and that are not
// declared yet. No unit is read as one that is read as another itself.
func offers(all []profile.Agreement) []season.DeviceCorrection {
	var out []season.DeviceCorrection
	for i := range all {
		g := &all[i]
		if _, ok := g.Enough(); !ok || g.Declared {
			continue
		}
		c := g.Correction()
		if !slices.ContainsFunc(out, func(d season.DeviceCorrection) bool {
			return d.Device == c.Device || d.Device == c.As || d.As == c.Device
		}) {
			out = append(out, c)
		}
	}
	return out
}

// takeOver adds corrections to the end of a season file, which may not be there
// yet, whole or not at all.
func takeOver(file string, offered []season.DeviceCorrection, c *console) error {
	if len(offered) == 0 {
		return fmt.Errorf("there is no correction to take over: the units have too few common sets, or it is declared already")
	}
	mode := os.FileMode(0o600)
	if real, err := filepath.EvalSymlinks(file); err == nil {
		file = real
	}
	text, err := os.ReadFile(file)
	if err != nil && !os.IsNotExist(err) {
		return plain(err)
	}
	if info, err := os.Stat(file); err == nil {
		mode = info.Mode().Perm()
	}
	if len(text) > 0 && !bytes.HasSuffix(text, []byte("\n")) {
		text = append(text, '\n')
	}
	for i := range offered {
		text = fmt.Appendf(text, "\n# From repsift agree.\n%s", offered[i].TOML())
	}
	if _, err := season.Read(filepath.ToSlash(file), bytes.NewReader(text)); err != nil {
		return fmt.Errorf("not added, the season file would not be right: %w", err)
	}
	beside, err := os.CreateTemp(filepath.Dir(file), ".season-*.toml")
	if err != nil {
		return plain(err)
	}
	defer os.Remove(beside.Name()) // gone once it is renamed
	_, err = beside.Write(text)
	err = errors.Join(err, beside.Chmod(mode), beside.Sync(), beside.Close())
	if err == nil {
		err = os.Rename(beside.Name(), file)
	}
	if err != nil {
		return plain(err)
	}
	for i := range offered {
		c.screen().Line("\n%s: the %s is now read as the %s. Run repsift tidy again.", file, offered[i].Device, offered[i].As)
	}
	return nil
}

func indented(text string) string {
	return "    " + strings.ReplaceAll(strings.TrimSuffix(text, "\n"), "\n", "\n    ")
}
