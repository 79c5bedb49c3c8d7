package judge

import (
	"repsift/ingest/rep"
)

// Corrected is what a source said of a row whose values cleaning changed.
type Corrected struct {
	Row int32
	rep.Recorded
}

// Correct puts the values of rejoined reps and corrected travel into the
// table, flags them, and returns what stood there before. It writes only rows
// of its own history.
func (h *History) Correct(c *Filters) []Corrected {
	t := h.t
	keep := make(map[int32]rep.Recorded)
	recorded := func(i int32) rep.Recorded {
		r := h.Rows[i]
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
		i, r := j.first, h.Rows[j.first]
		if h.mark[i] != firstHalf || h.Failed[i] != 0 || h.Failed[j.second] == 0 {
			continue
		}
		k := recorded(i)
		once(&k.MeanVelocity, rep.Some(t.MeanVelocity[r]))
		once(&k.ROM, t.ROM.At(r))
		once(&k.Concentric, t.Concentric.At(r))
		keep[r] = k
		t.MeanVelocity[r], t.PeakVelocity[r], t.ROM[r], t.Concentric[r] = h.v[i], h.peak[i], h.rom[i], h.dur[i]
		h.Flags[i] = h.Flags[i].With(rep.SplitRep)
	}
	for _, f := range h.found {
		if !f.failed || c.list[f.filter].Kind != rep.FlexAllowance || h.Failed[f.i] != 0 {
			continue
		}
		r := h.Rows[f.i]
		k := recorded(f.i)
		once(&k.ROM, t.ROM.At(r))
		keep[r] = k
		t.ROM[r] = h.rom[f.i] - f.limit
	}
	var out []Corrected
	for i := range h.Rows {
		if k, ok := keep[h.Rows[i]]; ok {
			out = append(out, Corrected{h.Rows[i], k})
		}
	}
	return out
}
