package shorthand

import "repsift/ingest/unit"

// whichNames are the words by which String writes which reps a speed is of.
var whichNames = [...]string{First: "first", Last: "last", Fastest: "best", Slowest: "slowest", Mean: "avg", Peak: "peak"}

// speedAt reads the speed at token i. size is how many tokens it has, 0 for
// none; sure says that the number alone tells (below 1, or two digits behind the
// point, or a unit), loose that it may be one if a unit follows later.
func (p *parser) speedAt(i int) (s Speed, size int, sure bool) {
	if p.token(i).kind != number {
		return s, 0, false
	}
	save := p.i
	defer func() { p.i = save }()
	p.i = i
	n := p.number(false)
	s.V, s.Step = n.v, n.step
	decimals := 0
	for step := n.step; step < 0.5; step *= 10 {
		decimals++
	}
	text, _, size := p.unit(p.i, unit.Velocity)
	if size > 0 {
		if n.v > maxLoadV {
			p.fail(i, "%v is too large for a speed", n.v)
		}
		s.Unit = text
		p.i += size
		return s, p.i - i, n.v > 0
	}
	after := p.token(p.i)
	_, q, _ := p.quantity(p.i)
	if after.kind == times && after.meaning == wordTimes || after.sign == '%' || q == unit.Load ||
		after.meaning == wordRIR || after.meaning == wordRPE {
		return s, 0, false
	}
	if n.v > maxLoadV {
		return s, 0, false
	}
	sure = n.v > 0 && (n.v < 1 && decimals >= 1 || n.v < 3 && decimals >= 2)
	return s, p.i - i, sure
}

// speeds reads a run of speeds at the next token and lays them into the entry.
// It returns false, and has read nothing, where there is none.
func (p *parser) speeds() bool {
	var run []Speed
	var joined rune
	i := p.i
	sure := true // every number told by itself
	for {
		s, size, ok := p.speedAt(i)
		if size == 0 || !ok && len(run) > 0 && sure && joined == 0 {
			break
		}
		sure = sure && ok
		run = append(run, s)
		i += size
		t := p.token(i)
		sep := t.sign
		if t.meaning == wordTo {
			sep = '-'
		}
		switch {
		case sep == '/' || sep == ',' || sep == '-' || sep == '>':
			if joined != 0 && sep != joined {
				sep = 0
			}
			if sep != 0 && p.goesOn(i+1, sure) {
				joined = sep
				i++
				continue
			}
		case t.kind == number && sure && (joined == 0 || joined == ' ') && p.goesOn(i, true):
			joined = ' '
			continue
		}
		break
	}
	if len(run) == 0 {
		return false
	}
	last := run[len(run)-1].Unit
	if !sure && (last == "" || p.cur.which != UnsaidRep && len(run) > 1) {
		return false // 41/38/35 are reps or loads, unless "cm/s" follows
	}
	for k := range run { // 41/38/35 cm/s: the unit is that of all
		if run[k].Unit == "" {
			run[k].Unit = last
		}
		if run[k].V <= 0 {
			return false
		}
	}
	p.i = i
	d := &p.cur
	switch {
	case d.which != UnsaidRep:
		run[0].Which = d.which
		for k := range run[1:] {
			run[k+1].Which = UnsaidRep
		}
		d.which = UnsaidRep
	case len(run) == 2 && (joined == '-' || joined == '>'):
		run[0].Which, run[1].Which = First, Last
	case len(run) > 1:
		for k := range run {
			run[k].Which = EachRep
		}
	}
	d.Speeds = append(d.Speeds, run...)
	if len(d.Speeds) > maxReps {
		p.fail(p.i-1, "more than %d speeds in one set", maxReps)
	}
	return true
}

// goesOn reports whether the number at token i is one more speed of a run: one
// that tells by itself, or in a run of numbers that do not, any.
func (p *parser) goesOn(i int, sure bool) bool {
	_, size, ok := p.speedAt(i)
	return size > 0 && (ok || !sure)
}

// named reads a word like "last": it names the speed before it ("0.31 last") or
// the one behind ("last rep: 0.31"); without one it is a word like others.
func (p *parser) named(w Which) {
	from := p.i
	p.i++
	if n := len(p.cur.Speeds); n > 0 && p.speedBefore(from) {
		s := &p.cur.Speeds[n-1]
		if s.Which == UnsaidRep || s.Which == EachRep {
			s.Which = w
			if n > 1 && p.cur.Speeds[n-2].Which == EachRep && (n == 2 || p.cur.Speeds[n-3].Which != EachRep) {
				p.cur.Speeds[n-2].Which = UnsaidRep // "0.45, 0.31 last"
			}
			for p.token(p.i).meaning == wordRep {
				p.i++
			}
			return
		}
	}
	i := p.i
	for t := p.token(i); t.meaning == wordRep || p.connects(i) || t.sign == '@' || t.sign == '('; t = p.token(i) {
		i++
	}
	if _, size, sure := p.speedAt(i); size > 0 && sure {
		p.i = i
		p.cur.which = w
		p.speeds()
		return
	}
	p.i = from
	p.comment(from)
	p.i++
}

// speedBefore reports whether a speed ends right before token i.
func (p *parser) speedBefore(i int) bool {
	i--
	if p.token(i).sign == '(' || p.token(i).meaning == wordRep && p.token(i).kind == word {
		i--
	}
	if t := p.token(i); t.kind == number {
		return true
	}
	for size := 1; size <= unitTokens; size++ {
		if text, _, n := p.unit(i-size+1, unit.Velocity); n == size && text != "" {
			return true
		}
	}
	return false
}
