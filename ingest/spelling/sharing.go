package spelling

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// sharing returns the pairs of names, by number, of which [samePerson] may hold.
// Every word of the shorter name is in the longer then, so it suffices to look at
// the names that have the rarest of them: few, where all of a federation's names
// against each other are millions of pairs.
func sharing(names [][]string) (pairs [][2]int) {
	x := indexWords(names)
	for i, name := range names {
		var rarest []int32 // words that may be that of name i
		least := math.MaxInt
		for _, w := range name {
			near := x.near(w)
			n := 0
			for _, k := range near {
				n += len(x.names[k])
			}
			if n < least {
				least, rarest = n, near
			}
		}
		for _, k := range rarest {
			for _, j := range x.names[k] {
				if j := int(j); j != i && len(names[j]) >= len(name) {
					pairs = append(pairs, [2]int{min(i, j), max(i, j)})
				}
			}
		}
	}
	return pairs
}

// abbreviated returns the pairs of which one is written as initials, and they
// are the other's.
func abbreviated(written []string, names [][]string) (pairs [][2]int) {
	of := make(map[string][]int)
	for i, name := range names {
		first, turned := initialsOf(name)
		of[first] = append(of[first], i)
		if turned != first {
			of[turned] = append(of[turned], i)
		}
	}
	for i, text := range written {
		if small, ok := bareInitials(text); ok && small != "" {
			for _, j := range of[small] {
				pairs = append(pairs, [2]int{min(i, j), max(i, j)})
			}
		}
	}
	return pairs
}

// wordIndex finds the words that one word of a name may be.
type wordIndex struct {
	words []string           // in byte order
	names [][]int32          // of each, the names it is in
	cut   map[string][]int32 // words by what is left of them without one letter, or with all
	known map[string][]int32
}

func indexWords(names [][]string) *wordIndex {
	x := &wordIndex{cut: make(map[string][]int32), known: make(map[string][]int32)}
	for _, name := range names {
		x.words = append(x.words, name...)
	}
	slices.Sort(x.words)
	x.words = slices.Compact(x.words)
	x.names = make([][]int32, len(x.words))
	for i, name := range names {
		for k, w := range name {
			if at, _ := slices.BinarySearch(x.words, w); !slices.Contains(name[:k], w) {
				x.names[at] = append(x.names[at], int32(i))
			}
		}
	}
	for k, w := range x.words {
		for _, c := range cuts(w) {
			x.cut[c] = append(x.cut[c], int32(k))
		}
	}
	return x
}

// near returns the words that w is, begins, begins with, or is one slip from.
func (x *wordIndex) near(w string) []int32 {
	if near, ok := x.known[w]; ok {
		return near
	}
	var near []int32
	for n := 1; n < len(w); n++ {
		if k, ok := slices.BinarySearch(x.words, w[:n]); ok {
			near = append(near, int32(k))
		}
	}
	k, _ := slices.BinarySearch(x.words, w)
	for ; k < len(x.words) && strings.HasPrefix(x.words[k], w); k++ {
		near = append(near, int32(k))
	}
	for _, c := range cuts(w) {
		near = append(near, x.cut[c]...)
	}
	slices.Sort(near)
	near = slices.Compact(near)
	x.known[w] = near
	return near
}

// cuts returns w and all that is left of it without one letter: words one slip
// apart have some of them in common. None for words of which slips do not count.
func cuts(w string) []string {
	if len(w) < slipLeast || HasDigit(w) {
		return nil
	}
	out := []string{w}
	for i := range w {
		_, size := utf8.DecodeRuneInString(w[i:])
		out = append(out, w[:i]+w[i+size:])
	}
	return out
}
