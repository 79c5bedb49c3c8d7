package pseudonym

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"repsift/ingest/letter"
)

// Names finds names of people in texts. A name is found
//
//   - whole, its words in any order, whatever stands between them, also run
//     together or with a first letter in place of a word ("I Duarte"),
//   - by each of its words of three letters or more, standing alone as a word,
//   - in any case and Unicode form, with and without marks on letters, and with
//     ä written as ae and the like,
//   - in scripts that put no blanks between words: by its signs in a row,
//   - and where it holds a digit ("lifter 7"), as it is.
//
// A digit, an underscore, a sign and a capital inside a word end a word. Hashes,
// 16 or 64 hexadecimal digits in a row, are no words.
//
// A Names is ready after [NewNames] and is used by one goroutine at a time.
type Names struct {
	words  map[string]word     // folded
	pairs  map[[2]string]word  // two words in a row, where one is too short to stand alone
	runs   map[string]word     // names of scripts without blanks, folded
	exact  map[string]word     // names that hold a digit, in lower case
	allow  map[string]bool     // folded words that are none, whatever they look like
	folded map[string][]string // word as written → its folded forms
}

// word is what a found word is part of.
type word struct {
	name   string // as the caller spelled it
	person int    // -1: of several people
}

// Hit is a name that stands in a text, in bytes.
type Hit struct {
	From, To int
	Name     string // whose part it is
	Person   int    // index of the person; -1: several could be meant
}

const shortest = 3 // letters of a word that stands alone

// particles are words of names that also are words of many languages, and
// words that stand for a name; alone they tell nothing of anyone.
var particles = []string{"and", "bin", "das", "dei", "del", "den", "der", "des", "dos", "ibn", "las", "les", "los", "the", "van", "von",
	"athlete", "client", "group", "guest", "lifter", "member", "nobody", "participant", "person", "subject", "team", "unknown"}

// NewNames returns a finder of people's names. people holds the spellings of
// each person; allow lists words that are not to be taken for names.
func NewNames(people [][]string, allow []string) *Names {
	n := &Names{words: map[string]word{}, pairs: map[[2]string]word{}, runs: map[string]word{}, exact: map[string]word{}, allow: map[string]bool{}, folded: map[string][]string{}}
	for _, a := range allow {
		for _, t := range wordsOf(a) {
			for _, f := range n.fold(a[t.from:t.to]) {
				n.allow[f] = true
			}
		}
	}
	for p, spellings := range people {
		for _, s := range spellings {
			n.add(p, s)
		}
	}
	return n
}

func (n *Names) add(person int, name string) {
	if strings.ContainsFunc(name, unicode.IsDigit) {
		put(n.exact, strings.ToLower(strings.TrimSpace(name)), word{name, person})
	}
	var parts [][]string // the folded forms of each word
	for _, t := range wordsOf(name) {
		parts = append(parts, n.fold(name[t.from:t.to]))
	}
	for i, forms := range parts {
		for _, f := range forms {
			switch length := utf8.RuneCountInString(f); {
			case unspaced(f):
				put(n.runs, f, word{name, person})
			case slices.Contains(particles, f):
			case length >= shortest, len(parts) == 1:
				put(n.words, f, word{name, person})
			}
			for k, others := range parts {
				if k == i {
					continue
				}
				for _, o := range others {
					put(n.words, f+o, word{name, person})
					put(n.pairs, [2]string{f, o}, word{name, person})
					first, _ := utf8.DecodeRuneInString(o)
					put(n.pairs, [2]string{string(first), f}, word{name, person})
					put(n.pairs, [2]string{f, string(first)}, word{name, person})
					if utf8.RuneCountInString(f) >= shortest {
						put(n.words, string(first)+f, word{name, person})
					}
				}
			}
		}
	}
}

func put[K comparable](to map[K]word, key K, w word) {
	if had, ok := to[key]; ok && had.person != w.person {
		w.person = -1
	}
	to[key] = w
}

// Find returns the names in a text, in order; they do not overlap.
func (n *Names) Find(text string) []Hit {
	var hits []Hit
	add := func(from, to int, w word) { hits = append(hits, Hit{from, to, w.name, w.person}) }
	n.findExact(text, add)
	ts := wordsOf(text)
	for i, t := range ts {
		for _, f := range n.fold(text[t.from:t.to]) {
			if w, ok := n.words[f]; ok && !n.allow[f] {
				add(t.from, t.to, w)
			}
			for run, w := range n.runs {
				if strings.Contains(f, run) {
					add(t.from, t.to, w)
				}
			}
			if i+1 == len(ts) || len(n.pairs) == 0 {
				continue
			}
			next := ts[i+1]
			if next.from < t.to || !near(text[t.to:next.from]) {
				continue
			}
			for _, g := range n.fold(text[next.from:next.to]) {
				if w, ok := n.pairs[[2]string{f, g}]; ok {
					add(t.from, next.to, w)
				}
			}
		}
	}
	return merged(hits)
}

// findExact finds names that hold digits, whole.
func (n *Names) findExact(text string, add func(from, to int, w word)) {
	if len(n.exact) == 0 {
		return
	}
	low := strings.ToLower(text)
	if len(low) != len(text) {
		return // letters whose cases differ in length; words still find their parts
	}
	for name, w := range n.exact {
		for from := 0; ; {
			i := strings.Index(low[from:], name)
			if i < 0 {
				break
			}
			i += from
			from = i + len(name)
			if before, _ := utf8.DecodeLastRuneInString(text[:i]); unicode.IsLetter(before) || unicode.IsDigit(before) {
				continue
			}
			if after, _ := utf8.DecodeRuneInString(text[from:]); unicode.IsLetter(after) || unicode.IsDigit(after) {
				continue
			}
			add(i, from, w)
		}
	}
}

