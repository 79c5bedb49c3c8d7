package score

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"repsift/ingest"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/ingest/source"
)

var (
	many = flag.Int("score", 300, "exports to write and read")
	from = flag.Int("score-from", 0, "number of the first export")
	keep = flag.String("score-keep", "", "folder to keep exports in that were not read right")
)

// build makes export n.
func build(n int) (*export, error) {
	g := &gen{r: rand.New(rand.NewPCG(20260105, uint64(n)))}
	g.lang = &languages[g.r.IntN(len(languages))]
	kind := g.weighted("rep rows", 8, "reps across", 3, "reps in a cell", 2, "summary", 3, "shorthand", 2, "blocks", 2, "sheet per lifter", 2, "sheet per lift", 1, "sheet per day", 1)
	g.say("%s in %s", kind, g.lang.name)
	l := &layout{gen: g, u: g.units(), s: g.style(), carried: map[string]bool{}, book: g.chance(0.25)}
	l.unitsIn = g.weighted("round", 6, "square", 2, "comma", 1, "plain", 1, "row", 2, "cells", 1, "nowhere", 1, "in", 1, "_", 1)
	g.say("units %s", l.unitsIn)
	lifters := 1 + g.r.IntN(3)
	g.late = kind != "blocks" && g.chance(0.03)
	sets := g.season(l.u, lifters)
	if strings.HasPrefix(kind, "sheet per") {
		return l.sheets(kind, sets)
	}
	if kind != "blocks" {
		one := func(same func(a, b *set) bool) bool {
			return !slices.ContainsFunc(sets, func(s set) bool { return !same(&s, &sets[0]) })
		}
		l.carried["lifter"] = g.chance(0.5) && one(func(a, b *set) bool { return a.lifter == b.lifter })
		l.carried["date"] = g.chance(0.5) && one(func(a, b *set) bool { return a.day.Equal(b.day) })
		l.carried["lift"] = g.chance(0.5) && one(func(a, b *set) bool { return a.lift == b.lift })
	}
	rows := l.table(kind, sets)
	if kind != "blocks" {
		rows = l.preamble(rows, sets)
	}
	e := &export{name: "export.csv", want: l.want}
	var err error
	if l.book {
		e.name = "export.xlsx"
		e.data, err = g.asBook(&l.s, []sheet{{"Sheet1", rows}})
	} else {
		e.data = g.asText(&l.s, rows)
	}
	e.said = strings.Join(g.said, "; ")
	return e, err
}

func (l *layout) table(kind string, sets []set) [][]val {
	switch kind {
	case "rep rows":
		return l.repRows(sets)
	case "reps across":
		return l.across(sets)
	case "reps in a cell":
		return l.inCell(sets)
	case "summary":
		return l.summary(sets)
	case "shorthand":
		return l.shorthand(sets)
	}
	return l.blocks(sets)
}

// sheets makes a workbook whose sheets are named after a field.
func (l *layout) sheets(kind string, sets []set) (*export, error) {
	l.book = true
	inner := l.weighted("rep rows", 3, "reps across", 1, "summary", 1)
	l.say("each of %s", inner)
	date := pick(l.gen, []string{"2006-01-02", "02.01.2006", "2 Jan 2006"})
	var lifts [3]string
	for i := range lifts {
		lifts[i] = pick(l.gen, strings.Split(l.lang.lifts[i], "|"))
	}
	name := map[string]func(s *set) string{
		"sheet per lifter": func(s *set) string { return l.s.named(s.lifter) },
		"sheet per lift":   func(s *set) string { return lifts[s.lift] },
		"sheet per day":    func(s *set) string { return l.date(date, s.day) },
	}[kind]
	l.carried[strings.TrimPrefix(strings.Replace(kind, "day", "date", 1), "sheet per ")] = true
	var order []string
	of := map[string][]set{}
	for _, s := range sets {
		n := name(&s)
		if of[n] == nil {
			order = append(order, n)
		}
		of[n] = append(of[n], s)
	}
	var out []sheet
	seed := l.r.Uint64()
	for _, n := range order { // sheets of one workbook are alike
		l.r = rand.New(rand.NewPCG(seed, 1))
		out = append(out, sheet{n, l.table(inner, of[n])})
	}
	data, err := l.asBook(&l.s, out)
	return &export{"export.xlsx", data, l.want, strings.Join(l.said, "; ")}, err
}

