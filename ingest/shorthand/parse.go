package shorthand

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"repsift/ingest/unit"
)

// Parse returns the entries of a text in the order they are written, by the
// grammar and the rules of the package comment. An empty text has none and is
// no error. The error is an *[Error] and then there are no entries: a text is
// read whole or not at all.
func Parse(text string, opt Options) ([]Entry, error) {
	toks, problem, pos := lex(text)
	if problem != "" {
		return nil, &Error{Text: text, Pos: pos, Problem: problem}
	}
	if len(toks) == 0 {
		return nil, nil
	}
	p := &parser{text: text, toks: toks, opt: opt}
	p.reset()
	for p.i < len(p.toks) && p.err == nil {
		p.part()
	}
	if p.err == nil {
		p.flush()
	}
	if p.err == nil && len(p.out) == 0 {
		p.fail(0, "no set in it")
	}
	if p.err != nil {
		return nil, p.err
	}
	return p.out, nil
}

type parser struct {
	text string
	toks []token
	i    int
	opt  Options
	out  []Entry
	err  *Error

	cur    draft
	before rune   // the separator before the part now read; 0 for a blank
	lead   string // words before the first entry
}

// draft is the entry that is being read.
type draft struct {
	Entry
	counts   []term // as written: one counts reps, two are a pair
	list     []int  // reps set by set
	made     int    // of the last set, from "(4)"; -1 unsaid
	joined   bool   // the load and its reps were joined by x
	listSep  rune   // what stands between them; 0 for a blank
	loads    []Load // further loads, one a set, from "@ 100, 110, 120"
	tried    int    // further reps tried and failed, from "+1F"
	crosses  int    // x behind the reps, one for each missed
	miss     bool   // a miss was marked without a number
	words    bool   // words stood behind load or reps
	which    Which  // of the speed to come, named in front of it
	comment  []string
	from, to int // of what was read
}

func (p *parser) reset() {
	p.cur = draft{made: -1, from: -1}
}

func (d *draft) hasLoad() bool { return d.Load.Kind != NoLoad }
func (d *draft) hasReps() bool { return len(d.counts) > 0 || len(d.list) > 0 }

// says reports whether the draft holds more than words.
func (d *draft) says() bool {
	return d.hasLoad() || d.hasReps() || d.RPE > 0 || len(d.Speeds) > 0 || d.miss || d.Missed > 0
}

// token returns a token by number; one of kind end outside.
func (p *parser) token(i int) token {
	if i < 0 || i >= len(p.toks) {
		return token{kind: end, from: len(p.text), to: len(p.text)}
	}
	return p.toks[i]
}

func (p *parser) fail(i int, format string, args ...any) {
	if p.err == nil {
		p.err = &Error{Text: p.text, Pos: p.token(i).from, Problem: fmt.Sprintf(format, args...)}
	}
}

// took notes that tokens from…p.i-1 belong to the entry.
func (p *parser) took(from int) {
	if p.i <= from {
		return
	}
	if p.cur.from < 0 {
		p.cur.from = p.token(from).from
	}
	p.cur.to = p.token(p.i - 1).to
	p.before = 0
}

// part reads the next part of the text. It always moves on.
func (p *parser) part() {
	from := p.i
	switch t := p.token(p.i); t.kind {
	case stop:
		p.flush()
		p.i++
		return
	case number:
		p.numbers()
	case times:
		p.leadingTimes()
	case word:
		p.word()
	default:
		p.sign()
		if p.i == from+1 && strings.ContainsRune(",/->+:=", t.sign) {
			return // a separator is no part of the entry
		}
	}
	p.took(from)
}

// sign reads what begins with a sign.
func (p *parser) sign() {
	t, next := p.token(p.i), p.token(p.i+1)
	switch t.sign {
	case ',', '/', '>':
		p.before = t.sign
		p.i++
	case '@':
		p.at()
	case '-':
		if next.kind == number && next.glued && (!t.glued || p.before != 0 || !p.cur.says()) {
			p.numbers() // -10%
			return
		}
		p.before = t.sign
		p.i++
	case '+':
		p.plus()
	case '(', '[':
		p.bracket()
	case '#':
		if p.i++; next.kind == number && !p.cur.says() { // "#3 180x5": the set's number
			p.i++
		}
	default:
		p.i++
	}
}

// plus reads +20, +1F, +F, the + between entries, and that of 5+.
func (p *parser) plus() {
	t, next := p.token(p.i), p.token(p.i+1)
	if p.cur.hasReps() {
		n, at := 1, p.i+1
		if next.kind == number && next.decimals == 0 {
			n, at = int(next.v), p.i+2
		}
		if m := p.token(at); m.meaning == wordMiss && n > 0 && n <= maxReps {
			p.cur.tried += n
			p.i = at + 1
			return
		}
	}
	switch {
	case next.kind == number && (!p.cur.says() || next.glued && (p.before != 0 || !t.glued)):
		p.numbers()
	case next.kind == number && !next.glued && !t.glued:
		p.flush() // 180x5 + 170x3
		p.i++
	case next.kind == number:
		p.fail(p.i, "%q: what is added to what?", p.wholeText(p.i-1, p.i+2))
	default:
		p.i++ // 140x5+
	}
}

// bracket reads (4), the reps made, and (5,5,4), the reps set by set; other
// brackets say nothing and what is in them is read like the rest.
func (p *parser) bracket() {
	i := p.i + 1
	var list []int
	for p.token(i).kind == number && p.token(i).decimals == 0 {
		list = append(list, int(p.token(i).v))
		i++
		if s := p.token(i).sign; s != ',' && s != '/' && s != '-' {
			break
		}
		i++
	}
	if shut := p.token(i).sign; len(list) == 0 || shut != ')' && shut != ']' || !p.cur.hasReps() || p.cur.words {
		p.i++
		return
	}
	if len(list) == 1 {
		p.cur.made = list[0]
	} else if len(p.cur.list) > 0 {
		p.fail(p.i, "%q: the reps of each set are there already", clip(p.text[p.token(p.i).from:p.token(i).to]))
	} else {
		p.setList(p.i, list)
	}
	p.i = i + 1
}

// quantity says what the unit at token i measures: a load, a speed or a count.
func (p *parser) quantity(i int) (text string, q unit.Quantity, size int) {
	for _, q := range []unit.Quantity{unit.Load, unit.Velocity, unit.Count} {
		if text, _, size := p.unit(i, q); size > 0 {
			return text, q, size
		}
	}
	return "", unit.Any, 0
}

// wholeText returns the text of tokens from…to-1, clipped, for messages.
func (p *parser) wholeText(from, to int) string {
	from = max(from, 0)
	t := p.text[p.token(from).from:max(p.token(to-1).to, p.token(from).from)]
	if !utf8.ValidString(t) {
		t = strings.ToValidUTF8(t, "\uFFFD")
	}
	return clip(t)
}
