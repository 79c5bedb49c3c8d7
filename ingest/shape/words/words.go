// Package words is the vocabulary of the trade: what the words of a heading
// mean, in English and in the usual words of German, Spanish, Portuguese,
// French, Italian, Dutch, the Nordic languages, Polish and Russian; what lifts
// are called; how a missed rep is marked.
//
// A heading is cut into words, each word looked up as it stands, then as part
// of a phrase ("range of motion"), then as a compound ("Durchschnitts-
// geschwindigkeit"). What comes out is a set of [Concept]s; which field of the
// rep schema they make is decided by package shape, from heading and values
// together. [Parse] guesses nothing: a word it does not know is counted and
// left alone.
//
// All words are common practice, no source.
package words

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"repsift/ingest/letter"
)

// Concept is what one word or phrase of a heading stands for.
type Concept uint8

// Concepts is a set of concepts.
type Concepts uint64

// With returns the set with c added.
func (s Concepts) With(c Concept) Concepts { return s | 1<<c }

// Has reports whether all of the concepts are in the set.
func (s Concepts) Has(cs ...Concept) bool {
	for _, c := range cs {
		if s&(1<<c) == 0 {
			return false
		}
	}
	return true
}

// Any reports whether one of the concepts is in the set.
func (s Concepts) Any(cs ...Concept) bool {
	for _, c := range cs {
		if s&(1<<c) != 0 {
			return true
		}
	}
	return false
}

// Heading is what is understood of a heading.
type Heading struct {
	Has     Concepts
	Number  int // the number in it ("Rep 3", "V1"); 0 for none
	Words   int // words, numbers aside
	Unknown int // of them, not in the vocabulary
	Plural  bool
}

// Parse looks up the words of a heading from which a unit has been taken off.
func Parse(heading string) Heading {
	var h Heading
	tokens := split(heading)
	many := false
	for i := 0; i < len(tokens); {
		t := tokens[i]
		if n, ok := number(t); ok {
			if h.Number == 0 {
				h.Number = n
			}
			i++
			if n == 1 && strings.Contains(heading, "1. ") {
				h.Has = h.Has.With(First) // "1. Wdh"
			}
			if i < len(tokens) && ordinals[tokens[i]] {
				if i++; n == 1 {
					h.Has = h.Has.With(First) // "1st rep", "1re rép."
				}
				h.Words++
			}
			continue
		}
		n, set := phrase(tokens[i:])
		if n == 0 {
			n = 1
			set = compound(t)
		}
		h.Words += n
		h.Plural = h.Plural || plurals[tokens[i+n-1]]
		if set == 0 && !filler[t] {
			h.Unknown++
		}
		h.Has |= set
		i += n
		many = many || plurals[tokens[i-1]] && !oneOrMany[tokens[i-1]]
	}
	if many && h.Has.Has(Ordinal) && h.Has.Any(Set, Rep) {
		// The number of several sets is how many: "# reps", "nº de series".
		h.Has = h.Has&^(1<<Ordinal) | 1<<Count
	}
	return h
}

// ordinals are what stands behind a number that says which: 1st, 2nd, 3e.
var ordinals = foldedSet("st nd rd th er re ere eme ste de º ª й я ая")

// Unnumbered returns the words of a heading without numbers: "rep" of "3rd rep".
func Unnumbered(heading string) string {
	var out []string
	figure := false
	for _, t := range split(heading) {
		if _, ok := number(t); ok {
			figure = true
			continue
		}
		if !figure || !ordinals[t] {
			out = append(out, t)
		}
		figure = false
	}
	return strings.Join(out, " ")
}

// phrase returns how many tokens the longest known phrase at the front has,
// and its concepts.
func phrase(tokens []string) (int, Concepts) {
	for n := min(maxPhrase, len(tokens)); n > 0; n-- {
		if set, ok := lexicon()[strings.Join(tokens[:n], " ")]; ok {
			return n, set
		}
	}
	return 0, 0
}

// compound cuts a word into known words of at least three letters, the longest
// first, with a linking s, n, en or e between; 0 where that does not succeed.
func compound(word string) Concepts {
	if len(word) < 6 {
		return 0
	}
	set, ok := cut(word, 0)
	if !ok {
		return 0
	}
	return set
}

func cut(word string, parts int) (Concepts, bool) {
	if word == "" {
		return 0, true
	}
	if parts == 4 {
		return 0, false
	}
	for end := len(word); end >= 3; end-- {
		here, ok := lexicon()[word[:end]]
		if !ok {
			continue
		}
		for _, link := range []string{"", "s", "n", "en", "e"} {
			rest, ok := strings.CutPrefix(word[end:], link)
			if !ok {
				continue
			}
			if more, ok := cut(rest, parts+1); ok {
				return here | more, true
			}
		}
	}
	return 0, false
}

// split cuts a heading into folded words and numbers: at everything that is
// neither letter nor digit, at a change to upper case, between letters and
// digits. "1RM" and "%1RM" stay whole.
func split(heading string) []string {
	var tokens []string
	var word []rune
	flush := func() {
		if len(word) > 0 {
			tokens = append(tokens, Fold(string(word)))
			word = word[:0]
		}
	}
	runes := []rune(norm.NFC.String(heading))
	for i, r := range runes {
		switch {
		case r == '%' || r == '#' || r == '№' || r == '@' || r == 'Ø' && (i+1 == len(runes) || !unicode.IsLower(runes[i+1])):
			flush()
			tokens = append(tokens, strings.ToLower(string(r)))
			continue
		case r == '\u0301' || r == '\u00ad': // stress mark, soft hyphen
			continue
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			flush()
			continue
		}
		if len(word) > 0 {
			before := word[len(word)-1]
			camel := unicode.IsLower(before) && unicode.IsUpper(r)
			acronym := unicode.IsUpper(before) && unicode.IsUpper(r) && i+1 < len(runes) && unicode.IsLower(runes[i+1]) && len(word) > 1
			kind := unicode.IsDigit(before) != unicode.IsDigit(r)
			if kind && rm(runes[i:]) {
				kind = false
			}
			if camel || acronym || kind {
				flush()
			}
		}
		word = append(word, r)
	}
	flush()
	return tokens
}

// rm reports whether "RM" stands here, so that "1RM" stays one word.
func rm(runes []rune) bool {
	return len(runes) >= 2 && unicode.ToLower(runes[0]) == 'r' && unicode.ToLower(runes[1]) == 'm' &&
		(len(runes) == 2 || !unicode.IsLetter(runes[2]))
}

func number(token string) (int, bool) {
	n := 0
	for _, c := range []byte(token) {
		if c < '0' || c > '9' || n > 1e6 {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, true
}

// Fold returns a text in lower case, without marks over and under letters and
// with runs of blanks as one: the form in which words are compared. Letters
// that are not a letter with a mark (ß, ø, ł, æ) are written in ASCII.
func Fold(text string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFKD.String(text) {
		if unicode.IsSpace(r) || r == '_' {
			gap = b.Len() > 0
			continue
		}
		if unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Cf, r) {
			continue
		}
		if gap {
			b.WriteByte(' ')
			gap = false
		}
		b.WriteString(letter.Plain(unicode.ToLower(r)))
	}
	return b.String()
}