// got writes what was read in the words of what is wanted.
func got(r *ingest.Reading) []string {
	var out []string
	numbered := func(n rep.Null[int32]) int {
		if n.OK {
			return int(n.V)
		}
		return 0
	}
	at := func(n rep.Null[float64]) float64 { return n.V }
	for i := range r.Reps.Len() {
		x := r.Reps.Rep(int32(i))
		out = append(out, moment(x.PerformedAt)+repLine(x.Lifter, day(x.Date), named(x.Lift, x.Variant), x.LoadKg, x.MeanVelocity, at(x.PeakVelocity), at(x.ROM), at(x.Concentric), at(x.RPE), numbered(x.RepRecorded)))
	}
	for _, n := range r.Notes {
		out = append(out, moment(n.PerformedAt)+noteLine(n.Lifter, day(n.Date), named(n.Lift, n.Variant), n.LoadKg.V, int(n.Sets), numbered(n.Reps), at(n.RPE), [3]float64{at(n.First), at(n.Fastest), at(n.Last)}))
	}
	return out
}

func moment(at rep.Null[rep.Instant]) string {
	if !at.OK {
		return ""
	}
	return at.V.Time().Format("15:04 ")
}

func day(d rep.Day) time.Time {
	t, err := time.Parse(time.DateOnly, d.String())
	if err != nil {
		panic(err) // a Day writes itself so
	}
	return t
}

func named(lift, variant string) string {
	if variant != "" {
		return lift + ", " + variant
	}
	return lift
}

// outcome of reading an export: right, asked or wrong, and why.
func (e *export) outcome(t *testing.T, s *season.Season) (verdict, why string) {
	fsys := fstest.MapFS{e.name: &fstest.MapFile{Data: e.data}}
	r, err := ingest.Read(context.Background(), fsys, nil, s, ingest.Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	src := &r.Sources[0]
	var ask *source.Ask
	if errors.As(src.Err, &ask) {
		return "asked", ask.Error()
	}
	if src.Err != nil {
		return "wrong", src.Err.Error()
	}
	for _, w := range src.Warnings {
		if strings.Contains(w, "add to season.toml") {
			return "asked", w
		}
	}
	if len(r.Unread) > 0 {
		return "wrong", fmt.Sprintf("%d not read, first %s", len(r.Unread), r.Unread[0])
	}
	g := got(r)
	want := slices.Sorted(slices.Values(e.want)) // sheets are told in another order
	slices.Sort(g)
	for i := range max(len(g), len(want)) {
		x, y := "nothing", "nothing"
		if i < len(g) {
			x = g[i]
		}
		if i < len(want) {
			y = want[i]
		}
		if x != y {
			return "wrong", fmt.Sprintf("%d of %d read; number %d\n     got  %s\n     want %s", len(g), len(want), i+1, x, y)
		}
	}
	return "right", ""
}

// TestScore counts how many exports are read right, asked about and wrong.
func TestScore(t *testing.T) {
	counts := map[string]int{}
	shown := map[string]int{}
	for n := *from; n < *from+*many; n++ {
		e, err := build(n)
		if err != nil {
			t.Fatal(err)
		}
		verdict, why := e.outcome(t, nil)
		counts[verdict]++
		if verdict == "right" {
			continue
		}
		if shown[verdict]++; shown[verdict] <= 40 {
			t.Logf("%s %d: %s\n     %s", verdict, n, e.said, why)
		}
		if *keep != "" {
			name := filepath.Join(*keep, fmt.Sprintf("%s-%d%s", verdict, n, filepath.Ext(e.name)))
			if err := os.WriteFile(name, e.data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	all := float64(*many)
	wrong, asked := float64(counts["wrong"])/all, float64(counts["asked"])/all
	t.Logf("%d exports: %.2f %% read exactly right, %.2f %% asked about, %.2f %% wrong", *many, 100*float64(counts["right"])/all, 100*asked, 100*wrong)
	if wrong > 0.001 {
		t.Errorf("%d of %d wrong, more than one in a thousand", counts["wrong"], *many)
	}
	if asked > 0.05 {
		t.Errorf("%d of %d asked about, more than one in twenty", counts["asked"], *many)
	}
}
