package judge

import (
	"math"

	"repsift/clean/sets"
	"repsift/ingest/rep"
)

// History is one lifter's one lift over the season: the unit of work of
// cleaning, independent of every other. A rep is known by its position in
// Rows; the columns beside it are copies in that order, so that a filter walks
// memory from front to back and a rejoined rep does not touch the table before
// all is settled.
type History struct {
	Lifter, Lift string

	Rows   []int32 // table rows, day by day, set by set, in the order done; copies left out
	Sets   []Set   // they partition Rows
	Days   []Span  // they partition Sets
	Order  []int32 // sets of each day in the order done, as far as two units tell it together
	Copies []sets.Copy
	Logs   []LogDay // what the hand log says, by day
	Joins  []Join   // logged sets laid beside sets

	// By position in Rows, once judged.
	Failed []rep.Kinds // filters that set the rep aside
	Flags  []rep.Kinds // filters that mark it
	Missed []bool      // marked by a source, or recognised

	t    *rep.Table
	rank *sets.Ranks

	load, v, peak, rom, dur []float64     // NaN: missing
	at                      []rep.Instant // noTime: missing

	basic    []rep.Kinds // Failed by the defaults alone: what is learnt rests on it
	marked   []bool      // missed by a source
	counted  []bool      // taken by log count in this pass or one before
	settled  bool        // what is learnt will not change any more
	mark     []uint8
	given    []uint8
	rejoined []rejoined
	found    []finding
	learnt   learnt
	rigs     []rig
	variants []rep.Sym
}

// noTime marks a missing time.
const noTime = math.MinInt64

// Span is a half-open range.
type Span struct{ Lo, Hi int32 }

// Set is one set as one unit recorded it.
type Set struct {
	Span // of the history's rows
	Date rep.Day

	RPE     rep.Null[float64] // of export or hand log
	RPEFrom rep.RPEFrom
	Log     *rep.Logged // the hand log's account, joined
	Twin    int32       // of a second unit's set: 1 + the number of the set that stands; else 0

	rig, variant int32 // number among the history's

	each bool // reps have times of their own
	fine bool // in fractions of a second
}

// Histories groups the rows of t by lifter and lift, both in the order of
// their names.
func Histories(t *rep.Table) []*History {
	rank := sets.NewRanks(&t.Text)
	rows := make([]int32, t.Len())
	for i := range rows {
		rows[i] = int32(i)
	}
	rows = rank.Sort(rank.Sort(rows, t.Lift), t.Lifter)
	var hs []*History
	for lo := 0; lo < len(rows); {
		lifter, lift := t.Lifter[rows[lo]], t.Lift[rows[lo]]
		hi := lo + 1
		for hi < len(rows) && t.Lifter[rows[hi]] == lifter && t.Lift[rows[hi]] == lift {
			hi++
		}
		hs = append(hs, &History{t: t, rank: rank, Lifter: t.Text.Text(lifter), Lift: t.Text.Text(lift), Rows: rows[lo:hi:hi]})
		lo = hi
	}
	return hs
}

// HistoryOf returns the history of one lifter and lift, with what the hand log
// says of it.
func HistoryOf(t *rep.Table, lifter, lift string, logs []LogDay) *History {
	h := &History{t: t, rank: sets.NewRanks(&t.Text), Lifter: lifter, Lift: lift, Logs: logs}
	who, ok := t.Text.Lookup(lifter)
	what, okLift := t.Text.Lookup(lift)
	for i := range t.Len() {
		if ok && okLift && t.Lifter[i] == who && t.Lift[i] == what {
			h.Rows = append(h.Rows, int32(i))
		}
	}
	return h
}

// arrange puts the rows into sets in the order done and takes copies out,
// where the duplicate filter is one that sets aside here.
func (h *History) arrange(filters []*Filter) {
	var opt sets.Options
	if f := h.acting(filters, rep.Duplicate); f != nil {
		opt = sets.Options{Copies: true, Slack: int64(60_000 * f.values(h.Lift)[0])}
	}
	order := sets.Arrange(h.t, h.rank, h.Rows, opt)
	h.Copies = order.Copies
	rows := make([]int32, 0, len(h.Rows))
	for _, o := range order.Sets {
		lo := int32(len(rows))
		rows = append(rows, o.Rows...)
		if n := len(h.Sets); n > 0 && h.Sets[n-1].Date == o.Date {
			h.Days[len(h.Days)-1].Hi++
		} else {
			h.Days = append(h.Days, Span{int32(n), int32(n + 1)})
		}
		h.Order = append(h.Order, int32(len(h.Sets)))
		h.Sets = append(h.Sets, Set{Span: Span{lo, int32(len(rows))}, Date: o.Date})
	}
	h.Rows = rows
	h.findRigs()
	h.fill()
}

// standing reports whether no default filter holds the rep at i to be false.
// That another unit has it too says nothing against it.
func (h *History) standing(i int32) bool { return h.basic[i]&^rep.Kinds(0).With(rep.SecondDevice) == 0 }

// What a source said of a rep, beside its speed.
const (
	travelGiven uint8 = 1 << iota
	timeGiven
	flexTaken // travel was corrected for flex in an earlier run; here stands what was read
)

// fill copies the columns that filters read into the order of Rows.
func (h *History) fill() {
	n := len(h.Rows)
	backing := make([]float64, 5*n)
	h.load, h.v, h.peak = backing[:n:n], backing[n:2*n:2*n], backing[2*n:3*n:3*n]
	h.rom, h.dur = backing[3*n:4*n:4*n], backing[4*n:]
	h.at = make([]rep.Instant, n)
	h.Failed, h.basic, h.Flags = make([]rep.Kinds, n), make([]rep.Kinds, n), make([]rep.Kinds, n)
	h.Missed, h.counted, h.given, h.mark = make([]bool, n), make([]bool, n), make([]uint8, n), make([]uint8, n)
	t := h.t
	for i, r := range h.Rows {
		h.load[i], h.v[i], h.peak[i] = t.LoadKg[r], t.MeanVelocity[r], t.PeakVelocity[r]
		h.rom[i], h.dur[i] = t.ROM[r], t.Concentric[r]
		h.at[i] = t.PerformedAt.At(r).Or(noTime)
		h.Missed[i] = t.Missed[r]
		if t.Flags[r].Has(rep.FlexAllowance) {
			h.given[i] |= flexTaken
			if read := t.Recorded(r).ROM; read.OK && !t.Flags[r].Has(rep.SplitRep) {
				h.rom[i] = read.V
			}
		}
	}
	// Of speed, travel and time, any two give the third: a mean velocity is
	// travel over time.
	for i := range h.v {
		if !math.IsNaN(h.rom[i]) {
			h.given[i] |= travelGiven
		}
		if !math.IsNaN(h.dur[i]) {
			h.given[i] |= timeGiven
		}
		switch {
		case !(h.v[i] > 0):
		case math.IsNaN(h.dur[i]) && h.rom[i] > 0:
			h.dur[i] = h.rom[i] / h.v[i]
		case math.IsNaN(h.rom[i]) && h.dur[i] > 0:
			h.rom[i] = h.dur[i] * h.v[i]
		}
	}
	h.findFine()
}