// merged returns hits in order, those that overlap as one: of the person that
// one of them is sure of.
func merged(hits []Hit) []Hit {
	slices.SortFunc(hits, func(a, b Hit) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(b.To, a.To), cmp.Compare(b.Person, a.Person), cmp.Compare(a.Name, b.Name))
	})
	out := hits[:0]
	for _, h := range hits {
		if k := len(out) - 1; k >= 0 && h.From < out[k].To {
			out[k].To = max(out[k].To, h.To)
			if out[k].Person < 0 {
				out[k].Person, out[k].Name = h.Person, h.Name
			}
			continue
		}
		out = append(out, h)
	}
	return out
}

// Allowed returns the words that are part of a name and are allowed all the
// same, sorted.
func (n *Names) Allowed() []string {
	var out []string
	for w := range n.words {
		if n.allow[w] {
			out = append(out, w)
		}
	}
	slices.Sort(out)
	return out
}

// near reports whether what stands between two words may stand inside a name.
func near(between string) bool {
	return len(between) <= 3 && !strings.ContainsFunc(between, unicode.IsDigit)
}

// Replace returns the text with each name in it replaced by what code returns
// for the person; names in a row that can be one person's are replaced once.
func (n *Names) Replace(text string, code func(person int) string) string {
	// What a code pulls out of its word may leave a name behind.
	for range 4 {
		hits := n.Find(text)
		if hits == nil {
			break
		}
		text = replaceHits(text, hits, code)
	}
	return text
}

func replaceHits(text string, hits []Hit, code func(person int) string) string {
	var b strings.Builder
	at := 0
	for i := 0; i < len(hits); {
		h := hits[i]
		for i++; i < len(hits); i++ {
			next := hits[i]
			if !near(text[h.To:next.From]) || next.Person != h.Person && next.Person >= 0 && h.Person >= 0 {
				break
			}
			h.To, h.Person = next.To, max(h.Person, next.Person)
		}
		b.WriteString(text[at:h.From])
		b.WriteString(code(h.Person))
		at = h.To
	}
	b.WriteString(text[at:])
	return b.String()
}

type span struct{ from, to int }

// wordsOf returns the words of a text: letters and their marks in a row. A
// capital behind a small letter begins a word of its own, and the whole is a
// word too where it has several.
func wordsOf(text string) []span {
	var out []span
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			i += size
			continue
		}
		end := i
		for end < len(text) {
			r, size := utf8.DecodeRuneInString(text[end:])
			if !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r) {
				break
			}
			end += size
		}
		if !hash(text[i:end]) {
			out = split(out, text, i, end)
		}
		i = end
	}
	return out
}

// split adds the words of a run of letters, marks and digits.
func split(out []span, text string, from, to int) []span {
	start, small, whole, parts := -1, false, -1, 0
	flush := func(end int) {
		if start >= 0 {
			out = append(out, span{start, end})
			parts++
		}
		start = -1
	}
	for i, r := range text[from:to] {
		i += from
		switch {
		case unicode.IsDigit(r):
			flush(i)
			if parts > 1 && whole >= 0 {
				out = append(out, span{whole, i})
			}
			whole, parts, small = -1, 0, false
			continue
		case unicode.IsUpper(r) && small:
			flush(i)
		}
		if start < 0 {
			start = i
		}
		if whole < 0 {
			whole = i
		}
		small = unicode.IsLower(r) || small && unicode.IsMark(r)
	}
	flush(to)
	if parts > 1 && whole >= 0 {
		out = append(out, span{whole, to})
	}
	return out
}

// hash reports whether a run is an id or a checksum.
func hash(run string) bool {
	return (len(run) == 16 || len(run) == 64) && strings.Trim(run, "0123456789abcdef") == "" && strings.ContainsAny(run, "0123456789")
}

// fold returns the forms in which a word is compared: lower case without
// marks; and with marks written out, where it has such.
func (n *Names) fold(w string) []string {
	if forms, ok := n.folded[w]; ok {
		return forms
	}
	forms := []string{plainly(w)}
	if out := writtenOut.Replace(strings.ToLower(norm.NFKC.String(w))); out != strings.ToLower(norm.NFKC.String(w)) {
		forms = append(forms, plainly(out))
	}
	if len(n.folded) < 1<<16 { // texts may hold more words than memory
		n.folded[strings.Clone(w)] = forms
	}
	return forms
}

var writtenOut = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "å", "aa", "ø", "oe")

func plainly(w string) string {
	ascii := true
	for i := range len(w) {
		ascii = ascii && w[i] < utf8.RuneSelf
	}
	if ascii {
		return strings.ToLower(w)
	}
	var b strings.Builder
	for _, r := range cases.Fold().String(norm.NFKD.String(w)) {
		if !unicode.IsMark(r) {
			b.WriteString(letter.Plain(r))
		}
	}
	return b.String()
}

// unspaced reports whether a word is of a script that has no blanks.
func unspaced(w string) bool {
	r, _ := utf8.DecodeRuneInString(w)
	return unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana, unicode.Thai, unicode.Lao, unicode.Khmer, unicode.Myanmar)
}
