package score

import (
	"fmt"
	"strings"
	"time"
)

// summary: one line is a set or several alike, without its reps.
func (l *layout) summary(sets []set) [][]val {
	cols := append(l.identity(), l.loads()...)
	several := l.chance(0.4)
	if several {
		cols = append(cols, l.plain("sets", func(s *set, _ int) val { return whole(s.equal) }))
	}
	cols = append(cols, l.plain("reps", func(s *set, _ int) val { return whole(len(s.reps)) }), l.rpe())
	first, best, last := l.chance(0.2), l.chance(0.4), l.chance(0.5)
	at := func(field string, value func(s *set) float64) {
		cols = append(cols, l.measured(field, &l.u.speed, func(s *set, _ int) float64 { return value(s) }))
	}
	if first {
		at("first", func(s *set) float64 { return s.reps[0].mean })
	}
	if best {
		at("best", fastest)
	}
	if last {
		at("last", func(s *set) float64 { return s.reps[len(s.reps)-1].mean })
	}
	cols = l.arrange(append(cols, l.noise()...))
	rows := l.headings(cols)
	for i := range sets {
		s := &sets[i]
		if several {
			s.equal = 1 + l.r.IntN(3)
		}
		rows = append(rows, l.row(cols, s, 0))
		var speeds [3]float64
		for k, on := range []bool{first, best, last} {
			if on {
				speeds[k] = []float64{s.reps[0].mean, fastest(s), s.reps[len(s.reps)-1].mean}[k]
			}
		}
		l.expectNote(s, true, speeds)
	}
	return l.filled(rows, cols)
}

func fastest(s *set) float64 {
	best := 0.0
	for _, r := range s.reps {
		best = max(best, r.mean)
	}
	return best
}

// shorthand: one line is a set or several as coaches jot them down.
func (l *layout) shorthand(sets []set) [][]val {
	form := l.r.IntN(5)
	cols := append(l.identity(), l.plain("work", func(s *set, _ int) val {
		load := l.write(&l.s, num(s.load, 1))
		load = strings.TrimSuffix(strings.TrimSuffix(load, ",0"), ".0")
		unit := ""
		if l.u.load.factor != 1 || l.chance(0.3) {
			unit = l.u.load.name
		}
		rpe := ""
		if s.rpe > 0 {
			rpe = strings.TrimSuffix(strings.TrimSuffix(l.write(&l.s, num(s.rpe, 1)), ",0"), ".0")
		}
		at := func(before string) string {
			if rpe == "" {
				return ""
			}
			return before + rpe
		}
		n := len(s.reps)
		switch form {
		case 0:
			return text(fmt.Sprintf("%s%sx%d%s", load, unit, n, at(" @")))
		case 1:
			return text(fmt.Sprintf("%s%s x %d%s", load, unit, n, at(" @ ")))
		case 2:
			return text(fmt.Sprintf("%dx%dx%s%s%s", s.equal, n, load, unit, at(" RPE ")))
		case 3:
			return text(fmt.Sprintf("%d x %d @ %s%s%s", s.equal, n, load, unit, at(", RPE ")))
		}
		return text(fmt.Sprintf("%s%s %dx%d%s", load, unit, s.equal, n, at(" @")))
	}))
	l.say("shorthand form %d", form)
	cols = l.arrange(append(cols, l.noise()...))
	rows := l.headings(cols)
	for i := range sets {
		s := &sets[i]
		if form >= 2 {
			s.equal = 1 + l.r.IntN(5)
		}
		rows = append(rows, l.row(cols, s, 0))
		l.expectNote(s, true, [3]float64{})
	}
	return l.filled(rows, cols)
}

