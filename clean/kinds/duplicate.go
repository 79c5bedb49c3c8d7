package kinds

import (
	"math"

	"repsift/clean/history"
	"repsift/clean/sets"
	"repsift/ingest/rep"
)

var duplicate = &Spec{
	Kind: rep.Duplicate,
	What: "Sets aside a rep that stands in another export too: its set agrees in load, speed, travel and time " +
		"after rounding to the coarser of the two. The copy with more digits stays, then the one with more fields, then the earlier source.",
	Limits: []Limit{
		// Times cut to the minute, or of a set against its first rep.
		{Name: "minutes", Value: 1.5, Source: unsourced, Most: 1440},
	},
}

// SayCopy is the reason of a copy, with the difference in mean velocity and
// what rounding allows.
func (h *History) SayCopy(c sets.Copy) (reason string, measured, limit float64) {
	t := h.Table
	measured = math.Abs(t.MeanVelocity.Get(c.Row) - t.MeanVelocity.Get(c.Of))
	limit = sets.Window(t.MeanStep(c.Row), t.MeanStep(c.Of))
	return "same rep as " + history.PlaceOf(t, c.Of).String() + ", which stands", measured, limit
}
