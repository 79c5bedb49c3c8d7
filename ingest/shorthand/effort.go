package shorthand

import (
	"slices"

	"repsift/ingest/unit"
)

// at reads what stands behind an @: an effort, a load or several, a speed.
func (p *parser) at() {
	i := p.i + 1
	for p.connects(i) {
		i++
	}
	t := p.token(i)
	switch {
	case t.meaning == wordRPE || t.meaning == wordRIR:
		if !p.effort(i) {
			p.i++
		}
		return
	case t.meaning == wordBodyweight || t.meaning == wordBar:
		p.i = i
		p.product()
		return
	case t.kind != number:
		p.i++
		return
	}
	from := p.i
	p.i = i
	n := p.number(true)
	_, q, _ := p.quantity(p.i)
	percent := p.token(p.i).sign == '%'
	p.i = i
	switch {
	case q == unit.Load || percent || n.v >= minLoad:
		p.loads()
	case q == unit.Velocity || n.v < 1 && !n.whole && !p.rirFollows(i):
		if !p.speeds() {
			p.fail(from, "%q is neither an RPE nor a load nor a speed", p.wholeText(from, i+1))
		}
	case n.v <= 10:
		p.i = from
		p.effort(i)
	default:
		p.fail(from, "%q is no RPE (1 to 10) and no load (%d or more, or with a unit)", p.wholeText(from, i+1), minLoad)
	}
}

// connects reports whether token i only joins: "RPE: 8", "@~8".
func (p *parser) connects(i int) bool {
	switch p.token(i).sign {
	case ':', '=', '~', '≈':
		return true
	}
	return false
}

