// Package letter writes the letters of European alphabets that Unicode does not
// take apart into a letter and a mark with plain ones, so that "knebøy" and
// "kneboy" compare as one word. Marks over and under letters are the caller's
// to drop, by the normal form it needs.
package letter

// Plain returns a lower-case letter in ASCII where it is no letter with a mark
// but a letter of its own (ß, ø, æ, œ, ł, đ, ð, ı), and any other as it is.
func Plain(r rune) string {
	switch r {
	case 'ß':
		return "ss"
	case 'ø':
		return "o"
	case 'æ':
		return "ae"
	case 'œ':
		return "oe"
	case 'ł':
		return "l"
	case 'đ', 'ð':
		return "d"
	case 'ı':
		return "i"
	}
	return string(r)
}
