package clean

import (
	"repsift/ingest/rep"
)

// changed is what a source said of a row whose values cleaning changed.
type changed struct {
	row      int32
	recorded rep.Recorded
}

// settle writes what was decided into the table and makes the history's part
// of the result. What the table cannot take from two sides at once, the
// recorded values, waits in h.changed.
func (h *history) settle(filters []*filter, notes []rep.SetNote) {
	t := h.t
	h.settleValues(filters)
	for s := range h.sets {
		set := &h.sets[s]
		session, n := h.session(set.date), int32(0)
		for i := set.lo; i < set.hi; i++ {
			r := h.rows[i]
			t.Flags[r] |= h.flags[i]
			if h.failed[i] != 0 {
				continue
			}
			n++
			t.Session[r], t.Set[r], t.Number[r], t.Role[r] = session, set.number, n, set.role
			t.Missed[r] = h.missed[i]
			t.RPE.Put(r, set.rpe)
			t.RPEFrom[r] = set.rpeFrom
			h.keptRows = append(h.keptRows, r)
		}
	}
	h.aside = h.asides(filters)
	h.records = h.recordSets(notes)
}

// settleValues puts rejoined reps and corrected travel into the table.
func (h *history) settleValues(filters []*filter) {
	t := h.t
	keep := make(map[int32]rep.Recorded)
	recorded := func(i int32) rep.Recorded {
		r := h.rows[i]
		if k, ok := keep[r]; ok {
			return k
		}
		return t.Recorded(r)
	}
	once := func(have *rep.Null[float64], now rep.Null[float64]) {
		if !have.OK {
			*have = now
		}
	}
	for _, j := range h.rejoined {
		i, r := j.first, h.rows[j.first]
		if h.mark[i] != firstHalf || h.failed[i] != 0 || h.failed[j.second] == 0 {
			continue
		}
		k := recorded(i)
		once(&k.MeanVelocity, rep.Some(t.MeanVelocity[r]))
		once(&k.ROM, t.ROM.At(r))
		once(&k.Concentric, t.Concentric.At(r))
		keep[r] = k
		t.MeanVelocity[r], t.PeakVelocity[r], t.ROM[r], t.Concentric[r] = h.v[i], h.peak[i], h.rom[i], h.dur[i]
		h.flags[i] = h.flags[i].With(rep.SplitRep)
	}
	for _, f := range h.found {
		if !f.failed || filters[f.filter].Kind != rep.FlexAllowance || h.failed[f.i] != 0 {
			continue
		}
		r := h.rows[f.i]
		k := recorded(f.i)
		once(&k.ROM, t.ROM.At(r))
		keep[r] = k
		t.ROM[r] = h.rom[f.i] - f.limit
	}
	for i := range h.rows {
		if k, ok := keep[h.rows[i]]; ok {
			h.changed = append(h.changed, changed{h.rows[i], k})
		}
	}
}
