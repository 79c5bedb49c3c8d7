package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"repsift/clean"
	"repsift/ingest"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/report/pack"
	"repsift/report/screen"
	table "repsift/report/tidy"
	"repsift/report/tidy/stored"
)

// whyFolder tells the story of a row of a folder that tidy wrote: from the
// inputs, where they are found near and are the same to the byte, else from the
// folder's own tables, which hold what was read, where it ended and why.
func whyFolder(ctx context.Context, c *console, dir string, run *pack.Run, name string) error {
	if in, s, ok := findInputs(dir, run); ok {
		reading, err := ingest.Read(ctx, in.fsys, in.names, s, ingest.Options{})
		if err == nil && sameSources(reading.Ledger, run.Sources) {
			result, err := clean.RunContext(ctx, &reading.Batch, s)
			if err != nil {
				return err
			}
			c.screen().Line("Measured again on the inputs in %s, which are those of the run to the byte.", in.given)
			return tellRow(c, reading, result, name)
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
	}
	return tellStored(c.screen(), os.DirFS(dir), run, name)
}

// mostFolders bounds the search for inputs.
const mostFolders = 2000

// findInputs looks for the sources of a run in the working folder, beside the
// output, and up to two folders below either; and for the season file it was
// told from. Whether they are the same is not decided here.
func findInputs(dir string, run *pack.Run) (inputs, *season.Season, bool) {
	var names []string
	for _, l := range run.Sources {
		file, _, _ := strings.Cut(l.Source, ".zip/")
		if file != l.Source {
			file += ".zip"
		}
		if !fs.ValidPath(file) {
			return inputs{}, nil, false
		}
		if !slices.Contains(names, file) {
			names = append(names, file)
		}
	}
	if len(names) == 0 {
		return inputs{}, nil, false
	}
	left := mostFolders
	var search func(root string, deeper int) (string, bool)
	search = func(root string, deeper int) (string, bool) {
		if left--; left < 0 {
			return "", false
		}
		if holds(root, names) {
			return root, true
		}
		if deeper == 0 {
			return "", false
		}
		below, _ := os.ReadDir(root)
		for _, d := range below {
			if d.IsDir() && !strings.HasPrefix(d.Name(), ".") {
				if at, ok := search(filepath.Join(root, d.Name()), deeper-1); ok {
					return at, true
				}
			}
		}
		return "", false
	}
	for _, from := range []string{".", filepath.Dir(filepath.Clean(dir))} {
		root, ok := search(from, 2)
		if !ok {
			continue
		}
		in := inputs{fsys: os.DirFS(root), names: names, given: root}
		if s, ok := findSeason(root, run.SeasonFile); ok {
			return in, s, true
		}
	}
	return inputs{}, nil, false
}

// holds reports whether all files are in a folder.
func holds(root string, names []string) bool {
	for _, name := range names {
		if info, err := os.Stat(filepath.Join(root, filepath.FromSlash(name))); err != nil || !info.Mode().IsRegular() {
			return false
		}
	}
	return true
}

// findSeason reads the season file of a run from the input folder or the
// working folder, where it is the same to the byte.
func findSeason(root string, file *pack.File) (*season.Season, bool) {
	if file == nil {
		return &season.Season{}, true
	}
	for _, at := range []string{filepath.Join(root, file.Name), file.Name} {
		text, err := os.ReadFile(at)
		if err != nil {
			continue
		}
		if sum := sha256.Sum256(text); hex.EncodeToString(sum[:]) != file.SHA256 {
			continue
		}
		if s, _, err := readSeason(at, inputs{}); err == nil {
			return s, true
		}
	}
	return nil, false
}

// sameSources reports whether two ledgers are of the same files.
func sameSources(a, b []rep.Ledger) bool {
	return slices.EqualFunc(a, b, func(x, y rep.Ledger) bool { return x.Source == y.Source && x.SHA256 == y.SHA256 })
}

// tellStored tells what the tables of a folder hold of a row.
func tellStored(scr *screen.Screen, folder fs.FS, run *pack.Run, name string) error {
	id := ""
	var at rep.Place
	if _, err := strconv.ParseUint(name, 16, 64); err == nil && len(name) == 16 {
		id = strings.ToLower(name)
	} else if at, err = placeOf(name); err != nil {
		return err
	}
	is := func(repID string, source, sheet table.Text, row int32) bool {
		if id != "" {
			return repID == id
		}
		return string(source) == at.Source && row == at.Row && (at.Sheet == "" || string(sheet) == at.Sheet)
	}
	kept, err := stored.Select(folder, "reps", func(r *table.Rep) bool { return is(r.ID, r.Source, r.Sheet, r.Row) })
	if err != nil {
		return err
	}
	aside, err := stored.Select(folder, "set_aside", func(r *table.Aside) bool { return is(r.ID, r.Source, r.Sheet, r.Row) })
	if err != nil {
		return err
	}
	sets, err := stored.Select(folder, "sets", func(s *table.Set) bool {
		if id == "" && s.LogRow != nil && is("", s.LogSource, s.LogSheet, *s.LogRow) {
			return true
		}
		return slices.ContainsFunc(kept, func(r table.Rep) bool {
			return s.Lifter == r.Lifter && s.Lift == r.Lift && s.Date == r.Date && s.Number != nil && *s.Number == r.Set
		})
	})
	if err != nil {
		return err
	}
	unread, err := unreadIn(folder, at)
	if err != nil {
		return err
	}
	scr.Line("Told from the tables: the inputs of the run are not near, or no longer the same. Name them to")
	scr.Line("see what every filter measured: repsift why INPUT… ROW")
	for i := range kept {
		tellKept(scr, run, &kept[i], sets)
	}
	for i := range aside {
		tellAside(scr, run, &aside[i])
	}
	if id == "" && len(kept)+len(aside) == 0 {
		tellLogged(scr, at, sets)
	}
	for _, u := range unread {
		scr.Item("·", u)
	}
	if len(kept)+len(aside)+len(sets)+len(unread) > 0 {
		return nil
	}
	if id != "" {
		return fmt.Errorf("no rep has the rep_id %s", name)
	}
	for _, l := range run.Sources {
		if l.Source == at.Source && int(at.Row) <= l.Rows {
			scr.Item("·", fmt.Sprintf("%s holds no rep and no set: a heading, a blank, a total, or a sample of a trace", at))
			return nil
		}
		if l.Source == at.Source {
			return fmt.Errorf("%s has %d rows", l.Source, l.Rows)
		}
	}
	return fmt.Errorf("there is no source %q in that run", at.Source)
}

// unreadIn returns the lines of the table of what was not read about a place, in
// words.
func unreadIn(folder fs.FS, at rep.Place) ([]string, error) {
	if at.Source == "" {
		return nil, nil
	}
	lines, err := stored.Select(folder, "unread", func(u *table.Unread) bool {
		return string(u.Source) == at.Source && u.Row != nil && *u.Row == at.Row && (at.Sheet == "" || string(u.Sheet) == at.Sheet)
	})
	if err != nil {
		return nil, plain(err)
	}
	var out []string
	for _, u := range lines {
		text := fmt.Sprintf("not read (%s): %s: ", u.Lost, at)
		if u.Column != "" {
			text += fmt.Sprintf("column %q: ", string(u.Column))
		}
		out = append(out, text+string(u.Problem))
	}
	return out, nil
}

// tellRead says what was read, as far as the tables hold it.
func tellRead(scr *screen.Screen, r *table.Rep) {
	at := rep.Place{Source: string(r.Source), Sheet: string(r.Sheet), Row: r.Row}
	text := fmt.Sprintf("%s: %s, %s, %s %.6g kg", at, r.Lifter, r.Date, strings.TrimSpace(string(r.Variant)+" "+string(r.Lift)), r.Load)
	if r.NumberRecorded != nil {
		text += fmt.Sprintf(", rep %d as recorded", *r.NumberRecorded)
	}
	text += fmt.Sprintf(": mean %.3f m/s", r.MeanVelocity)
	for _, v := range []struct {
		format string
		value  *float64
		scale  float64
	}{{", peak %.3f m/s", r.PeakVelocity, 1}, {", travel %.1f cm", r.ROM, 100}, {", in %.2f s", r.Concentric, 1},
		{"; read as %g kg", r.LoadRecorded, 1}, {"; read as mean %.3f m/s", r.MeanRecorded, 1}, {"; read as travel %.1f cm", r.ROMRecorded, 100},
		{"; read as in %.2f s", r.ConcentricRecorded, 1}} {
		if v.value != nil {
			text += fmt.Sprintf(v.format, v.scale**v.value)
		}
	}
	scr.Item("·", text)
}

func tellKept(scr *screen.Screen, run *pack.Run, r *table.Rep, sets []table.Set) {
	tellRead(scr, r)
	for i := range run.Filters {
		f := &run.Filters[i]
		did := "let it pass"
		if slices.Contains(r.Flags, f.Kind) {
			did = "marked it"
		}
		scr.Item("·", fmt.Sprintf("%s (%s%s): %s", f.Kind, origin(f), limitsFor(f, string(r.Lift)), did))
	}
	scr.Item("·", fmt.Sprintf("kept: session %d, set %d, rep %d, %s set", r.Session, r.Set, r.Number, r.Role))
	for i := range sets {
		if s := &sets[i]; s.Logged && s.LogRow != nil && s.Number != nil && *s.Number == r.Set {
			scr.Item("·", fmt.Sprintf("the hand log's set %q at %s was joined to this set", string(s.LoggedText),
				rep.Place{Source: string(s.LogSource), Sheet: string(s.LogSheet), Row: *s.LogRow}))
		}
	}
	scr.Line("  rep_id %s", r.ID)
}

func tellAside(scr *screen.Screen, run *pack.Run, a *table.Aside) {
	r := table.Rep{Lifter: a.Lifter, Date: a.Date, Lift: a.Lift, Variant: a.Variant, Load: a.Load, NumberRecorded: a.NumberRecorded,
		MeanVelocity: a.MeanVelocity, PeakVelocity: a.PeakVelocity, ROM: a.ROM, Concentric: a.Concentric, LoadRecorded: a.LoadRecorded,
		MeanRecorded: a.MeanRecorded, ROMRecorded: a.ROMRecorded, ConcentricRecorded: a.ConcentricRecorded, Source: a.Source, Sheet: a.Sheet, Row: a.Row}
	tellRead(scr, &r)
	text := fmt.Sprintf("set aside by %s", a.Filter)
	for i := range run.Filters {
		if f := &run.Filters[i]; f.Kind == a.Filter {
			text += fmt.Sprintf(" (%s%s)", origin(f), limitsFor(f, string(a.Lift)))
			break
		}
	}
	text += ": " + string(a.Reason)
	if a.Measured != nil && a.Limit != nil {
		text += fmt.Sprintf(" (measured %.4g, limit %.4g)", *a.Measured, *a.Limit)
	}
	scr.Item("·", text)
	scr.Line("  rep_id %s", a.ID)
}

// tellLogged tells what became of a logged set.
func tellLogged(scr *screen.Screen, at rep.Place, sets []table.Set) {
	for i := range sets {
		s := &sets[i]
		text := fmt.Sprintf("%s: a logged set of %s, %s, %s: %q", at, s.Lifter, s.Date, s.Lift, string(s.LoggedText))
		if s.Reps == 0 {
			scr.Item("·", text+"; it stands alone: no set of a unit fits it")
			continue
		}
		number, load := int32(0), 0.0
		if s.Number != nil && s.Load != nil {
			number, load = *s.Number, *s.Load
		}
		scr.Item("·", fmt.Sprintf("%s; joined to set %d of session %d: %d reps at %g kg, from %s", text, number, s.Session, s.Reps, load,
			rep.Place{Source: string(s.Source), Sheet: string(s.Sheet), Row: s.Row}))
	}
}

func origin(f *pack.Filter) string {
	if f.Declared {
		return "season file"
	}
	return "default"
}

// limitsFor writes the limits of a filter that hold for a lift.
func limitsFor(f *pack.Filter, lift string) string {
	own := map[string]bool{}
	for _, l := range f.Limits {
		own[l.Name] = own[l.Name] || l.Lift == lift
	}
	text := ""
	for _, l := range f.Limits {
		if l.Value != nil && (l.Lift == lift || l.Lift == "" && !own[l.Name]) {
			text += fmt.Sprintf(", %s %g", l.Name, *l.Value)
		}
	}
	return text
}
