package season

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"

	"repsift/ingest/letter"
)

// tidy trims a text, makes each run of blanks one blank, and composes
// characters (NFC). Zero-width marks go.
func tidy(s string) string {
	if plainASCII(s) {
		return s
	}
	s = strings.Map(func(r rune) rune {
		if r == '\u200b' || r == '\ufeff' {
			return -1
		}
		return r
	}, s)
	return strings.Join(strings.Fields(norm.NFC.String(s)), " ")
}

// plainASCII reports whether tidy has nothing to do, the usual case.
func plainASCII(s string) bool {
	gap := true
	for i := range len(s) {
		if c := s[i]; c > '~' || c < ' ' || c == ' ' && gap {
			return false
		}
		gap = s[i] == ' '
	}
	return s == "" || !gap
}

// fold returns what two writings of one name have in common: case, blanks and
// Unicode form put aside (canonical caseless matching, Unicode 3.13, D145).
func fold(s string) string {
	s = tidy(s)
	for i := range len(s) {
		if s[i] > '~' {
			// A Caser may hold state, so each call has its own.
			return norm.NFC.String(cases.Fold().String(norm.NFD.String(s)))
		}
	}
	return strings.ToLower(s)
}

// Lifter returns the name of a lifter from one way of writing it: the declared
// name where a [[lifter]] has the spelling (case, runs of blanks and Unicode
// form aside), else the text as written, trimmed, runs of blanks made one. Use
// [Season.Names] where several writings of one undeclared name can meet.
func (s *Season) Lifter(written string) string {
	if name, ok := s.declaredLifter(fold(written)); ok {
		return name
	}
	return tidy(written)
}

func (s *Season) declaredLifter(folded string) (name string, ok bool) {
	if s == nil || folded == "" {
		return "", false
	}
	name, ok = s.declared().lifters[folded]
	return name, ok
}

// spellings finds declared names by any of their writings, folded.
type spellings struct {
	lifters map[string]string
	lifts   map[string]liftName
}

type liftName struct{ lift, variant string }

// declared returns the spellings of the season's lifters and lifts. Of two
// tables with one spelling the first holds; Read lets none pass.
func (s *Season) declared() *spellings {
	if s.spellings != nil {
		return s.spellings
	}
	sp := &spellings{make(map[string]string), make(map[string]liftName)}
	for i := range s.Lifters {
		l := &s.Lifters[i]
		for _, w := range append([]string{l.Name}, l.Spelled...) {
			if _, taken := sp.lifters[fold(w)]; !taken {
				sp.lifters[fold(w)] = l.Name
			}
		}
	}
	put := func(written string, is liftName) {
		if _, taken := sp.lifts[fold(written)]; !taken {
			sp.lifts[fold(written)] = is
		}
	}
	for i := range s.Lifts {
		l := &s.Lifts[i]
		for _, w := range l.Spelled {
			put(w, liftName{l.Name, l.Variant})
		}
	}
	for i := range s.Lifts {
		put(s.Lifts[i].Name, liftName{s.Lifts[i].Name, ""})
	}
	return sp
}

// Names returns the name of each lifter seen, by the writing: as
// [Season.Lifter], and writings that differ only by case, blanks or Unicode
// form get one name. Of undeclared ones that is the best-written: each word
// with one capital ("Ines Duarte") before other mixtures, before small letters
// alone, before capitals alone; of equals the first by bytes. The order in
// which they are given does not matter.
func (s *Season) Names(seen []string) map[string]string {
	type name struct {
		text     string
		declared bool
	}
	best := make(map[string]name)
	for _, w := range seen {
		key := fold(w)
		n := name{text: tidy(w)}
		if text, ok := s.declaredLifter(key); ok {
			n = name{text, true}
		}
		old, ok := best[key]
		if !ok || !old.declared && better(n.text, old.text) {
			best[key] = n
		}
	}
	names := make(map[string]string, len(seen))
	for _, w := range seen {
		names[w] = best[fold(w)].text
	}
	return names
}

