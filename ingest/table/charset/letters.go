package charset

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
)

// candidate is an encoding of one byte a character, the letters that texts in
// it are full of, and what it is given beforehand: usual encodings win where the
// letters do not decide.
type candidate struct {
	name   string
	enc    *charmap.Charmap
	common string
	prior  float64
}

const (
	western  = "äöüßéèêëàâçñãõáíóúîïôùûøåæìòÄÖÜÉÈÀÇÑÁÍÓÚØÅÆÂÊÔÎÃÕ"
	central  = "ąćęłńóśżáčéěíňřšúůýžőăşäöüßĄĆĘŁŃÓŚŻČĚŇŘŠŮÝŽŐĂŞÁÉÍÚÄÖÜ"
	cyrillic = "оеаинтсрвлкмдпуяызьбгчйжхшюцщэфъё"
	turkish  = "çğıöşüâîÇĞİÖŞÜ"
	baltic   = "āčēģīķļņšūžąčęėįųõäöüĀČĒĢĪĶĻŅŠŪŽĄĘĖĮŲ"
	greek    = "αβγδεζηθικλμνξοπρστυφχψωςάέήίόύώ"
)

// eightBit are the encodings tried, the usual first.
var eightBit = []candidate{
	{"Windows-1252", charmap.Windows1252, western, 0.4},
	{"Windows-1250", charmap.Windows1250, central, 0.1},
	{"ISO 8859-2", charmap.ISO8859_2, central, 0.05},
	{"Windows-1251", charmap.Windows1251, cyrillic, 0.1},
	{"KOI8-R", charmap.KOI8R, cyrillic, 0},
	{"Mac Roman", charmap.Macintosh, western, 0},
	{"DOS 850", charmap.CodePage850, western, -0.2},
	{"DOS 852", charmap.CodePage852, central, -0.3},
	{"DOS 866", charmap.CodePage866, cyrillic, -0.2},
	{"DOS 437", charmap.CodePage437, western, -0.3},
	{"Windows-1254", charmap.Windows1254, turkish, -0.2},
	{"Windows-1257", charmap.Windows1257, baltic, -0.4},
	{"Windows-1253", charmap.Windows1253, greek, 0},
	{"Mac Cyrillic", charmap.MacintoshCyrillic, cyrillic, -0.2},
}

// rare are letters of the languages above that are seldom seen.
const rare = "źďťűţâîôľĺŕđŹĎŤŰŢœŒÿýþðšž"

// most is how many characters beyond ASCII are weighed.
const most = 4000

// doubt is how much more plausible than another an encoding has to be so that
// what it makes of names can be taken as read. Of 2,500 generated exports the
// wrong encoding was taken for two, both by less than half of this.
const doubt = 0.8

// byLetters returns the encoding whose characters are the most plausible, with
// those that are hardly less so as its rivals.
func byLetters(sample []byte) Charset {
	best, scores := 0, make([]float64, len(eightBit))
	languages := foreign(sample)
	for i, c := range eightBit {
		scores[i] = c.prior + c.plausible(sample, languages)
		if c.enc == charmap.Macintosh && bytes.IndexByte(sample, '\r') >= 0 && bytes.IndexByte(sample, '\n') < 0 {
			scores[i]++ // lines end as on an old Macintosh
		}
		if scores[i] > scores[best] {
			best = i
		}
	}
	found := Charset{Name: eightBit[best].name, enc: eightBit[best].enc}
	for i, c := range eightBit {
		if i != best && scores[best]-scores[i] < doubt && differ(sample, eightBit[best].enc, c.enc) {
			found.Rivals = append(found.Rivals, Charset{Name: c.name, enc: c.enc})
		}
	}
	return found
}

// differ reports whether two encodings make different texts of a sample.
func differ(sample []byte, a, b *charmap.Charmap) bool {
	for _, c := range sample {
		if c >= utf8.RuneSelf && a.DecodeByte(c) != b.DecodeByte(c) {
			return true
		}
	}
	return false
}

