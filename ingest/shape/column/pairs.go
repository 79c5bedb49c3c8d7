package column

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"repsift/ingest/shape/words"
)

// SetAndRep reads the numbers of a set and a rep in one text: "3/5", "S3R5",
// "Set 3 Rep 5", "3.5".
func SetAndRep(text string) (set, rep int32, ok bool) {
	runs, ok := twoNumbers(text)
	if !ok {
		return 0, 0, false
	}
	first := ""
	for word := range strings.FieldsFuncSeq(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
		h := words.Parse(word)
		word = strings.ToLower(word)
		switch ofRep := word == "r" || h.Has.Has(words.Rep); {
		case word != "s" && word != "r" && !h.Has.Any(words.Set, words.Rep) && !h.Has.Has(words.Ordinal):
			return 0, 0, false
		case first == "" && ofRep:
			first = "rep"
		case first == "" && !h.Has.Has(words.Ordinal):
			first = "set"
		case first == "rep" && !ofRep:
			runs[0], runs[1] = runs[1], runs[0] // "Rep 2 of set 1"
			first = "both"
		}
	}
	a, _ := strconv.Atoi(runs[0]) // three digits at most
	b, _ := strconv.Atoi(runs[1])
	return int32(a), int32(b), a > 0 && b > 0
}

// twoNumbers returns the two runs of digits in a text that has no others; false
// where it has more or less, or longer ones than of three.
func twoNumbers(text string) (runs [2]string, ok bool) {
	n := 0
	for i := 0; i < len(text); {
		if !isDigit(rune(text[i])) {
			i++
			continue
		}
		from := i
		for i < len(text) && isDigit(rune(text[i])) {
			i++
		}
		if n == len(runs) || i-from > 3 {
			return runs, false
		}
		runs[n] = text[from:i]
		n++
	}
	return runs, n == len(runs)
}

// OfMany reads the first number of "2 of 3".
func OfMany(text string) (int32, bool) {
	if oneWord(text) {
		return 0, false
	}
	w := strings.Fields(text)
	if len(w) != 3 || len(w[0]) > 3 || len(w[2]) > 3 {
		return 0, false
	}
	switch strings.ToLower(w[1]) {
	case "of", "von", "de", "di", "av", "af", "sur", "van", "z", "из":
		n, err := strconv.Atoi(w[0])
		_, bad := strconv.Atoi(w[2])
		return int32(n), err == nil && bad == nil && n > 0
	}
	return 0, false
}

// oneWord reports whether a text is one word of ASCII, as most cells are.
func oneWord(text string) bool {
	for i := range len(text) {
		if text[i] <= ' ' || text[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// paired counts texts that number sets and reps together: of the first rep of a
// set, or of the rep behind the one above or, where the newest stands first,
// before it. It reports whether the text does.
func (s *Stats) paired(text string) bool {
	set, rep, ok := SetAndRep(text)
	if !ok {
		s.set, s.rep = 0, 0
		return false
	}
	if rep == 1 || set == s.set && (rep == s.rep+1 || rep == s.rep-1) || s.rep == 1 {
		s.Paired++
	}
	s.set, s.rep = set, rep
	return true
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

// Paced reports whether the cells say how reps are to be paced rather than how
// fast they were: 3-1-X-0, 3010, the seconds down, below, up and above.
func (s *Stats) Paced() bool {
	if s.Filled() == 0 {
		return false
	}
	paced, surely := 0, false
	add := func(text string, n int) {
		if ok, sure := pace(text); ok {
			paced += n
			surely = surely || sure
		}
	}
	texts := 0
	for _, t := range s.Distinct {
		texts += t.N
		add(t.Text, t.N)
	}
	if texts == 0 {
		for _, v := range s.Values {
			add(strconv.FormatFloat(v, 'f', -1, 64), 1)
		}
	}
	return surely && 10*paced >= 9*max(texts, len(s.Values))
}

// pace reports whether a text can be three or four paces, and whether it can be
// nothing else: 3010 is more than the 3 m/s that no bar reaches, in mm/s.
func pace(text string) (ok, sure bool) {
	figures := 0
	apart, explosive := false, false
	for _, r := range strings.TrimSpace(text) {
		switch {
		case r >= '0' && r <= '9':
			figures++
		case r == 'x' || r == 'X':
			figures++
			explosive = true
		case r == '-' || r == '/' || r == ':' || r == ' ' || r == '–' || r == '.':
			apart = true
		default:
			return false, false
		}
	}
	switch {
	case figures == 4 && !apart:
		return true, explosive || text >= "2"
	case figures == 3 || figures == 4:
		return apart || explosive, explosive || strings.ContainsAny(text, "-:–")
	}
	return false, false
}
