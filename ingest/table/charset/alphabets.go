package charset

import "strings"

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
