package shorthand

import (
	"fmt"
	"math"

	"repsift/ingest/unit"
)

// numbers reads a part that begins with a number or its sign.
func (p *parser) numbers() {
	from := p.i
	t := p.token(p.i)
	if t.kind == number {
		if p.speeds() || p.effortBefore() {
			return
		}
		if p.countsMisses(t) {
			p.miss(int(t.v))
			p.i += 2
			return
		}
		if p.label() || p.clock() {
			return
		}
		if w := p.token(p.i + 1); w.kind == word && w.glued && w.meaning == noMeaning && !isUnit(w.word) && p.before == 0 &&
			p.cur.hasReps() && !t.glued && p.token(p.i+2).kind != times {
			from := p.i
			p.i++
			p.glue(from) // 2ct pause
			return
		}
	}
	if p.cur.words && !p.product3(from) {
		p.cur.comment = append(p.cur.comment, t.text)
		if p.i++; t.kind != number {
			p.i++
		}
		return
	}
	p.product()
}

// countsMisses reports whether the number t at the next token counts missed
// reps ("180x5, 1 missed") and is not one more set, missed itself ("140/5/5/4
// miss").
func (p *parser) countsMisses(t token) bool {
	next := p.token(p.i + 1)
	if next.meaning != wordMiss || next.glued || t.decimals != 0 || !p.cur.hasReps() || p.token(p.i+2).kind == number {
		return false
	}
	if len(p.cur.list) > 0 {
		return p.before != p.cur.listSep
	}
	last := p.cur.counts[len(p.cur.counts)-1]
	return (p.before == ',' || p.before == 0) && (t.v < last.v || last.v == 1)
}

// label skips the number in front of an entry: "1) 180x5", "2. 180x3".
func (p *parser) label() bool {
	shut, next := p.token(p.i+1), p.token(p.i+2)
	if p.cur.says() || !shut.glued || shut.sign != ')' && shut.sign != '.' || next.kind == end || next.glued {
		return false
	}
	p.i += 2
	return true
}

// clock keeps a time of day or a duration as a word: "10:30", "rest 3:00".
func (p *parser) clock() bool {
	colon, minutes := p.token(p.i+1), p.token(p.i+2)
	if colon.sign != ':' || !colon.glued || minutes.kind != number || !minutes.glued || len(minutes.text) != 2 || p.token(p.i).v >= 24 {
		return false
	}
	from := p.i
	for p.i += 3; p.token(p.i).sign == ':' && p.token(p.i).glued && p.token(p.i+1).kind == number && p.token(p.i+1).glued; p.i += 2 {
	}
	p.cur.comment = append(p.cur.comment, p.wholeText(from, p.i))
	return true
}

// product3 reports whether a product follows, x and all: what is read even
// behind words.
func (p *parser) product3(i int) bool {
	if s := p.token(i).sign; s == '+' || s == '-' {
		i++
	}
	t := p.token(i)
	if t.kind != number {
		return false
	}
	i++
	_, q, size := p.quantity(i)
	if q == unit.Load || q == unit.Count {
		i += size
	}
	return p.token(i).kind == times && p.token(i).meaning != wordOf && p.token(i+1).kind == number
}

// product reads terms joined by x and lays them into the entry.
func (p *parser) product() {
	from := p.i
	soft := p.before
	terms := []term{p.term()}
	for p.err == nil && p.token(p.i).kind == times && p.startsTerm(p.i+1) && !p.endsWithMiss(p.i) {
		p.i++
		terms = append(terms, p.term())
	}
	if p.err != nil {
		return
	}
	load, counts, problem := p.divide(terms)
	if problem != "" {
		p.fail(from, "%q: %s", p.wholeText(from, p.i), problem)
		return
	}
	p.lay(from, soft, load, counts)
	if t := p.token(p.i); p.err == nil && t.meaning == wordMiss && t.glued && len([]rune(t.word)) == 1 { // 180x1F
		p.miss(0)
		p.i++
	}
}

func (p *parser) startsTerm(i int) bool {
	t := p.token(i)
	return t.kind == number || t.meaning == wordBodyweight || t.meaning == wordBar || t.meaning == wordAMRAP ||
		t.meaning == wordMiss && t.glued
}

// divide tells the load of a product from its counts.
func (p *parser) divide(terms []term) (load *term, counts []term, problem string) {
	if problem = p.lastUnit(terms); problem != "" {
		return nil, nil, problem
	}
	if t := terms[0]; len(terms) == 1 && t.kind == NoLoad && !t.whole && t.v < minLoad {
		return nil, nil, "a load, an RPE or a speed?"
	}
	var loads []int
	for i, t := range terms {
		if t.isLoad(p.opt) {
			loads = append(loads, i)
		}
		if t.kind == NoLoad && (t.v < 0 || t.v > maxLoadV) {
			return nil, nil, "is no load"
		}
	}
	at := -1
	switch {
	case len(terms) > 3:
		return nil, nil, "more than load, sets and reps"
	case len(loads) == 0:
		if len(terms) == 3 {
			return nil, nil, fmt.Sprintf("which number is the load? None is %d or more or has a unit", minLoad)
		}
	case len(loads) == 1:
		at = loads[0]
	default:
		at = p.choose(terms, loads)
		if at < 0 {
			return nil, nil, "which number is the load?"
		}
	}
	for i, t := range terms {
		if i == at {
			load = &terms[i]
			continue
		}
		if t.kind != NoLoad || !t.whole || t.v > maxReps {
			return nil, nil, "a number that is neither load nor reps"
		}
		counts = append(counts, t)
	}
	return load, counts, ""
}

