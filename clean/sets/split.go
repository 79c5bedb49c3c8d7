package sets

import (
	"cmp"
	"math"
	"slices"

	"repsift/ingest/rep"
)

// Gaps that end a set where the source has no set mark, in milliseconds.
// Reps of a set follow each other within some seconds, sets after a minute or
// more: common practice, no source. Where rep numbers run on, they are
// believed up to the longer gap (breaths before a last rep, a cluster set).
const (
	setGap     = 60_000
	longestGap = 180_000
)

// sheet is what one sheet of one source holds of one day of a history.
type sheet struct {
	date   rep.Day
	source rep.Sym
	sheet  rep.Sym
	sets   []Set
	timed  bool // every set has a time
	perRep bool // times are those of reps
	perSet bool // times are those of sets, not cut to the minute
}

// sheets orders the rows of h and splits each day's rows of each sheet into
// sets. In-sheet copies go to o.copies.
func (o *arranger) sheets() []sheet {
	t := o.t
	sortFunc(o.rows, func(a, b int32) int {
		if t.Date.At(a) != t.Date.At(b) {
			return cmp.Compare(t.Date.At(a), t.Date.At(b))
		}
		return ComparePlaces(t, o.rank, a, b)
	})
	var out []sheet
	for lo := 0; lo < len(o.rows); {
		first := o.rows[lo]
		hi := lo + 1
		for hi < len(o.rows) && t.Date.At(o.rows[hi]) == t.Date.At(first) &&
			t.Source.At(o.rows[hi]) == t.Source.At(first) && t.Sheet.At(o.rows[hi]) == t.Sheet.At(first) {
			hi++
		}
		s := sheet{date: t.Date.At(first), source: t.Source.At(first), sheet: t.Sheet.At(first)}
		o.split(&s, o.rows[lo:hi])
		out = append(out, s)
		lo = hi
	}
	o.join(out)
	return out
}

// split puts rows, all of one day and sheet, in the order done and cuts them
// into sets: by set mark where every row has one, else by load, rig, rep
// number and time.
func (o *arranger) split(s *sheet, rows []int32) {
	t := o.t
	marked, timed := true, true
	for _, r := range rows {
		marked = marked && t.SetMark.At(r).OK
		timed = timed && t.PerformedAt.At(r).OK
	}
	switch {
	case marked:
		sortFunc(rows, func(a, b int32) int {
			return cmp.Or(cmp.Compare(t.SetMark.Get(a), t.SetMark.Get(b)), o.compareRig(a, b), o.compareReps(a, b))
		})
	case timed:
		sortFunc(rows, func(a, b int32) int {
			if c := cmp.Compare(t.PerformedAt.Get(a), t.PerformedAt.Get(b)); c != 0 {
				return c
			}
			return o.compareReps(a, b)
		})
		o.countedAnew(rows)
	case o.backwards(rows):
		for i, j := 0, len(rows)-1; i < j; i, j = i+1, j-1 {
			rows[i], rows[j] = rows[j], rows[i]
		}
	}
	if o.tell {
		rows = o.dropTwice(rows, timed && o.timesOfReps(rows))
	}

	anew := marked && o.marksBeginAnew(rows)
	if anew {
		o.byLoad(rows)
	}
	o.runOn = !marked && o.numbersRunOn(rows)
	lo := 0
	for i := 1; i <= len(rows); i++ {
		if i < len(rows) && !o.between(rows[i-1], rows[i], marked) && !(anew && o.otherLoad(rows[i-1], rows[i])) {
			continue
		}
		o.cut(s, rows[lo:i], marked)
		lo = i
	}
	s.perRep = timed && o.timesOfReps(rows)
	for _, r := range rows {
		s.perSet = s.perSet || timed && !s.perRep && t.PerformedAt.Get(r)%60_000 != 0
	}
	s.timed = true
	for i := range s.sets {
		set := &s.sets[i]
		set.at = t.PerformedAt.At(set.Rows[0])
		for _, r := range set.Rows[1:] {
			if at := t.PerformedAt.At(r); at.OK && (!set.at.OK || at.V < set.at.V) {
				set.at = at
			}
		}
		s.timed = s.timed && set.at.OK
	}
}