// plausible sums up how plausible the characters beyond ASCII are where they
// stand. A usual letter within a word counts for it; a capital after a small
// letter, a small one in a word of capitals, a sign within a word, a control or an
// undefined byte against it.
// Letters that one language has together count for it once more, "Peña Ibáñez"
// is Spanish, "Peńa Ibáńez" of no language; those of a second nearly as much, as
// names come from elsewhere; and letters that its words have beside each other.
func (c *candidate) plausible(sample []byte, languages []float64) float64 {
	sum, n := 0.0, 0
	letters := make(map[rune]int)
	seen := make(map[[3]rune]bool)
	var latin [][3]rune
	for i, b := range sample {
		if b < utf8.RuneSelf {
			continue
		}
		if n++; n > most {
			break
		}
		r := c.enc.DecodeByte(b)
		before, after := ' ', ' '
		if i > 0 {
			before = c.enc.DecodeByte(sample[i-1])
		}
		if i+1 < len(sample) {
			after = c.enc.DecodeByte(sample[i+1])
		}
		place := [3]rune{before, r, after}
		if seen[place] {
			continue // the same word again is no more evidence
		}
		seen[place] = true
		sum += plausible(r, before, after, c.common)
		if unicode.IsLower(r) && unicode.IsUpper(before) && (unicode.IsUpper(after) || !unicode.IsLetter(after) && i > 1 && unicode.IsUpper(c.enc.DecodeByte(sample[i-2]))) {
			sum -= 1.6 // small in a word of capitals
		}
		letters[unicode.ToLower(r)]++
		if unicode.Is(unicode.Latin, r) && r != 'º' && r != 'ª' && len(latin) < 200 {
			latin = append(latin, [3]rune{neighbour(before), unicode.ToLower(r), neighbour(after)})
		}
	}
	first, second := together(letters)
	return sum + 0.6*float64(first) + 0.5*float64(second) + spoken(latin, languages)
}

// neighbour is a letter as pairs have it; a point stands for anything else.
func neighbour(r rune) rune {
	if unicode.IsLetter(r) {
		return unicode.ToLower(r)
	}
	return '.'
}

func plausible(r, before, after rune, common string) float64 {
	inWord := unicode.IsLetter(before) || unicode.IsLetter(after)
	switch {
	case r == utf8.RuneError || unicode.IsControl(r):
		return -4
	case r == 'º' || r == 'ª': // Nº, 1ª
		return when((unicode.IsLetter(before) || unicode.IsDigit(before) || before == '.') && !unicode.IsLetter(after), 1.5, -1)
	case unicode.IsLetter(r):
		score := 0.1
		if strings.ContainsRune(common, r) {
			score = 1
		} else if strings.ContainsRune(common, unicode.ToLower(r)) {
			score = 0.9
		} else if strings.ContainsRune(rare, r) {
			score = 0.6
		}
		if inWord {
			score += 0.5
		} else {
			score -= 0.4
		}
		if unicode.IsUpper(r) && unicode.IsLower(before) {
			score -= 1.6
		}
		if unicode.IsDigit(before) {
			score -= 0.8
		}
		if unicode.Is(unicode.Latin, r) != unicode.Is(unicode.Latin, before) && unicode.IsLetter(before) {
			score -= 1.5 // two scripts in one word
		}
		return score
	case r == 0xA0:
		return 0.4
	case r == '’' && unicode.IsLetter(before) && strings.ContainsRune("stdrvml", after):
		return 1.6 // the coach’s, didn’t
	case r == '’' || r == '‘':
		return when(unicode.IsLetter(before), 0.9, 0.1)
	case (r == '“' || r == '„') && !unicode.IsLetter(before) && unicode.IsLetter(after),
		r == '”' && !unicode.IsSpace(before) && !unicode.IsLetter(after),
		r == '–' && unicode.IsSpace(before) && unicode.IsSpace(after):
		return 1.4
	case strings.ContainsRune("°º²³µ%×±½¼", r):
		return when(unicode.IsDigit(before) || unicode.IsSpace(before) || unicode.IsLetter(before) && !unicode.IsLetter(after), 0.8, -1)
	case strings.ContainsRune("®™©", r):
		return when(!unicode.IsLetter(after), 0.7, -1)
	case strings.ContainsRune("–—“”„…•€£«»·§", r):
		return when(!unicode.IsLetter(before) || !unicode.IsLetter(after), 0.6, -1)
	case inWord:
		return -1.5
	}
	return -0.4
}

