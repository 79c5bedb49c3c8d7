package column

import (
	"hash/maphash"
	"strings"
)

// TextCount is a text and how often it stands in a column.
type TextCount struct {
	Text  string
	N     int
	class *int // what it counted as
	bare  bool // it is in words: nothing but its class was counted
}

// distinctMax is how many different texts a column remembers; places of texts
// are bytes, 0 for none.
const distinctMax = 200

// places finds texts among those that are known. A column of few texts needs no
// more than to look at each.
type places struct {
	at   []uint8 // by hash, a place or more behind; nil for few texts
	hold strings.Builder
}

const (
	fewTexts   = 6
	hashedInto = 512
)

var seed = maphash.MakeSeed()

// find returns where a text is among those known, or else -1 and where it
// belongs by its hash.
func (p *places) find(known []TextCount, text string) (i, slot int) {
	if p.at == nil {
		for i := range known {
			if known[i].Text == text {
				return i, 0
			}
		}
		return -1, 0
	}
	slot = int(maphash.String(seed, text) % hashedInto)
	for ; p.at[slot] != 0; slot = (slot + 1) % hashedInto {
		if i := int(p.at[slot]) - 1; known[i].Text == text {
			return i, slot
		}
	}
	return -1, slot
}

// add notes the text that is the last of those known.
func (p *places) add(known []TextCount, slot int) {
	switch n := len(known); {
	case p.at != nil:
		p.at[slot] = uint8(n)
	case n > fewTexts:
		p.at = make([]uint8, hashedInto)
		for i := range known {
			_, slot := p.find(known[:i], known[i].Text)
			p.at[slot] = uint8(i + 1)
		}
	}
}

// keep returns a copy of a text. Copies lie beside one another, which is one
// piece of memory for many.
func (p *places) keep(text string) string {
	const piece = 512
	from := p.hold.Len()
	if from+len(text) > p.hold.Cap() {
		p.hold = strings.Builder{}
		p.hold.Grow(max(min(piece, 8*len(text)), len(text)))
		from = 0
	}
	p.hold.WriteString(text)
	return p.hold.String()[from:]
}
