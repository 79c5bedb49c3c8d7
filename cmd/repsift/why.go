package main

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"repsift/clean"
	"repsift/ingest"
	"repsift/ingest/rep"
	"repsift/report/pack"
	"repsift/report/screen"
)

var whyCommand = command{
	name: "why", args: "DIR ROW | INPUT… ROW",
	does: "tell the story of one row: how it was read, who looked at it, where it ended",
	more: `
DIR is a folder that tidy wrote, INPUT what tidy was given. ROW names a row of
a source as SOURCE:ROW, of a workbook as SOURCE[SHEET]:ROW, or one rep by its
rep_id. The sources are read and cleaned again; nothing is written. For a DIR
they are looked for in the working folder and beside DIR; where they are not
there, or no longer the same to the byte, the story is told from DIR's tables.`,
	examples: []string{
		"repsift why testdata/demo north/2026-01.csv:440",
		"repsift why testdata/demo 'guest gym.xlsx[Sets]:6'",
	},
	declare: func(f *pflag.FlagSet) func(context.Context, []string, *console) error {
		season := f.String("season", "", "season file (default: season.toml of the input folder)")
		return func(ctx context.Context, args []string, c *console) error { return why(ctx, args, *season, c) }
	},
}

func why(ctx context.Context, args []string, seasonFile string, c *console) error {
	if len(args) < 2 {
		return usagef("why: name the folder that tidy wrote, or the input, and the row: repsift why DIR SOURCE:ROW")
	}
	if len(args) == 2 {
		if run, err := pack.ReadRun(os.DirFS(args[0])); err == nil {
			return whyFolder(ctx, c, args[0], run, args[1])
		}
	}
	in, err := resolve(args[:len(args)-1])
	if err != nil {
		return err
	}
	s, _, err := readSeason(seasonFile, in)
	if err != nil {
		return err
	}
	p := c.startProgress(false)
	defer p.clear()
	reading, err := ingest.Read(ctx, in.fsys, in.names, s, ingest.Options{
		Progress: func(done, total int64) { p.bar("reading", share(done, total)) },
	})
	if err != nil {
		return err
	}
	result, err := clean.RunContext(ctx, &reading.Batch, s)
	if err != nil {
		return err
	}
	p.done()
	return tellRow(c, reading, result, args[len(args)-1])
}

// tellRow shows all that is known of what a row name means.
func tellRow(c *console, reading *ingest.Reading, result *clean.Result, name string) error {
	scr := c.screen()
	if id, err := strconv.ParseUint(name, 16, 64); err == nil && len(name) == 16 {
		for i := range result.Reps.Len() {
			if result.Reps.ID(int32(i)) == id {
				return tellReps(scr, reading, result, []int32{int32(i)})
			}
		}
		return fmt.Errorf("no rep has the rep_id %s", name)
	}
	at, err := placeOf(name)
	if err != nil {
		return err
	}
	if rows := result.Find(at, rep.Null[int32]{}); len(rows) > 0 {
		if err := tellReps(scr, reading, result, rows); err != nil {
			return err
		}
		tellUnread(scr, unreadAt(reading, at))
		return nil
	}
	for i := range reading.Notes {
		if n := &reading.Notes[i]; n.Source == at.Source && n.Row == at.Row && (at.Sheet == "" || n.Sheet == at.Sheet) {
			tellNote(scr, result, n)
			return nil
		}
	}
	if unread := unreadAt(reading, at); len(unread) > 0 {
		tellUnread(scr, unread)
		return nil
	}
	for _, l := range reading.Ledger {
		if l.Source == at.Source && int(at.Row) <= l.Rows {
			scr.Item("·", fmt.Sprintf("%s holds no rep and no set: a heading, a blank, a total, or a sample of a trace", at))
			return nil
		}
		if l.Source == at.Source {
			return fmt.Errorf("%s has %d rows", l.Source, l.Rows)
		}
	}
	return fmt.Errorf("there is no source %q; repsift peek lists them", at.Source)
}

// placeOf reads SOURCE:ROW or SOURCE[SHEET]:ROW.
func placeOf(name string) (rep.Place, error) {
	source, row, found := cutLast(name, ":")
	n, err := strconv.Atoi(row)
	if !found || err != nil || n < 1 {
		return rep.Place{}, usagef("why: %q names no row; it is SOURCE:ROW, SOURCE[SHEET]:ROW or a rep_id", name)
	}
	at := rep.Place{Source: strings.TrimSpace(source), Row: int32(n)}
	if before, sheet, ok := cutLast(source, "["); ok && strings.HasSuffix(sheet, "]") {
		at.Source, at.Sheet = strings.TrimSpace(before), strings.TrimSuffix(sheet, "]")
	}
	return at, nil
}

func cutLast(text, sep string) (before, after string, found bool) {
	i := strings.LastIndex(text, sep)
	if i < 0 {
		return text, "", false
	}
	return text[:i], text[i+len(sep):], true
}

func tellReps(scr *screen.Screen, reading *ingest.Reading, result *clean.Result, rows []int32) error {
	for i, row := range rows {
		story, err := result.Why(row)
		if err != nil {
			return err
		}
		if i > 0 {
			scr.Line("")
		}
		removed := removedFrom(reading, result.Reps.Rep(row))
		for i, line := range story.Lines {
			scr.Item("·", line)
			if i == 0 { // behind how it was read
				for _, text := range removed {
					scr.Item("·", text)
				}
			}
		}
		scr.Line("  rep_id %016x", result.Reps.ID(row))
	}
	return nil
}

// removedFrom returns what was taken out of a rep of a trace.
func removedFrom(reading *ingest.Reading, of rep.Rep) (said []string) {
	for i := range reading.Sources {
		src := &reading.Sources[i]
		if src.Name != of.Source {
			continue
		}
		for _, r := range src.Removed {
			if r.Sheet == of.Sheet && r.Row == of.Row {
				said = append(said, r.Text)
			}
		}
	}
	return said
}

func tellNote(scr *screen.Screen, result *clean.Result, n *rep.SetNote) {
	scr.Item("·", fmt.Sprintf("%s: a logged set of %s, %s, %s: %q", n.Place(), n.Lifter, n.Date, n.Lift, n.Text))
	for _, s := range result.Sets.All() {
		if s.Log == nil || s.Log.Source != n.Source || s.Log.Sheet != n.Sheet || s.Log.Row != n.Row {
			continue
		}
		if len(s.Rows) == 0 {
			scr.Item("·", "it stands alone: no set of a unit fits it")
			continue
		}
		scr.Item("·", fmt.Sprintf("joined to set %d of session %d: %d reps at %g kg, from %s", s.Number.V, s.Session, s.Reps, s.LoadKg.V,
			rep.Place{Source: s.Source, Sheet: s.Sheet, Row: s.Row}))
	}
}

func unreadAt(reading *ingest.Reading, at rep.Place) []rep.Unread {
	var out []rep.Unread
	for _, u := range reading.Unread {
		if u.Source == at.Source && u.Row == at.Row && (at.Sheet == "" || u.Sheet == at.Sheet) {
			out = append(out, u)
		}
	}
	return out
}

func tellUnread(scr *screen.Screen, unread []rep.Unread) {
	for _, u := range unread {
		scr.Item("·", fmt.Sprintf("not read (%s): %s", u.Lost, u))
	}
}
