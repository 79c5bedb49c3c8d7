package shorthand

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// flush ends the entry and begins the next.
func (p *parser) flush() {
	d := p.cur
	p.reset()
	p.before = 0
	words := strings.Join(d.comment, " ")
	switch {
	case p.err != nil:
		return
	case !d.says():
		if n := len(p.out); n > 0 {
			p.out[n-1].Comment = join(p.out[n-1].Comment, words)
		} else {
			p.lead = join(p.lead, words)
		}
		return
	case !d.hasLoad() && !d.hasReps() && len(d.Speeds) == 0:
		p.effortAlone(&d)
		return
	case len(p.out) >= maxEntries:
		p.fail(p.i, "more than %d sets in one text", maxEntries)
		return
	}
	if problem := d.settle(p.opt); problem != "" {
		p.err = &Error{Text: p.text, Pos: d.from, Problem: problem}
		return
	}
	d.Comment = join(p.lead, words)
	p.lead = ""
	d.Text = p.text[d.from:d.to]
	if len(d.loads) > 0 {
		p.out = append(p.out, d.eachLoad()...)
		return
	}
	p.out = append(p.out, d.Entry)
}

// eachLoad parts an entry with a load for each set into its sets. One RPE for
// all belongs to the last (common practice, no source).
func (d *draft) eachLoad() []Entry {
	var out []Entry
	for i, load := range append([]Load{d.Load}, d.loads...) {
		e := d.Entry
		e.Load, e.Sets, e.RPEList, e.Ambiguous = load, 0, nil, false
		if load.Unit == "" {
			e.Load.Unit = d.loads[len(d.loads)-1].Unit
		}
		if n := len(d.RepsList); n > 0 {
			e.Reps, e.RepsList = d.RepsList[i], nil
		}
		last := i == len(d.loads)
		if len(d.RPEList) > 0 {
			e.RPE = d.RPEList[i]
		} else if !last {
			e.RPE, e.RPEHigh = 0, 0
		}
		if !last {
			e.Missed, e.Speeds = 0, nil
		} else {
			e.nameLoneSpeed()
		}
		out = append(out, e)
	}
	return out
}

// nameLoneSpeed lays the one speed of a set of one rep to that rep.
func (e *Entry) nameLoneSpeed() {
	if e.Reps == 1 && e.Sets <= 1 && len(e.Speeds) == 1 && e.Speeds[0].Which == UnsaidRep {
		e.Speeds[0].Which = EachRep
	}
}

// effortAlone gives an RPE behind a separator ("180x5; @8") to the entry before.
func (p *parser) effortAlone(d *draft) {
	n := len(p.out)
	if d.RPE == 0 && n > 0 && p.out[n-1].Missed == 0 && p.out[n-1].Load.Kind != NoLoad { // "180x1; miss"
		e := &p.out[n-1]
		e.Missed = 1
		if e.Reps == 0 && len(e.RepsList) == 0 {
			e.Reps = 1
			e.nameLoneSpeed()
		}
		return
	}
	if n == 0 || d.RPE == 0 || p.out[n-1].RPE != 0 {
		p.err = &Error{Text: p.text, Pos: max(d.from, 0), Problem: strconv.Quote(clip(p.text[max(d.from, 0):d.to])) + " belongs to no set"}
		return
	}
	e := &p.out[n-1]
	if k := len(d.RPEList); k > 0 && k != e.Sets {
		p.err = &Error{Text: p.text, Pos: d.from, Problem: fmt.Sprintf("%d RPEs for %d sets", k, max(e.Sets, 1))}
		return
	}
	e.RPE, e.RPEHigh, e.RPEList = d.RPE, d.RPEHigh, d.RPEList
	e.Comment = join(e.Comment, strings.Join(d.comment, " "))
}

func join(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + " " + b
}

// settle tells sets from reps and checks the entry. It returns what is wrong,
// "" for nothing.
func (d *draft) settle(opt Options) string {
	switch len(d.counts) {
	case 0:
	case 1:
		if c := d.counts[0]; c.tag == tagSets {
			d.Sets = int(c.v)
		} else if !c.amrap {
			d.count(int(c.v))
		}
	case 2:
		if problem := d.pair(opt); problem != "" {
			return problem
		}
	default:
		return "more than sets and reps"
	}
	if problem := d.listed(); problem != "" {
		return problem
	}
	if problem := d.misses(); problem != "" {
		return problem
	}
	return d.check()
}

// count sets the reps; none made is one tried and failed.
func (d *draft) count(reps int) {
	d.Reps = reps
	if reps == 0 {
		d.Reps, d.Missed = 1, 1
	}
}

// pair tells which of two numbers counts sets.
func (d *draft) pair(opt Options) string {
	a, b := d.counts[0], d.counts[1]
	order, told := d.told()
	if a.amrap || b.amrap {
		sets := a
		if a.amrap {
			sets = b
		}
		d.Sets = int(sets.v)
		return ""
	}
	if !told {
		order = opt.Order
		if d.LoadFirst {
			order = opt.LoadFirst
		}
	}
	if order == Undecided {
		order, told = bySize(a.v, b.v)
	}
	d.first, d.second, d.by = int(a.v), int(b.v), Undecided
	if told {
		d.by = order
	}
	sets, reps := a, b
	if order == RepsSets {
		sets, reps = b, a
	}
	d.Ambiguous = order == Undecided && a.v != b.v
	d.Sets = int(sets.v)
	if d.Ambiguous && a.v > maxSets {
		return fmt.Sprintf("%vx%v: which number counts the sets?", a.v, b.v)
	}
	if d.Sets == 0 || d.Ambiguous && b.v == 0 {
		return fmt.Sprintf("%vx%v: no set has been done", a.v, b.v)
	}
	d.count(int(reps.v))
	return ""
}

