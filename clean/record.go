package clean

import (
	"repsift/clean/history"
	"repsift/ingest/rep"
)

// recordSets returns the rows of sets: day by day the numbered sets, then those
// without a kept rep, then logged sets that stand alone.
func (p *part) recordSets() rep.Sets {
	n := len(p.Sets)
	for _, l := range p.Logs {
		n += len(l.Said)
	}
	out := rep.SetsOf(p.t, p.kept)
	out.Grow(n)
	at := int32(0) // of the next set's reps
	day, log := 0, 0
	for day < len(p.Days) || log < len(p.Logs) {
		var date rep.Day
		if day < len(p.Days) {
			date = p.Sets[p.Days[day].Lo].Date
		}
		if log < len(p.Logs) && (day == len(p.Days) || p.Logs[log].Date < date) {
			date = p.Logs[log].Date
		}
		if day < len(p.Days) && p.Sets[p.Days[day].Lo].Date == date {
			for _, numbered := range []bool{true, false} {
				for _, s := range p.Order[p.Days[day].Lo:p.Days[day].Hi] {
					switch kept := p.sets[s].Kept; {
					case numbered && kept > 0:
						out.AddKept(at, kept, p.Sets[s].Hi-p.Sets[s].Lo-kept, p.Sets[s].Log)
						at += kept
					case !numbered && kept == 0:
						out.Add(p.asideSet(s))
					}
				}
			}
			day++
		}
		if log < len(p.Logs) && p.Logs[log].Date == date {
			for i := range p.Logs[log].Said {
				if s := &p.Logs[log].Said[i]; !s.Joined {
					out.Add(p.loggedAlone(s))
				}
			}
			log++
		}
	}
	return out
}

// asideSet is a set without a kept rep as a row of sets, described by its first
// rep.
func (p *part) asideSet(s int32) rep.Set {
	set, t := &p.Sets[s], p.t
	first, text := p.Rows[set.Lo], t.Text.Text
	return rep.Set{Lifter: p.Lifter, Date: set.Date, Session: p.session(set.Date), PerformedAt: t.PerformedAt.At(first), Lift: p.Lift,
		Variant: text(t.Variant.At(first)), Bar: text(t.Bar.At(first)), Tether: text(t.Tether.At(first)), Device: text(t.Device.At(first)),
		LoadKg: rep.Some(t.LoadKg.Get(first)), Role: p.sets[s].role, SetAside: set.Hi - set.Lo,
		RPE: set.RPE, RPEFrom: set.RPEFrom, Log: set.Log,
		Source: text(t.Source.At(first)), Sheet: text(t.Sheet.At(first)), Row: t.Row[first]}
}

// loggedAlone is a logged set that stands alone as a row of sets.
func (p *part) loggedAlone(s *history.Said) rep.Set {
	n, log := s.Note, s.Account()
	out := rep.Set{Lifter: p.Lifter, Date: n.Date, Session: p.session(n.Date), PerformedAt: n.PerformedAt, Lift: p.Lift, Variant: n.Variant,
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
		k := key{set.Twin, p.t.Device.At(second[0])}
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
