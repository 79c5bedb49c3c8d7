// Package ingest turns a folder of exports and hand logs into reps, logged sets
// and a list of what could not be read.
//
// The steps of [Read]:
//
//  1. The sources are listed ([Walk]): tables, workbooks, members of archives.
//  2. Each is hashed; the same content under two names is read once.
//  3. What an earlier reading kept of the same content is looked up (keeping.go).
//     The others are opened (package table) and recognised (package source): which
//     tables they hold, which column is which field, of which shape a line is.
//  4. What a source alone does not settle is settled with its sisters, the
//     exports of the same unit: the order of its dates, the nickname of the unit.
//  5. Each is decoded, or taken as it was read before where its sisters say the
//     same as then. Values become SI units here and nowhere else. One that
//     was written to meanwhile is dropped.
//  6. Everything is put together in order of the sources' names, whatever
//     order they were given in. Reps that would take too much memory go to disk
//     as they are decoded (package shelf), to be read back some lifters at a time.
//
// Sources are hashed, opened and decoded side by side. A source that cannot be
// read, or whose meaning has to be declared, stops alone; the rest is still
// done. Nothing is dropped: each row of a source is counted in its [rep.Ledger]
// as rep row, set note, unread or not data.
//
// The package does not clean: false reps and duplicates are read like any other.
package ingest

import (
	"context"
	"io/fs"

	"repsift/ingest/kept"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/shape"
	"repsift/ingest/shelf"
	"repsift/ingest/source"
)

// Options of a reading. The zero Options is ready.
type Options struct {
	Workers   int // sources read side by side; 0: one a processor
	FirstReps int // reps shown in each Source; 0: none

	// Most is how many reps are held in memory at once; 0: all. Where there are
	// more, all go to the file that Disk opens, and are read back some lifters at a
	// time ([Reading.Shelved]).
	Most int
	Disk func() (shelf.File, error)

	// KeepTraces keeps raw traces in each Source, to draw them: memory grows
	// with their samples.
	KeepTraces bool

	// Last is the file that an earlier reading wrote with [Reading.Keep]; of what
	// it holds, that is taken which would be read in the same way. Nil: there is
	// none.
	Last []byte

	// For names the program and the season file: all that a reading rests on beside
	// the sources. What was kept for another For is not taken. Empty: nothing is
	// kept, and nothing taken.
	For string

	// Progress is told how far reading is, in bytes; it is called from one
	// goroutine at a time. May be nil.
	Progress func(done, total int64)
}

// Reading is everything the sources held.
type Reading struct {
	rep.Batch
	Sources []Source  // by name; also those that were not read
	NotRead []NotRead // files that are no sources, by name
	Said    []string  // what holds for the whole season, each a sentence

	// Shelved are the reps and notes where there were more than [Options.Most];
	// Reps and Notes are empty then.
	Shelved *Shelved

	Taken int // sources that were taken from [Options.Last]
	next  *kept.Next[head]
}

// Close lets go of reps on disk.
func (r *Reading) Close() error {
	if r.Shelved == nil {
		return nil
	}
	return r.Shelved.disk.Close()
}

// Source is how one source was read.
type Source struct {
	Name   string
	SHA256 string // of the content, hex
	Bytes  int64
	SameAs string // the source with the same content, which was read in its place
	How

	Asks      []*source.Ask // open questions; also told by Err or among Warnings
	Err       error         // why it was not read, or not whole; an [*source.Ask] names the line to add
	FirstReps []rep.Rep
	Traces    []shape.Traced // where they are kept
}

// How tells how a source was read.
type How struct {
	Format    string // "text" or "xlsx"
	Encoding  string
	Delimiter string
	Quote     string
	Decimal   string
	DateOrder string
	Shape     string // of its tables, the shapes joined
	Device    string
	Sheets    []string
	Tables    []Table

	Said     []string // what was inferred, each a sentence
	Warnings []string
	Removed  []shape.Removed // what was taken out of reps of traces, or is missing in them
}

// Table is how one table of a source was read.
type Table struct {
	Sheet    string
	Shape    string // empty: not read
	Why      string
	Headings []int32 // rows
	From, To int32   // rows of data; To 0: to the end
	Columns  []ColumnRead
	Carried  []CarriedRead
}

// ColumnRead is how one column was read.
type ColumnRead struct {
	Heading  string
	Field    string // empty: not needed
	Rep      int    // of reps across: which
	Unit     string
	UnitFrom string
	Evidence string
	Samples  []string
}

// CarriedRead is a field that the surroundings of a table give.
type CarriedRead struct{ Field, Text, From string }

// Read reads the named sources, or with no names everything below the root. A
// name may be a file, a folder, an archive or a member of one. A nil season
// declares nothing.
//
// The error is of the context, or of the disk that reps go to; what is wrong
// with a source is in its Err.
func Read(ctx context.Context, fsys fs.FS, names []string, s *season.Season, opt Options) (_ *Reading, err error) {
	if s == nil {
		s = &season.Season{}
	}
	r := &reader{ctx: ctx, season: s, opt: opt, tree: newTree(fsys)}
	defer r.tree.close()
	defer func() {
		if err != nil {
			r.shelving.close()
		}
	}()
	w := walker{tree: r.tree}
	if names == nil {
		w.folder(".", nil)
	}
	for _, n := range names {
		w.named(n, len(names) == 1)
	}
	w.sort()
	w.skip(s)
	r.jobs = make([]*job, len(w.inputs))
	for i, in := range w.inputs {
		j := &job{Source: Source{Name: in.name}}
		r.jobs[i] = j
		if in.err != nil {
			j.Err = plain(in.name, in.err)
		} else if info, err := fs.Stat(r.tree, in.name); err == nil {
			j.Bytes = info.Size()
			r.total += 2 * info.Size()
			j.seen, _ = r.look(in.name) // an error comes again when it is read
		}
	}
	r.open()
	r.hashLater()
	r.each(well(func(j *job) {
		if !j.late {
			r.hash(j)
		}
	}))
	r.sameContent()
	hashed := r.hashBeside()
	r.each(well(r.survey))
	r.nameDevices()
	r.poolSisters()
	r.each(well(r.decode))
	hashed()
	r.each(well(r.unchanged))
	r.each(r.lost)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if r.shelving.err != nil {
		return nil, r.shelving.err
	}
	out, err := r.together()
	if err != nil {
		return nil, err
	}
	out.NotRead = w.notRead
	r.keepAll(out)
	return out, nil
}
