// Package simulate invents seasons of bar-speed data of which the truth is
// known: which row is a rep, which is none and why, which is a copy, and which
// logged set belongs to which. Cleaning is measured on them (measure.go).
//
// A season is made in the order in which things happen:
//
//  1. A lifter (lifter.go): maxima, speed at 1RM and without load, travel,
//     habits. Speeds at 1RM and their spread are those of Helms 2017; day to
//     day and rep to rep scatter lie in the range of Grgic 2020 and Banyard
//     2018; the rest is common practice, no source.
//  2. What was lifted (training.go): weeks, sessions, warm-ups, top sets,
//     back-offs; fatigue from rep to rep; grinders, misses, pauses.
//  3. What a unit made of it (unit.go): the reps with its noise, and what it
//     took for reps.
//  4. What was exported and logged (export.go, log.go): columns, digits,
//     clocks, order, overlapping exports, a second unit, a hand log with slips.
//
// Everything is drawn from one seed. Nothing here is real data, and no limit
// of cleaning is taken from here: the physical ranges are wider than what the
// filters ask for, and where they overlap with true reps the truth says so.
package simulate

import (
	"math"
	"math/rand/v2"

	"repsift/ingest/rep"
)

// What is the truth of a row.
type What uint8

// What a row can be. From Unrack on it is no rep of its own.
const (
	TrueRep What = iota
	Grinder      // mean speed below 0.15 m/s
	Paused
	Missed
	Unrack
	Walkout
	Rerack
	Bounce  // rebound of the bar
	Touch   // of the tether
	Glitch  // values no rep can have
	HalfRep // second half of a rep counted as two
	Double  // two reps counted as one: kept, but marked
	Whats
)

var whatNames = [Whats]string{"rep", "grinder", "paused rep", "missed rep", "unrack", "walkout", "re-rack", "rebound",
	"tether touch", "impossible values", "second half", "two as one"}

// String returns the name.
func (w What) String() string { return whatNames[w] }

// Real reports whether the row is a rep that must stay.
func (w What) Real() bool { return w <= Missed || w == Double }

// Row is the truth of one row of the table.
type Row struct {
	What
	Rep  int32 // the event it records, the same in every copy and unit
	Set  int32 // the set it belongs to
	Unit int   // 0: the first unit, 1: the second
	Copy bool  // of an overlapping export
	// What the source holds that a filter could go by.
	Travel, Time, Count bool
	WrongLoad           bool // the load of the set was mistyped
}

// Note is the truth of one logged set.
type Note struct {
	Set   int32 // the set it speaks of
	There bool  // a unit recorded that set
}

// Season is an invented season and its truth.
type Season struct {
	Batch *rep.Batch
	Rows  []Row    // by table row
	Notes [][]Note // by note: one a set it stands for
}

// world draws a season.
type world struct {
	*rand.Rand
	out    Season
	table  *rep.Table
	events int32
	sets   int32
	marks  map[string]int32 // last set number of a source, day and lift
}

// New returns the season of a seed.
func New(seed uint64) *Season {
	w := &world{Rand: rand.New(rand.NewPCG(seed, 0x5eed)), table: new(rep.Table), marks: map[string]int32{}}
	l := w.lifter()
	sets := w.train(&l)
	w.export(&l, sets)
	w.out.Batch = &rep.Batch{Reps: w.table, Notes: w.out.Batch.Notes}
	w.out.Count()
	return &w.out
}

func (w *world) between(lo, hi float64) float64 { return lo + (hi-lo)*w.Float64() }
func (w *world) normal(mean, sd float64) float64 {
	return mean + sd*max(-3, min(3, w.NormFloat64()))
}
func (w *world) chance(p float64) bool { return w.Float64() < p }
func (w *world) whole(lo, hi int) int  { return lo + w.IntN(hi-lo+1) }

func pick[T any](w *world, of ...T) T { return of[w.IntN(len(of))] }

// digits rounds x to steps; 0 leaves it.
func digits(x, step float64) float64 {
	if step == 0 || math.IsNaN(x) {
		return x
	}
	// Dividing gives the double nearest to the decimal text.
	return math.Round(x/step) / math.Round(1/step)
}

// Count fills in the ledger, as reading would have counted.
func (s *Season) Count() {
	type line struct {
		source string
		row    int32
	}
	of := map[string]*rep.Ledger{}
	seen := map[line]bool{}
	var order []string
	get := func(source string) *rep.Ledger {
		if of[source] == nil {
			of[source] = &rep.Ledger{Source: source}
			order = append(order, source)
		}
		return of[source]
	}
	for i := range s.Batch.Reps.Len() {
		r := s.Batch.Reps.Rep(int32(i))
		l := get(r.Source)
		l.Reps++
		if at := (line{r.Source, r.Row}); !seen[at] {
			seen[at] = true
			l.Rows++
			l.RepRows++
		}
	}
	for _, n := range s.Batch.Notes {
		if at := (line{n.Source, n.Row}); !seen[at] {
			seen[at] = true
			l := get(n.Source)
			l.Rows++
			l.SetNotes++
		}
	}
	for _, source := range order {
		s.Batch.Ledger = append(s.Batch.Ledger, *of[source])
	}
}