// told returns the order of the pair where the entry itself tells it: by words,
// by the length of a list beside it, by more reps made than the other reading
// has.
func (d *draft) told() (Order, bool) {
	a, b := d.counts[0], d.counts[1]
	switch {
	case a.tag == tagSets || b.tag == tagReps:
		return SetsReps, true
	case a.tag == tagReps || b.tag == tagSets:
		return RepsSets, true
	}
	for _, n := range []int{len(d.list), len(d.RPEList), len(d.loads) + 1} {
		if n <= 1 || a.v == b.v {
			continue
		}
		if n == int(a.v) {
			return SetsReps, true
		}
		if n == int(b.v) {
			return RepsSets, true
		}
	}
	if m := float64(d.made); d.made >= 0 {
		switch {
		case m > a.v && m <= b.v:
			return SetsReps, true
		case m > b.v && m <= a.v:
			return RepsSets, true
		}
	}
	return Undecided, false
}

// bySize tells the order of a pair of which one number is too large to count
// sets. (Common practice, no source.)
func bySize(a, b float64) (Order, bool) {
	switch {
	case a <= maxSets && b > maxSets:
		return SetsReps, true
	case a > maxSets && b <= maxSets:
		return RepsSets, true
	}
	return Undecided, false
}

// listed lays the lists of reps, RPEs and loads into the entry and holds their
// lengths against the number of sets.
func (d *draft) listed() string {
	if n := len(d.list); n > 0 {
		if d.listSep == '-' && n == 2 {
			return fmt.Sprintf("%d-%d: a range of reps or two sets?", d.list[0], d.list[1])
		}
		if d.listSep == '/' && n == 2 && d.joined && d.list[0] < d.list[1] {
			return fmt.Sprintf("%d/%d: two sets, or %d reps made of %d?", d.list[0], d.list[1], d.list[0], d.list[1])
		}
		if d.Sets > 0 && d.Sets != n {
			return fmt.Sprintf("%d sets, but the reps of %d", d.Sets, n)
		}
		d.Sets, d.Reps, d.RepsList = n, 0, d.list
		if last := &d.list[n-1]; *last == 0 {
			*last, d.Missed = 1, 1
		}
		for _, r := range d.list {
			if r == 0 {
				return "a set of no reps before another"
			}
		}
		d.Ambiguous = false
	}
	if n := len(d.RPEList); n > 0 {
		if d.Sets == 0 && d.Reps > 0 {
			d.Sets = n
		}
		if d.Sets != n {
			return fmt.Sprintf("%d RPEs for %d sets", n, max(d.Sets, 1))
		}
	}
	if n := len(d.loads); n > 0 && n+1 != d.Sets {
		return fmt.Sprintf("%d loads for %d sets", n+1, max(d.Sets, 1))
	}
	return ""
}

// misses lays the missed reps into the entry.
func (d *draft) misses() string {
	reps := &d.Reps
	if n := len(d.RepsList); n > 0 {
		reps = &d.RepsList[n-1]
	}
	if d.tried > 0 {
		if d.Ambiguous { // read the other way the missed reps are others
			return fmt.Sprintf("%dx%d and %d missed: which number counts the sets?", d.first, d.second, d.tried)
		}
		*reps += d.tried
		d.Missed += d.tried
	}
	if open := len(d.counts) == 1 && d.counts[0].amrap && *reps == 0; d.made > 0 && open {
		*reps = d.made // 140xAMRAP (9)
	}
	if d.made >= 0 {
		if d.made > *reps {
			return fmt.Sprintf("(%d) beside %d reps: reps made, or an RPE?", d.made, *reps)
		}
		d.Missed = *reps - d.made
	}
	if d.miss && d.Missed == 0 {
		d.Missed = max(1, d.crosses)
	}
	if *reps == 0 && d.Missed > 0 {
		*reps = d.Missed
	}
	if d.Missed > *reps || d.Missed >= minLoad {
		return fmt.Sprintf("%d missed of %d reps", d.Missed, *reps)
	}
	return ""
}

func (d *draft) check() string {
	if d.Load.Kind == NoLoad && d.Sets == 0 && d.Reps == 0 && len(d.Speeds) == 0 {
		return "no set in it"
	}
	if d.Sets > maxEntries {
		return fmt.Sprintf("%d sets are too many", d.Sets)
	}
	unsaid, said := 0, 0
	for i := range d.Speeds {
		if s := &d.Speeds[i]; s.Which == UnsaidRep && d.Reps == 1 && d.Sets <= 1 {
			s.Which = EachRep
		} else if s.Which == UnsaidRep {
			unsaid++
		} else {
			said++
		}
	}
	slices.SortStableFunc(d.Speeds, func(a, b Speed) int { // those of the reps in order come first
		return cmp.Compare(min(a.Which, First), min(b.Which, First))
	})
	if unsaid > 1 || unsaid > 0 && said > 0 {
		return "of which rep is each speed?"
	}
	return ""
}