func when(ok bool, yes, no float64) float64 {
	if ok {
		return yes
	}
	return no
}

// eastAsian recognises the encodings of two bytes a character: nearly all bytes
// beyond ASCII stand in pairs, and nearly all characters are of the script.
func eastAsian(sample []byte) (Charset, bool) {
	high, run, inRuns := 0, 0, 0
	for i := 0; i <= len(sample); i++ {
		if i < len(sample) && sample[i] >= utf8.RuneSelf {
			run++
			continue
		}
		high += run
		if run > 1 {
			inRuns += run
		}
		run = 0
	}
	if high < 8 {
		return Charset{}, false
	}
	if share(sample, japanese.ShiftJIS, []*unicode.RangeTable{unicode.Hiragana, unicode.Katakana}) >= 0.4 {
		return Charset{Name: "Shift_JIS", enc: japanese.ShiftJIS}, true // its second bytes may be ASCII
	}
	if inRuns*10 < high*6 {
		return Charset{}, false
	}
	for _, e := range []struct {
		name   string
		enc    encoding.Encoding
		script []*unicode.RangeTable
		share  float64
	}{
		{"EUC-JP", japanese.EUCJP, []*unicode.RangeTable{unicode.Hiragana, unicode.Katakana}, 0.25},
		{"EUC-KR", korean.EUCKR, []*unicode.RangeTable{unicode.Hangul}, 0.9},
		{"GB18030", simplifiedchinese.GB18030, []*unicode.RangeTable{unicode.Han}, 0.8},
		{"Big5", traditionalchinese.Big5, []*unicode.RangeTable{unicode.Han}, 0.8},
	} {
		if share(sample, e.enc, e.script) >= e.share && !looksCyrillic(sample) {
			return Charset{Name: e.name, enc: e.enc}, true
		}
	}
	return Charset{}, false
}

// share returns which part of the characters beyond ASCII is of the scripts; 0
// if one is not valid.
func share(sample []byte, enc encoding.Encoding, scripts []*unicode.RangeTable) float64 {
	if end := bytes.LastIndexAny(sample, "\r\n"); end > 0 {
		sample = sample[:end] // a character may be cut off
	}
	text, err := enc.NewDecoder().Bytes(sample)
	if err != nil {
		return 0
	}
	all, in, glued := 0, 0, 0
	before := ' '
	for _, r := range string(text) {
		switch {
		case r == utf8.RuneError:
			return 0
		case r < utf8.RuneSelf:
			if unicode.IsLetter(r) && before >= utf8.RuneSelf {
				glued++
			}
		case unicode.In(r, scripts...):
			in++
			all++
			if unicode.IsLetter(before) && before < utf8.RuneSelf {
				glued++
			}
		case unicode.IsLetter(r):
			all++
		}
		before = r
	}
	if all == 0 || glued*3 > in { // Latin words with accents look like both scripts in one word
		return 0
	}
	return float64(in) / float64(all)
}

// looksCyrillic reports whether one of the Cyrillic encodings makes words of
// usual letters of the sample.
func looksCyrillic(sample []byte) bool {
	for _, enc := range []*charmap.Charmap{charmap.Windows1251, charmap.KOI8R, charmap.CodePage866} {
		usual, all := 0, 0
		for _, b := range sample {
			if b >= utf8.RuneSelf {
				all++
				if strings.ContainsRune("оеаинтсрвлкмдпуя", unicode.ToLower(enc.DecodeByte(b))) {
					usual++
				}
			}
		}
		if usual*10 > all*7 {
			return true
		}
	}
	return false
}
