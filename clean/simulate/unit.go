package simulate

import (
	"slices"

	"repsift/ingest/rep"
)

// unit is one encoder: how it errs and how often it takes something for a rep.
type unit struct {
	name          string
	number        int
	scale         float64 // systematic error of speed and travel
	noise         float64 // m/s
	rack          float64 // chance that it counts a movement in the rack
	bounce, touch float64
	glitch        float64
	split, fuse   float64
	loses         float64 // chance that it has no record of a set
	mistypes      float64 // chance that the load of a set was mistyped
}

func (w *world) unit(number int) unit {
	u := unit{name: [...]string{"north", "red box"}[number], number: number, scale: 1, noise: w.between(0.002, 0.008),
		rack: w.between(0, 0.3), bounce: w.between(0, 0.08), touch: w.between(0, 0.03), glitch: w.between(0, 0.004),
		split: w.between(0, 0.02), fuse: w.between(0, 0.004), mistypes: w.between(0, 0.012)}
	if number == 1 {
		u.scale, u.noise, u.loses = w.between(0.95, 1.06), w.between(0.005, 0.015), w.between(0, 0.3)
	}
	return u
}

// seen is one row of a unit.
type seen struct {
	what        What
	rep         int32
	speed, peak float64
	travel, dur float64
	start       float64
	needs       string // of a glitch: the column that shows it
}

// recorded is one set as a unit has it.
type recorded struct {
	*doneSet
	load float64 // as entered
	rows []seen
}

// record draws what a unit made of the sets.
func (w *world) record(u *unit, sets []doneSet) []recorded {
	var out []recorded
	for i := range sets {
		if w.chance(u.loses) {
			continue
		}
		out = append(out, w.recordSet(u, &sets[i]))
	}
	return out
}

func (w *world) recordSet(u *unit, set *doneSet) recorded {
	r := recorded{doneSet: set, load: set.load}
	if w.chance(u.mistypes) {
		r.load = w.mistype(set.load)
	}
	s := set.skill
	first := set.reps[0].start
	if s.lift != rep.Deadlift {
		if w.chance(u.rack) {
			r.rows = append(r.rows, w.twitch(Unrack, first-w.between(4, 10), w.between(0.02, min(0.12, 0.55*s.travel)), 0.1, 0.4))
		}
		if s.lift == rep.Squat && w.chance(u.rack) {
			r.rows = append(r.rows, w.twitch(Walkout, first-w.between(1.2, 3.5), w.between(0.02, 0.10), 0.06, 0.3))
		}
	}
	for k := 0; k < len(set.reps); k++ {
		d := set.reps[k]
		row := seen{what: d.what, rep: d.id, start: d.start, speed: d.speed*u.scale + w.normal(0, u.noise),
			travel: d.travel * u.scale * w.normal(1, 0.006), peak: d.peak * u.scale}
		row.speed = max(row.speed, 0.02)
		row.dur = row.travel / row.speed
		row.peak = max(row.peak, row.speed*1.05)
		switch {
		case d.what != Missed && w.chance(u.split*max(1, 3-4*d.speed)):
			share := w.between(0.3, 0.7)
			half := row
			half.what = HalfRep
			row.travel, half.travel = share*row.travel, (1-share)*row.travel
			ratio := w.between(0.6, 1.1) // the half after the sticking point is slower or as fast
			total := row.dur
			half.dur = total * (1 - share) / (1 - share + share*ratio)
			row.dur = total - half.dur
			row.speed, half.speed = row.travel/row.dur, half.travel/half.dur
			row.peak, half.peak = max(row.peak, 1.1*row.speed), half.speed*w.between(1.2, 1.6)
			half.start = row.start + row.dur + w.between(0.02, 0.4)
			r.rows = append(r.rows, row, half)
		case k+1 < len(set.reps) && d.what != Missed && set.reps[k+1].what != Missed && w.chance(u.fuse):
			next := set.reps[k+1]
			row.what = Double
			row.travel += next.travel * u.scale
			row.dur += next.dur + w.between(0, 0.6)
			row.speed = row.travel / row.dur
			row.peak = max(row.peak, next.peak)
			r.rows = append(r.rows, row)
			k++
		default:
			r.rows = append(r.rows, row)
		}
		end := d.start + d.dur
		if w.chance(u.bounce) && d.what != Missed {
			b := w.twitch(Bounce, end+w.between(0.03, 0.3), w.between(0.012, min(0.09, 0.5*s.travel)), 0.15, 0.7)
			r.rows = append(r.rows, b)
		} else if w.chance(u.touch) {
			r.rows = append(r.rows, w.twitch(Touch, end+w.between(0.3, 0.8), w.between(0.01, min(0.1, 0.5*s.travel)), 0.05, 0.9))
		}
	}
	if s.lift != rep.Deadlift && set.reps[len(set.reps)-1].what != Missed && w.chance(u.rack) {
		d := set.reps[len(set.reps)-1]
		r.rows = append(r.rows, w.twitch(Rerack, d.start+d.dur+w.between(1.5, 6), w.between(0.02, min(0.15, 0.6*s.travel)), 0.12, 0.5))
	}
	if w.chance(u.glitch) {
		g := seen{what: Glitch, start: set.reps[0].start - w.between(2, 20), speed: w.between(0.1, 1), travel: s.travel * w.normal(1, 0.1)}
		g.dur, g.peak = g.travel/g.speed, g.speed*1.6
		switch w.IntN(4) {
		case 0:
			g.needs = "speed"
			g.speed *= 40
			g.dur = g.travel / g.speed
			g.peak = 1.5 * g.speed
		case 1:
			g.needs = "dur"
			g.dur *= pick(w, 0.2, 0.4, 3, 6)
		case 2:
			g.needs = "peak"
			g.peak = g.speed * w.between(0.1, 0.7)
		case 3:
			g.needs = "travel"
			g.travel *= w.between(1.9, 3.5)
			g.dur = g.travel / g.speed / pick(w, 1, 2.5)
		}
		w.events++
		g.rep = w.events
		r.rows = append(r.rows, g)
	}
	slices.SortStableFunc(r.rows, func(a, b seen) int {
		switch {
		case a.start < b.start:
			return -1
		case a.start > b.start:
			return 1
		}
		return 0
	})
	return r
}

// twitch is a movement that is no rep.
func (w *world) twitch(what What, start, travel, slow, fast float64) seen {
	w.events++
	v := w.between(slow, fast)
	return seen{what: what, rep: w.events, start: start, travel: travel, speed: v, dur: travel / v, peak: v * w.between(1.1, 2)}
}

// mistype returns a load as a tired thumb enters it.
func (w *world) mistype(load float64) float64 {
	const pound = 0.45359237
	switch w.IntN(5) {
	case 0:
		return load / 10
	case 1:
		return load * 10
	case 2:
		return load * pound
	case 3:
		return load + pick(w, -40.0, -20, 20, 40)
	default:
		return load / pound
	}
}
