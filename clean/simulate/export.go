package simulate

import (
	"fmt"
	"math"
	"slices"

	"repsift/ingest/rep"
)

// format is how a unit's rows are written.
type format struct {
	peak, travel, dur                    bool
	speedStep, travelStep, peakStep      float64
	loadStep                             float64
	pounds                               bool
	clock                                Clock
	zone                                 float64 // s added to times
	setMarks, repNumbers, setsRenumbered bool
	shuffled                             bool
	rpe                                  bool
}

// clocks are those of this world, from the coarsest.
var clocks = [...]Clock{NoClock, SetMinutes, SetSeconds, RepSeconds, RepMillis}

// format draws a format. Every one says which set and which rep a row is, or
// when it was: else a row of a mean speed alone could not be told from its
// neighbour by anyone.
func (w *world) format() format {
	f := format{peak: w.chance(0.6), travel: w.chance(0.85), dur: w.chance(0.5), speedStep: pick(w, 0.01, 0.01, 0.001),
		travelStep: pick(w, 0.01, 0.001, 0.005), loadStep: pick(w, 0.5, 0.1), pounds: w.chance(0.2),
		clock: clocks[w.IntN(len(clocks))], setMarks: w.chance(0.7), repNumbers: w.chance(0.8), rpe: w.chance(0.2)}
	f.peakStep = f.speedStep
	if !f.setMarks && !f.repNumbers && f.clock < RepSeconds {
		f.setMarks = true
	}
	return f
}

// export writes the season's files: the first unit's, an overlapping one, a
// second unit's, and the hand log.
func (w *world) export(l *lifter, sets []doneSet) {
	first := w.unit(0)
	rows := w.record(&first, sets)
	f := w.format()
	log := w.chance(0.7)
	logged := map[int32]bool{}
	notes, truth := w.log(l, sets, log, logged)

	cut := w.whole(0, len(rows)) // the second file of the unit begins here
	twice := w.chance(0.4)
	whole := rows
	if twice {
		whole = rows[:max(cut, len(rows)*6/10)]
	}
	w.write(l, "exports/a.csv", &first, f, whole, logged, false)
	if twice {
		g := w.reexport(f)
		from := min(cut, len(whole)*7/10)
		w.write(l, "exports/b.csv", &first, g, rows[from:len(whole)], logged, true)
		w.write(l, "exports/b.csv", &first, g, rows[len(whole):], logged, false)
	}
	if w.chance(0.25) {
		second := w.unit(1)
		w.write(l, "red/c.csv", &second, w.format(), w.record(&second, sets), logged, false)
	}
	w.out.Notes = truth
	w.out.Batch = &rep.Batch{Notes: notes}
	w.there()
}

// reexport is the format of another export of the same rows.
func (w *world) reexport(f format) format {
	g := f
	g.setMarks, g.repNumbers, g.setsRenumbered = w.chance(0.6), w.chance(0.8), w.chance(0.5)
	g.peak, g.travel, g.dur = f.peak && w.chance(0.8), f.travel && w.chance(0.9), f.dur && w.chance(0.8)
	if w.chance(0.4) {
		g.speedStep = pick(w, 0.01, 0.001)
		g.peakStep = g.speedStep
	}
	g.pounds = w.chance(0.3)
	if f.clock != NoClock {
		g.clock = clocks[w.IntN(slices.Index(clocks[:], f.clock)+1)]
	}
	g.zone = pick(w, 0.0, 0, 3600, -7200, 19800)
	if !g.setMarks && !g.repNumbers && g.clock < RepSeconds {
		g.setMarks = true
	}
	g.shuffled = w.chance(0.3) && (g.setMarks && g.repNumbers || g.clock == RepMillis)
	return g
}

// write appends rows to the table. Sets are numbered per lift and day.
func (w *world) write(l *lifter, source string, u *unit, f format, sets []recorded, logged map[int32]bool, copied bool) {
	const pound = 0.45359237
	type line struct {
		rep.Rep
		truth Row
	}
	var lines []line
	for _, set := range sets {
		key := fmt.Sprint(source, set.day, set.skill.lift)
		number, begun := w.marks[key]
		if !begun && f.setsRenumbered {
			number = int32(w.whole(0, 20))
		}
		number++
		w.marks[key] = number
		if len(set.rows) == 0 {
			continue
		}
		load, loadStep := digits(set.load, f.loadStep), f.loadStep
		if f.pounds {
			load, loadStep = digits(set.load/pound, f.loadStep)*pound, f.loadStep*pound
		}
		midnight := set.day.Time().UnixMilli()
		for k, s := range set.rows {
			r := rep.Rep{Lifter: l.name, Date: set.day, Lift: set.skill.lift, Variant: set.skill.variant, Bar: set.skill.bar,
				Tether: set.skill.tether, Device: u.name, LoadKg: load, LoadStep: loadStep, Source: source,
				MeanVelocity: digits(s.speed, f.speedStep), MeanStep: f.speedStep}
			if f.setMarks {
				r.SetMark = rep.Some(number)
			}
			if f.repNumbers {
				r.RepRecorded = rep.Some(int32(k + 1))
			}
			if f.peak {
				r.PeakVelocity, r.PeakStep = rep.Some(digits(s.peak, f.peakStep)), f.peakStep
			}
			if f.travel {
				r.ROM, r.ROMStep = rep.Some(digits(s.travel, f.travelStep)), f.travelStep
			}
			if f.dur {
				r.Concentric = rep.Some(digits(s.dur, 0.01))
			}
			if at, ok := f.clock.Time(set.rows[0].start, s.start); ok {
				r.PerformedAt = rep.Some(rep.Instant(midnight + int64(math.Round(1000*(at+f.zone)))))
			}
			if f.rpe && set.working {
				r.RPE, r.RPEFrom = rep.Some(set.rpe), rep.RPEExport
			}
			lines = append(lines, line{r, Row{What: s.what, Rep: s.rep, Set: set.id, Unit: u.number, Copy: copied,
				Travel: Shows(s.needs, f.peak, f.travel, f.dur), Time: f.clock == RepMillis && s.needs == "", Count: logged[set.id], WrongLoad: set.load != set.doneSet.load}})
		}
	}
	if f.shuffled {
		w.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
	}
	row := int32(2)
	for i := range w.table.Len() {
		if w.table.Rep(int32(i)).Source == source {
			row++
		}
	}
	for i := range lines {
		lines[i].Row = row + int32(i)
		w.table.Append(&lines[i].Rep)
		w.out.Rows = append(w.out.Rows, lines[i].truth)
	}
}
