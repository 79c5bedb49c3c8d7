package report

import (
	"context"
	"path"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/ahead"
	"repsift/report/book"
	"repsift/report/card"
	"repsift/report/tidy"
)

// Groups are the lifters of a run some at a time, in order of their names.
type Groups interface {
	// Each calls do with the result of one group after the other and returns what
	// they come to. A result is let go when do returns; done is the share of all
	// reps that stand in it and in those before.
	Each(ctx context.Context, do func(res *clean.Result, done float64) error) (*clean.Result, error)
}

// groupWork is what it costs to read and clean a group, as [output.work] counts.
const groupWork = 10

// sheets are what of the tables goes into the workbook.
type sheets struct{ reps, aside, sets tidy.Held }

// inGroups writes what can be written some lifters at a time, all of it beside
// one another, and then the rest.
func (run *Run) inGroups(f *folder, outputs []output) error {
	all := &gathering{run: run, f: f}
	work, some, rest := map[string]float64{}, 0.0, 0.0
	pages := false
	for _, o := range outputs {
		work[o.name] = o.work(run)
		switch {
		case o.name == profilesFile, o.name == pagesFolder, o.begin != nil:
			some += o.work(run)
		default:
			rest += o.work(run)
		}
		pages = pages || o.name == pagesFolder
	}
	total := some + groupWork + rest
	before := 0.0
	if pages {
		total += groupWork
		before = groupWork
		if err := all.lookAhead(func(done float64) { run.tell("all lifters, looked at first", groupWork*done/total) }); err != nil {
			return err
		}
	}
	f.told = func(float64) {} // of parts of a group nothing is told
	if err := all.write(outputs, pages, func(done float64) {
		run.tell("tables and profiles", (before+(groupWork+some)*done)/total)
	}); err != nil {
		return err
	}
	before += groupWork + some
	for _, o := range outputs {
		if o.name == profilesFile || o.name == pagesFolder || o.begin != nil {
			continue
		}
		run.tell(o.name, before/total)
		if err := o.write(f, run); err != nil {
			return err
		}
		before += work[o.name]
	}
	return nil
}

// gathering is what is kept of the groups.
type gathering struct {
	run    *Run
	f      *folder
	around profile.Around

	// With pages, each of which tells of all lifters:
	sum   *clean.Result     // what all groups come to
	pages *profile.Profiles // without lifters
	names []string          // of the files of the lifters' pages
}

// lookAhead gathers what pages tell of all lifters.
func (g *gathering) lookAhead(told func(done float64)) error {
	var around profile.Around
	var lifters []profile.Lifter
	var err error
	g.sum, err = g.run.Groups.Each(g.f.ctx, func(res *clean.Result, done float64) error {
		around.Add(res)
		for _, name := range profile.Names(res) {
			lifters = append(lifters, profile.Lifter{Name: name})
		}
		told(done)
		return nil
	})
	if err != nil {
		return err
	}
	g.pages = around.Profiles()
	g.names = Pages(&profile.Profiles{Lifters: lifters})
	return nil
}

func (g *gathering) write(outputs []output, pages bool, told func(done float64)) error {
	run, f := g.run, g.f
	var files []*begun
	for _, o := range outputs {
		if o.begin == nil {
			continue
		}
		b, err := o.begin(f, run)
		if err != nil {
			return err
		}
		files = append(files, b)
	}
	if pages {
		most := book.MaxRows - 1 // with more a table is left out
		run.sheets = &sheets{tidy.Held{Columns: rep.Columns, Most: most}, tidy.Held{Columns: rep.AsideColumns, Most: most}, tidy.Held{Columns: rep.SetColumns, Most: most}}
	}
	json, err := f.create(profilesFile)
	if err != nil {
		return err
	}
	lines := newLines(json)
	run.Profiles = &profile.Profiles{}
	sum, err := run.Groups.Each(f.ctx, func(res *clean.Result, done float64) error {
		g.around.Add(res)
		for _, b := range files {
			if err := b.add(res, false); err != nil {
				return err
			}
		}
		if pages {
			run.sheets.reps.Add(tidy.RepsGrid(res.Reps, res.Kept))
			run.sheets.aside.Add(tidy.AsideGrid(res.Reps, res.Aside))
			run.sheets.sets.Add(tidy.SetsGrid(&res.Sets))
			res.Filters = g.sum.Filters
		}
		if err := g.lifters(res, json, lines, pages); err != nil {
			return err
		}
		told(done)
		return nil
	})
	if err != nil {
		return err
	}
	for _, b := range files {
		if err := b.end(); err != nil {
			return err
		}
	}
	lifters := run.Profiles.Lifters
	run.Result, run.Profiles = sum, g.around.Profiles()
	run.Profiles.Lifters = append(run.Profiles.Lifters, lifters...)
	if err := f.close(json, lines.end(run.Profiles)); err != nil || !pages {
		return err
	}
	club := run.club()
	for _, name := range g.names {
		club.Pages = append(club.Pages, path.Base(name))
	}
	return putClub(f, club)
}

// made is what is written of one lifter.
type made struct {
	line, page filled
	keep       profile.Lifter
}

// lifters writes the profiles, and the pages, of the lifters of a group.
func (g *gathering) lifters(res *clean.Result, json *measured, lines *lines, pages bool) error {
	run := g.run
	work := profile.Of(res, run.Season)
	first := len(run.Profiles.Lifters)
	for i, m := range ahead.Of(work.Len(), func(i int) made {
		full := work.Lifter(i)
		m := made{line: lineOf(&full), keep: full}
		if pages {
			m.page = pageOf(card.Page{Season: run.seasonName(), Lifter: &full, All: g.pages, Result: res.Of(full.Name), Index: card.IndexFile})
		}
		if !pages || len(g.names) > book.MaxLifters { // who else has a sheet
			m.keep = full.Brief()
		}
		return m
	}) {
		if err := failed(g.f, json, lines.add(m.line)); err != nil {
			return err
		}
		if pages {
			if err := g.f.put(g.names[first+i], m.page); err != nil {
				return err
			}
		}
		run.Profiles.Lifters = append(run.Profiles.Lifters, m.keep)
	}
	return nil
}
