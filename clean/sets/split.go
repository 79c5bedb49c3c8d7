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

// sheets orders the rows and splits each day's rows of each sheet into sets.
// In-sheet copies go to o.copies.
func (o *Arranger) sheets() []sheet {
	o.placed = slices.IsSorted(o.row) && slices.IsSortedFunc(o.rows, o.comparePlaces)
	byDate := func(a, b int32) int { return cmp.Compare(o.date[a], o.date[b]) }
	o.inOrder = o.placed && slices.IsSortedFunc(o.rows, byDate)
	switch {
	case o.inOrder:
	case o.placed: // the usual: sources by name, each in the order of its lines
		o.byDay()
	default:
		slices.SortFunc(o.rows, func(a, b int32) int { return cmp.Or(byDate(a, b), o.comparePlaces(a, b)) })
	}
	out := o.days[:0]
	for lo := 0; lo < len(o.rows); {
		first := o.rows[lo]
		hi := lo + 1
		for hi < len(o.rows) && o.date[o.rows[hi]] == o.date[first] && o.sheet[o.rows[hi]] == o.sheet[first] {
			hi++
		}
		s := sheet{date: o.date[first], source: o.t.Source.At(o.row[first]), sheet: o.t.Sheet.At(o.row[first])}
		o.split(&s, o.rows[lo:hi])
		out = append(out, s)
		lo = hi
	}
	o.days = out
	o.join(out)
	return out
}

// byDay puts rows in the order of their days, those of a day as they stand.
func (o *Arranger) byDay() {
	first, last := slices.Min(o.date), slices.Max(o.date)
	if int(last)-int(first) > 16*len(o.rows) { // a slip in a date
		slices.SortStableFunc(o.rows, func(a, b int32) int { return cmp.Compare(o.date[a], o.date[b]) })
		return
	}
	at := make([]int32, last-first+2) // where the next row of each day goes
	for _, r := range o.rows {
		at[o.date[r]-first+1]++
	}
	for d := 1; d < len(at); d++ {
		at[d] += at[d-1]
	}
	for r := range int32(len(o.rows)) {
		d := o.date[r] - first
		o.rows[at[d]] = r
		at[d]++
	}
}

// split puts rows, all of one day and sheet, in the order done and cuts them
// into sets: by set mark where every row has one, else by load, rig, rep
// number and time.
func (o *Arranger) split(s *sheet, rows []int32) {
	marked, timed := true, true
	for _, r := range rows {
		marked = marked && o.mark[r] != rep.NoInt
		timed = timed && o.time[r] != rep.NoInstant
	}
	anew := false
	if !marked || !o.plain(rows) {
		rows, anew = o.putInOrder(rows, marked, timed)
	}
	o.runOn = !marked && o.numbersRunOn(rows)
	from, lo := len(o.cuts), 0
	for i := 1; i <= len(rows); i++ {
		if i < len(rows) && !o.between(rows[i-1], rows[i], marked) && !(anew && o.otherLoad(rows[i-1], rows[i])) {
			continue
		}
		o.cut(s.date, rows[lo:i], marked)
		lo = i
	}
	s.sets = o.cuts[from:len(o.cuts):len(o.cuts)]
	s.perRep = timed && o.timesOfReps(rows)
	s.perSet = timed && !s.perRep && slices.ContainsFunc(rows, func(r int32) bool { return o.time[r]%60_000 != 0 })
	s.timed = true
	for i := range s.sets {
		set := &s.sets[i]
		set.at = o.earliest(set.Rows)
		s.timed = s.timed && set.at != rep.NoInstant
	}
}

// plain reports whether rows, which all bear a mark, stand as most exports have
// them: marks rise and, under each, rep numbers do; one rig throughout, and one
// load to a mark. Then there is nothing to put in order, and nothing twice.
func (o *Arranger) plain(rows []int32) bool {
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1], rows[i]
		if o.rig[a] != o.rig[b] || o.mark[a] > o.mark[b] ||
			o.mark[a] == o.mark[b] && (o.rep[a] == rep.NoInt || o.rep[a] >= o.rep[b] || o.otherLoad(a, b)) {
			return false
		}
	}
	return true
}

// putInOrder puts rows of one day and sheet in the order done, as far as the
// source tells it, and takes those out that it holds twice. anew says that marks
// begin anew at every load.
func (o *Arranger) putInOrder(rows []int32, marked, timed bool) (left []int32, anew bool) {
	switch {
	case marked:
		sortFunc(rows, func(a, b int32) int {
			if o.mark[a] != o.mark[b] {
				return cmp.Compare(o.mark[a], o.mark[b])
			}
			return cmp.Or(cmp.Compare(o.rig[a], o.rig[b]), o.compareReps(a, b))
		})
	case timed:
		sortFunc(rows, func(a, b int32) int {
			if o.time[a] != o.time[b] {
				return cmp.Compare(o.time[a], o.time[b])
			}
			return o.compareReps(a, b)
		})
		o.countedAnew(rows)
	case o.backwards(rows):
		slices.Reverse(rows)
	}
	if o.tell {
		rows = o.dropTwice(rows, timed && o.timesOfReps(rows))
	}
	anew = marked && o.marksBeginAnew(rows)
	if anew {
		o.byLoad(rows)
	}
	return rows, anew
}

// earliest returns the first time that rows bear.
func (o *Arranger) earliest(rows []int32) rep.Instant {
	at := o.time[rows[0]]
	for _, r := range rows[1:] {
		if x := o.time[r]; x != rep.NoInstant && (x < at || at == rep.NoInstant) {
			at = x
		}
	}
	return at
}

