package spelling

import (
	"slices"
	"strings"
	"unicode"
)

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
		func(x, y string) bool { return min(len(x), len(y)) >= 5 && Slips(x, y) == 1 && !HasDigit(x+y) },
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

func HasDigit(s string) bool { return strings.ContainsFunc(s, unicode.IsDigit) }

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
