package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"repsift/clean"
	"repsift/ingest"
	"repsift/ingest/season"
	"repsift/report"
)

// lifterGroups are the lifters of a reading whose reps are on disk, as the report
// writes them. A group is cleaned anew each time it is asked for.
type lifterGroups struct {
	reading *ingest.Reading
	season  *season.Season
	list    []ingest.Some
}

// groupsOf returns the groups that fit into memory.
func groupsOf(reading *ingest.Reading, s *season.Season, o tidyOptions, room memory) (*lifterGroups, error) {
	all := reading.Shelved
	most, err := room.group(shelved{all.Len(), all.Notes(), all.Rich(), all.Largest()}, !o.tables)
	if err != nil {
		return nil, err
	}
	return &lifterGroups{reading, s, reading.Shelved.Groups(most)}, nil
}

// Each implements [report.Groups].
func (g *lifterGroups) Each(ctx context.Context, do func(res *clean.Result, done float64) error) (*clean.Result, error) {
	sum, err := clean.Begin(g.season)
	if err != nil {
		return nil, err
	}
	sum.Units = g.reading.Shelved.Devices()
	done := 0
	for _, some := range g.list {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		batch, err := g.reading.Shelved.Read(some)
		if err != nil {
			return nil, err
		}
		res, err := sum.Clean(ctx, batch)
		if err != nil {
			return nil, err
		}
		done += some.Reps
		if err := do(res, float64(done)/float64(g.reading.Shelved.Len())); err != nil {
			return nil, err
		}
	}
	return sum.All(&g.reading.Batch)
}

// disk is where reps go that find no room in memory.
type disk struct {
	*os.File
	out string
}

func openDisk(out string) (*disk, error) {
	f, err := report.Beside(out)
	if err != nil {
		return nil, diskError(out, err)
	}
	return &disk{f, out}, nil
}

// WriteAt implements io.WriterAt.
func (d *disk) WriteAt(p []byte, at int64) (int, error) {
	n, err := d.File.WriteAt(p, at)
	if err != nil {
		err = diskError(d.out, err)
	}
	return n, err
}

func diskError(out string, err error) error {
	if p := (*fs.PathError)(nil); errors.As(err, &p) {
		err = p.Err
	}
	return fmt.Errorf("%s: there are more reps than fit into memory, and putting them on the disk beside it failed: %w; make room there, or allow more memory with --memory", out, err)
}
