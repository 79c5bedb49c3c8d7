package clean

import (
	"repsift/clean/history"
	"repsift/ingest/rep"
)

// recordSets returns the rows of sets: day by day the numbered sets, then those
// without a kept rep, then logged sets that stand alone.
func (p *part) recordSets() []rep.Set {
	n := len(p.Sets)
	for _, l := range p.Logs {
		n += len(l.Said)
	}
	out := make([]rep.Set, 0, n)
	day, log := 0, 0
	for day < len(p.Days) || log < len(p.Logs) {
		var date rep.Day
		if day < len(p.Days) {
			date = p.Sets[p.Days[day].Lo].Date
		}
		if log < len(p.Logs) && (day == len(p.Days) || p.Logs[log].Date < date) {
			date = p.Logs[log].Date
		}
		first := len(out)
		if day < len(p.Days) && p.Sets[p.Days[day].Lo].Date == date {
			for _, numbered := range []bool{true, false} {
				for _, s := range p.Order[p.Days[day].Lo:p.Days[day].Hi] {
					if numbered == (p.sets[s].number > 0) {
						out = append(out, p.record(s))
					}
				}
			}
			day++
		}
		if log < len(p.Logs) && p.Logs[log].Date == date {
			for i := range p.Logs[log].Said {
				if s := &p.Logs[log].Said[i]; !s.Joined {
					out = append(out, p.loggedAlone(s))
				}
			}
			log++
		}
		for i := first; i < len(out); i++ {
			out[i].Session = p.session(date)
		}
	}
	return out
}

// record returns set s as a row of sets, described by its first kept rep. Its
// session is filled in by the caller.
func (p *part) record(s int32) rep.Set {
	set, n, t := &p.Sets[s], &p.sets[s], p.t
	first := p.Rows[set.Lo]
	for i := set.Hi - 1; i >= set.Lo; i-- {
		if p.Failed[i] == 0 {
			first = p.Rows[i]
		}
	}
	text := t.Text.Text
	out := rep.Set{Lifter: p.Lifter, Date: set.Date, PerformedAt: t.PerformedAt.At(first), Lift: p.Lift,
		Variant: text(t.Variant[first]), Bar: text(t.Bar[first]), Tether: text(t.Tether[first]), Device: text(t.Device[first]),
		LoadKg: rep.Some(t.LoadKg[first]), Role: n.role, Reps: n.Kept, Missed: n.Missed, SetAside: set.Hi - set.Lo - n.Kept,
		RPE: set.RPE, RPEFrom: set.RPEFrom, Log: set.Log,
		Source: text(t.Source[first]), Sheet: text(t.Sheet[first]), Row: t.Row[first]}
	if n.number > 0 {
		out.Number = rep.Some(n.number)
	}
	if n.Kept > 0 {
		out.Rows = make([]int32, 0, n.Kept)
	}
	for i := set.Lo; i < set.Hi; i++ {
		r := p.Rows[i]
		if p.Failed[i] != 0 {
			continue
		}
		out.Rows = append(out.Rows, r)
		if p.Missed[i] {
			continue
		}
		v := rep.Some(t.MeanVelocity[r])
		if !out.First.OK {
			out.First = v
		}
		if !out.Fastest.OK || v.V > out.Fastest.V {
			out.Fastest = v
		}
		if !out.Slowest.OK || v.V < out.Slowest.V {
			out.Slowest = v
		}
		out.Last = v
	}
	if n.Kept-n.Missed > 1 {
		out.Loss = rep.Some((out.Fastest.V - out.Last.V) / out.Fastest.V)
	}
	return out
}

// loggedAlone is a logged set that stands alone as a row of sets.
func (p *part) loggedAlone(s *history.Said) rep.Set {
	n, log := s.Note, s.Account()
	out := rep.Set{Lifter: p.Lifter, Date: n.Date, PerformedAt: n.PerformedAt, Lift: p.Lift, Variant: n.Variant,
		Bar: n.Bar, Tether: n.Tether, LoadKg: n.LoadKg, RPE: s.RPE, Log: &log, Source: n.Source, Sheet: n.Sheet, Row: n.Row}
	if s.RPE.OK {
		out.RPEFrom = rep.RPEHandLog
	}
	return out
}

// twinSets returns the sets that two units recorded and that have reps on both
// sides. What the second unit has in parts stands together.
func (p *part) twinSets() []Twin {
	var out []Twin
	type key struct {
		first int32
		unit  rep.Sym
	}
	at := make(map[key]int)
	for _, s := range p.Order {
		set := &p.Sets[s]
		if set.Twin == 0 {
			continue
		}
		var second []int32
		for i := set.Lo; i < set.Hi; i++ {
			if p.Failed[i] == rep.Kinds(0).With(rep.SecondDevice) {
				second = append(second, p.Rows[i])
			}
		}
		if len(second) == 0 {
			continue
		}
		k := key{set.Twin, p.t.Device[second[0]]}
		if n, ok := at[k]; ok {
			out[n].Aside = append(out[n].Aside, second...)
			continue
		}
		t := Twin{Aside: second}
		first := &p.Sets[set.Twin-1]
		for i := first.Lo; i < first.Hi; i++ {
			if p.Failed[i] == 0 {
				t.Kept = append(t.Kept, p.Rows[i])
			}
		}
		if len(t.Kept) > 0 {
			at[k] = len(out)
			out = append(out, t)
		}
	}
	return out
}
