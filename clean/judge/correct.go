package judge

import (
	"repsift/clean/history"
	"repsift/ingest/rep"
	"repsift/ingest/season"
)

// Corrected is a row whose values cleaning changed: what the source said, and
// the row as it was before.
type Corrected struct {
	Row      int32
	Recorded rep.Recorded

	mean, peak, rom, concentric float64
	missed                      bool
	flags                       rep.Kinds
}

// Swap exchanges the values of the row in the table with those kept here.
func (c *Corrected) Swap(t *rep.Table) {
	r := c.Row
	swap := func(c *float64, column *rep.Floats) {
		read := column.Get(r)
		column.Set(r, *c)
		*c = read
	}
	swap(&c.mean, &t.MeanVelocity)
	swap(&c.peak, &t.PeakVelocity)
	swap(&c.rom, &t.ROM)
	swap(&c.concentric, &t.Concentric)
	missed := t.Missed(r)
	t.SetMissed(r, c.missed)
	c.missed = missed
	c.flags, t.Flags[r] = t.Flags[r], c.flags
}

// Correct puts flags, recognised misses and the values of rejoined reps,
// corrected travel and units read as another into the table, and returns what stood there before, in the
// order of Rows. It writes only rows of its own history.
func (h *History) Correct(c *Filters) []Corrected {
	t := h.Table
	values := make(map[int32]Corrected) // by position
	change := func(i int32) Corrected {
		v, ok := values[i]
		if !ok {
			r := h.Rows[i]
			v = Corrected{Row: r, Recorded: t.Recorded(r), mean: t.MeanVelocity.Get(r), peak: t.PeakVelocity.Get(r), rom: t.ROM.Get(r),
				concentric: t.Concentric.Get(r), missed: t.Missed(r), flags: t.Flags[r]}
		}
		return v
	}
	once := func(have *rep.Null[float64], now rep.Null[float64]) {
		if !have.OK {
			*have = now
		}
	}
	for _, j := range h.Rejoined {
		i, r := j.First, h.Rows[j.First]
		if h.Mark[i] != history.FirstHalf || h.Failed[i] != 0 || h.Failed[j.Second] == 0 {
			continue
		}
		v := change(i)
		once(&v.Recorded.MeanVelocity, rep.Some(t.MeanVelocity.Get(r)))
		v.mean, v.peak = h.Speed[i], h.Peak[i]
		if h.Given[i]&h.Given[j.Second]&history.TravelGiven != 0 {
			once(&v.Recorded.ROM, t.ROM.At(r))
			v.rom = h.Travel[i]
		}
		if h.Given[i]&h.Given[j.Second]&history.TimeGiven != 0 {
			once(&v.Recorded.Concentric, t.Concentric.At(r))
			v.concentric = h.Time[i]
		}
		h.Flags[i] = h.Flags[i].With(rep.SplitRep)
		values[i] = v
	}
	for _, f := range h.found {
		if f.Failed && c.list[f.Filter].Kind == rep.FlexAllowance && h.Failed[f.I] == 0 {
			v := change(f.I)
			once(&v.Recorded.ROM, rep.Some(h.Travel[f.I]))
			v.rom = h.Travel[f.I] - f.Limit
			values[f.I] = v
		}
	}
	h.correctDevices(c.season, func(i int32, d *season.DeviceCorrection) {
		v := change(i)
		once(&v.Recorded.MeanVelocity, rep.Some(v.mean))
		v.mean = d.Read(v.mean)
		v.flags = v.flags.With(rep.Correction)
		values[i] = v
	})
	var out []Corrected
	for i, r := range h.Rows {
		var v Corrected
		ok := false
		if len(values) > 0 {
			v, ok = values[int32(i)]
		}
		missed := h.Failed[i] == 0 && h.Missed[i]
		if !ok && (h.Flags[i] == 0 || h.Flags[i]|t.Flags[r] == t.Flags[r]) && missed == h.Marked[i] {
			continue
		}
		if !ok {
			v = change(int32(i))
		}
		v.missed = missed || t.Missed(r)
		v.flags |= h.Flags[i]
		v.Swap(t)
		out = append(out, v)
	}
	return out
}

// correctDevices calls do for every row of a unit whose speeds are declared to
// be read as another's.
func (h *History) correctDevices(s *season.Season, do func(i int32, d *season.DeviceCorrection)) {
	if s == nil || len(s.Devices) == 0 {
		return
	}
	of := make(map[rep.Sym]*season.DeviceCorrection)
	for i, unit := range h.Unit {
		d, seen := of[unit]
		if !seen {
			d = s.Device(h.Table.Text.Text(unit))
			of[unit] = d
		}
		if d != nil {
			do(int32(i), d)
		}
	}
}
