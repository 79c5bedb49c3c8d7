package charset

import (
	"bytes"
	"unicode/utf8"
)

// foreign returns for each language of pairs how little the ASCII words of a
// text look like its words, from 0 for the language that they look like most:
// a table with Italian headings will hold Marchì rather than Marchě. What is
// English says little, since its words stand in tables of any language.
func foreign(sample []byte) []float64 {
	bits := make([]float64, len(plain))
	inEnglish := 0.0
	seen := make(map[string]bool)
	for len(sample) > 0 && len(seen) < mostWords {
		n := 0
		for n < len(sample) && (isLetter(sample[n]) || sample[n] >= utf8.RuneSelf) {
			n++
		}
		word := bytes.ToLower(sample[:n])
		sample = sample[min(len(sample), n+1):]
		if len(word) < 3 || seen[string(word)] {
			continue
		}
		seen[string(word)] = true
		before := 0
		for _, b := range append(word, '.') {
			place := -1 // beyond ASCII: the encoding is not known
			switch {
			case b == '.':
				place = 0
			case isLetter(b):
				place = int(b - 'a' + 1)
			}
			if before >= 0 && place >= 0 {
				for i := range plain {
					bits[i] += float64(plain[i][27*before+place] - 'A')
				}
				inEnglish += float64(english[27*before+place] - 'A')
			}
			before = place
		}
	}
	least := bits[0]
	for _, b := range bits {
		least = min(least, b)
	}
	rate := perBit
	if inEnglish < least {
		rate *= 0.4
	}
	for i := range bits {
		bits[i] = min(mostForeign, rate*(bits[i]-least))
	}
	return bits
}

const (
	mostWords   = 300
	perBit      = 0.06
	mostForeign = 2.5
)

func isLetter(b byte) bool { return b|0x20 >= 'a' && b|0x20 <= 'z' }
