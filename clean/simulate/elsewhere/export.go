package elsewhere

import (
	"fmt"
	"math"

	"repsift/clean/simulate"
	"repsift/ingest/rep"
)

// format is how a unit's rows are written.
type format struct {
	peak, travel, dur               bool
	speedStep, peakStep, travelStep float64
	durStep, loadStep               float64
	pounds                          bool
	clock                           simulate.Clock
	atEnd                           bool    // times are those of lockouts
	zone                            float64 // s added to times
	marks                           marks
	numbers                         numbers
	order                           order
	rpe                             bool
}

// marks is how sets are numbered.
type marks uint8

const (
	noMarks marks = iota
	perLift
	perDay
	perLoad // anew at every load
)

// numbers is how reps are numbered.
type numbers uint8

const (
	noNumbers numbers = iota
	fromOne
	fromZero
	throughDay // of the lift
)

// order is the order of lines.
type order uint8

const (
	asDone order = iota
	newestFirst
	shuffled
)

func (w *world) format() format {
	f := format{peak: w.chance(0.5), travel: w.chance(0.75), dur: w.chance(0.5), speedStep: pick(w, 0.01, 0.01, 0.001, 0.05), peakStep: 0.01,
		travelStep: pick(w, 0.001, 0.01, 0.005, 0.0001), durStep: pick(w, 0.01, 0.1, 0.001), loadStep: pick(w, 0.5, 1, 0.1, 0.01),
		pounds: w.chance(0.25), clock: pick(w, simulate.NoClock, simulate.SetMinutes, simulate.SetSeconds, simulate.RepTwoSeconds, simulate.RepSeconds, simulate.RepMillis, simulate.RepMillis),
		atEnd: w.chance(0.3), marks: pick(w, noMarks, perLift, perLift, perDay, perLoad), numbers: pick(w, noNumbers, fromOne, fromOne, fromZero, throughDay),
		rpe: w.chance(0.2)}
	if f.speedStep == 0.001 {
		f.peakStep = 0.001
	}
	w.telling(&f)
	return f
}

// telling sees to it that a format says which set a row is of, nearly always,
// and orders its lines as far as they still can be told.
func (w *world) telling(f *format) {
	if f.marks == noMarks && f.numbers == throughDay && f.clock < simulate.RepTwoSeconds && w.chance(0.9) {
		f.numbers = fromOne
	}
	if f.marks == noMarks && f.numbers == noNumbers && f.clock < simulate.RepTwoSeconds && w.chance(0.9) {
		f.marks = perLift
	}
	f.order = asDone
	switch {
	case f.clock == simulate.RepMillis || f.marks == perLift && f.numbers != noNumbers || f.marks == perDay && f.numbers != noNumbers:
		f.order = pick(w, asDone, asDone, newestFirst, shuffled)
	case f.numbers != noNumbers:
		f.order = pick(w, asDone, asDone, newestFirst)
	}
}

// export writes the season's files: the first unit's, perhaps in two parts and
// once more in another form, perhaps a second unit's; and the hand log.
func (w *world) export(l *lifter, sets []doneSet) []rep.SetNote {
	logged := map[int32]bool{}
	notes := w.log(l, sets, logged)
	first := w.unit(0)
	rows := w.record(&first, sets)
	f := w.format()
	half := len(rows) * w.whole(4, 8) / 10
	if w.chance(0.5) {
		w.write(l, "pier/all.csv", &first, f, rows, logged, false)
	} else {
		w.write(l, "pier/autumn.csv", &first, f, rows[:half], logged, false)
		w.write(l, "pier/winter.csv", &first, f, rows[half:], logged, false)
	}
	if w.chance(0.35) {
		lo := w.whole(0, len(rows)/2)
		hi := w.whole(lo, len(rows))
		w.write(l, "sent/again.csv", &first, w.another(f), rows[lo:hi], logged, true)
	}
	if w.chance(0.3) {
		second := w.unit(1)
		w.write(l, "loft/kit.csv", &second, w.format(), w.record(&second, sets), logged, false)
	}
	return notes
}

