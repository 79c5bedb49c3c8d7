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
	g := &gathering{run: run, f: f}
	some, rest, ends := float64(groupWork), 0.0, 0.0
	for _, o := range outputs {
		switch {
		case o.name == pagesFolder:
			g.pages = true
			some += o.work(run)
		case o.name == profilesFile:
			some += o.work(run)
		case o.begin != nil:
			b, err := o.begin(f, run)
			if err != nil {
				return err
			}
			g.files = append(g.files, b)
			some += o.work(run)
			ends += b.endWork
		default:
			rest += o.work(run)
		}
	}
	total, before := some+ends+rest, 0.0
	part := func(name string, work float64) (told func(share float64)) {
		from := before
		before += work
		return func(share float64) { run.tell(name, (from+work*share)/total) }
	}
	f.told = func(float64) {} // of parts of a group nothing is told
	if g.pages {
		total += groupWork
		if err := g.lookAhead(part("what pages say of all lifters", groupWork)); err != nil {
			return err
		}
	}
	if err := g.write(part("tables and profiles", some)); err != nil {
		return err
	}
	for _, b := range g.files {
		f.told = part("parts", b.endWork)
		if err := b.end(); err != nil {
			return err
		}
	}
	for _, o := range outputs {
		if o.name == pagesFolder || o.name == profilesFile || o.begin != nil {
			continue
		}
		f.told = part(o.name, o.work(run))
		f.told(0)
		if err := o.write(f, run); err != nil {
			return err
		}
	}
	return nil
}

// gathering is what is kept of the groups.
type gathering struct {
	run    *Run
	f      *folder
	files  []*begun // of tables
	around profile.Around

	// With pages, each of which tells of all lifters:
	pages bool
	sum   *clean.Result     // what all groups come to
	all   *profile.Profiles // without lifters
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
	g.all = around.Profiles()
	g.names = Pages(&profile.Profiles{Lifters: lifters})
	return nil
}

// write writes what the groups go into.
func (g *gathering) write(told func(done float64)) error {
	run, f := g.run, g.f
	if g.pages {
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
		for _, b := range g.files {
			if err := b.add(res, false); err != nil {
				return err
			}
		}
		if g.pages {
			run.sheets.reps.Add(tidy.RepsGrid(res.Reps, res.Kept))
			run.sheets.aside.Add(tidy.AsideGrid(res.Reps, res.Aside))
			run.sheets.sets.Add(tidy.SetsGrid(&res.Sets))
			res.Filters = g.sum.Filters
		}
		if err := g.lifters(res, json, lines); err != nil {
			return err
		}
		told(done)
		return nil
	})
	if err != nil {
		return err
	}
	lifters := run.Profiles.Lifters
	run.Result, run.Profiles = sum, g.around.Profiles()
	run.Profiles.Lifters = append(run.Profiles.Lifters, lifters...)
	if err := f.close(json, lines.end(run.Profiles)); err != nil || !g.pages {
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
func (g *gathering) lifters(res *clean.Result, json *measured, lines *lines) error {
	run := g.run
	work := profile.Of(res, run.Season)
	first := len(run.Profiles.Lifters)
	for i, m := range ahead.Of(work.Len(), func(i int) made {
		full := work.Lifter(i)
		m := made{line: lineOf(&full), keep: full}
		if g.pages {
			m.page = pageOf(card.Page{Season: run.seasonName(), Lifter: &full, All: g.all, Result: res.Of(full.Name), Index: card.IndexFile})
		}
		if !g.pages || len(g.names) > book.MaxLifters { // who else has a sheet
			m.keep = full.Brief()
		}
		return m
	}) {
		if err := failed(g.f, json, lines.add(m.line)); err != nil {
			return err
		}
		if g.pages {
			if err := g.f.put(g.names[first+i], m.page); err != nil {
				return err
			}
		}
		run.Profiles.Lifters = append(run.Profiles.Lifters, m.keep)
	}
	return nil
}
