package ingest

import (
	"cmp"
	"slices"
	"time"

	"repsift/ingest/date"
	"repsift/ingest/rep"
)

// A session that goes on past midnight is one session, of the day it began.
// Common practice, no source.
const (
	smallHours = 6 * time.Hour // later in the day a session is one of its own
	oneSession = 2 * time.Hour // between neighbouring reps
	evening    = 20 * time.Hour
	day        = 24 * time.Hour
)

// midnight gives reps of the small hours the day on which their session began,
// and where a source has the day of the session beside a bare time of day, the
// moment that this means. Reps are looked at per lifter in order of time; only
// days with reps in the small hours are touched.
func midnight(t *rep.Table, zone *time.Location) (moved int) {
	small := late(t, zone)
	if len(small) == 0 {
		return 0
	}
	clocks := date.ZoneOf(zone)
	byLifter := make(map[rep.Sym][]int32)
	var order []rep.Sym
	for i := range int32(t.Len()) {
		if l := t.Lifter.At(i); small[l] && t.PerformedAt.At(i).OK {
			if byLifter[l] == nil {
				order = append(order, l)
			}
			byLifter[l] = append(byLifter[l], i)
		}
	}
	for _, l := range order {
		rows := byLifter[l]
		moved += wrapped(t, rows, &clocks)
		slices.SortStableFunc(rows, func(a, b int32) int { return cmp.Compare(t.PerformedAt.Get(a), t.PerformedAt.Get(b)) })
		for k := 1; k < len(rows); k++ {
			before, row := rows[k-1], rows[k]
			gap := t.PerformedAt.Get(row).Time().Sub(t.PerformedAt.Get(before).Time())
			if t.Date.At(row) == t.Date.At(before)+1 && gap <= oneSession && clocks.Clock(t.PerformedAt.Get(row)) < smallHours {
				t.Date.Put(row, t.Date.At(before))
				moved++
			}
		}
	}
	return moved
}

// late returns the lifters who have reps in the small hours.
func late(t *rep.Table, zone *time.Location) map[rep.Sym]bool {
	small := make(map[rep.Sym]bool)
	clocks := date.ZoneOf(zone)
	var from, to rep.Instant // between them the clocks show none: rows of a session are
	for i := range int32(t.Len()) {
		at := t.PerformedAt.Get(i)
		switch {
		case at >= from && at < to || at == rep.NoInstant:
		case clocks.Clock(at) < smallHours:
			small[t.Lifter.At(i)] = true
		default:
			from, to = at, clocks.Tomorrow(at)
		}
	}
	return small
}

// midnightNotes does the same for logged sets: bare times of day in the order
// they are given, then days in the order of time.
func midnightNotes(notes []rep.SetNote, zone *time.Location) (moved int) {
	clocks := date.ZoneOf(zone)
	last := make(map[string]*rep.SetNote)
	timed := make([]*rep.SetNote, 0, len(notes))
	for i := range notes {
		n := &notes[i]
		if !n.PerformedAt.OK {
			continue
		}
		timed = append(timed, n)
		before := last[n.Lifter]
		last[n.Lifter] = n
		if before == nil || before.Source != n.Source || before.Date != n.Date || clocks.Clock(n.PerformedAt.V) >= smallHours {
			continue
		}
		late, c := clocks.Clock(before.PerformedAt.V), clocks.Clock(n.PerformedAt.V)
		past := before.PerformedAt.V.Time().Sub(before.Date.Time()) >= day
		if wraps(late, c, past) {
			n.PerformedAt.V += rep.Instant(day / time.Millisecond)
		}
	}
	slices.SortStableFunc(timed, func(a, b *rep.SetNote) int { return cmp.Compare(a.PerformedAt.V, b.PerformedAt.V) })
	clear(last)
	for _, n := range timed {
		before := last[n.Lifter]
		last[n.Lifter] = n
		if before == nil || before.Source != n.Source || n.Date != before.Date+1 || clocks.Clock(n.PerformedAt.V) >= smallHours {
			continue
		}
		if n.PerformedAt.V.Time().Sub(before.PerformedAt.V.Time()) <= oneSession {
			n.Date = before.Date
			moved++
		}
	}
	return moved
}

// wrapped moves times that a source gives as the clock of a session's day, but
// that lie behind its evening: 00:10 in the rows after 23:50.
func wrapped(t *rep.Table, rows []int32, clocks *date.Zone) (moved int) {
	for k := 1; k < len(rows); k++ {
		before, row := rows[k-1], rows[k]
		if t.Source.At(row) != t.Source.At(before) || t.Date.At(row) != t.Date.At(before) || t.Row[row] < t.Row[before] {
			continue
		}
		late := clocks.Clock(t.PerformedAt.Get(before))
		past := t.PerformedAt.Get(before).Time().Sub(t.Date.At(before).Time()) >= day // moved itself
		if c := clocks.Clock(t.PerformedAt.Get(row)); c < smallHours && wraps(late, c, past) {
			t.PerformedAt.Put(row, rep.Some(t.PerformedAt.Get(row)+rep.Instant(day/time.Millisecond)))
			moved++
		}
	}
	return moved
}

// wraps reports whether a clock that shows c went on over midnight from where it
// showed late, or, if it was past midnight then, from there.
func wraps(late, c time.Duration, past bool) bool {
	return late >= evening && late-c > day-oneSession || past && c >= late && c-late <= oneSession
}
