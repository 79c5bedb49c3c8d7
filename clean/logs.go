package clean

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"repsift/clean/join"
	"repsift/ingest/rep"
)

// said is one logged set: a note, or one of the equal sets a note stands for.
type said struct {
	note   int32 // index in the batch
	of     int32 // 1, 2, … of the note's sets
	rpe    rep.Null[float64]
	high   rep.Null[float64]
	missed int32
	joined bool
}

// logDay is what the log says of one lifter's one lift on one day, in order.
type logDay struct {
	date rep.Day
	said []said
}

// expand returns the sets that notes stand for, day by day, in the order
// logged: by time where all of a day have one, else by set number where all
// have one and it rises, else by place. One RPE for several equal sets belongs
// to the last, and so do failed reps: common practice, no source.
func expand(notes []rep.SetNote, which []int32) []logDay {
	slices.SortStableFunc(which, func(a, b int32) int {
		m, n := &notes[a], &notes[b]
		c := cmp.Or(cmp.Compare(m.Date, n.Date), cmp.Compare(m.Source, n.Source), cmp.Compare(m.Sheet, n.Sheet))
		return cmp.Or(c, cmp.Compare(m.Row, n.Row), cmp.Compare(m.Part, n.Part), cmp.Compare(a, b))
	})
	var days []logDay
	for lo := 0; lo < len(which); {
		hi := lo
		timed := true
		for hi < len(which) && notes[which[hi]].Date == notes[which[lo]].Date {
			timed = timed && notes[which[hi]].PerformedAt.OK
			hi++
		}
		day := which[lo:hi]
		if timed {
			slices.SortStableFunc(day, func(a, b int32) int {
				return cmp.Compare(notes[a].PerformedAt.V, notes[b].PerformedAt.V)
			})
		}
		d := logDay{date: notes[which[lo]].Date}
		for _, k := range day {
			n := &notes[k]
			for of := int32(1); of <= max(1, n.Sets); of++ {
				s := said{note: k, of: of}
				if of == max(1, n.Sets) {
					s.rpe, s.high, s.missed = n.RPE, n.RPEHigh, n.MissedReps
				}
				d.said = append(d.said, s)
			}
		}
		days = append(days, d)
		lo = hi
	}
	return days
}

// joinLogs joins logged sets to the sets of the same day, and writes the
// log's account and RPE into them.
func (h *history) joinLogs(notes []rep.SetNote) {
	d := 0
	for i := range h.logs {
		day := &h.logs[i]
		for d < len(h.days) && h.sets[h.days[d].lo].date < day.date {
			d++
		}
		if d < len(h.days) && h.sets[h.days[d].lo].date == day.date {
			h.joinDay(notes, day, h.days[d])
		}
	}
}

func (h *history) joinDay(notes []rep.SetNote, day *logDay, in span) {
	var done []join.Set
	var which []int
	for s := int(in.lo); s < int(in.hi); s++ {
		if d, ok := h.doneSet(s); ok {
			done, which = append(done, d), append(which, s)
		}
	}
	logged := make([]join.Set, len(day.said))
	for i, s := range day.said {
		logged[i] = loggedSet(&notes[s.note])
	}
	for _, m := range join.Align(logged, done) {
		s := &day.said[m.Logged]
		n := &notes[s.note]
		to := which[m.Done]
		if !m.Sure() {
			if m.Score >= join.Least {
				h.doubt(JoinAmbiguous, day.date, fmt.Sprintf("logged set %s fits the unit's set of %s and another one alike: left apart",
					noteText(n), loadText(h.load[h.sets[to].lo])), n.Place(), h.place(h.sets[to].lo))
			}
			continue
		}
		s.joined = true
		h.take(to, n, *s, m.Load)
	}
}

// doneSet describes a set to the alignment. ok is false where nothing of it
// stands, so that a log of the true sets is not laid beside false ones.
func (h *history) doneSet(s int) (d join.Set, ok bool) {
	first, last := int32(-1), int32(-1)
	n := int32(0)
	sum := 0.0
	for i := h.sets[s].lo; i < h.sets[s].hi; i++ {
		if h.failed[i] != 0 {
			d.Extra++
			continue
		}
		if first < 0 {
			first = i
		}
		last = i
		n++
		sum += h.v[i]
		if !d.Fastest.OK || h.v[i] > d.Fastest.V {
			d.Fastest = rep.Some(h.v[i])
		}
		if !d.Slowest.OK || h.v[i] < d.Slowest.V {
			d.Slowest = rep.Some(h.v[i])
		}
	}
	if n == 0 {
		return d, false
	}
	d.Load, d.LoadStep = rep.Some(h.load[first]), h.t.LoadStep(h.rows[first])
	d.Reps = rep.Some(n)
	d.At = h.t.PerformedAt.At(h.rows[first])
	d.First, d.Last, d.Mean = rep.Some(h.v[first]), rep.Some(h.v[last]), rep.Some(sum/float64(n))
	return d, true
}

