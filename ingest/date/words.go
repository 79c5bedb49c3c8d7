package date

import (
	"strings"
	"unicode"
)

// monthNames lists, language by language, the twelve months as written in
// dates: long forms (nominative and genitive where they differ) and the usual
// short ones, folded by foldRune. Forms of one month are parted by "/". The
// forms follow the wide and abbreviated month names of Unicode CLDR 44, with
// older short forms of daily use added (Mrz, sett, juill).
var monthNames = []string{
	// English
	"january/jan february/feb march/mar april/apr may june/jun july/jul august/aug september/sep/sept october/oct november/nov december/dec",
	// German, with Austria's
	"januar/janner/jan/jann februar/feber/feb marz/mar/mrz/maerz april/apr mai juni/jun juli/jul august/aug september/sep/sept oktober/okt november/nov dezember/dez",
	// Spanish
	"enero/ene febrero/feb marzo/mar abril/abr mayo/may junio/jun julio/jul agosto/ago septiembre/setiembre/sep/sept/set octubre/oct noviembre/nov diciembre/dic",
	// Portuguese
	"janeiro/jan fevereiro/fev marco/mar abril/abr maio/mai junho/jun julho/jul agosto/ago setembro/set outubro/out novembro/nov dezembro/dez",
	// French
	"janvier/janv/jan fevrier/fevr/fev mars/mar avril/avr mai juin/jun juillet/juil/juill/jul aout/aou septembre/sept/sep octobre/oct novembre/nov decembre/dec",
	// Italian
	"gennaio/gen febbraio/feb marzo/mar aprile/apr maggio/mag giugno/giu luglio/lug agosto/ago settembre/set/sett ottobre/ott novembre/nov dicembre/dic",
	// Dutch
	"januari/jan februari/feb maart/mrt april/apr mei juni/jun juli/jul augustus/aug september/sep/sept oktober/okt november/nov december/dec",
	// Danish, Norwegian, Swedish
	"januar/januari/jan februar/februari/febr/feb marts/mars/mar april/apr maj/mai juni/jun juli/jul august/augusti/aug september/sept/sep oktober/okt november/nov december/desember/dec/des",
	// Finnish
	"tammikuu/tammikuuta/tammi/tammik helmikuu/helmikuuta/helmi/helmik maaliskuu/maaliskuuta/maalis/maalisk huhtikuu/huhtikuuta/huhti/huhtik" +
		" toukokuu/toukokuuta/touko/toukok kesakuu/kesakuuta/kesa/kesak heinakuu/heinakuuta/heina/heinak elokuu/elokuuta/elo/elok" +
		" syyskuu/syyskuuta/syys/syysk lokakuu/lokakuuta/loka/lokak marraskuu/marraskuuta/marras/marrask joulukuu/joulukuuta/joulu/jouluk",
	// Polish
	"styczen/stycznia/sty luty/lutego/lut marzec/marca/mar kwiecien/kwietnia/kwi maj/maja czerwiec/czerwca/cze lipiec/lipca/lip" +
		" sierpien/sierpnia/sie wrzesien/wrzesnia/wrz pazdziernik/pazdziernika/paz listopad/listopada/lis grudzien/grudnia/gru",
	// Russian
	"январь/января/янв февраль/февраля/фев/февр март/марта/мар апрель/апреля/апр май/мая июнь/июня/июн июль/июля/июл" +
		" август/августа/авг сентябрь/сентября/сен/сент октябрь/октября/окт ноябрь/ноября/ноя/нояб декабрь/декабря/дек",
	// Roman, as written by hand in Poland and Russia
	"i ii iii iv v vi vii viii ix x xi xii",
}

