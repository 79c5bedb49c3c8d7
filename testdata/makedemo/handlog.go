package main

import (
	"fmt"
	"math/rand/v2"
	"sort"
	"strconv"
	"strings"
	"time"
)

// logged is a set as a lifter wrote it down.
type logged struct {
	*set
	rpe  string // half points; empty: not written
	made int    // reps
	miss bool
	kg   float64 // as logged
	last bool    // the last rep's speed is noted
}

// logOf returns what a lifter logged, in order: the top set, mostly the
// back-offs too, on most days. What is logged of one day and lift is never in
// doubt: no set that is left out has the load of one that is in.
func logOf(l *lifter, sets []*set) []logged {
	var entries []logged
	for _, s := range sets {
		if s.lifter != l || s.role == warmUp {
			continue
		}
		rng := random("log", l.name, s.lift, s.date.Format(time.DateOnly))
		skip, topOnly := rng.Float64() < 0.12, rng.Float64() < 0.2
		if must := s.to == toNowhere || hasTrace(sets, s) || s.date.Equal(testDay); must {
			skip, topOnly = false, false
		}
		if skip || topOnly && s.role == backOff {
			continue
		}
		entries = append(entries, s.log(random("log", l.name, s.lift, s.date.Format(time.DateOnly), strconv.Itoa(s.number))))
	}
	entries = append(entries, assistance(l)...)
	sort.SliceStable(entries, func(i, j int) bool { return entries[i].date.Before(entries[j].date) })
	return entries
}

// assistance returns what Ines logged of a lift that no unit ever saw.
func assistance(l *lifter) []logged {
	if l != ines {
		return nil
	}
	var entries []logged
	for i, date := range []time.Time{day(1, 21), day(2, 11), day(3, 25)} {
		s := &set{lifter: l, ability: &ability{lift: romanian}, date: date, kg: 70 + 5*float64(i), to: toNowhere}
		entries = append(entries, logged{set: s, rpe: "7", made: 8, kg: s.kg})
	}
	return entries
}

func hasTrace(sets []*set, s *set) bool {
	for _, o := range sets {
		if o.to == toTrace && o.lifter == s.lifter && o.date.Equal(s.date) && o.lift == s.lift {
			return true
		}
	}
	return false
}

func (s *set) log(rng *rand.Rand) logged {
	e := logged{set: s, made: s.done(), kg: s.kg}
	e.miss = e.made == 0
	if !e.miss && s.rpe > 5.6 && (s.role == top || rng.Float64() < 0.75) {
		e.rpe = halves(s.rpe + 0.3*clamp(rng.NormFloat64(), 2))
	}
	if s.lb > 0 {
		e.kg = round(s.kg*2, 0) / 2
	}
	e.last = rng.Float64() < 0.05
	return e
}

// short writes the entry in shorthand; nth varies the hand.
func (e *logged) short(nth int) string {
	load := loadText(e.kg)
	if e.miss {
		return load + "x1x"
	}
	s := fmt.Sprintf([]string{"%sx%d", "%s x %d", "%skg x %d", "%sx%d"}[nth%4], load, e.made)
	if e.rpe != "" {
		s += " @" + e.rpe
	}
	return s
}

// handLog writes the log the lifters keep themselves, a sheet each.
func (d *demo) handLog(sets []*set) error {
	b := newBook(d, "hand log.xlsx", "Ines")
	for _, name := range []string{"Käthe", "Tomás", "Ruben"} {
		if _, err := b.file.NewSheet(name); err != nil {
			return err
		}
	}
	d.logInes(b, logOf(ines, sets))
	d.logKaethe(b, logOf(kaethe, sets))
	d.logTomas(b, logOf(tomas, sets))
	d.logRuben(b, logOf(ruben, sets))
	for _, sheet := range b.file.GetSheetList() {
		b.widths(sheet, 12, 20, 18, 10)
	}
	return b.save()
}