// loads reads the load behind an @, and further ones, one for each set:
// "3x5 @ 100, 110, 120".
func (p *parser) loads() {
	from := p.i
	first := p.term()
	if first.kind == NoLoad {
		first.kind = Absolute
	}
	if p.err != nil {
		return
	}
	terms := []term{first}
	for p.token(p.i).kind == times && p.startsTerm(p.i+1) && !p.endsWithMiss(p.i) && p.err == nil {
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
	p.lay(from, 0, load, counts)
	for p.err == nil && len(terms) == 1 && len(p.cur.counts) == 2 {
		s, n := p.token(p.i).sign, p.token(p.i+1)
		if s != ',' && s != '/' || n.kind != number || n.v < minLoad {
			return
		}
		save := p.i
		p.i++
		next := p.term()
		if next.kind != NoLoad && next.kind != Absolute || p.token(p.i).kind == times || p.err != nil {
			p.i = save
			return
		}
		p.cur.loads = append(p.cur.loads, Load{Kind: Absolute, V: next.v, Step: next.step, Unit: next.unit})
	}
}

// rirFollows reports whether the number at token i is a RIR.
func (p *parser) rirFollows(i int) bool {
	return p.token(i+1).meaning == wordRIR
}

// effortBefore reads "8 RPE", "2RIR", "1-2 RIR": the word behind the number.
func (p *parser) effortBefore() bool {
	save := p.i
	var values []term
	for {
		if p.token(p.i).kind != number {
			p.i = save
			return false
		}
		values = append(values, p.number(true))
		s := p.token(p.i)
		if len(values) == 1 && (s.sign == '-' || s.sign == '/' || s.meaning == wordTo) {
			p.i++
			continue
		}
		break
	}
	t := p.token(p.i)
	i := p.i + 1
	for p.connects(i) {
		i++
	}
	next := p.token(i)
	_, _, speed := p.speedAt(i)
	front := next.kind == number && next.v >= 1 && next.v <= 10 && t.meaning == wordRPE && p.token(i+1).kind != times && !speed
	if t.meaning != wordRPE && t.meaning != wordRIR || front {
		p.i = save
		return false
	}
	p.i++
	p.setEffort(save, values, '-', t.meaning == wordRIR)
	return true
}

// effort reads an RPE or RIR whose value, or the word in front of it, stands at
// token i. It returns false, and has read nothing, where there is no value.
func (p *parser) effort(i int) bool {
	from := p.i
	rir := p.token(from).meaning == wordRIR
	for ; p.connects(i) || p.token(i).sign == '@' || p.token(i).meaning == wordRPE || p.token(i).meaning == wordRIR; i++ {
		rir = rir || p.token(i).meaning == wordRIR
	}
	if p.token(i).kind != number {
		return false
	}
	p.i = i
	values := []term{p.number(true)}
	joined := rune(0)
	for {
		s := p.token(p.i)
		if s.meaning == wordTo {
			s.sign = '-'
		}
		if s.sign != '-' && s.sign != '/' && s.sign != ',' || joined != 0 && s.sign != joined || !p.moreEffort(p.i+1) {
			break
		}
		joined = s.sign
		p.i++
		values = append(values, p.number(true))
	}
	if t := p.token(p.i); t.meaning == wordRIR || t.meaning == wordRPE && !rir {
		rir = rir || t.meaning == wordRIR
		p.i++
	}
	if t := p.token(p.i); (t.sign == '+' || t.sign == '-') && t.glued && !(p.token(p.i+1).kind == number && p.token(p.i+1).glued) {
		p.cur.comment = append(p.cur.comment, "@"+p.wholeText(i, p.i+1)) // "@8+"
		p.i++
	}
	p.setEffort(from, values, joined, rir)
	return true
}

// moreEffort reports whether the number at token i goes on a range or list of
// RPEs, and does not begin the next set.
func (p *parser) moreEffort(i int) bool {
	t := p.token(i)
	if t.kind != number || t.v > 10 || t.v < 1 && t.decimals > 1 {
		return false
	}
	save := p.i
	p.i = i
	p.number(true)
	after := p.token(p.i)
	_, q, _ := p.quantity(p.i)
	p.i = save
	return after.kind != times && after.sign != '@' && after.sign != '%' && q == unit.Any &&
		!(after.kind == number && after.glued)
}

// setEffort lays an effort into the entry.
func (p *parser) setEffort(from int, values []term, joined rune, rir bool) {
	d := &p.cur
	var rpe []float64
	for _, t := range values {
		v := t.v
		if rir {
			v = 10 - v // Zourdos et al. 2016
		}
		if v < 1 || v > 10 || rir && t.v < 0 {
			name := "RPE (1 to 10)"
			if rir {
				name = "RIR (0 to 9)"
			}
			p.fail(from, "%q is no %s", p.wholeText(from, p.i), name)
			return
		}
		rpe = append(rpe, v)
	}
	isRange := len(rpe) == 2 && joined != ',' && (joined == '-' || rpe[1] > rpe[0] && rpe[1]-rpe[0] <= 1 && !p.twoSets())
	switch {
	case isRange && d.RPE == 0:
		slices.Sort(rpe)
		d.RPE, d.RPEHigh = rpe[0], rpe[1]
		if d.RPE == d.RPEHigh {
			d.RPEHigh = 0
		}
	case isRange || d.RPEHigh > 0:
		p.fail(from, "%q: a range of RPE beside another RPE", p.wholeText(from, p.i))
	case d.RPE == 0 && len(rpe) == 1:
		d.RPE = rpe[0]
	default:
		if d.RPE > 0 && len(d.RPEList) == 0 {
			d.RPEList = []float64{d.RPE}
		}
		d.RPEList = append(d.RPEList, rpe...)
		d.RPE = d.RPEList[len(d.RPEList)-1]
	}
	if len(d.RPEList) > maxEntries {
		p.fail(from, "more than %d sets in one text", maxEntries)
	}
}

// twoSets reports whether the entry may be of two sets, so that "@8/9" is one
// RPE for each and no range.
func (p *parser) twoSets() bool {
	for _, c := range p.cur.counts {
		if len(p.cur.counts) == 2 && c.v == 2 {
			return true
		}
	}
	return len(p.cur.list) == 2
}

// ParseRPE reads a cell that holds an RPE or RIR alone: "8", "@7,5", "8-8.5",
// "RPE 9", "2 RIR". high is 0 unless it is a range. The error is an *[Error].
func ParseRPE(text string) (rpe, high float64, err error) {
	toks, problem, pos := lex(text)
	if problem != "" {
		return 0, 0, &Error{Text: text, Pos: pos, Problem: problem}
	}
	p := &parser{text: text, toks: toks}
	p.reset()
	if !p.effort(0) && !(len(toks) > 0 && toks[0].kind == number && p.effortBefore()) {
		return 0, 0, &Error{Text: text, Problem: "is no RPE"}
	}
	if p.err == nil && p.i < len(toks) && !(p.i == len(toks)-1 && (toks[p.i].sign == '+' || toks[p.i].sign == '-' || toks[p.i].sign == '?')) {
		p.fail(p.i, "is no RPE")
	}
	if p.err == nil && len(p.cur.RPEList) > 0 {
		p.fail(0, "several RPEs, where one is asked for")
	}
	if p.err != nil {
		return 0, 0, p.err
	}
	return p.cur.RPE, p.cur.RPEHigh, nil
}
