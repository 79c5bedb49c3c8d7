package date

import (
	"time"

	"repsift/ingest/rep"
)

const day rep.Instant = 86_400_000

// Zone tells how far the clocks of a place are from UTC. It looks that up once
// for the months in which it stays, for exports of many rows. For one goroutine.
type Zone struct {
	loc      *time.Location
	from, to rep.Instant // in which it is known: to is not one of them
	offset   rep.Instant // east of UTC, ms
}

// ZoneOf returns the zone of a place.
func ZoneOf(loc *time.Location) Zone { return Zone{loc: loc} }

// Offset returns how far the clocks are east of UTC at a moment, in ms.
func (z *Zone) Offset(at rep.Instant) rep.Instant {
	if at < z.from || at >= z.to {
		t := at.Time().In(z.loc)
		_, seconds := t.Zone()
		z.offset = rep.Instant(seconds) * 1000
		z.from, z.to = -1<<62, 1<<62
		start, end := t.ZoneBounds()
		if !start.IsZero() {
			z.from = rep.InstantOf(start)
		}
		if !end.IsZero() {
			z.to = rep.InstantOf(end)
		}
		if at < z.from || at >= z.to { // as package time has it on the last day of some years after 2037
			z.from, z.to = at, at+1
		}
	}
	return z.offset
}

// Day returns the day that it is there at a moment.
func (z *Zone) Day(at rep.Instant) rep.Day {
	local := at + z.Offset(at)
	d := local / day
	if local%day < 0 {
		d--
	}
	return rep.Day(d)
}

// Clock returns the time of day that the clocks show at a moment, cut to the
// second.
func (z *Zone) Clock(at rep.Instant) time.Duration {
	s := (at + z.Offset(at)) % day
	if s < 0 {
		s += day
	}
	return time.Duration(s/1000) * time.Second
}

// Tomorrow returns the moment till which the day of a moment lasts, as far as
// the clocks stay as they are.
func (z *Zone) Tomorrow(at rep.Instant) rep.Instant {
	next := rep.Instant(z.Day(at)+1)*day - z.offset
	return min(next, z.to)
}

// Instant returns the moment at which the clocks show a time of a day, in ms.
func (z *Zone) Instant(d rep.Day, ms int32) rep.Instant {
	local := rep.Instant(d)*day + rep.Instant(ms)
	if at := local - z.offset; at >= z.from+day && at < z.to-day { // no other offset is near
		return at
	}
	at := Stamp{Day: d, Clock: rep.Some(ms)}.In(z.loc).Instant.V
	z.Offset(at)
	return at
}
