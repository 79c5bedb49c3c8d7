package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"repsift/profile"
	"repsift/report/card"
	"repsift/report/chart"
)

var chartCommand = command{
	name: "chart", args: "DIR LIFTER LIFT --kind KIND --out FILE.svg|FILE.png",
	does: "write one chart of a lifter as a picture, with its data",
	more: "DIR is a folder that tidy wrote. KIND is one of:\n\n" + chartKinds() + `
A file that is there already is replaced.`,
	examples: []string{
		"repsift chart demo 'Ines Duarte' squat --kind effort --out effort.svg",
		"repsift chart demo 'Käthe Brandl' deadlift --kind load-velocity --out speed.png --data speed.csv",
	},
	declare: func(f *pflag.FlagSet) func(context.Context, []string, *console) error {
		var o chartOptions
		f.StringVar(&o.kind, "kind", "", "which chart")
		f.StringVarP(&o.out, "out", "o", "", "picture to write: .svg or .png")
		f.StringVar(&o.data, "data", "", "also write the data of the chart, as CSV")
		return func(_ context.Context, args []string, c *console) error { return drawChart(args, o, c) }
	},
}

type chartOptions struct{ kind, out, data string }

func chartKinds() string {
	var b strings.Builder
	for _, k := range card.Kinds {
		fmt.Fprintf(&b, "  %-14s %s\n", k.Name, k.Shows)
	}
	return b.String()
}

func drawChart(args []string, o chartOptions, c *console) error {
	if len(args) != 3 {
		return usagef("chart: name the folder, the lifter and the lift: repsift chart DIR LIFTER LIFT")
	}
	kind, err := kindOf(o.kind)
	if err != nil {
		return err
	}
	var draw func(chart.Chart) ([]byte, error)
	switch strings.ToLower(filepath.Ext(o.out)) {
	case ".svg":
		draw = chart.File
	case ".png":
		draw = chart.PNG
	default:
		return usagef("chart: say which picture to write: --out FILE.svg or --out FILE.png")
	}
	if o.data != "" && filepath.Clean(o.data) == filepath.Clean(o.out) {
		return usagef("chart: --out and --data name the same file")
	}
	profiles, err := readProfiles(args[0])
	if err != nil {
		return err
	}
	lifter, lift, err := findLift(profiles, args[1], args[2])
	if err != nil {
		return err
	}
	picture, ok := kind.Draw(lifter.Name, lift)
	if !ok {
		return fmt.Errorf("%s, %s: not enough yet for the chart %q", lifter.Name, lift.Lift, kind.Name)
	}
	b, err := draw(picture)
	if err != nil {
		return err
	}
	if err := writeOut(o.out, b, c); err != nil {
		return err
	}
	if o.data == "" {
		return nil
	}
	var data bytes.Buffer
	if err := chart.CSV(&data, picture); err != nil {
		return err
	}
	return writeOut(o.data, data.Bytes(), c)
}

func writeOut(file string, b []byte, c *console) error {
	if err := os.WriteFile(file, b, 0o600); err != nil {
		return plain(err)
	}
	fmt.Fprintln(c.out, file)
	return nil
}

func kindOf(name string) (card.Kind, error) {
	var names []string
	for _, k := range card.Kinds {
		if k.Name == name {
			return k, nil
		}
		names = append(names, k.Name)
	}
	return card.Kind{}, usagef("chart: say which chart: --kind %s", strings.Join(names, "|"))
}

const profilesFile = "profiles.json"

// readProfiles reads the numbers back that a run of tidy wrote.
func readProfiles(dir string) (*profile.Profiles, error) {
	file := filepath.Join(dir, profilesFile)
	b, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: not there; name a folder that repsift tidy wrote", file)
	}
	if err != nil {
		return nil, plain(err)
	}
	var p profile.Profiles
	if err := json.Unmarshal(b, &p); err != nil {
		if other := new(json.UnmarshalTypeError); errors.As(err, &other) {
			err = fmt.Errorf("%s is of a form that this version does not know", strings.TrimPrefix(other.Field, "lifters."))
		}
		return nil, fmt.Errorf("%s: %w; run repsift tidy again", file, err)
	}
	return &p, nil
}

// findLift finds a lifter and a lift whatever the case of the letters.
func findLift(p *profile.Profiles, lifter, lift string) (*profile.Lifter, *profile.Lift, error) {
	var lifters []string
	for i := range p.Lifters {
		l := &p.Lifters[i]
		lifters = append(lifters, l.Name)
		if !strings.EqualFold(l.Name, lifter) {
			continue
		}
		var lifts []string
		for k := range l.Lifts {
			if strings.EqualFold(l.Lifts[k].Lift, lift) {
				return l, &l.Lifts[k], nil
			}
			lifts = append(lifts, l.Lifts[k].Lift)
		}
		return nil, nil, usagef("chart: %s has no lift %q; there are: %s", l.Name, lift, strings.Join(lifts, ", "))
	}
	return nil, nil, usagef("chart: there is no lifter %q; there are: %s", lifter, strings.Join(lifters, ", "))
}