// countedAnew puts rows of one time, in which a rep number comes twice, in the
// order of their lines: a source with times of sets began to count anew.
func (o *Arranger) countedAnew(rows []int32) {
	for lo := 0; lo < len(rows); {
		hi, again := lo+1, false
		for ; hi < len(rows) && o.time[rows[hi]] == o.time[rows[lo]]; hi++ {
			again = again || o.sameNumber(rows[hi-1], rows[hi])
		}
		if same := rows[lo:hi]; again {
			slices.SortFunc(same, o.comparePlaces)
			if o.backwards(same) {
				slices.Reverse(same)
			}
		}
		lo = hi
	}
}

// sameNumber reports whether two rows bear the same rep number.
func (o *Arranger) sameNumber(a, b int32) bool { return o.rep[a] == o.rep[b] && o.rep[b] != rep.NoInt }

// timesOfReps reports whether rows, in order of time, bear times of reps and
// not of sets: most are different, though each may stand there twice.
func (o *Arranger) timesOfReps(rows []int32) bool {
	different := 0
	for i, r := range rows {
		if i == 0 || o.time[r] != o.time[rows[i-1]] {
			different++
		}
	}
	return 2*different >= len(rows)
}

// between reports whether a new set begins at b, the row after a.
func (o *Arranger) between(a, b int32, marked bool) bool {
	if o.rig[a] != o.rig[b] {
		return true
	}
	if marked {
		return o.mark[a] != o.mark[b]
	}
	if o.otherLoad(a, b) {
		return true
	}
	numbered := o.rep[a] != rep.NoInt && o.rep[b] != rep.NoInt && !o.runOn
	if numbered && o.rep[b] <= o.rep[a] {
		return true
	}
	if o.time[a] == rep.NoInstant || o.time[b] == rep.NoInstant {
		return false
	}
	gap := o.time[b] - o.time[a]
	return gap > longestGap || gap > setGap && !numbered
}

// numbersRunOn reports whether rep numbers run through the day, over changes of
// load: then they say nothing of where a set ends.
func (o *Arranger) numbersRunOn(rows []int32) bool {
	on, anew := 0, 0
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1], rows[i]
		switch {
		case o.rep[a] == rep.NoInt || o.rep[b] == rep.NoInt || !o.otherLoad(a, b):
		case o.rep[b] == o.rep[a]+1:
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
func (o *Arranger) join(sheets []sheet) {
	gap := func(a, b *Set) int64 { // from the last rep of a
		last := len(a.Rows) - 1
		g := int64(o.time[b.Rows[0]] - o.time[a.Rows[last]])
		if g > 0 && last > 0 && o.time[a.Rows[0]] == o.time[a.Rows[last]] {
			g = max(0, g-oneRep*int64(last))
		}
		return g
	}
	short := func(a, b *Set) bool {
		g := gap(a, b)
		return g >= 0 && g <= sameSet && o.rig[a.Rows[0]] == o.rig[b.Rows[0]] && !o.otherLoad(a.Rows[0], b.Rows[0])
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

// marksBeginAnew reports whether rows, in order of their marks, bear one mark
// at several loads: the source counts sets anew at every load.
func (o *Arranger) marksBeginAnew(rows []int32) bool {
	for i := 1; i < len(rows); i++ {
		if o.mark[rows[i]] == o.mark[rows[i-1]] && o.otherLoad(rows[i-1], rows[i]) {
			return true
		}
	}
	return false
}

// byLoad puts rows whose marks begin anew at every load in order: sets by the
// place of their first line, or of their last, where lines stand newest first.
func (o *Arranger) byLoad(rows []int32) {
	type key struct {
		load      int64
		mark, rig int32
	}
	keyOf := func(r int32) key { return key{int64(math.Round(10 * o.load[r])), o.mark[r], o.rig[r]} }
	first := make(map[key]int32)
	for _, r := range rows {
		k := keyOf(r)
		if at, ok := first[k]; !ok || o.line[r] < at {
			first[k] = o.line[r]
		}
	}
	backwards := o.backwards(slices.SortedFunc(slices.Values(rows), o.comparePlaces))
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

// cut adds rows as one set. Rows under one mark in which a rep number comes
// twice are several sets after all: the source began to count anew, per load
// or per exercise.
func (o *Arranger) cut(date rep.Day, rows []int32, marked bool) {
	again := false
	for i := 1; i < len(rows) && marked; i++ {
		again = again || o.sameNumber(rows[i-1], rows[i])
	}
	if !again {
		o.cuts = append(o.cuts, Set{Rows: rows, Date: date})
		return
	}
	backwards := false
	place := func(a, b int32) int {
		c := o.comparePlaces(a, b)
		if backwards {
			c = -c
		}
		return cmp.Or(cmp.Compare(o.load[a], o.load[b]), c)
	}
	sortFunc(rows, place)
	if backwards = o.backwards(rows); backwards {
		sortFunc(rows, place)
	}
	lo := 0
	for i := 1; i <= len(rows); i++ {
		if i == len(rows) || o.between(rows[i-1], rows[i], false) {
			o.cuts = append(o.cuts, Set{Rows: rows[lo:i], Date: date})
			lo = i
		}
	}
}

// backwards reports whether rows of one sheet stand newest first: their rep
// numbers count down more often than up.
func (o *Arranger) backwards(rows []int32) bool {
	up, down := 0, 0
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1], rows[i]
		if o.rep[a] != rep.NoInt && o.rep[b] != rep.NoInt && o.line[a] != o.line[b] {
			switch o.rep[b] - o.rep[a] {
			case 1:
				up++
			case -1:
				down++
			}
		}
	}
	return down > up
}
