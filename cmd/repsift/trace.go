package main

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"repsift/ingest"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/report/motion"
)

var traceCommand = command{
	name: "trace", args: "FILE",
	does: "draw a raw trace: position and velocity, the reps found, and what is none",
	more: `
FILE is an export of samples: time and bar position or velocity. The season
file is season.toml of the folder FILE lies in, or of the nearest one above;
--lift and the others say what neither it nor FILE does. Without a lift any
movement of 8 cm may be a rep. Long traces get a picture a set. A file that is
there already is replaced.`,
	examples: []string{
		"repsift trace 'testdata/demo/traces/Käthe, Saturday pulls.txt' --out pulls.html",
		"repsift trace 'testdata/demo/traces/paused bench 2026-03-18.csv' --out bench.svg",
	},
	declare: func(f *pflag.FlagSet) func(context.Context, []string, *console) error {
		var o traceOptions
		f.StringVarP(&o.out, "out", "o", "", "file to write: .html or .svg (default: FILE's name with .html, in this folder)")
		f.StringVar(&o.season, "season", "", "season file (default: season.toml of the nearest folder above FILE)")
		f.StringVar(&o.said.Lift, "lift", "", "the lift: squat, bench press, deadlift, …")
		f.Float64Var(&o.said.LoadKg.V, "load", 0, "the load, kg")
		f.StringVar(&o.said.Bar, "bar", "", "the bar: stiff, deadlift")
		f.StringVar(&o.said.Tether, "tether", "", "the tether: centre, inside sleeve, sleeve end")
		return func(ctx context.Context, args []string, c *console) error { return drawTrace(ctx, args, o, c) }
	},
}

type traceOptions struct {
	out, season string
	said        season.Source
}

// unknown stands for what a picture need not know.
const unknown = "?"

// unsaid declares for every file what the command line says, and that the rest
// need not be known. Season file and source come before it.
func (o *traceOptions) unsaid() season.Source {
	d := o.said
	d.Files = []string{"*", "**/*"}
	d.Lifter, d.Date, d.LoadKg.OK = unknown, rep.Some(rep.Day(0)), true
	d.Lift = cmp.Or(d.Lift, unknown)
	return d
}

func drawTrace(ctx context.Context, args []string, o traceOptions, c *console) error {
	if len(args) != 1 {
		return usagef("trace: name one file: repsift trace FILE")
	}
	file := args[0]
	if o.out == "" {
		base := filepath.Base(file)
		o.out = strings.TrimSuffix(base, filepath.Ext(base)) + ".html"
	}
	write := motion.HTML
	switch strings.ToLower(filepath.Ext(o.out)) {
	case ".html":
	case ".svg":
		write = func(t []motion.Trace) ([]byte, error) { return motion.SVG(t), nil }
	default:
		return usagef("trace: say which picture to write: --out FILE.html or --out FILE.svg")
	}
	if sameFile(o.out, file) {
		return usagef("trace: --out names the trace itself")
	}
	in, err := rooted(file, o.season)
	if err != nil {
		return err
	}
	s, _, err := readSeason(in.season, in.inputs)
	if err != nil {
		return err
	}
	s.Sources = slices.Insert(s.Sources, 0, o.unsaid())
	reading, err := ingest.Read(ctx, in.fsys, in.names, s, ingest.Options{KeepTraces: true})
	if err != nil {
		return err
	}
	traces, err := tracesOf(reading, file)
	if err != nil {
		return err
	}
	b, err := write(traces)
	if err != nil {
		return err
	}
	if err := writeOut(o.out, b, c); err != nil {
		return err
	}
	for _, t := range traces {
		fmt.Fprintln(c.out, t.Summary.Said(false))
	}
	for _, u := range reading.Unread {
		fmt.Fprintf(c.err, "repsift: %s\n", u)
	}
	return wholly(reading)
}

// tracesOf returns the traces that were read; the error says why there is none.
func tracesOf(reading *ingest.Reading, file string) ([]motion.Trace, error) {
	var traces []motion.Trace
	shapes := ""
	for i := range reading.Sources {
		src := &reading.Sources[i]
		for _, t := range src.Traces {
			for _, text := range []*string{&t.Of.Lifter, &t.Of.Lift} {
				if *text == unknown {
					*text = ""
				}
			}
			traces = append(traces, motion.Trace{Source: src.Name, Of: t.Of, Summary: t.Summary, Series: t.Series, Found: t.Found})
		}
		if src.Err != nil {
			return nil, src.Err
		}
		shapes = src.Shape
	}
	if len(traces) > 0 {
		return traces, nil
	}
	if len(reading.Unread) > 0 && shapes == "samples" {
		return nil, fmt.Errorf("%s", reading.Unread[0])
	}
	if shapes == "" {
		return nil, fmt.Errorf("%s holds no raw trace; repsift peek shows how it is read", file)
	}
	return nil, fmt.Errorf("%s holds no raw trace: its lines are %s; repsift peek shows how it is read", file, shapes)
}

// placed is one file in the folder that its season file lies in, so that the
// patterns of the season file fit its name.
type placed struct {
	inputs
	season string
}

// rooted finds the season file of a trace.
func rooted(file, seasonFile string) (placed, error) {
	outer, inner := cutMember(file)
	if _, err := os.Stat(outer); err != nil {
		return placed{}, plain(err)
	}
	full, err := filepath.Abs(outer)
	if err != nil {
		return placed{}, err
	}
	dir := filepath.Dir(full)
	if seasonFile != "" {
		if dir, err = filepath.Abs(filepath.Dir(seasonFile)); err != nil {
			return placed{}, err
		}
	} else {
		for d := dir; ; d = filepath.Dir(d) {
			if info, err := os.Stat(filepath.Join(d, ingest.SeasonFile)); err == nil && info.Mode().IsRegular() {
				dir, seasonFile = d, filepath.Join(d, ingest.SeasonFile)
				break
			}
			if d == filepath.Dir(d) {
				break
			}
		}
	}
	name, err := filepath.Rel(dir, full)
	if name = filepath.ToSlash(name); err != nil || !fs.ValidPath(name) { // the season file lies elsewhere
		dir, name = filepath.Dir(full), filepath.Base(full)
	}
	return placed{inputs{fsys: os.DirFS(dir), names: []string{name + inner}, roots: []string{full}}, seasonFile}, nil
}

func sameFile(a, b string) bool {
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(x, y)
}