// note says that the row written last logs a set.
func (b *book) note(sheet string, e *logged) {
	t := truth{place: b.place(sheet, 0), what: isNote, fate: joined, of: e.set, belongs: e.at, why: "logged set"}
	if e.to == toNowhere {
		t.fate, t.why = alone, "no unit"
	}
	b.d.tell(t)
}

// logInes: a title, shorthand, the date once a day, a blank row between weeks.
func (d *demo) logInes(b *book, entries []logged) {
	const sheet = "Ines"
	b.row(sheet, "Training log")
	b.notData(sheet, "preamble")
	b.row(sheet)
	b.notData(sheet, "blank")
	b.row(sheet, "Date", "Lift", "Sets", "Note")
	b.notData(sheet, "heading")
	var before time.Time
	for i := range entries {
		e := &entries[i]
		if i > 0 && weekOf(e.date) != weekOf(before) {
			b.row(sheet)
			b.notData(sheet, "blank")
		}
		var date, remark any
		if !e.date.Equal(before) {
			date, before = e.date, e.date
		}
		if e.role == top && e.set.rpe > 9.2 {
			remark = "heavy"
		}
		work := e.short(i)
		if e.last && !e.miss {
			work += fmt.Sprintf(" %.2f last", lastSpeed(e.set))
		}
		if i%23 == 7 && strings.HasSuffix(work, "@8") {
			work += "-8.5"
		}
		lift := map[string]string{squat: "Squat", benchPress: "Bench", deadlift: "Deadlift", romanian: "Romanian deadlift"}[e.lift]
		b.row(sheet, date, lift, work, remark)
		b.note(sheet, e)
	}
	b.row(sheet, "Total sets", nil, len(entries))
	b.notData(sheet, "total")
}

func lastSpeed(s *set) float64 {
	v := 0.0
	for i := range s.reps {
		if s.reps[i].rep() {
			v = s.reps[i].v
		}
	}
	return v
}

// logKaethe: German words, dates as text, decimal commas.
func (d *demo) logKaethe(b *book, entries []logged) {
	const sheet = "Käthe"
	b.row(sheet, "Datum", "Übung", "Sätze")
	b.notData(sheet, "heading")
	for i := range entries {
		e := &entries[i]
		if i == 40 {
			e.made-- // one rep less than was done
		}
		lift := map[string]string{squat: "Kniebeuge", benchPress: "Bankdrücken", deadlift: "Sumo"}[e.lift]
		b.row(sheet, e.date.Format("02.01.2006"), lift, strings.ReplaceAll(e.short(0), ".", ","))
		b.note(sheet, e)
	}
}

// logTomas: a column for everything, and a total at the end.
func (d *demo) logTomas(b *book, entries []logged) {
	const sheet = "Tomás"
	b.row(sheet, "Date", "Lift", "Load (kg)", "Reps", "RPE")
	b.notData(sheet, "heading")
	total := 0
	for i := range entries {
		e := &entries[i]
		if e.miss {
			continue // he writes no missed lifts down
		}
		if i == 30 {
			e.kg = float64(int(e.kg)) - 1 // from memory
		}
		lift := map[string]string{squat: "Squat", benchPress: "Bench (paused)", deadlift: "Deadlift"}[e.lift]
		var rpe any
		if v, err := strconv.ParseFloat(e.rpe, 64); err == nil {
			rpe = v
		}
		b.row(sheet, e.date, lift, round(e.kg, 2), e.made, rpe)
		b.note(sheet, e)
		total += e.made
	}
	b.row(sheet)
	b.notData(sheet, "blank")
	b.row(sheet, "Total", nil, nil, total)
	b.notData(sheet, "total")
}

// logRuben: shorthand, every second session.
func (d *demo) logRuben(b *book, entries []logged) {
	const sheet = "Ruben"
	b.row(sheet, "Date", "Lift", "Sets")
	b.notData(sheet, "heading")
	for i := range entries {
		e := &entries[i]
		if weekOf(e.date)%2 == 1 {
			continue
		}
		b.row(sheet, e.date, e.lift, e.short(i))
		b.note(sheet, e)
	}
}