// countedAnew puts rows of one time, in which a rep number comes twice, in the
// order of their lines: a source with times of sets began to count anew.
func (o *arranger) countedAnew(rows []int32) {
	t := o.t
	for lo := 0; lo < len(rows); {
		hi, again := lo+1, false
		for ; hi < len(rows) && t.PerformedAt.Get(rows[hi]) == t.PerformedAt.Get(rows[lo]); hi++ {
			n := t.RepRecorded.At(rows[hi])
			again = again || n.OK && n.V == t.RepRecorded.Get(rows[hi-1])
		}
		if same := rows[lo:hi]; again {
			slices.SortFunc(same, func(a, b int32) int { return ComparePlaces(t, o.rank, a, b) })
			if o.backwards(same) {
				slices.Reverse(same)
			}
		}
		lo = hi
	}
}

// timesOfReps reports whether rows, in order of time, bear times of reps and
// not of sets: most are different, though each may stand there twice.
func (o *arranger) timesOfReps(rows []int32) bool {
	different := 0
	for i, r := range rows {
		if i == 0 || o.t.PerformedAt.Get(r) != o.t.PerformedAt.Get(rows[i-1]) {
			different++
		}
	}
	return 2*different >= len(rows)
}

// between reports whether a new set begins at b, the row after a.
func (o *arranger) between(a, b int32, marked bool) bool {
	t := o.t
	if o.compareRig(a, b) != 0 {
		return true
	}
	if marked {
		return t.SetMark.Get(a) != t.SetMark.Get(b)
	}
	if o.otherLoad(a, b) {
		return true
	}
	na, nb := t.RepRecorded.At(a), t.RepRecorded.At(b)
	numbered := na.OK && nb.OK && !o.runOn
	if numbered && nb.V <= na.V {
		return true
	}
	ta, tb := t.PerformedAt.At(a), t.PerformedAt.At(b)
	if !ta.OK || !tb.OK {
		return false
	}
	gap := tb.V - ta.V
	return gap > longestGap || gap > setGap && !numbered
}

// numbersRunOn reports whether rep numbers run through the day, over changes of
// load: then they say nothing of where a set ends.
func (o *arranger) numbersRunOn(rows []int32) bool {
	on, anew := 0, 0
	for i := 1; i < len(rows); i++ {
		a, b := o.t.RepRecorded.At(rows[i-1]), o.t.RepRecorded.At(rows[i])
		switch {
		case !a.OK || !b.OK || !o.otherLoad(rows[i-1], rows[i]):
		case b.V == a.V+1:
			on++
		default:
			anew++
		}
	}
	return on > anew
}

// A unit may begin to count anew within a set, reps or sets. Two sets at one
// load are one where the second begins within sameSet of the last rep of the
// first; but only where that is rare over the season, and sets are otherwise a
// rest apart: else times are not those of reps.
const (
	sameSet = 12_000 // ms
	rest    = 45_000
	oneRep  = 4_000 // from rep to rep, where there are times of sets only
)

// join puts sets together that a unit counted as several.
func (o *arranger) join(sheets []sheet) {
	t := o.t
	gap := func(a, b *Set) int64 { // from the last rep of a
		last := len(a.Rows) - 1
		g := int64(t.PerformedAt.Get(b.Rows[0]) - t.PerformedAt.Get(a.Rows[last]))
		if g > 0 && last > 0 && t.PerformedAt.Get(a.Rows[0]) == t.PerformedAt.Get(a.Rows[last]) {
			g = max(0, g-oneRep*int64(last))
		}
		return g
	}
	short := func(a, b *Set) bool {
		g := gap(a, b)
		return g >= 0 && g <= sameSet && o.compareRig(a.Rows[0], b.Rows[0]) == 0 && !o.otherLoad(a.Rows[0], b.Rows[0])
	}
	parts, rests := 0, 0
	for i := range sheets {
		s := &sheets[i]
		for k := 1; k < len(s.sets) && (s.perRep || s.perSet); k++ {
			if short(&s.sets[k-1], &s.sets[k]) {
				parts++
			} else if gap(&s.sets[k-1], &s.sets[k]) >= rest {
				rests++
			}
		}
	}
	if parts == 0 || rests <= 2*parts {
		return
	}
	for i := range sheets {
		s := &sheets[i]
		if !s.perRep && !s.perSet {
			continue
		}
		out := s.sets[:1]
		for k := 1; k < len(s.sets); k++ {
			if last := &out[len(out)-1]; short(last, &s.sets[k]) {
				last.Rows = append(last.Rows[:len(last.Rows):len(last.Rows)], s.sets[k].Rows...)
				continue
			}
			out = append(out, s.sets[k])
		}
		s.sets = out
	}
}

// otherLoad reports whether two rows are of different loads.
func (o *arranger) otherLoad(a, b int32) bool {
	return math.Abs(o.t.LoadKg.Get(a)-o.t.LoadKg.Get(b)) > 0.05
}

