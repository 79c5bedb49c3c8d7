package elsewhere

import (
	"cmp"
	"slices"

	"repsift/clean/simulate"
)

// unit is one encoder: how it errs, and what it takes for reps.
type unit struct {
	name   string
	number int
	scale  float64
	noise  float64

	unrack, walk, rerack          float64 // per set
	bounce, touch, half, two      float64 // per rep
	loading, glitch, drops, again float64 // per set
	loses, skips                  float64 // sets; reps
	mistypes                      float64
}

func (w *world) unit(number int) unit {
	u := unit{name: [...]string{"pier kit", "loft kit"}[number], number: number, scale: 1, noise: w.between(0.001, 0.01),
		unrack: w.skewed(0, 0.6), walk: w.skewed(0, 0.5), rerack: w.skewed(0, 0.6), bounce: w.skewed(0, 0.12), touch: w.skewed(0, 0.05),
		half: w.skewed(0, 0.03), two: w.skewed(0, 0.006), loading: w.skewed(0, 0.1), glitch: w.skewed(0, 0.02), drops: w.skewed(0, 0.3),
		again: pick(w, 0, 0, 0, 0.03), mistypes: w.skewed(0, 0.02)}
	if number == 1 {
		u.scale, u.noise, u.loses, u.skips = pick(w, w.between(0.92, 0.97), w.between(1.03, 1.08)), w.between(0.004, 0.02), w.skewed(0, 0.3), w.skewed(0, 0.05)
	}
	return u
}

// seen is one row of a unit.
type seen struct {
	what        simulate.What
	rep         int32
	speed, peak float64
	travel, dur float64
	start       float64
	needs       string // of a glitch: the column that shows it
	again       bool   // the unit begins to count anew here
}

// recorded is one set as a unit has it.
type recorded struct {
	*doneSet
	load float64
	rows []seen
}

func (w *world) record(u *unit, sets []doneSet) []recorded {
	var out []recorded
	for i := range sets {
		if !w.chance(u.loses) {
			out = append(out, w.recordSet(u, &sets[i]))
		}
	}
	return out
}

// move is a movement that is no rep: travel and the time it takes.
func (w *world) move(what simulate.What, start, travel, dur float64) seen {
	return seen{what: what, rep: w.event(), start: start, travel: travel, dur: dur, speed: travel / dur, peak: travel / dur * w.between(1.15, 2)}
}

