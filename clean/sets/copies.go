package sets

import (
	"cmp"
	"math"
	"slices"

	"repsift/ingest/rep"
)

// Copies of a set in two sheets are told by what speaks for them against
// chance, in bits: a mean velocity written to 0.01 m/s that agrees says little
// (reps of one load lie close together), a whole day that agrees in speed and
// travel says all. One rep is never judged alone.
const (
	// Reps of one lifter at one load spread about this much; the chance that
	// two different ones agree within a window w is taken as w over it.
	// Day to day mean velocity has a standard error of 0.03–0.08 m/s (Grgic
	// 2020, squat and deadlift); the others: common practice, no source.
	spreadMean = 0.12 // m/s
	spreadPeak = 0.25 // m/s
	spreadROM  = 0.04 // m
	spreadTime = 0.40 // s

	// Bits from which a set is a copy by itself (one chance agreement in
	// 4,000 pairs), and from which two sheets are known to overlap, so that
	// every agreeing set of theirs is a copy.
	setBits     = 12
	overlapBits = 20
	// What clocks add that agree but for a shift by whole quarters of an hour.
	clockBits = 2
	// Of the smaller sheet's sets on days both have, the share that must
	// agree before the two are known to overlap.
	overlapShare = 0.5
	// The same for sheets that name different units, with every rep agreeing:
	// one unit's exports can bear two names, but two units do not agree so.
	unitsShare = 0.75
	// The share of a set's reps that must agree: a copy may be cut short or
	// have lost a row.
	repShare = 0.6
)

// precision holds the finest written digit of each column of a sheet: exports
// drop trailing zeros, so a single value understates how finely it was read.
type precision struct{ load, mean, peak, rom float64 }

// precisions returns the precision of each sheet, over all days it has.
func (o *Arranger) precisions(sheets []sheet) []precision {
	t := o.t
	finer := func(have *float64, step float64) {
		if step > 0 && (*have == 0 || step < *have) {
			*have = step
		}
	}
	all := make(map[[2]rep.Sym]*precision)
	for i := range sheets {
		k := [2]rep.Sym{sheets[i].source, sheets[i].sheet}
		p := all[k]
		if p == nil {
			p = new(precision)
			all[k] = p
		}
		for _, set := range sheets[i].sets {
			for _, at := range set.Rows {
				r := o.row[at]
				finer(&p.load, t.LoadStep(r))
				finer(&p.mean, t.MeanStep(r))
				finer(&p.peak, t.PeakStep(r))
				finer(&p.rom, t.ROMStep(r))
			}
		}
	}
	out := make([]precision, len(sheets))
	for i := range sheets {
		out[i] = *all[[2]rep.Sym{sheets[i].source, sheets[i].sheet}]
	}
	return out
}

// Window returns how far apart two values may lie that were rounded from one
// to steps a and b: half of each, and nothing where both were rounded alike.
func Window(a, b float64) float64 {
	if math.Abs(a-b) <= 1e-9*math.Max(a, b) {
		return 1e-6
	}
	return (a+b)/2*1.0001 + 1e-6
}

// tolerance is how two sheets may differ in one rep, and what it says where
// they do not.
type tolerance struct {
	load   float64
	window [len(columns{}.measured)]float64
	// bits of each: first for the first rep of a set; then, as reps of a set
	// resemble each other, for another, of which half the spread is left.
	first, next [len(columns{}.measured)]float64
}

func tolerances(a, b precision) *tolerance {
	t := tolerance{load: Window(a.load, b.load)}
	for k, c := range [...]struct{ w, step, spread float64 }{
		{Window(a.mean, b.mean), max(a.mean, b.mean), spreadMean},
		{Window(a.peak, b.peak), max(a.peak, b.peak), spreadPeak},
		{Window(a.rom, b.rom), max(a.rom, b.rom), spreadROM},
		{0.051, 0.1, spreadTime}, // written to 0.1 s or finer
	} {
		t.window[k] = c.w
		t.first[k], t.next[k] = chance(max(2*c.w, c.step), c.spread), chance(max(2*c.w, c.step), 0.5*c.spread)
	}
	return &t
}

// agree compares two reps of different sheets. bits is the evidence that they
// are one rep, by those of the tolerance; same is false where any value both have
// speaks against it.
func (o *Arranger) agree(a, b int32, t *tolerance, evidence *[len(columns{}.measured)]float64) (bits float64, same bool) {
	if math.Abs(o.load[a]-o.load[b]) > t.load {
		return 0, false
	}
	for k := range o.measured {
		d := math.Abs(o.measured[k][a] - o.measured[k][b])
		if math.IsNaN(d) {
			continue // one of them does not say
		}
		if d > t.window[k] {
			return 0, false
		}
		bits += evidence[k]
	}
	return bits, true
}

// chance returns the bits of an agreement within a width of a spread. Where
// digits are unknown, 0.001 is the finest that units write.
func chance(width, spread float64) float64 {
	return math.Max(0, math.Log2(spread/math.Max(width, 0.001)))
}

