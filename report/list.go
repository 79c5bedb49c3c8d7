package report

import (
	"bytes"
	"io"
	"path"
	"strings"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/ahead"
	"repsift/report/book"
	"repsift/report/card"
	"repsift/report/pack"
	"repsift/report/tidy"
)

// output is one file or folder of the output.
type output struct {
	name  string
	when  func(*Run) bool // nil: always
	write func(*folder, *Run) error

	// begin is instead of write where the output can be written some lifters at
	// a time.
	begin func(*folder, *Run) (*begun, error)
}

// begun is an output on its way.
type begun struct {
	add func(res *clean.Result, last bool) error // some lifters; last: no others follow
	end func() error

	endWork float64 // what end costs, as output.work counts
}

// make writes the output of a run that is at hand whole.
func (o output) make(f *folder, run *Run) error {
	if o.begin == nil {
		return o.write(f, run)
	}
	b, err := o.begin(f, run)
	if err == nil {
		err = b.add(run.Result, true)
	}
	if err == nil {
		err = b.end()
	}
	return err
}

// work is what an output costs beside the others: processor time for each of
// 300,000 reps, in tenths of a microsecond, as testdata/bench measures it.
func (o output) work(run *Run) float64 {
	switch o.name {
	case "reps":
		return 2
	case "reps.csv":
		return 13
	case profilesFile:
		if run.Work != nil {
			return 5
		}
		return 1
	case pagesFolder:
		return 19
	case workbookName:
		return 60
	}
	return 1
}

// outputs lists all of them in the order they are written: what describes the
// others comes last.
var outputs = []output{
	table("reps", rep.Columns, func(r *clean.Result) *tidy.Grid { return tidy.RepsGrid(r.Reps, r.Kept) },
		func(by tidy.Partition, r *clean.Result) (*tidy.Parts, error) {
			return tidy.RepsParts(by, r.Reps, r.Kept)
		}),
	table("set_aside", rep.AsideColumns, func(r *clean.Result) *tidy.Grid { return tidy.AsideGrid(r.Reps, r.Aside) },
		func(by tidy.Partition, r *clean.Result) (*tidy.Parts, error) {
			return tidy.AsideParts(by, r.Reps, r.Aside)
		}),
	table("sets", rep.SetColumns, func(r *clean.Result) *tidy.Grid { return tidy.SetsGrid(&r.Sets) },
		func(by tidy.Partition, r *clean.Result) (*tidy.Parts, error) { return tidy.SetsParts(by, &r.Sets) }),
	csv("reps.csv", func(c *tidy.CSV, r *clean.Result) error { return c.Reps(r.Reps, r.Kept) }),
	csv("set_aside.csv", func(c *tidy.CSV, r *clean.Result) error { return c.Aside(r.Reps, r.Aside) }),
	csv("sets.csv", func(c *tidy.CSV, r *clean.Result) error { return c.Sets(&r.Sets) }),
	one("unread.csv", func(w io.Writer, r *Run) error { return tidy.UnreadCSV(w, r.Result.Unread) }),
	{name: profilesFile, write: func(f *folder, run *Run) error { // before what needs the lifters
		return f.write(profilesFile, func(w io.Writer) error { return profilesJSON(w, run, f.told) })
	}},
	unlessTables(output{name: pagesFolder, write: pages}),
	unlessTables(output{name: workbookName, write: workbook}),
	{name: pack.KeptFile, when: func(run *Run) bool { return run.Keep != nil }, write: func(f *folder, run *Run) error {
		return f.write(pack.KeptFile, run.Keep)
	}},
	{name: "README.md", write: codebook},
	{name: "datapackage.json", write: dataPackage},
	{name: pack.RunFile, write: runFile},
}

const (
	profilesFile = "profiles.json"
	pagesFolder  = "profiles/"
	workbookName = "season.xlsx"
)

// one returns an output that is a single file and depends on no other.
func one(name string, fill func(io.Writer, *Run) error) output {
	return output{name: name, write: func(f *folder, run *Run) error {
		return f.write(name, func(w io.Writer) error { return fill(w, run) })
	}}
}

// csv returns an output that is a CSV file, written only where CSV is asked for.
func csv(name string, add func(*tidy.CSV, *clean.Result) error) output {
	return output{name: name, when: func(run *Run) bool { return run.CSV }, begin: func(f *folder, _ *Run) (*begun, error) {
		m, err := f.create(name)
		if err != nil {
			return nil, err
		}
		text := tidy.NewCSV(m)
		return &begun{
			add: func(res *clean.Result, _ bool) error { return failed(f, m, add(text, res)) },
			end: func() error { return f.close(m, nil) },
		}, nil
	}}
}