// weekdayNames are ignored in front of a date.
const weekdayNames = "monday mon tuesday tue tues wednesday wed thursday thu thur thurs friday fri saturday sat sunday sun" +
	" montag mo dienstag di mittwoch mi donnerstag do freitag fr samstag sa sonnabend sonntag so" +
	" lunes lun martes mar miercoles mie jueves jue viernes vie sabado sab domingo dom" +
	" segunda seg terca ter quarta qua quinta qui sexta sex" +
	" lundi mardi mercredi mer jeudi jeu vendredi ven samedi sam dimanche dim" +
	" lunedi martedi mercoledi giovedi gio venerdi sabato domenica" +
	" maandag ma dinsdag woensdag wo donderdag vrijdag vr zaterdag za zondag zo" +
	" mandag man tirsdag tir tirs onsdag ons torsdag tor tors fredag fre lordag lor sondag son mandag tisdag tis lordag" +
	" maanantai tiistai ti keskiviikko ke torstai to perjantai pe lauantai la sunnuntai su" +
	" maanantaina tiistaina keskiviikkona torstaina perjantaina lauantaina sunnuntaina" +
	" poniedzialek pon wtorek wt sroda sr czwartek czw piatek pt sobota sob niedziela niedz nd" +
	" понедельник пн вторник вт среда ср четверг чт пятница пт суббота сб воскресенье вс"

// fillerWords may stand in a date and say nothing: "5 de abril de 2026 às
// 10:15", "den 5. april 2026 kl. 10.15 Uhr", "5 апреля 2026 г.".
const fillerWords = "de del of the den der die le la el il am um om uhr at on a as alle ore kl klo o godz г года год r roku d у в w feira"

// ordinals may follow a number: 5th, 1er, 5º.
const ordinals = "st nd rd th er e o a ª º ro do to"

type word struct {
	month                    int8 // 1…12, 0 for none
	weekday, filler, ordinal bool
	roman                    bool
}

var dictionary = func() map[string]word {
	m := make(map[string]word)
	for lang, names := range monthNames {
		for i, forms := range strings.Fields(names) {
			for _, f := range strings.Split(forms, "/") {
				w := m[f]
				w.month = int8(i + 1)
				w.roman = lang == len(monthNames)-1
				m[f] = w
			}
		}
	}
	put := func(list string, set func(*word)) {
		for _, f := range strings.Fields(list) {
			w := m[f]
			set(&w)
			m[f] = w
		}
	}
	put(weekdayNames, func(w *word) { w.weekday = true })
	put(fillerWords, func(w *word) { w.filler = true })
	put(ordinals, func(w *word) { w.ordinal = true })
	return m
}()

// zones holds minutes east of Greenwich for the zone names that RFC 2822
// (section 4.3) defines, and for those of Europe as their clocks are printed.
var zones = map[string]int{"z": 0, "ut": 0, "utc": 0, "gmt": 0, "est": -300, "edt": -240, "cst": -360, "cdt": -300,
	"mst": -420, "mdt": -360, "pst": -480, "pdt": -420,
	"wet": 0, "west": 60, "bst": 60, "cet": 60, "mez": 60, "cest": 120, "mesz": 120, "eet": 120, "eest": 180, "msk": 180}

// foldRune returns a letter in lower case without its accent, and 0 for a
// combining mark, so that both Unicode forms of "março" are the same word.
func foldRune(r rune) rune {
	r = unicode.ToLower(r)
	if r < 0x80 {
		return r
	}
	switch r {
	case 'á', 'à', 'â', 'ä', 'ã', 'å', 'ą':
		return 'a'
	case 'ç', 'ć':
		return 'c'
	case 'é', 'è', 'ê', 'ë', 'ę':
		return 'e'
	case 'í', 'ì', 'î', 'ï':
		return 'i'
	case 'ł':
		return 'l'
	case 'ñ', 'ń':
		return 'n'
	case 'ó', 'ò', 'ô', 'ö', 'õ', 'ø':
		return 'o'
	case 'ś':
		return 's'
	case 'ú', 'ù', 'û', 'ü':
		return 'u'
	case 'ź', 'ż':
		return 'z'
	}
	if r >= 0x300 && r <= 0x36f {
		return 0
	}
	return r
}
