package spelling

import (
	"slices"
	"strings"
	"unicode"
)

// KnownLift returns the lift and variant that a written name means in the
// usual words of the trade: "Kniebeuge" is the squat, "Sumo DL" the deadlift,
// sumo, "2ct pause bench" the bench press, paused. Several variants are joined by ", "
// in alphabetical order. It returns false for exercises that only sound alike
// ("front squat", "Romanian deadlift", "incline bench": lifts of their own)
// and for any name with a word that is neither a lift's nor a variant's.
func KnownLift(written string) (lift, variant string, ok bool) {
	lift, variants, ok := takeWords(written)
	return lift, variants, ok && lift != ""
}

// KnownVariant returns the variant that a written text means; false where a
// word of it is none, or it says nothing of a variant.
func KnownVariant(written string) (variant string, ok bool) {
	lift, variant, ok := takeWords(written)
	return variant, ok && lift == "" && variant != ""
}

// longestPhrase is the most words of an entry of the vocabulary.
const longestPhrase = 4

// takeWords reads a text phrase by phrase, longest first; false where one is
// not in the vocabulary, or two lifts are named.
func takeWords(written string) (lift, variant string, ok bool) {
	if len(written) > 200 {
		return "", "", false
	}
	words := strings.FieldsFunc(Unmarked(Fold(written)), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '&'
	})
	var variants []string
	counted := false
	for len(words) > 0 {
		n := min(longestPhrase, len(words))
		for ; n > 0; n-- {
			phrase := strings.Join(words[:n], " ")
			if l, is := liftWords()[phrase]; is && (lift == "" || lift == l) {
				lift = l
				break
			}
			if v, is := variantWords()[phrase]; is {
				if v != "" && !slices.Contains(variants, v) {
					variants = append(variants, v)
				}
				break
			}
			if n == 1 && count(phrase) {
				counted = true
				break
			}
		}
		if n == 0 {
			return "", "", false
		}
		words = words[n:]
	}
	// "3 s pause", "tempo 3-1-0"; a number beside nothing of the kind is unknown.
	if counted && !slices.Contains(variants, "paused") && !slices.Contains(variants, "tempo") {
		return "", "", false
	}
	slices.Sort(variants)
	return lift, strings.Join(variants, ", "), true
}

// count reports whether a word counts a pause or a tempo: 2ct, 3, 310, sec.
func count(word string) bool {
	unit := strings.TrimLeftFunc(word, unicode.IsDigit)
	switch unit {
	case "", "ct", "count", "counts", "s", "sec", "second", "seconds", "sek", "sekunden", "seg", "segundos", "sekund", "с", "сек":
		return true
	}
	return false
}