// marksBeginAnew reports whether rows, in order of their marks, bear one mark
// at several loads: the source counts sets anew at every load.
func (o *arranger) marksBeginAnew(rows []int32) bool {
	for i := 1; i < len(rows); i++ {
		if o.t.SetMark.Get(rows[i]) == o.t.SetMark.Get(rows[i-1]) && o.otherLoad(rows[i-1], rows[i]) {
			return true
		}
	}
	return false
}

// byLoad puts rows whose marks begin anew at every load in order: sets by the
// place of their first line, or of their last, where lines stand newest first.
func (o *arranger) byLoad(rows []int32) {
	t := o.t
	type key struct {
		mark    int32
		load    int64
		variant rep.Sym
		unit    rep.Sym
		bar     rep.Sym
	}
	keyOf := func(r int32) key {
		return key{t.SetMark.Get(r), int64(math.Round(10 * t.LoadKg.Get(r))), t.Variant.At(r), t.Device.At(r), t.Bar.At(r)}
	}
	first := make(map[key]int32)
	for _, r := range rows {
		k := keyOf(r)
		if at, ok := first[k]; !ok || t.Row[r] < at {
			first[k] = t.Row[r]
		}
	}
	backwards := o.backwards(slices.SortedFunc(slices.Values(rows), func(a, b int32) int { return ComparePlaces(t, o.rank, a, b) }))
	sortFunc(rows, func(a, b int32) int {
		ka, kb := keyOf(a), keyOf(b)
		if ka == kb {
			return o.compareReps(a, b)
		}
		c := cmp.Or(cmp.Compare(first[ka], first[kb]), cmp.Compare(ka.load, kb.load), cmp.Compare(ka.mark, kb.mark))
		if backwards {
			return -c
		}
		return c
	})
}

// compareRig orders rows of different variant, bar or unit, which never share
// a set.
func (o *arranger) compareRig(a, b int32) int {
	t := o.t
	for _, column := range [...]*rep.Texts{&t.Variant, &t.Device, &t.Bar} {
		if x, y := column.At(a), column.At(b); x != y {
			return cmp.Compare(o.rank.of[x], o.rank.of[y])
		}
	}
	return 0
}

// compareReps orders the rows of one set: by rep number, time, place.
func (o *arranger) compareReps(a, b int32) int {
	t := o.t
	if t.RepRecorded.Get(a) != t.RepRecorded.Get(b) {
		return cmp.Compare(t.RepRecorded.Get(a), t.RepRecorded.Get(b))
	}
	if t.PerformedAt.Get(a) != t.PerformedAt.Get(b) {
		return cmp.Compare(t.PerformedAt.Get(a), t.PerformedAt.Get(b))
	}
	return ComparePlaces(t, o.rank, a, b)
}

// cut adds rows as one set. Rows under one mark in which a rep number comes
// twice are several sets after all: the source began to count anew, per load
// or per exercise.
func (o *arranger) cut(s *sheet, rows []int32, marked bool) {
	t := o.t
	again := false
	for i := 1; i < len(rows) && marked; i++ {
		n := t.RepRecorded.At(rows[i])
		again = again || n.OK && t.RepRecorded.Get(rows[i-1]) == n.V
	}
	if !again {
		s.sets = append(s.sets, Set{Rows: rows, Date: s.date})
		return
	}
	backwards := false
	place := func(a, b int32) int {
		c := ComparePlaces(t, o.rank, a, b)
		if backwards {
			c = -c
		}
		return cmp.Or(cmp.Compare(t.LoadKg.Get(a), t.LoadKg.Get(b)), c)
	}
	sortFunc(rows, place)
	if backwards = o.backwards(rows); backwards {
		sortFunc(rows, place)
	}
	lo := 0
	for i := 1; i <= len(rows); i++ {
		if i == len(rows) || o.between(rows[i-1], rows[i], false) {
			s.sets = append(s.sets, Set{Rows: rows[lo:i], Date: s.date})
			lo = i
		}
	}
}

// backwards reports whether rows of one sheet stand newest first: their rep
// numbers count down more often than up.
func (o *arranger) backwards(rows []int32) bool {
	up, down := 0, 0
	for i := 1; i < len(rows); i++ {
		a, b := o.t.RepRecorded.At(rows[i-1]), o.t.RepRecorded.At(rows[i])
		if a.OK && b.OK && o.t.Row[rows[i-1]] != o.t.Row[rows[i]] {
			switch b.V - a.V {
			case 1:
				up++
			case -1:
				down++
			}
		}
	}
	return down > up
}
