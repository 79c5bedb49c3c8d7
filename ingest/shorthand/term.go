package shorthand

import (
	"math"
	"slices"

	"repsift/ingest/unit"
)

// Limits of the rules: see the package comment.
const (
	minLoad    = 20  // a bare whole number from here is a load
	maxCount   = 50  // … above here, where the load has a column of its own
	maxSets    = 12  // a number of a pair above this counts reps
	maxReps    = 200 // of a set; more is no set
	maxEntries = 60
	maxLoadV   = 10_000
)

// tag says what a word behind a number made of it.
type tag uint8

const (
	noTag tag = iota
	tagSets
	tagReps
)

// term is one number of a product.
type term struct {
	kind  LoadKind // NoLoad: a bare number, which may still be a load by its size
	v     float64
	step  float64
	whole bool // written without a fraction
	unit  string
	tag   tag
	amrap bool
}

// isLoad reports whether the term is a load.
func (t term) isLoad(opt Options) bool {
	if t.kind != NoLoad {
		return true
	}
	if t.tag != noTag || t.amrap {
		return false
	}
	if opt.HasLoad {
		return !t.whole || t.v > maxCount
	}
	return !t.whole || t.v >= minLoad
}

// term reads one term.
func (p *parser) term() term {
	t := p.token(p.i)
	switch t.meaning {
	case wordBar:
		p.i++
		return term{kind: EmptyBar}
	case wordAMRAP:
		p.i++
		return term{amrap: true, whole: true}
	case wordMiss: // 180xF: none made
		return term{whole: true}
	case wordBodyweight:
		p.i++
		b := term{kind: Bodyweight}
		if s, n := p.token(p.i), p.token(p.i+1); (s.sign == '+' || s.sign == '-') && n.kind == number {
			p.i++
			plus := p.number(false)
			b.v, b.step, b.unit = plus.v, plus.step, p.loadUnit()
			if s.sign == '-' {
				b.v = -b.v
			}
		}
		return b
	}
	sign := t.sign
	if t.kind != number {
		p.i++
	}
	n := p.number(false)
	if n.v > maxLoadV {
		p.fail(p.i-1, "%v is too large for a load or a count", n.v)
	}
	if p.token(p.i).sign == '%' {
		p.i++
		n.kind = PercentMax
		if sign == '+' || sign == '-' {
			n.kind = AddedPercent
		} else if n.v > 130 {
			p.fail(p.i-1, "%v%% is too much of a maximum", n.v)
		}
	} else if n.unit = p.loadUnit(); n.unit != "" {
		n.kind = Absolute
	}
	if sign == '+' || sign == '-' {
		if n.kind != AddedPercent {
			n.kind = Added
		}
	}
	if sign == '-' {
		n.v = -n.v
	}
	if text, u, size := p.unit(p.i, unit.Count); size > 0 && n.kind == NoLoad && text != "" {
		n.tag = tagReps
		if u.Name == "set" {
			n.tag = tagSets
		}
		p.i += size
	}
	return n
}

// loadUnit takes a unit of load at the next token.
func (p *parser) loadUnit() string {
	text, _, size := p.unit(p.i, unit.Load)
	p.i += size
	return text
}

// number reads a number, with a fraction behind a comma where the rules make it
// one. effort says that it can only be an RPE or RIR.
func (p *parser) number(effort bool) term {
	t := p.token(p.i)
	p.i++
	n := term{v: t.v, step: math.Pow10(-t.decimals), whole: t.decimals == 0}
	if f := p.token(p.i + 1); t.decimals == 0 && p.commaFraction(p.i-1, effort) {
		n.whole = false
		digits := len(f.text)
		n.step = math.Pow10(-digits)
		n.v = math.Round(t.v*math.Pow10(digits)+f.v) / math.Pow10(digits)
		p.i += 2
	}
	return n
}

// commaFraction reports whether the comma behind token i makes a fraction of
// the number behind it.
func (p *parser) commaFraction(i int, effort bool) bool {
	whole, comma, f := p.token(i), p.token(i+1), p.token(i+2)
	if whole.decimals != 0 || comma.sign != ',' || !comma.glued || f.kind != number || !f.glued || f.decimals != 0 {
		return false
	}
	if whole.v == 0 {
		return true
	}
	if effort {
		return slices.Contains([]string{"5", "0", "25", "75", "50"}, f.text)
	}
	// A list has three numbers or more; "0,41,0,38" was settled above.
	more := p.token(i+3).sign == ',' && p.token(i+3).glued && p.token(i+4).kind == number && p.token(i+4).glued
	before := p.token(i-1).sign == ',' && p.token(i-1).glued && whole.glued && p.token(i-2).kind == number
	if (more || before) && !(more && p.token(i+4).v == 0 && p.token(i+4).text == "0") {
		return false
	}
	_, q, _ := p.quantity(i + 3)
	if p.token(i-1).kind == times && whole.v < minLoad && q != unit.Load {
		return false // the reps of 60x5,80x3
	}
	switch after := p.token(i + 3); {
	case len(f.text) >= 3:
		return whole.v < 3 || f.text[0] == '0'
	case len(f.text) == 2:
		return whole.v < 3 || f.v < minLoad || f.v == 25 || f.v == 50 || f.v == 75
	case whole.v >= minLoad:
		return f.v == 5 || f.v == 0
	default: // 7,5 x 5; 12,5 kg
		return f.v == 5 && (after.kind == times && after.meaning == wordTimes || q == unit.Load)
	}
}
