package kinds

import (
	"fmt"

	"repsift/ingest/rep"
)

var secondDevice = &Spec{
	Kind: rep.SecondDevice,
	What: "Sets aside a set that a second unit recorded too, so that it does not count twice; it is kept there for the agreement of " +
		"the two. The unit that stands is the first of the declared order, else the one that lost or made up fewer reps, else the one that " +
		"says more; speeds written by hand always come second.",
	Step: Paired,
	Look: func(h *History, l []float64, out *Looks) {
		for s := range h.Sets {
			set := &h.Sets[s]
			if set.Twin == 0 {
				continue
			}
			first := h.Sets[set.Twin-1].Lo
			for i := set.Lo; i < set.Hi; i++ {
				if out.In(i) {
					out.At(i, true, h.Speed[i], h.Speed[min(first+i-set.Lo, h.Sets[set.Twin-1].Hi-1)])
				}
			}
		}
	},
	Say: func(h *History, i int, f Finding) string {
		set := h.Sets[h.SetAt(int32(i))]
		first := h.Sets[set.Twin-1].Lo
		return fmt.Sprintf("the set stands as %q recorded it, at %s", h.Table.Text.Text(h.Table.Device.At(h.Rows[first])), h.Place(first))
	},
}