func (w *world) recordSet(u *unit, set *doneSet) recorded {
	out := recorded{doneSet: set, load: set.load}
	if w.chance(u.mistypes) {
		out.load = w.mistype(set.load)
	}
	s := set.skill
	add := func(x seen) { out.rows = append(out.rows, x) }
	first := set.reps[0]
	if s.racked {
		start := first.start - w.between(2.5, 12)
		switch {
		case w.chance(u.unrack / 3): // a rep's travel, over at once
			add(w.move(simulate.Unrack, start, w.between(0.4, 0.7)*s.travel, w.between(0.15, 0.35)))
		case w.chance(u.unrack):
			add(w.move(simulate.Unrack, start, min(w.skewed(0.02, 0.15), 0.6*s.travel), w.between(0.15, 0.6)))
		}
		if s.travel > 0.35 {
			for k := 0; k < 3 && w.chance(u.walk); k++ {
				add(w.move(simulate.Walkout, start+1+0.5*float64(k), w.skewed(0.015, 0.08), w.between(0.15, 0.5)))
			}
		}
	}
	for k := 0; k < len(set.reps); k++ {
		d := set.reps[k]
		last := k == len(set.reps)-1
		if w.chance(u.skips) {
			continue
		}
		x := seen{what: d.what, rep: d.id, start: d.start, speed: max(0.02, d.speed*u.scale+w.normal(0, u.noise)),
			travel: d.travel * u.scale * w.normal(1, 0.008), again: k > 0 && w.chance(u.again)}
		x.dur = x.travel / x.speed
		x.peak = max(d.peak*u.scale, 1.08*x.speed)
		ok := d.what != simulate.Missed
		switch {
		case ok && w.chance(u.half):
			a, z := x, x
			share, total := w.between(0.25, 0.75), x.dur
			z.what, z.again = simulate.HalfRep, false
			a.travel, z.travel = share*x.travel, (1-share)*x.travel
			a.dur = total * min(0.85, max(0.15, share*w.between(0.7, 1.2)))
			z.dur = total - a.dur
			a.speed, z.speed = a.travel/a.dur, z.travel/z.dur
			a.peak, z.peak = max(x.peak, 1.1*a.speed), z.speed*w.between(1.2, 1.7)
			z.start = a.start + a.dur + w.between(0, 0.5)
			add(a)
			add(z)
		case ok && !last && set.reps[k+1].what != simulate.Missed && w.chance(u.two):
			next := set.reps[k+1]
			x.what = simulate.Double
			x.travel += next.travel * u.scale
			x.dur = next.start + next.dur - d.start
			if w.chance(0.5) {
				x.dur = d.dur + next.dur
			}
			x.speed, x.peak = x.travel/x.dur, max(x.peak, next.peak*u.scale)
			x.peak = max(x.peak, 1.05*x.speed)
			add(x)
			k++
		default:
			add(x)
		}
		end := d.start + d.dur
		if ok && w.chance(u.bounce) {
			add(w.move(simulate.Bounce, end+w.between(0.02, 0.25), w.skewed(0.01, min(0.1, 0.45*s.travel)), w.between(0.06, 0.2)))
			if w.chance(0.25) {
				add(w.move(simulate.Bounce, end+w.between(0.3, 0.5), w.skewed(0.008, 0.05), w.between(0.05, 0.15)))
			}
		}
		if s.dropped && w.chance(u.drops) { // the plates bounce off the floor
			add(w.move(simulate.Bounce, end+w.between(0.3, 0.6), w.skewed(0.02, 0.12), w.between(0.08, 0.2)))
		}
		if w.chance(u.touch) {
			add(w.move(simulate.Touch, end+w.between(0.2, 0.6), w.skewed(0.01, min(0.12, 0.5*s.travel)), w.between(0.08, 0.2)))
		}
	}
	end := set.reps[len(set.reps)-1]
	ok := end.what != simulate.Missed
	after := end.start + end.dur
	if s.racked && ok && w.chance(u.rerack) {
		travel := w.skewed(0.02, 0.12)
		if w.chance(0.2) {
			travel = w.between(0.12, 0.3) // hoisted over the hooks
		}
		add(w.move(simulate.Rerack, after+w.between(1.2, 7), min(travel, 0.65*s.travel), w.between(0.15, 0.6)))
	}
	if w.chance(u.touch) { // somebody walks into the tether
		add(w.move(simulate.Touch, after+w.between(15, 60), w.skewed(0.02, 0.5*s.travel), w.between(0.2, 0.8)))
	}
	if w.chance(u.loading) { // plates go on
		add(w.move(simulate.Touch, after+w.between(12, 65), w.skewed(0.01, min(0.1, 0.5*s.travel)), w.between(0.05, 0.3)))
	}
	if w.chance(u.glitch) {
		add(w.glitch(s, first.start-w.between(2, 8)))
	}
	slices.SortStableFunc(out.rows, func(a, b seen) int { return cmp.Compare(a.start, b.start) })
	return out
}

// glitch is a row of values that no rep has.
func (w *world) glitch(s *skill, start float64) seen {
	g := seen{what: simulate.Glitch, rep: w.event(), start: start, travel: s.travel * w.normal(1, 0.05), speed: w.between(0.15, 0.9)}
	g.dur, g.peak = g.travel/g.speed, g.speed*w.between(1.4, 1.7)
	switch w.IntN(5) {
	case 0:
		g.needs = "speed"
		g.speed = w.between(4, 60)
		g.dur, g.peak = g.travel/g.speed, g.speed*1.3
	case 1:
		g.needs = "speed"
		g.speed, g.peak, g.dur = w.between(0, 0.004), 0.01, 60
	case 2:
		g.needs = "peak"
		g.peak = pick(w, 9.99, 12, 30, 0.5*g.speed)
	case 3:
		g.needs = "travel"
		g.travel = w.between(1.8, 4)
		g.dur = g.travel / g.speed
	case 4:
		g.needs = "dur"
		g.dur *= pick(w, 0.1, 0.3, 4, 10)
	}
	return g
}

// mistype returns a load as it is entered wrongly.
func (w *world) mistype(load float64) float64 {
	const pound = 0.45359237
	return pick(w, load*10, load/10, load*pound, load/pound, load+20, max(15, load-20), load+10, max(15, load-50), load+5)
}
