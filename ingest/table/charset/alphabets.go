package charset

import (
	"math"
	"strings"
	"sync"
)

// alphabets are the small letters beyond ASCII of single languages, as their
// orthographies have them.
var alphabets = []string{
	"äöüßå",             // German, Swedish, Finnish
	"æøåéèòôö",          // Danish, Norwegian
	"éèêëàâçîïôùûüœæ",   // French
	"áéíóúñüºª",         // Spanish
	"ãõáàâçéêíóôúüºª",   // Portuguese
	"àèéìíîòóùúºª",      // Italian
	"éëïöüèáóíê",        // Dutch
	"áðéíóúýþæö",        // Icelandic
	"ąćęłńóśźż",         // Polish
	"áčďéěíňóřšťúůýž",   // Czech
	"áäčďéíĺľňóôŕšťúýž", // Slovak
	"áéíóöőúüű",         // Hungarian
	"ăâîşţșț",           // Romanian
	"čćđšž",             // Croatian, Slovene
	"çğıöşüâîû",         // Turkish
	"āčēģīķļņšūž",       // Latvian
	"ąčęėįšųūž",         // Lithuanian
	"äöüõšž",            // Estonian
	"абвгдежзийклмнопрстуфхцчшщъыьэюяёіїєґў", // Cyrillic
	"αβγδεζηθικλμνξοπρστυφχψωςάέήίόύώϊϋΐΰ",   // Greek
}

// together returns how many of the letters the language has that has most of
// them, and how many more a second one.
func together(letters map[rune]int) (first, second int) {
	count := func(a, without string) int {
		n := 0
		for _, r := range a {
			if !strings.ContainsRune(without, r) {
				n += letters[r]
			}
		}
		return n
	}
	best := ""
	for _, a := range alphabets {
		if n := count(a, ""); n > first {
			best, first = a, n
		}
	}
	for _, a := range alphabets {
		second = max(second, count(a, best))
	}
	return first, second
}

// beside tells how usual two letters are beside each other: a map a language.
var beside = sync.OnceValue(func() []map[[2]rune]float64 {
	all := make([]map[[2]rune]float64, len(pairs))
	for i, s := range pairs {
		all[i] = map[[2]rune]float64{}
		worth := 1.0
		for r := []rune(s); len(r) > 1; {
			if r[0] == '|' {
				worth -= 0.45
				r = r[1:]
				continue
			}
			all[i][[2]rune{r[0], r[1]}] = worth
			r = r[2:]
		}
	}
	return all
})

// never is what two letters count that no word of the language has beside each
// other.
const never = -0.8

// spoken returns how well letters with their neighbours fit the words of one
// language; those that do not, those of any other, as names come from elsewhere.
// Languages that the ASCII words do not look like (see [foreign]) fit less.
func spoken(places [][3]rune, foreign []float64) float64 {
	worth := func(m map[[2]rune]float64, p [3]rune) float64 {
		sum := 0.0
		for _, pair := range [][2]rune{{p[0], p[1]}, {p[1], p[2]}} {
			if x, ok := m[pair]; ok {
				sum += x
			} else {
				sum += never
			}
		}
		return sum
	}
	if len(places) == 0 {
		return 0
	}
	elsewhere := make([]float64, len(places))
	for i := range elsewhere {
		elsewhere[i] = 2 * never
		for k, m := range beside() {
			elsewhere[i] = max(elsewhere[i], worth(m, places[i])-0.8-0.4*foreign[k])
		}
	}
	best := math.Inf(-1)
	for k, m := range beside() {
		sum := -foreign[k]
		for i, p := range places {
			sum += max(worth(m, p), elsewhere[i])
		}
		best = max(best, sum)
	}
	return best
}