// failed closes a file where filling it failed.
func failed(f *folder, m *measured, err error) error {
	if err != nil {
		return f.close(m, err)
	}
	return nil
}

// unlessTables returns an output that is for people, and left out where only
// tables are asked for.
func unlessTables(o output) output {
	o.when = func(run *Run) bool { return !run.Tables }
	return o
}

// profilesJSON writes all profiles.
func profilesJSON(w io.Writer, run *Run, told func(share float64)) error {
	n := len(run.Profiles.Lifters)
	if run.Work != nil {
		n = run.Work.Len()
		run.Profiles.Lifters = make([]profile.Lifter, n)
	}
	lifters := run.Profiles.Lifters
	out := newLines(w)
	for i, l := range ahead.Of(n, func(i int) filled {
		l := &lifters[i]
		if run.Work != nil {
			full := run.Work.Lifter(i)
			lifters[i], l = full.Brief(), &full
		}
		return lineOf(l)
	}) {
		told(float64(i+1) / float64(n))
		if err := out.add(l); err != nil {
			return err
		}
	}
	return out.end(run.Profiles)
}

// Pages returns the names of the lifters' pages in their order, relative to the
// output folder.
func Pages(p *profile.Profiles) []string {
	names := []string{strings.TrimSuffix(card.IndexFile, ".html")} // which no lifter may have
	for i := range p.Lifters {
		names = append(names, p.Lifters[i].Name)
	}
	files := FileNames(names)[1:]
	for i, file := range files {
		files[i] = "profiles/" + file + ".html"
	}
	return files
}

// pages writes the page of each lifter and the page of the club.
func pages(f *folder, run *Run) error {
	club := run.club()
	names := Pages(run.Profiles)
	for i, page := range ahead.Of(len(names), func(i int) filled {
		l := &run.Profiles.Lifters[i]
		return pageOf(card.Page{Season: club.Season, Lifter: l, All: run.Profiles, Result: run.Result.Of(l.Name), Index: card.IndexFile})
	}) {
		if err := f.put(names[i], page); err != nil {
			return err
		}
		f.told(float64(i+1) / float64(len(names)))
		club.Pages = append(club.Pages, path.Base(names[i]))
	}
	return putClub(f, club)
}

// pageOf draws the page of a lifter.
func pageOf(p card.Page) filled {
	var b bytes.Buffer
	err := card.Write(&b, p)
	return filled{b.Bytes(), err}
}

// club returns the page of the club, without links to the lifters' pages.
func (r *Run) club() card.Club {
	return card.Club{Season: r.seasonName(), Profiles: r.Profiles, Result: r.Result}
}

func putClub(f *folder, club card.Club) error {
	return f.write("profiles/"+card.IndexFile, func(w io.Writer) error { return card.WriteClub(w, club) })
}

func (r *Run) seasonName() string {
	if r.Season == nil {
		return ""
	}
	return r.Season.Name
}

// workbook writes season.xlsx. What the library parks on disk meanwhile stays
// in the folder in the making, which goes whole or not at all.
func workbook(f *folder, run *Run) error {
	b := &book.Book{Result: run.Result, Profiles: run.Profiles, TmpDir: f.root}
	if run.sheets != nil {
		b.Reps, b.Aside, b.Sets = run.sheets.reps.Grid(), run.sheets.aside.Grid(), run.sheets.sets.Grid()
	}
	b.Season = run.seasonName()
	return f.write(workbookName, func(w io.Writer) error { return book.Write(f.ctx, w, b) })
}

// record returns what run.json says, with the files written so far.
func record(f *folder, run *Run) *pack.Run {
	r := pack.Of(run.Result)
	r.Version, r.SeasonFile, r.Declared, r.Handover = run.Version, run.SeasonFile, pack.DeclaredIn(run.Season), run.Handover
	r.Season = run.seasonName()
	r.Inferred = append(r.Inferred, run.Inferred...)
	r.Files = append(r.Files, f.written()...)
	return r
}

func codebook(f *folder, run *Run) error {
	r := record(f, run)
	return f.write("README.md", func(w io.Writer) error { return pack.WriteCodebook(w, r) })
}

func dataPackage(f *folder, run *Run) error {
	r := record(f, run)
	return f.write("datapackage.json", func(w io.Writer) error { return pack.WriteDataPackage(w, r) })
}

func runFile(f *folder, run *Run) error {
	r := record(f, run)
	return f.write(pack.RunFile, func(w io.Writer) error { return pack.WriteRun(w, r) })
}