// pair is a set of one sheet beside the like set of another.
type pair struct {
	a, b   int32 // set numbers within the history's recorded sets
	bits   float64
	beside float64    // of a part of a set: bits of the pair it is a part of
	shared [][2]int32 // rows that agree
	apart  int        // how far from the same place in the day
	shift  int64      // time of b minus time of a, ms, where both are timed
	timed  bool
}

// compareSets aligns the reps of two recorded sets in order and returns what
// agrees. ok is false where too few reps do.
func (o *Arranger) compareSets(a, b *Set, t *tolerance) (p pair, ok bool) {
	if !o.loadsMeet(a, b, t.load) {
		return pair{}, false
	}
	from := len(o.shared)
	p.shared = o.shared[from:]
	share := func(i, j int, first bool) bool {
		evidence := &t.next
		if first {
			evidence = &t.first
		}
		bits, same := o.agree(a.Rows[i], b.Rows[j], t, evidence)
		if same {
			p.bits += bits
			p.shared = append(p.shared, [2]int32{a.Rows[i], b.Rows[j]})
		}
		return same
	}
	for k := 0; k < len(a.Rows) && k < len(b.Rows) && share(k, k, k == 0); k++ {
	}
	if len(p.shared) < max(len(a.Rows), len(b.Rows)) { // rows were lost on one side
		p.bits, p.shared = 0, p.shared[:0]
		for k, at := range o.align(a, b, t) {
			share(at[0], at[1], k == 0)
		}
	}
	short := min(len(a.Rows), len(b.Rows))
	if len(p.shared) == 0 || float64(len(p.shared)) < repShare*float64(short) {
		return pair{}, false
	}
	o.shared = append(o.shared[:from], p.shared...)
	p.shared = o.shared[from:len(o.shared):len(o.shared)]
	if a.at != rep.NoInstant && b.at != rep.NoInstant {
		p.timed, p.shift = true, int64(b.at-a.at)
	}
	return p, true
}

// loadsMeet reports whether any load of a set may be within a window of any of
// another; most sets that are laid beside each other are told apart so.
func (o *Arranger) loadsMeet(a, b *Set, window float64) bool {
	span := func(rows []int32) (lo, hi float64) {
		lo = o.load[rows[0]]
		hi = lo
		for _, r := range rows[1:] {
			lo, hi = min(lo, o.load[r]), max(hi, o.load[r])
		}
		return lo, hi
	}
	if len(a.Rows) == 0 || len(b.Rows) == 0 {
		return false
	}
	loA, hiA := span(a.Rows)
	loB, hiB := span(b.Rows)
	return !(loA-hiB > window) && !(loB-hiA > window)
}

// align returns which rows of two sets agree, by number, in the alignment in
// order that says most.
func (o *Arranger) align(a, b *Set, t *tolerance) (out [][2]int) {
	n, m := len(a.Rows), len(b.Rows)
	cells := room(o.cells, 2*(n+1)*(m+1))
	clear(cells)
	o.cells = cells
	best, bits := cells[:(n+1)*(m+1)], cells[(n+1)*(m+1):] // bits: −1 where rows differ
	at := func(i, j int) int { return i*(m+1) + j }
	any := false
	for i := n - 1; i >= 0; i-- {
		for j := m - 1; j >= 0; j-- {
			x := -1.0
			if told, same := o.agree(a.Rows[i], b.Rows[j], t, &t.next); same {
				x, any = told+1, true // one more, so that a pair that tells nothing is one
			}
			bits[at(i, j)] = x
			best[at(i, j)] = max(best[at(i+1, j)], best[at(i, j+1)], x+best[at(i+1, j+1)])
		}
	}
	for i, j := 0, 0; any && i < n && j < m; {
		switch x := bits[at(i, j)]; {
		case x >= 0 && best[at(i, j)] == x+best[at(i+1, j+1)]:
			out = append(out, [2]int{i, j})
			i, j = i+1, j+1
		case best[at(i, j)] == best[at(i+1, j)]:
			i++
		default:
			j++
		}
	}
	return out
}

// steadyShift drops the pairs of two sheets of a day whose clocks do not
// agree with the rest: a re-export may be in another time zone, but the shift
// is one for all and a whole quarter of an hour.
func steadyShift(pairs []pair, slack int64) []pair {
	if len(pairs) == 0 {
		return pairs
	}
	const quarter = 900_000 // ms
	votes := make(map[int64]int)
	for _, p := range pairs {
		if p.timed {
			votes[(p.shift+sign(p.shift)*quarter/2)/quarter]++
		}
	}
	var zone int64
	for k, n := range votes {
		if n > votes[zone] || n == votes[zone] && abs(k) < abs(zone) {
			zone = k
		}
	}
	return slices.DeleteFunc(pairs, func(p pair) bool {
		return p.timed && abs(p.shift-zone*quarter) > slack
	})
}

