package shorthand

import "repsift/ingest/unit"

// leadingTimes reads an x that no product took: "x3" behind an entry is its
// sets, "x5" behind a separator another set at the same load, and an x with no
// number behind it a missed rep.
func (p *parser) leadingTimes() {
	t, next := p.token(p.i), p.token(p.i+1)
	switch {
	case t.meaning == wordOf || p.cur.words && next.kind != number:
		p.comment(p.i)
		p.i++
	case next.kind == number && next.decimals == 0 && !p.endsWithMiss(p.i):
		from := p.i
		p.i++
		count := p.term()
		switch {
		case p.err != nil:
		case count.isLoad(p.opt) && !p.cur.hasLoad():
			p.setLoad(from, count)
		case count.kind != NoLoad || !count.whole || count.v > maxReps:
			p.fail(from, "%q is no number of reps", clip(p.text[t.from:p.token(p.i-1).to]))
		case p.cur.hasReps() && p.before == 0 && len(p.cur.counts) == 1 && len(p.cur.list) == 0:
			p.cur.counts = append(p.cur.counts, count)
			p.cur.LoadFirst = p.cur.hasLoad()
		default:
			if p.cur.hasReps() {
				load := p.cur.Load
				p.flush()
				p.cur.Load = load
			}
			p.cur.counts = append(p.cur.counts, count)
		}
	case !p.cur.hasLoad() && !p.opt.HasLoad:
		p.fail(p.i, "%q: what does the x count?", p.wholeText(p.i-1, p.i+1))
	default:
		p.miss(0)
		p.cur.crosses++
		p.i++
	}
}

// endsWithMiss reports whether the x at token i ends an entry instead of joining
// two numbers: it is written onto the number before and apart from a load
// behind ("180x1x 185x1").
func (p *parser) endsWithMiss(i int) bool {
	next := p.token(i + 1)
	return p.token(i).glued && !next.glued && next.v >= minLoad
}

// word reads a word, with what belongs to it.
func (p *parser) word() {
	t := p.token(p.i)
	_, q, _ := p.quantity(p.i)
	if next := p.token(p.i + 1); next.kind == number && next.decimals == 0 && q == unit.Count && !p.cur.says() &&
		p.token(p.i+2).kind != times && p.token(p.i+2).kind != end {
		p.i += 2 // "Set 1: 180x5"
		if p.connects(p.i) {
			p.i++
		}
		return
	}
	if p.stray(t) {
		return
	}
	if unit, _, size := p.unit(p.i, unit.Load); size > 0 && p.token(p.i+size).kind == number && !p.cur.words {
		p.i += size // "lb 405 x 5"
		p.product()
		if p.cur.Load.Kind == Absolute && p.cur.Load.Unit == "" {
			p.cur.Load.Unit = unit
		}
		return
	}
	switch t.meaning {
	case wordRPE, wordRIR:
		if p.effort(p.i + 1) {
			return
		}
	case wordMiss:
		n, size := 0, 1
		if next := p.token(p.i + 1); next.kind == number && next.decimals == 0 && next.v < minLoad && p.cur.hasReps() &&
			p.token(p.i+2).kind != times {
			if n, size = int(next.v), 2; p.token(p.i+2).meaning == wordOrdinal {
				n, size = 0, 3 // missed 5th
			}
		}
		if p.token(p.i-1).meaning != wordNot {
			p.miss(n)
		}
		p.i += size
		return
	case wordBodyweight, wordBar:
		if !p.cur.words && !p.cur.hasLoad() && p.standsAlone(p.i+1) {
			p.product()
			return
		}
	case wordAMRAP:
		if p.token(p.i-1).kind == times {
			p.i++
			return
		}
	case wordFirst, wordLast, wordFastest, wordSlowest, wordMean, wordPeak:
		p.named(which[t.meaning])
		return
	case wordAt, wordTo, wordRep, wordNot:
		p.i++
		return
	}
	p.comment(p.i)
	p.i++
}

// stray reads a word written onto a digit that is no unit. Where a number should
// stand ("12O", "180xO5") it is an error; behind a set, or in front of one, it is
// a word like others ("2ct pause", "e1rm", "A1:").
func (p *parser) stray(t token) bool {
	before, next := p.token(p.i-1), p.token(p.i+1)
	behind := t.glued && before.kind == number
	front := next.glued && next.kind == number
	if p.cur.words || isUnit(t.word) || t.meaning != noMeaning && t.meaning != wordAt && t.meaning != wordNot && t.meaning != wordTo || !behind && !front {
		return false
	}
	from := p.i
	if behind {
		from-- // numbers left it to us, and may have laid it into the entry
		p.fail(from, "%q is not a number", clip(before.text+t.text))
		return true
	}
	if before.kind == times || before.sign == '@' || before.sign == '/' || before.meaning == wordRPE || before.meaning == wordRIR {
		p.fail(p.i, "%q is not a number", clip(t.text+next.text))
		return true
	}
	p.i++
	p.glue(from)
	return true
}

// glue keeps tokens from… and all that are written onto them as one word.
func (p *parser) glue(from int) {
	for t := p.token(p.i); (t.kind == word || t.kind == number) && t.glued; t = p.token(p.i) {
		p.i++
	}
	p.cur.comment = append(p.cur.comment, p.wholeText(from, p.i))
	p.cur.words = p.cur.hasLoad() || p.cur.hasReps()
}

// standsAlone reports whether no further word follows at token i: "bar x 10",
// but not "bar felt light".
func (p *parser) standsAlone(i int) bool {
	t := p.token(i)
	return t.kind != word || t.meaning != noMeaning
}

// comment keeps token i as a word of the entry.
func (p *parser) comment(i int) {
	p.cur.comment = append(p.cur.comment, p.token(i).text)
	if p.cur.hasLoad() || p.cur.hasReps() {
		p.cur.words = true
	}
}

// miss marks n missed reps; 0 is the last one.
func (p *parser) miss(n int) {
	switch {
	case n > 0:
		p.cur.Missed += n
	default:
		p.cur.miss = true
	}
}
