package profile

import "repsift/ingest/rep"

// Where an e1RM can come from, as the from column has it.
const (
	FromSingle   = "top single"       // load and RPE of the day's top single
	FromRepSet   = "rep-max set"      // load, reps and RPE of the day's hardest set of 2 to 10
	FromLine     = "load-velocity"    // the line at the lifter's velocity at 1RM, day by day
	FromDeclared = "declared maximum" // a meet or tested single of the season file
)

// E1RM is one estimate of the 1RM, dated by its session.
type E1RM struct {
	Date rep.Day  `json:"date"`
	From string   `json:"from"`
	Kg   Estimate `json:"kg"`
	What string   `json:"what"` // "180 kg × 1 at RPE 9"
}

// Evidence is how much one source counts in e1rm_now_kg.
type Evidence struct {
	From   string   `json:"from"`
	N      int      `json:"n"`      // sessions
	Latest rep.Day  `json:"latest"` // of them
	Kg     Estimate `json:"kg"`     // what this source alone says of now
	Weight Number   `json:"weight"` // share in the combined number, 0 to 1
}
