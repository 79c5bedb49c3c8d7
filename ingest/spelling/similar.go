package spelling

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
)

// similarMost is how many names are compared: a column with more different
// ones holds no lifters.
const similarMost = 20_000

// Similar returns pairs of names that may be one person's ("Duarte, Ines" and
// "I. Duarte"; "ines d"; "Ines Durate"), to be suggested, never merged. Names
// equal but for case, blanks and Unicode form are one already and make no
// pair. Both names of a pair and the pairs are in byte order. Nil for more
// than 20,000 names.
func Similar(names []string) [][2]string {
	byFold := make(map[string]string)
	for _, n := range names {
		n = Tidy(n)
		if old, ok := byFold[Fold(n)]; n != "" && (!ok || Better(n, old)) {
			byFold[Fold(n)] = n
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
		words[i] = strings.FieldsFunc(Unmarked(Fold(n)), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '\'' })
	}
	var pairs [][2]string
	for _, p := range append(sharing(words), abbreviated(one, words)...) {
		i, j := p[0], p[1]
		if samePerson(words[i], words[j]) || initials(one[i], words[j]) || initials(one[j], words[i]) {
			pairs = append(pairs, [2]string{one[i], one[j]})
		}
	}
	slices.SortFunc(pairs, func(a, b [2]string) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	return slices.Compact(pairs)
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
		func(x, y string) bool { return min(len(x), len(y)) >= slipLeast && Slips(x, y) == 1 && !HasDigit(x+y) },
		func(x, y string) bool { return (strings.HasPrefix(x, y) || strings.HasPrefix(y, x)) && !HasDigit(x+y) },
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

// slipLeast is from how many bytes on a word may be another with a slip in it.
const slipLeast = 5

func HasDigit(s string) bool { return strings.ContainsFunc(s, unicode.IsDigit) }

// initials reports whether a text such as "ID" or "I.D." stands for the words
// of a name, in either order.
func initials(written string, words []string) bool {
	small, ok := bareInitials(written)
	first, turned := initialsOf(words)
	return ok && first != "" && (small == first || small == turned)
}

// bareInitials returns the letters of a text that is nothing but initials, small.
func bareInitials(written string) (string, bool) {
	var small strings.Builder
	for _, r := range written {
		switch {
		case unicode.IsUpper(r):
			small.WriteRune(unicode.ToLower(r))
		case r != '.' && r != ' ':
			return "", false
		}
	}
	return small.String(), true
}

// initialsOf returns the initials of the words of a name, in either order; none
// where a word is one letter itself.
func initialsOf(words []string) (first, turned string) {
	if len(words) < 2 {
		return "", ""
	}
	for _, w := range words {
		r := []rune(w)
		if len(r) < 2 {
			return "", ""
		}
		first, turned = first+string(r[:1]), string(r[:1])+turned
	}
	return first, turned
}