// lastUnit moves a unit behind a small number to the load in front: "405x5 lb".
// Where the number in front may count too ("25x15 kg") it says so.
func (p *parser) lastUnit(terms []term) string {
	first, last := &terms[0], &terms[len(terms)-1]
	if len(terms) < 2 || last.kind != Absolute || !last.whole || last.v >= minLoad || first.kind != NoLoad || first.v < minLoad {
		return ""
	}
	if first.v <= maxCount && first.whole {
		return "which number is the load?"
	}
	first.kind, first.unit = Absolute, last.unit
	last.kind, last.unit = NoLoad, ""
	return ""
}

// choose picks the load where several numbers of a product could be: the only
// one with a unit or fraction, else the first of two (100x20), else the last of
// three that do not begin with one (3x20x60); -1 where that leaves two.
func (p *parser) choose(terms []term, loads []int) int {
	marked := -1
	for _, i := range loads {
		if terms[i].kind != NoLoad || !terms[i].whole {
			if marked >= 0 {
				return -1
			}
			marked = i
		}
	}
	switch {
	case marked >= 0:
		return marked
	case len(terms) == 2:
		return 0
	case loads[0] > 0:
		return len(terms) - 1
	}
	return -1
}

// lay puts a load and counts into the entry, or into a new one where this one
// has them.
func (p *parser) lay(from int, soft rune, load *term, counts []term) {
	d := &p.cur
	if load == nil && len(counts) == 1 && d.hasReps() {
		c := counts[0]
		if len(d.counts) == 1 && d.counts[0].tag != c.tag && d.counts[0].tag != noTag && c.tag != noTag {
			d.counts = append(d.counts, c) // 3 sets, 5 reps
			return
		}
		if c.tag == noTag && !c.amrap {
			p.more(from, soft, c)
			return
		}
	}
	if load != nil && d.hasLoad() || len(counts) > 0 && d.hasReps() || len(counts) > 0 && load != nil && len(d.Speeds) > 0 && soft != 0 {
		p.flush()
		d = &p.cur
	}
	if load != nil {
		p.setLoad(from, *load)
		d.LoadFirst = len(counts) == 2 && p.loadInFront(from)
	}
	d.counts = append(d.counts, counts...)
	d.joined = load != nil && len(counts) > 0
}

// loadInFront reports whether the product at token i begins with its load.
func (p *parser) loadInFront(i int) bool {
	save := p.i
	p.i = i
	first := p.term()
	p.i = save
	return first.isLoad(p.opt)
}

// more adds a number behind reps: the second 5 of 140/5/5/4, or, where an
// effort follows each, another set at the same load ("180: 5 @8, 5 @8.5").
func (p *parser) more(from int, soft rune, count term) {
	d := &p.cur
	if len(d.counts) == 1 && d.counts[0].amrap && count.whole && count.v <= maxReps {
		d.counts[0] = count // 140xAMRAP 8
		return
	}
	if t := p.token(p.i); d.RPE > 0 && len(d.counts) == 1 && count.whole &&
		(t.sign == '@' || t.meaning == wordRPE || t.meaning == wordRIR) {
		load := d.Load
		p.flush()
		p.cur.Load, p.cur.counts = load, []term{count}
		return
	}
	first := len(d.list) == 0
	if d.RPE > 0 || len(d.Speeds) > 0 || d.made >= 0 || d.Missed > 0 || d.miss || !count.whole || count.v > maxReps ||
		!first && soft != d.listSep || first && d.joined && soft == 0 ||
		first && len(d.counts) > 0 && d.counts[len(d.counts)-1].amrap {
		p.fail(from, "what does %q count?", p.wholeText(from, p.i))
		return
	}
	if first {
		d.list = []int{int(d.counts[len(d.counts)-1].v)}
		if len(d.counts) == 1 {
			d.counts = nil
		}
	}
	d.listSep = soft
	p.setList(from, append(d.list, int(count.v)))
}

func (p *parser) setList(from int, list []int) {
	for _, n := range list {
		if n > maxReps {
			p.fail(from, "%d reps are too many for a set", n)
		}
	}
	if len(list) > maxEntries {
		p.fail(from, "more than %d sets in one text", maxEntries)
	}
	p.cur.list = list
}

func (p *parser) setLoad(from int, t term) {
	kind := t.kind
	if kind == NoLoad {
		kind = Absolute
	}
	if p.cur.hasLoad() {
		p.fail(from, "two loads for one set: %q", p.wholeText(0, p.i))
		return
	}
	if t.kind == NoLoad && (t.v < 1 || t.v < 3 && t.step < 0.05) {
		p.fail(from, "%q: a speed where a load should stand", p.wholeText(from, p.i))
		return
	}
	if (kind == Absolute || kind == PercentMax) && t.v <= 0 {
		p.fail(from, "a load of %v", t.v)
		return
	}
	if math.Abs(t.v) > maxLoadV {
		p.fail(from, "%v is too large for a load", t.v)
		return
	}
	p.cur.Load = Load{Kind: kind, V: t.v, Step: t.step, Unit: t.unit}
	if kind == EmptyBar || kind == Bodyweight && t.v == 0 {
		p.cur.Load.Step = 0
	}
}
