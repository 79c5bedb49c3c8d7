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
				if s.last(n) {
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

// joined is a logged set beside a unit's set.
type joined struct {
	day, said int // of the history's logs
	set       int32
	match     join.Match
}

// joinLogs joins logged sets to the sets of the same day. Pairs that are not
// sure are kept too, for the report.
func (h *history) joinLogs(notes []rep.SetNote) {
	h.joins = h.joins[:0]
	for s := range h.sets {
		h.sets[s].log = nil
	}
	for s := range h.sets {
		if set := &h.sets[s]; set.twin > 0 && h.sets[set.twin-1].log == nil && h.byHand(set.lo) {
			log := h.handwritten(s)
			h.sets[set.twin-1].log = &log
		}
	}
	d := 0
	for i := range h.logs {
		for k := range h.logs[i].said {
			h.logs[i].said[k].joined = false
		}
		for d < len(h.days) && h.sets[h.days[d].lo].date < h.logs[i].date {
			d++
		}
		if d < len(h.days) && h.sets[h.days[d].lo].date == h.logs[i].date {
			h.joinDay(notes, i, h.days[d])
		}
	}
}

func (h *history) joinDay(notes []rep.SetNote, day int, in span) {
	said := h.logs[day].said
	var done []join.Set
	var which []int
	for s := int(in.lo); s < int(in.hi); s++ {
		if d, ok := h.doneSet(s); ok {
			done, which = append(done, d), append(which, s)
		}
	}
	logged := make([]join.Set, len(said))
	for i, s := range said {
		logged[i] = loggedSet(&notes[s.note], s.last(&notes[s.note]))
	}
	for _, m := range join.Align(logged, done) {
		to := which[m.Done]
		h.joins = append(h.joins, joined{day, m.Logged, int32(to), m})
		if !m.Sure() {
			continue
		}
		said[m.Logged].joined = true
		if set := &h.sets[to]; set.log == nil {
			log := account(&notes[said[m.Logged].note], said[m.Logged])
			set.log = &log
		}
	}
}

// handwritten is the account of a set whose reps' speeds were logged by hand.
func (h *history) handwritten(s int) rep.Logged {
	set := h.record(s)
	out := rep.Logged{LoadKg: set.LoadKg, Reps: rep.Some(h.sets[s].hi - h.sets[s].lo), First: rep.Some(h.v[h.sets[s].lo]),
		Last: rep.Some(h.v[h.sets[s].hi-1]), Source: set.Source, Sheet: set.Sheet, Row: set.Row, Part: 1}
	for i := h.sets[s].lo; i < h.sets[s].hi; i++ {
		out.Fastest = rep.Some(max(out.Fastest.Or(h.v[i]), h.v[i]))
		out.Slowest = rep.Some(min(out.Slowest.Or(h.v[i]), h.v[i]))
		if rpe := h.t.RPE.At(h.rows[i]); rpe.OK {
			out.RPE = rpe
		}
	}
	return out
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

// loggedSet describes a logged set to the alignment. Of several equal sets,
// speeds are taken for those of the last.
func loggedSet(n *rep.SetNote, last bool) join.Set {
	l := join.Set{Load: n.LoadKg, LoadStep: n.LoadStep, Reps: n.Reps, At: n.PerformedAt}
	if last {
		l.First, l.Fastest, l.Last, l.Slowest, l.Mean = n.First, n.Fastest, n.Last, n.Slowest, n.Mean
	}
	return l
}

// last reports whether s is the last of the equal sets its note stands for.
func (s said) last(n *rep.SetNote) bool { return s.of == max(1, n.Sets) }

// report gives every set its RPE and says where hand log and unit disagree.
func (h *history) report(notes []rep.SetNote) {
	for _, j := range h.joins {
		s := h.logs[j.day].said[j.said]
		n, set := &notes[s.note], &h.sets[j.set]
		switch {
		case j.match.Sure():
			h.compare(set, n, j.match.Load)
		case j.match.Score >= join.Least:
			h.doubt(JoinAmbiguous, set.date, fmt.Sprintf("the logged set %s fits the unit's set of %s and another account of the day "+
				"about as well: left apart", noteText(n), loadText(h.load[set.lo])), n.Place(), h.place(set.lo))
		}
	}
	for s := range h.sets {
		set := &h.sets[s]
		if set.log == nil {
			continue
		}
		at, from := h.place(set.lo), rep.Place{Source: set.log.Source, Sheet: set.log.Sheet, Row: set.log.Row}
		if n := set.log.Reps; n.OK && set.kept < n.V {
			h.doubt(FewerReps, set.date, fmt.Sprintf("the hand log has %s, the unit %s", count(n.V, "rep"), count(set.kept, "rep")), from, at)
		} else if n.OK && set.kept-set.missed > n.V {
			h.doubt(LogDisagrees, set.date, fmt.Sprintf("the hand log has %s, the unit %s, none of them clearly false",
				count(n.V, "rep"), count(set.kept, "rep")), from, at)
		}
		switch said := set.log.RPE; {
		case !said.OK:
		case !set.rpe.OK:
			set.rpe, set.rpeFrom = said, rep.RPEHandLog
		case math.Abs(set.rpe.V-said.V) > 1e-9:
			h.doubt(RPEDisagrees, set.date, fmt.Sprintf("the hand log has RPE %g, the export %g, which stands", said.V, set.rpe.V), from, at)
		}
	}
	h.reportUnits()
}

// compare reports where a joined log and the unit disagree on the load.
func (h *history) compare(set *set, n *rep.SetNote, load join.Load) {
	if load != join.SameLoad && load != join.NoLoad {
		h.doubt(LogDisagrees, set.date, fmt.Sprintf("the hand log has %s, the unit %s", loadText(n.LoadKg.V), loadText(h.load[set.lo])),
			n.Place(), h.place(set.lo))
	}
}

// reportUnits says where the unit that stands has fewer reps of a set than the
// second one.
func (h *history) reportUnits() {
	for s := range h.sets {
		second := &h.sets[s]
		if second.twin == 0 || h.byHand(second.lo) {
			continue
		}
		first := &h.sets[second.twin-1]
		if n := second.hi - second.lo; first.kept < n {
			h.doubt(FewerReps, first.date, fmt.Sprintf("%q has %s of this set, %q, which stands, %s", h.device(second.lo),
				count(n, "rep"), h.device(first.lo), count(first.kept, "rep")), h.place(first.lo), h.place(second.lo))
		}
	}
}

func (h *history) device(i int32) string { return h.t.Text.Text(h.t.Device[h.rows[i]]) }

// byHand reports whether the speed at position i was written down by hand.
func (h *history) byHand(i int32) bool { return h.device(i) == rep.HandLog }

// account is what a note says of one set.
func account(n *rep.SetNote, s said) rep.Logged {
	l := rep.Logged{LoadKg: n.LoadKg, Reps: n.Reps, RPE: s.rpe, RPEHigh: s.high, Text: n.Text,
		Source: n.Source, Sheet: n.Sheet, Row: n.Row, Part: n.Part}
	if s.last(n) {
		l.First, l.Fastest, l.Last, l.Slowest, l.Mean = n.First, n.Fastest, n.Last, n.Slowest, n.Mean
	}
	return l
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
