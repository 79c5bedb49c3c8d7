package clean

import (
	"fmt"

	"repsift/ingest/rep"
)

// Taken says what was set aside of one lifter's one lift, and by which filter.
type Taken struct {
	Lifter, Lift string
	Reps         int // read
	Kept         int
	By           []TakenBy // in running order; filters that took none are left out
}

// TakenBy is how many reps one filter set aside.
type TakenBy struct {
	Filter rep.Kind
	Reps   int
}

// greedyReps is the fewest reps taken that are worth a warning.
const greedyReps = 10

// greedyShare returns the share of a lift's reps, copies and second accounts
// left out, above which a filter is suspected rather than the lifter. A unit
// may count every unrack and re-rack of a day of singles; what the others look
// for is rare. Common practice, no source.
func greedyShare(k rep.Kind) float64 {
	switch k {
	case rep.ShortTravel, rep.Rack:
		return 0.4
	case rep.UsualTravel, rep.Rebound, rep.LogCount:
		return 0.15
	}
	return 0.05
}

// tally counts what the part's filters took, and doubts those that took more
// than their share.
func (p *part) tally() {
	var by [32]int
	for i := range p.aside {
		by[p.aside[i].Filter]++
	}
	own := len(p.kept) + len(p.aside) - by[rep.Duplicate] - by[rep.SecondDevice]
	p.taken = Taken{Lifter: p.Lifter, Lift: p.Lift, Reps: len(p.kept) + len(p.aside), Kept: len(p.kept)}
	for k, n := range by {
		kind := rep.Kind(k)
		if n == 0 {
			continue
		}
		p.taken.By = append(p.taken.By, TakenBy{kind, n})
		if kind == rep.Duplicate || kind == rep.SecondDevice || n < greedyReps {
			continue
		}
		if share := float64(n) / float64(own); share > greedyShare(kind) {
			p.doubts = append(p.doubts, Doubt{Topic: FilterGreedy, Lifter: p.Lifter, Lift: p.Lift,
				Text: fmt.Sprintf("%s takes %d of %d reps, %.0f %%, where more than %.0f %% speaks against the filter: look at its limits",
					kind, n, own, 100*share, 100*greedyShare(kind))})
		}
	}
}