// blocks: lines that name a set, then a table of its reps, again and again.
func (l *layout) blocks(sets []set) [][]val {
	var rows [][]val
	var names [3]string
	for i := range names {
		names[i] = pick(l.gen, strings.Split(l.lang.lifts[i], "|"))
	}
	key := map[string]string{}
	for _, f := range []string{"lifter", "date", "lift", "load", "rpe"} {
		key[f] = l.lang.of(l.gen, f)
	}
	cells := l.chance(0.5)
	pair := func(key string, v val) {
		if cells {
			rows = append(rows, []val{text(key), v})
		} else {
			rows = append(rows, []val{text(key + ": " + l.write(&l.s, v))})
		}
	}
	if l.s.date == "serial" {
		l.s.date = "2006-01-02"
	}
	rep := l.plain("rep", func(_ *set, r int) val { return whole(r + 1) })
	cols := []col{rep, l.measured("mean", &l.u.speed, func(s *set, r int) float64 { return s.reps[r].mean })}
	rom := l.chance(0.6)
	if rom {
		cols = append(cols, l.measured("rom", &l.u.travel, func(s *set, r int) float64 { return s.reps[r].rom }))
	}
	for i := range sets {
		s := &sets[i]
		pair(key["lifter"], text(l.s.named(s.lifter)))
		pair(key["date"], val{kind: 'd', day: s.day})
		pair(key["lift"], text(names[s.lift]))
		load := num(s.load, l.u.load.decimals)
		load.unit = l.u.load.name
		pair(key["load"], load)
		if s.rpe > 0 {
			pair(key["rpe"], num(s.rpe, 1))
		}
		rows = append(rows, l.headings(cols)...)
		for r, t := range s.reps {
			rows = append(rows, l.row(cols, s, r))
			if !rom {
				t.rom = 0
			}
			l.expect(s, repTruth{mean: t.mean, rom: t.rom}, r+1, true)
		}
		rows = append(rows, nil)
	}
	return rows
}

// preamble puts lines above a table, fields that no column has among them.
func (l *layout) preamble(rows [][]val, sets []set) [][]val {
	var above [][]val
	if l.chance(0.5) {
		above = append(above, []val{text(pick(l.gen, strings.Split(l.lang.title, "|")))})
	}
	pair := func(field string, v val) {
		key := l.lang.of(l.gen, field)
		if l.chance(0.5) {
			above = append(above, []val{text(key), v})
		} else {
			above = append(above, []val{text(key + ": " + l.write(&l.s, v))})
		}
	}
	if l.carried["lifter"] {
		pair("lifter", text(l.s.named(sets[0].lifter)))
	}
	if l.carried["date"] {
		if l.s.date == "serial" {
			l.s.date = "2006-01-02"
		}
		pair("date", val{kind: 'd', day: sets[0].day})
	}
	if l.carried["lift"] {
		pair("lift", text(pick(l.gen, strings.Split(l.lang.lifts[sets[0].lift], "|"))))
	}
	if len(above) > 0 && l.chance(0.6) {
		above = append(above, nil)
	}
	return append(above, rows...)
}

// expect notes a rep that must be read.
func (l *layout) expect(s *set, t repTruth, n int, rated bool) {
	rpe := 0.0
	if rated {
		rpe = s.rpe
	}
	l.want = append(l.want, l.at(s)+repLine(l.s.named(s.lifter), s.day, liftNames[s.lift], l.u.load.si(s.load), l.u.speed.si(t.mean), l.u.speed.si(t.peak), l.u.travel.si(t.rom), l.u.time.si(t.con), rpe, n))
}

// expectNote notes a logged set that must be read.
func (l *layout) expectNote(s *set, rated bool, speeds [3]float64) {
	rpe := 0.0
	if rated {
		rpe = s.rpe
	}
	for k := range speeds {
		speeds[k] = l.u.speed.si(speeds[k])
	}
	l.want = append(l.want, l.at(s)+noteLine(l.s.named(s.lifter), s.day, liftNames[s.lift], l.u.load.si(s.load), s.equal, len(s.reps), rpe, speeds))
}

// at writes the moment of a set where the export has times.
func (l *layout) at(s *set) string {
	if !l.timed {
		return ""
	}
	return s.day.Add(time.Duration(s.clock) * time.Minute).Format("15:04 ")
}

func repLine(lifter string, day time.Time, lift string, load, mean, peak, rom, con, rpe float64, n int) string {
	return fmt.Sprintf("%s, %s, %s, %.5g kg, rep %d: %.5g m/s, peak %.5g, rom %.5g, time %.5g, RPE %g", lifter, day.Format(time.DateOnly), lift, load, n, mean, peak, rom, con, rpe)
}

func noteLine(lifter string, day time.Time, lift string, load float64, sets, reps int, rpe float64, speeds [3]float64) string {
	return fmt.Sprintf("%s, %s, %s, %.5g kg, logged %d x %d, RPE %g, first %.5g, best %.5g, last %.5g", lifter, day.Format(time.DateOnly), lift, load, sets, reps, rpe, speeds[0], speeds[1], speeds[2])
}
