package charset

// alphabets are the small letters beyond ASCII of single languages, as their
// orthographies have them.
var alphabets = []string{
	"äöüßå",             // German, Swedish, Finnish
	"æøåéèòôö",          // Danish, Norwegian
	"éèêëàâçîïôùûüœæ",   // French
	"áéíóúñü",           // Spanish
	"ãõáàâçéêíóôúü",     // Portuguese
	"àèéìíîòóùú",        // Italian
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
// them.
func together(letters map[rune]int) int {
	most := 0
	for _, a := range alphabets {
		n := 0
		for _, r := range a {
			n += letters[r]
		}
		most = max(most, n)
	}
	return most
}
