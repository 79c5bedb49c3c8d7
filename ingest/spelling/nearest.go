package spelling

import (
	"strings"
	"unicode"
)

// Nearest returns the known word that a written one most likely stands for:
// equal but for case, blanks, hyphens and underscores, or a few slips of the
// finger away; of equally near ones the first. Empty where none is near.
func Nearest(written string, known []string) string {
	w := Bare(written)
	if w == "" || len(w) > 100 {
		return ""
	}
	best, least := "", 1+max(1, len([]rune(w))/3)
	for _, k := range known {
		b := Bare(k)
		if b == w {
			return k
		}
		// A word that was cut short or lengthened: file, files; lifter_name, lifter.
		if d := Slips(w, b); d < least && d < len([]rune(b)) {
			best, least = k, d
		}
	}
	return best
}

func Bare(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '_' || r == '-' || unicode.IsSpace(r) {
			return -1
		}
		return r
	}, Fold(s))
}

// Slips counts the letters inserted, left out, changed or swapped with their
// neighbour that turn a into b: optimal string alignment (Damerau 1964).
func Slips(a, b string) int {
	x, y := []rune(a), []rune(b)
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i, r := range x {
		row[0] = i + 1
		for j, q := range y {
			cost := 1
			if r == q {
				cost = 0
			}
			row[j+1] = min(row[j]+1, last[j+1]+1, last[j]+cost)
			if i > 0 && j > 0 && r == y[j-1] && x[i-1] == q {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}