func abs(x int64) int64  { return x * sign(x) }
func sign(x int64) int64 { return int64(cmp.Compare(x, 0)) }

// oneToOne keeps, of pairs that share a set, the best: most reps shared, most
// bits, nearest in the day's order.
func oneToOne(pairs []pair) []pair {
	if len(pairs) < 2 {
		return pairs
	}
	slices.SortFunc(pairs, func(p, q pair) int {
		return cmp.Or(cmp.Compare(len(q.shared), len(p.shared)), cmp.Compare(q.bits, p.bits),
			cmp.Compare(p.apart, q.apart), cmp.Compare(p.a, q.a), cmp.Compare(p.b, q.b))
	})
	taken := make(map[int32]bool)
	return slices.DeleteFunc(pairs, func(p pair) bool {
		if taken[p.a] || taken[^p.b] {
			return true
		}
		taken[p.a], taken[^p.b] = true, true
		return false
	})
}

// cutApart adds the pairs of sets that one sheet has in several parts, as one
// that began to count anew within them: a set left over beside one that is
// paired, all of whose reps agree with what is left of the other sheet's set.
// The sets of x and y are numbered from nx and ny.
func (o *Arranger) cutApart(x, y []Set, nx, ny int32, t *tolerance, pairs []pair) []pair {
	if len(pairs) == 0 || len(pairs) == min(len(x), len(y)) && len(x) == len(y) {
		return pairs
	}
	of := [2]map[int32]int32{{}, {}} // set of either sheet → the other's, one more
	bits := make(map[int32]float64)  // of the pair that a set is in
	taken := make(map[int32]bool)    // rows
	for _, p := range pairs {
		of[0][p.a], of[1][p.b] = p.b+1, p.a+1
		bits[p.a], bits[^p.b] = p.bits, p.bits
		for _, s := range p.shared {
			taken[s[0]], taken[s[1]] = true, true
		}
	}
	left := func(s *Set) Set {
		return Set{at: rep.NoInstant, Rows: slices.DeleteFunc(slices.Clone(s.Rows), func(r int32) bool { return taken[r] })}
	}
	add := func(p pair) {
		for _, s := range p.shared {
			taken[s[0]], taken[s[1]] = true, true
		}
		pairs = append(pairs, p)
	}
	beside := func(from map[int32]int32, k, step, n, of int32) (int32, bool) { // of what the neighbour of set k is a part
		if from[k] > 0 || k+step < n || k+step >= n+of {
			return 0, false
		}
		up := from[k+step]
		return up - 1, up > 0
	}
	for _, step := range [...]int32{-1, 1} {
		for i := range y { // parts in y of a set in x
			k := ny + int32(i)
			if step > 0 {
				k = ny + int32(len(y)-1-i)
			}
			if up, ok := beside(of[1], k, step, ny, int32(len(y))); ok {
				whole, part := left(&x[up-nx]), &y[k-ny]
				if p, ok := o.compareSets(&whole, part, t); ok && len(p.shared) == len(part.Rows) {
					p.a, p.b, p.beside = up, k, bits[up]
					of[1][k] = up + 1
					add(p)
				}
			}
		}
		for i := range x {
			k := nx + int32(i)
			if step > 0 {
				k = nx + int32(len(x)-1-i)
			}
			if up, ok := beside(of[0], k, step, nx, int32(len(x))); ok {
				part, whole := &x[k-nx], left(&y[up-ny])
				if p, ok := o.compareSets(part, &whole, t); ok && len(p.shared) == len(part.Rows) {
					p.a, p.b, p.beside = k, up, bits[^up]
					of[0][k] = up + 1
					add(p)
				}
			}
		}
	}
	return pairs
}

// Alike is two sheets and what they have in common over the season.
type Alike struct {
	Overlap
	Open bool // sets are alike that alone say too little
	like likeness
}

// Overlapping reports whether two sheets are known to hold the same sets, by
// what they have in common in each of some lifts.
func Overlapping(all []Alike) bool {
	var sum likeness
	for _, a := range all {
		sum.bits += a.like.bits
		sum.agreed += a.like.agreed
		sum.sets += a.like.sets
		sum.whole += a.like.whole
		sum.units = sum.units || a.like.units
	}
	return sum.overlap()
}

// likeness is what two sheets have in common over the season.
type likeness struct {
	bits         float64
	agreed, sets int  // sets that agree, of the sets of the smaller on shared days
	whole        int  // of those that agree, with every rep
	units        bool // the sheets name different units
}

// overlap reports whether the sheets are known to hold the same sets. Two
// units that read one set often agree in a rep or two, but not in all.
func (l likeness) overlap() bool {
	if l.units && float64(l.whole) < unitsShare*float64(l.sets) {
		return false
	}
	return l.bits >= overlapBits && float64(l.agreed) >= overlapShare*float64(l.sets)
}
