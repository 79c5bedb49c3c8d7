package column

import (
	"strconv"
	"strings"
	"unicode"

	"repsift/ingest/shape/words"
)

// SetAndRep reads the numbers of a set and a rep in one text: "3/5", "S3R5",
// "Set 3 Rep 5", "3.5".
func SetAndRep(text string) (set, rep int32, ok bool) {
	runs := strings.FieldsFunc(text, func(r rune) bool { return r < '0' || r > '9' })
	if len(runs) != 2 || len(runs[0]) > 3 || len(runs[1]) > 3 {
		return 0, 0, false
	}
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
		h := words.Parse(word)
		if word = strings.ToLower(word); word != "s" && word != "r" && !h.Has.Any(words.Set, words.Rep) && !h.Has.Has(words.Ordinal) {
			return 0, 0, false
		}
	}
	a, _ := strconv.Atoi(runs[0]) // three digits at most
	b, _ := strconv.Atoi(runs[1])
	return int32(a), int32(b), a > 0 && b > 0
}

// paired counts texts that number sets and reps together: of the first rep of a
// set, or of the rep behind the one above or, where the newest stands first,
// before it.
func (s *Stats) paired(text string) {
	set, rep, ok := SetAndRep(text)
	if !ok {
		s.set, s.rep = 0, 0
		return
	}
	if rep == 1 || set == s.set && (rep == s.rep+1 || rep == s.rep-1) || s.rep == 1 {
		s.Paired++
	}
	s.set, s.rep = set, rep
}

// dotted reports whether the numbers of a column are times of day: all of them
// can be, and most are of the hours in which people train.
func (s *Stats) dotted() bool {
	return s.Dotted > 0 && s.Dotted == s.Filled() && s.Quantile(0.5) >= 5
}

// clockWise reports whether a text of digits and a point may be a time of day,
// as it is written in many countries: 16.51.
func clockWise(text string) bool {
	hour, minute, ok := strings.Cut(text, ".")
	if !ok || len(hour) == 0 || len(hour) > 2 || len(minute) != 2 {
		return false
	}
	h, err := strconv.Atoi(hour)
	m, bad := strconv.Atoi(minute)
	return err == nil && bad == nil && h < 24 && m < 60
}
