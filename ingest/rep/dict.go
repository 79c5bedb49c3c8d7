package rep

import "strings"

// Sym stands for a text in a [Dict]. Sym 0 is the empty text, which in every
// text column means null.
type Sym uint32

// Dict holds each distinct text once. The zero Dict is empty and ready.
type Dict struct {
	texts []string
	syms  map[string]Sym
}

// Intern returns the symbol of a text and adds it where it is new. The text is
// copied, so the caller's buffer is free.
func (d *Dict) Intern(text string) Sym {
	if text == "" {
		return 0
	}
	if s, ok := d.syms[text]; ok {
		return s
	}
	if d.syms == nil {
		d.syms = make(map[string]Sym)
		d.texts = append(d.texts, "")
	}
	s := Sym(len(d.texts))
	text = strings.Clone(text)
	d.texts = append(d.texts, text)
	d.syms[text] = s
	return s
}

// Lookup returns the symbol of a text that is already there.
func (d *Dict) Lookup(text string) (Sym, bool) {
	if text == "" {
		return 0, true
	}
	s, ok := d.syms[text]
	return s, ok
}

// Text returns the text of a symbol.
func (d *Dict) Text(s Sym) string {
	if s == 0 {
		return ""
	}
	return d.texts[s]
}

// Len returns how many symbols there are, the empty text included: symbols
// are 0 … Len()-1.
func (d *Dict) Len() int { return max(1, len(d.texts)) }
