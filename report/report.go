// Package report writes everything a run has to say: the tidy tables, the
// profiles, a page a lifter, the workbook, the data package.
//
// [Write] replaces the output folder whole or not at all:
//
//  1. It looks whether the folder may be replaced ([Check]), and takes a lock
//     beside it, so that two runs at once cannot mix their files.
//  2. It writes all files into a hidden folder beside the old one, each safely
//     on disk before the next (list.go is the table of them).
//  3. It swaps the two folders in one step, where the system can; else it
//     renames the old one aside and the new one in. A run that dies between
//     those two renames leaves the old folder under another name, which the
//     next run puts back.
//
// Whoever looks finds the old folder or the new one, complete. Files are
// readable by their owner only.
package report

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"repsift/clean"
	"repsift/ingest/season"
	"repsift/profile"
	"repsift/report/pack"
	"repsift/report/tidy"
)

// Run is what there is to report.
type Run struct {
	Version    string         // of repsift
	Season     *season.Season // nil where there is no season file
	SeasonFile *pack.File     // likewise
	Inputs     []string       // files and folders that were read, as on disk
	Inferred   []pack.Inferred
	Result     *clean.Result
	Profiles   *profile.Profiles

	// Work is set where the lifters of Profiles are worked out only as they are
	// written, and are not kept: of each, [profile.Lifter.Brief] stays. It takes
	// Tables.
	Work *profile.Work

	// Groups are set where all reps at once would take too much memory: the tables,
	// pages and profiles are written group by group. Result and Profiles are what
	// they come to once that is done.
	Groups Groups
	sheets *sheets

	CSV    bool // also reps.csv, sets.csv and set_aside.csv
	Tables bool // tables and profiles.json alone: no pages, no workbook

	// Partition cuts the Parquet tables into a folder for each value; empty: one
	// file each.
	Partition tidy.Partition

	// Handover is what was done to names where the folder is made to be handed
	// on; Result and Profiles hold codes by then. Workbook is whether such a
	// folder gets one.
	Handover *pack.Handover
	Workbook bool

	// Keep writes what the next run into the folder may take; nil: nothing.
	Keep func(io.Writer) error

	// Progress is told the name of each output before it is written, and how much
	// of all writing is done, in [0,1]: from one goroutine at a time, and never
	// less than before. It may be nil.
	Progress func(name string, done float64)
}

// errBusy says that another run writes the same folder.
var errBusy = errors.New("another repsift is writing there")

// Write writes the output folder dir, whole or not at all: on any error, and
// when ctx ends, what stood there before is untouched and nothing is left
// beside it.
func Write(ctx context.Context, dir string, run *Run) error {
	return write(ctx, osDisk{}, dir, run, outputs)
}

func write(ctx context.Context, d disk, dir string, run *Run, outputs []output) (err error) {
	t, err := locate(dir)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(t.path), 0o777); err != nil {
		return fmt.Errorf("%s cannot be made: %w", dir, err)
	}
	release, err := lock(t.beside("lock"))
	if errors.Is(err, errBusy) {
		return fmt.Errorf("%s: %w; wait until it is done", dir, err)
	}
	if err != nil {
		return fmt.Errorf("%s: the new folder is made beside the old one, but %s cannot be written to: %w", dir, filepath.Dir(t.path), plain(err))
	}
	defer release()
	if err := t.recover(d); err != nil {
		return fmt.Errorf("%s: what a broken run left behind cannot be cleared away: %w", dir, err)
	}
	if err := t.check(run.Inputs); err != nil {
		return err
	}

	fresh := t.beside("new")
	defer func() {
		if err != nil {
			err = errors.Join(err, d.RemoveAll(fresh))
		}
	}()
	f, err := newFolder(ctx, d, fresh)
	if err != nil {
		return fmt.Errorf("%s: %w", dir, err)
	}
	defer f.abandon()
	outputs = slices.DeleteFunc(slices.Clone(outputs), func(o output) bool { return o.when != nil && !o.when(run) })
	if run.Groups != nil {
		err = run.inGroups(f, outputs)
	} else {
		err = run.whole(f, outputs)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", dir, err)
	}
	if err := f.sync(); err != nil {
		return fmt.Errorf("%s: %w", dir, err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := t.replace(d, fresh); err != nil {
		return fmt.Errorf("%s: %w", dir, err)
	}
	return nil
}

// whole writes one output after the other.
func (run *Run) whole(f *folder, outputs []output) error {
	total, before := 0.0, 0.0
	for _, o := range outputs {
		total += o.work(run)
	}
	for _, o := range outputs {
		f.told = func(share float64) { run.tell(o.name, (before+share*o.work(run))/total) }
		f.told(0)
		if err := o.make(f, run); err != nil {
			return err
		}
		before += o.work(run)
	}
	return nil
}

func (run *Run) tell(name string, done float64) {
	if run.Progress != nil {
		run.Progress(name, done)
	}
}

// recover clears away what a run that died left beside the folder.
func (t target) recover(d disk) error {
	old := t.beside("old")
	if there(old) && !there(t.path) {
		if err := d.Rename(old, t.path); err != nil {
			return err
		}
	}
	return errors.Join(d.RemoveAll(old), d.RemoveAll(t.beside("new")), d.RemoveAll(t.beside(besideName)))
}

// replace puts the fresh folder in the place of the target.
func (t target) replace(d disk, fresh string) error {
	parent := filepath.Dir(t.path)
	if !there(t.path) {
		if err := d.Rename(fresh, t.path); err != nil {
			return err
		}
		return d.SyncDir(parent)
	}
	switch err := d.Exchange(fresh, t.path); {
	case err == nil:
		return errors.Join(d.SyncDir(parent), d.RemoveAll(fresh))
	case !errors.Is(err, errNoExchange):
		return err
	}
	old := t.beside("old")
	if err := d.Rename(t.path, old); err != nil {
		return err
	}
	if err := d.Rename(fresh, t.path); err != nil {
		return errors.Join(err, d.Rename(old, t.path))
	}
	return errors.Join(d.SyncDir(parent), d.RemoveAll(old))
}

func there(name string) bool {
	_, err := os.Lstat(name)
	return !errors.Is(err, fs.ErrNotExist)
}
