package judge

import (
	"fmt"

	"repsift/ingest/rep"
)

var secondDevice = &kind{
	Kind: rep.SecondDevice,
	what: "Sets aside a set that a second unit recorded too, so that it does not count twice; it is kept there for the agreement of " +
		"the two. The unit that stands is the first of the declared order, else the one that says more; speeds written by hand " +
		"always come second.",
	step: paired,
	look: func(h *History, l []float64, out *looks) {
		for s := range h.Sets {
			set := &h.Sets[s]
			if set.Twin == 0 {
				continue
			}
			first := h.Sets[set.Twin-1].Lo
			for i := set.Lo; i < set.Hi; i++ {
				if out.in(int(i)) {
					out.at(int(i), true, h.Speed[i], h.Speed[min(first+i-set.Lo, h.Sets[set.Twin-1].Hi-1)])
				}
			}
		}
	},
	say: func(h *History, i int, f finding) string {
		set := h.Sets[h.SetAt(int32(i))]
		first := h.Sets[set.Twin-1].Lo
		return fmt.Sprintf("the set stands as %q recorded it, at %s", h.Table.Text.Text(h.Table.Device.At(h.Rows[first])), h.Place(first))
	},
}