func loggedSet(n *rep.SetNote) join.Set {
	return join.Set{Load: n.LoadKg, LoadStep: n.LoadStep, Reps: n.Reps, At: n.PerformedAt,
		First: n.First, Fastest: n.Fastest, Last: n.Last, Slowest: n.Slowest, Mean: n.Mean}
}

// take writes what the log says into set s and reports where it and the unit
// disagree.
func (h *history) take(s int, n *rep.SetNote, from said, load join.Load) {
	set := &h.sets[s]
	log := account(n, from)
	set.log = &log
	at := h.place(set.lo)
	say := func(topic Topic, format string, args ...any) {
		h.doubt(topic, set.date, fmt.Sprintf(format, args...), n.Place(), at)
	}
	if load != join.SameLoad && load != join.NoLoad {
		say(LogDisagrees, "the hand log has %s, the unit %s", loadText(n.LoadKg.V), loadText(h.load[set.lo]))
	}
	kept := int32(0)
	for i := set.lo; i < set.hi; i++ {
		if h.failed[i] == 0 {
			kept++
		}
	}
	if n.Reps.OK && n.Reps.V != kept {
		topic := LogDisagrees
		if kept < n.Reps.V {
			topic = FewerReps
		}
		say(topic, "the hand log has %s, the unit %s", count(n.Reps.V, "rep"), count(kept, "rep"))
	}
	switch {
	case !from.rpe.OK:
	case set.rpe.OK && math.Abs(set.rpe.V-from.rpe.V) > 1e-9:
		say(RPEDisagrees, "the hand log has RPE %g, the export %g, which stands", from.rpe.V, set.rpe.V)
	case !set.rpe.OK:
		set.rpe, set.rpeFrom = from.rpe, rep.RPEHandLog
	}
}

// account is what a note says of one set.
func account(n *rep.SetNote, s said) rep.Logged {
	return rep.Logged{LoadKg: n.LoadKg, Reps: n.Reps, RPE: s.rpe, RPEHigh: s.high, First: n.First, Fastest: n.Fastest,
		Last: n.Last, Slowest: n.Slowest, Mean: n.Mean, Text: n.Text, Source: n.Source, Sheet: n.Sheet, Row: n.Row, Part: n.Part}
}

// readRPE finds the RPE that the export gives each set: on any of its rows,
// false ones and copies too; the last where they differ.
func (h *history) readRPE() {
	copies := make(map[int32]rep.Null[float64])
	for _, c := range h.copies {
		if v := h.t.RPE.At(c.row); v.OK {
			copies[c.of] = v
		}
	}
	for s := range h.sets {
		set := &h.sets[s]
		for i := set.lo; i < set.hi; i++ {
			r := h.rows[i]
			if v := h.t.RPE.At(r); v.OK {
				set.rpe, set.rpeFrom = v, h.t.RPEFrom[r]
			} else if v := copies[r]; v.OK && !set.rpe.OK {
				set.rpe, set.rpeFrom = v, rep.RPEExport
			}
		}
	}
}

func (h *history) doubt(topic Topic, date rep.Day, text string, places ...rep.Place) {
	h.doubts = append(h.doubts, Doubt{Topic: topic, Lifter: h.lifter, Lift: h.lift, Date: date, Text: text, Places: places})
}

// place returns where the rep at position i stands.
func (h *history) place(i int32) rep.Place { return placeOf(h.t, h.rows[i]) }

func placeOf(t *rep.Table, r int32) rep.Place {
	return rep.Place{Source: t.Text.Text(t.Source[r]), Sheet: t.Text.Text(t.Sheet[r]), Row: t.Row[r]}
}

// noteText is a logged set as the coach wrote it.
func noteText(n *rep.SetNote) string {
	if text := strings.TrimSpace(n.Text); text != "" {
		return fmt.Sprintf("%q", text)
	}
	var parts []string
	if n.LoadKg.OK {
		parts = append(parts, loadText(n.LoadKg.V))
	}
	if n.Reps.OK {
		parts = append(parts, count(n.Reps.V, "rep"))
	}
	return strings.Join(parts, " × ")
}

func count(n int32, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
