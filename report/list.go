package report

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

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
}

// work is what an output costs beside the others: processor time for each of
// 300,000 reps, in tenths of a microsecond, as testdata/bench measures it.
func (o output) work(run *Run) float64 {
	switch o.name {
	case "reps":
		return 4
	case "reps.csv":
		return 27
	case profilesFile:
		if run.Work != nil {
			return 15
		}
		return 3
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
	table("reps", func(w io.Writer, r *Run) error { return tidy.RepsParquet(w, r.Result.Reps, r.Result.Kept) },
		func(r *Run) (*tidy.Parts, error) { return tidy.RepsParts(r.Partition, r.Result.Reps, r.Result.Kept) }),
	table("set_aside", func(w io.Writer, r *Run) error { return tidy.AsideParquet(w, r.Result.Reps, r.Result.Aside) },
		func(r *Run) (*tidy.Parts, error) { return tidy.AsideParts(r.Partition, r.Result.Reps, r.Result.Aside) }),
	table("sets", func(w io.Writer, r *Run) error { return tidy.SetsParquet(w, &r.Result.Sets) },
		func(r *Run) (*tidy.Parts, error) { return tidy.SetsParts(r.Partition, &r.Result.Sets) }),
	asked(one("reps.csv", func(w io.Writer, r *Run) error { return tidy.RepsCSV(w, r.Result.Reps, r.Result.Kept) })),
	asked(one("set_aside.csv", func(w io.Writer, r *Run) error { return tidy.AsideCSV(w, r.Result.Reps, r.Result.Aside) })),
	asked(one("sets.csv", func(w io.Writer, r *Run) error { return tidy.SetsCSV(w, &r.Result.Sets) })),
	one("unread.csv", func(w io.Writer, r *Run) error { return tidy.UnreadCSV(w, r.Result.Unread) }),
	{name: profilesFile, write: func(f *folder, run *Run) error { // before what needs the lifters
		return f.write(profilesFile, func(w io.Writer) error { return profilesJSON(w, run, f.told) })
	}},
	unlessTables(output{name: pagesFolder, write: pages}),
	unlessTables(output{name: workbookName, write: workbook}),
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

// asked returns an output that is written only where CSV is asked for.
func asked(o output) output {
	o.when = func(run *Run) bool { return run.CSV }
	return o
}

// unlessTables returns an output that is for people, and left out where only
// tables are asked for.
func unlessTables(o output) output {
	o.when = func(run *Run) bool { return !run.Tables }
	return o
}

// profilesJSON writes all profiles, a line a lifter: a federation's would be
// too long to hold as one text.
func profilesJSON(w io.Writer, run *Run, told func(share float64)) error {
	around := *run.Profiles
	around.Lifters = []profile.Lifter{}
	text, err := json.Marshal(around)
	if err != nil {
		return err
	}
	const start = `{"lifters":[`
	rest, ok := bytes.CutPrefix(text, []byte(start))
	if !ok {
		return errors.New("profiles do not begin with the lifters")
	}
	out := bufio.NewWriter(w)
	out.WriteString(start)
	n := len(run.Profiles.Lifters)
	if run.Work != nil {
		n = run.Work.Len()
		run.Profiles.Lifters = make([]profile.Lifter, n)
	}
	lifters := run.Profiles.Lifters
	for i, l := range ahead.Of(n, func(i int) filled {
		l := &lifters[i]
		if run.Work != nil {
			full := run.Work.Lifter(i)
			lifters[i], l = full.Brief(), &full
		}
		text, err := json.Marshal(l)
		return filled{text, err}
	}) {
		if l.err != nil {
			return fmt.Errorf("%s: %w", lifters[i].Name, l.err)
		}
		told(float64(i+1) / float64(n))
		if i > 0 {
			out.WriteByte(',')
		}
		out.WriteByte('\n')
		out.Write(l.content)
	}
	out.WriteByte('\n')
	out.Write(rest)
	out.WriteByte('\n')
	return out.Flush()
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
	club := card.Club{Profiles: run.Profiles, Result: run.Result}
	if run.Season != nil {
		club.Season = run.Season.Name
	}
	names := Pages(run.Profiles)
	for i, page := range ahead.Of(len(names), func(i int) filled { return run.page(i, club.Season) }) {
		if err := f.put(names[i], page); err != nil {
			return err
		}
		f.told(float64(i+1) / float64(len(names)))
		club.Pages = append(club.Pages, path.Base(names[i]))
	}
	return f.write("profiles/"+card.IndexFile, func(w io.Writer) error { return card.WriteClub(w, club) })
}

// page draws the page of lifter i.
func (r *Run) page(i int, season string) filled {
	l := &r.Profiles.Lifters[i]
	var b bytes.Buffer
	err := card.Write(&b, card.Page{Season: season, Lifter: l, All: r.Profiles, Result: r.Result.Of(l.Name), Index: card.IndexFile})
	return filled{b.Bytes(), err}
}

// workbook writes season.xlsx. What the library parks on disk meanwhile stays
// in the folder in the making, which goes whole or not at all.
func workbook(f *folder, run *Run) error {
	b := &book.Book{Result: run.Result, Profiles: run.Profiles, TmpDir: f.root}
	if run.Season != nil {
		b.Season = run.Season.Name
	}
	return f.write(workbookName, func(w io.Writer) error { return book.Write(f.ctx, w, b) })
}

// record returns what run.json says, with the files written so far.
func record(f *folder, run *Run) *pack.Run {
	r := pack.Of(run.Result)
	r.Version, r.SeasonFile, r.Declared, r.Handover = run.Version, run.SeasonFile, pack.DeclaredIn(run.Season), run.Handover
	if run.Season != nil {
		r.Season = run.Season.Name
	}
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