// another is the format of a second export of the same rows.
func (w *world) another(f format) format {
	g := f
	g.peak, g.travel, g.dur = f.peak && w.chance(0.8), f.travel && w.chance(0.85), f.dur && w.chance(0.8)
	g.speedStep = max(f.speedStep, pick(w, 0.01, 0.001, 0.001))
	g.travelStep = max(f.travelStep, pick(w, 0.01, 0.001))
	g.pounds = w.chance(0.3)
	g.marks, g.numbers = pick(w, noMarks, perLift, perDay, perLoad), pick(w, noNumbers, fromOne, fromZero)
	g.clock = simulate.Clock(w.IntN(int(f.clock) + 1))
	g.zone = pick(w, 0.0, 0, 3600, -3600, 7200)
	if g.marks == noMarks && g.numbers == noNumbers {
		g.marks = perLift
	}
	w.telling(&g)
	return g
}

// write appends rows to the table.
func (w *world) write(l *lifter, source string, u *unit, f format, sets []recorded, logged map[int32]bool, copied bool) {
	const pound = 0.45359237
	type line struct {
		rep.Rep
		truth simulate.Row
	}
	var lines []line
	counted := map[string]int32{} // reps through the day
	for _, set := range sets {
		s := set.skill
		key := fmt.Sprint(source, set.day)
		switch f.marks {
		case perLift:
			key += s.lift
		case perLoad:
			key += fmt.Sprint(s.lift, set.load)
		}
		w.marks[key]++
		lift := fmt.Sprint(set.day, s.lift)
		load, loadStep := digits(set.load, f.loadStep), f.loadStep
		if f.pounds {
			load, loadStep = digits(set.load/pound, f.loadStep)*pound, f.loadStep*pound
		}
		midnight := set.day.Time().UnixMilli()
		number, start := int32(0), 0.0
		for k, x := range set.rows {
			if x.again {
				w.marks[key]++
				number = 0
			}
			if k == 0 || x.again {
				start = x.start
			}
			number++
			counted[lift]++
			r := rep.Rep{Lifter: l.name, Date: set.day, Lift: s.lift, Variant: s.variant, Bar: s.bar, Tether: s.tether, Device: u.name,
				LoadKg: load, LoadStep: loadStep, Source: source, MeanVelocity: digits(x.speed, f.speedStep), MeanStep: f.speedStep}
			if r.MeanVelocity < f.speedStep && x.what.Real() {
				r.MeanVelocity = f.speedStep
			}
			if f.marks != noMarks {
				r.SetMark = rep.Some(w.marks[key])
			}
			switch f.numbers {
			case fromOne:
				r.RepRecorded = rep.Some(number)
			case fromZero:
				r.RepRecorded = rep.Some(number - 1)
			case throughDay:
				r.RepRecorded = rep.Some(counted[lift])
			}
			if f.peak {
				r.PeakVelocity, r.PeakStep = rep.Some(max(digits(x.peak, f.peakStep), f.peakStep)), f.peakStep
			}
			if f.travel {
				r.ROM, r.ROMStep = rep.Some(digits(x.travel, f.travelStep)), f.travelStep
			}
			if f.dur {
				r.Concentric = rep.Some(max(digits(x.dur, f.durStep), f.durStep))
			}
			at := x.start
			if f.atEnd {
				at += x.dur
			}
			if at, ok := f.clock.Time(start, at); ok {
				r.PerformedAt = rep.Some(rep.Instant(midnight + int64(math.Round(1000*(at+f.zone)))))
			}
			if f.rpe && !set.warm {
				r.RPE, r.RPEFrom = rep.Some(set.rpe), rep.RPEExport
			}
			lines = append(lines, line{r, simulate.Row{What: x.what, Rep: x.rep, Set: set.id, Unit: u.number, Copy: copied,
				Travel: simulate.Shows(x.needs, f.peak, f.travel, f.dur), Time: f.clock == simulate.RepMillis && x.needs == "", Count: logged[set.id], WrongLoad: set.load != set.doneSet.load}})
		}
	}
	switch f.order {
	case newestFirst:
		for i, j := 0, len(lines)-1; i < j; i, j = i+1, j-1 {
			lines[i], lines[j] = lines[j], lines[i]
		}
	case shuffled:
		w.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
	}
	for i := range lines {
		lines[i].Row = 2 + w.lines[source]
		w.lines[source]++
		w.table.Append(&lines[i].Rep)
		w.out.Rows = append(w.out.Rows, lines[i].truth)
	}
}