// better reports whether a is the better writing of a name than b.
func better(a, b string) bool {
	return cmp.Or(cmp.Compare(writing(a), writing(b)), cmp.Compare(a, b)) < 0
}

// writing ranks how a name is written: 0 each word with one capital, 1 mixed,
// 2 small letters, 3 capitals.
func writing(s string) int {
	upper, lower, title := false, false, true
	start := true
	for _, r := range s {
		switch {
		case !unicode.IsLetter(r):
			start = !unicode.Is(unicode.Mn, r) && r != '\'' && r != '’'
			continue
		case unicode.IsUpper(r):
			upper = true
			title = title && start
		default:
			lower = true
			title = title && !start
		}
		start = false
	}
	switch {
	case upper && lower && title:
		return 0
	case upper && lower:
		return 1
	case lower:
		return 2
	}
	return 3
}

// similarMost is how many names are compared: a column with more different
// ones holds no lifters.
const similarMost = 1000

// Similar returns pairs of names that may be one person's ("Duarte, Ines" and
// "I. Duarte"; "ines d"; "Ines Durate"), to be suggested, never merged. Names
// equal but for case, blanks and Unicode form are one already and make no
// pair. Both names of a pair and the pairs are in byte order. Nil for more
// than 1000 names.
func Similar(names []string) [][2]string {
	byFold := make(map[string]string)
	for _, n := range names {
		n = tidy(n)
		if old, ok := byFold[fold(n)]; n != "" && (!ok || better(n, old)) {
			byFold[fold(n)] = n
		}
	}
	if len(byFold) > similarMost {
		return nil
	}
	one := make([]string, 0, len(byFold))
	for _, n := range byFold {
		one = append(one, n)
	}
	slices.Sort(one)
	words := make([][]string, len(one))
	for i, n := range one {
		words[i] = strings.FieldsFunc(unmarked(fold(n)), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '\'' })
	}
	var pairs [][2]string
	for i := range one {
		for j := i + 1; j < len(one); j++ {
			if samePerson(words[i], words[j]) || initials(one[i], words[j]) || initials(one[j], words[i]) {
				pairs = append(pairs, [2]string{one[i], one[j]})
			}
		}
	}
	return pairs
}

// samePerson reports whether the words of the shorter name can each be found
// in the longer: in full, with one slip, or as a beginning or initial. At
// least one has to be there in full or with a slip.
func samePerson(a, b []string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	used := make([]bool, len(b))
	full := false
	for i, fit := range []func(x, y string) bool{
		func(x, y string) bool { return x == y && len(x) > 1 },
		func(x, y string) bool { return min(len(x), len(y)) >= 5 && slips(x, y) == 1 && !digits(x+y) },
		func(x, y string) bool { return strings.HasPrefix(x, y) || strings.HasPrefix(y, x) },
	} {
		var left []string
		for _, x := range a {
			j := 0
			for j < len(b) && (used[j] || !fit(x, b[j])) {
				j++
			}
			if j == len(b) {
				left = append(left, x)
				continue
			}
			used[j] = true
			full = full || i < 2
		}
		a = left
	}
	return len(a) == 0 && full
}

func digits(s string) bool { return strings.ContainsFunc(s, unicode.IsDigit) }

// initials reports whether a text such as "ID" or "I.D." stands for the words
// of a name, in either order.
func initials(written string, words []string) bool {
	var small strings.Builder
	for _, r := range written {
		switch {
		case unicode.IsUpper(r):
			small.WriteRune(unicode.ToLower(r))
		case r != '.' && r != ' ':
			return false
		}
	}
	if len(words) < 2 {
		return false
	}
	var first, turned string
	for _, w := range words {
		r := []rune(w)
		if len(r) < 2 {
			return false
		}
		first, turned = first+string(r[:1]), string(r[:1])+turned
	}
	return small.String() == first || small.String() == turned
}

// unmarked drops accents and writes letters that have no plain form with
// plain ones: "knebøy" is "kneboy".
func unmarked(s string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(s) {
		if !unicode.Is(unicode.Mn, r) {
			b.WriteString(letter.Plain(r))
		}
	}
	return b.String()
}
