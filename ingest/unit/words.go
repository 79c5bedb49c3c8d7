package unit

import "strings"

// words maps each writing, folded by plain, to its unit.
var words = func() map[string]Unit {
	m := make(map[string]Unit)
	for _, w := range []struct {
		unit  Unit
		texts string // blank-separated
	}{
		{kg, "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes kilogramm kilogramo kilogramos" +
			" quilo quilos quilograma quilogramas chilo chili chilogrammo chilogrammi kilogramów kilogramy kilograma" +
			" kilogrammer kilogrammaa kiloa кг килограмм килограммы килограммов килограмма"},
		{lb, "lb lbs lbm # pound pounds pfund libra libras libbre libbra livre livres pond funt funty funtów pund paunaa" +
			" фунт фунты фунтов фунта фнт"},
		{st, "st stone stones"},
		{metrePerSecond, "m/s mps мс-1"},
		{centimetrePerSecond, "cm/s"},
		{millimetrePerSecond, "mm/s"},
		{footPerSecond, "ft/s fps"},
		{inchPerSecond, "ips"},
		{kilometrePerHour, "km/h kmh kph км/ч"},
		{metre, "m meter meters metre metres mtr metro metros metri metr metry metrów metra mètre mètres metriä м метр метры метров метра"},
		{centimetre, "cm cms centimeter centimeters centimetre centimetres zentimeter senttimetriä centímetro centímetros" +
			" centimetro centimetri centimètre centimètres centymetr centymetry centymetra centymetrów см сантиметр сантиметры сантиметров сантиметра"},
		{millimetre, "mm millimeter millimeters millimetre millimetres milímetro milímetros millimetro millimetri" +
			" millimètre millimètres milimetr milimetry milimetrów milimetra millimetriä мм миллиметр миллиметры миллиметров миллиметра"},
		{inch, `in inch inches " zoll pulgada pulgadas polegada polegadas pouce pouces pollice pollici cal cale cali` +
			` tomme tommer tum tuumaa pol дюйм дюймы дюймов`},
		{foot, "фт фут фута футов ft feet foot ' fuß fuss piedi voet fod fot jalkaa stopy stopa stóp pie pies pé pés pied pieds"},
		{second, "s sec secs second seconds sek sekunde sekunden segundo segundos seg seconde secondes secondi" +
			" secondo secs seconden sekunder sekund sekunda sekundy sekundę sekundet sekunti sekuntia с сек секунда секунды секунд секунду"},
		{millisecond, "ms msec msecs millisecond milliseconds millis millisekunde millisekunden msek milisegundo" +
			" milisegundos milissegundo milissegundos milliseconden millisekunder millisekuntia milisekund milliseconde millisecondes millisecondi milisekundy мс мсек миллисекунда миллисекунды миллисекунд"},
		{microsecond, "µs us usec µsec microsecond microseconds mikrosekunden"},
		{minute, "min mins minute minutes minuten minuto minutos minuti minuut minutter minuter minuty minuuttia мин минута минуты минут"},
		{hour, "h hr hrs hour hours stunde stunden hora horas heure heures ora ore uur timmar godz godziny ч час часы"},
		{watt, "W watt watts"},
		{kilowatt, "kW kilowatt kilowatts"},
		{newton, "N newton newtons"},
		{kilonewton, "kN kilonewton kilonewtons"},
		{hertz, "hz hertz"},
		{percent, "% pct percent prozent pourcent procent prosent"},
		{rep, "rep reps repetition repetitions wdh wdhs wh wiederholung wiederholungen repetición repeticiones repetição repetições" +
			" répétition répétitions rép réps ripetizione ripetizioni rip herhaling herhalingen hh gentagelse gentagelser" +
			" repetisjon repetisjoner repetitioner toisto toistoa toistot powt powtórzenie powtórzenia powtórzeń" +
			" повт повтор повтора повторов повторение повторения повторений"},
		{set, "set sets satz sätze serie series séries série serier serien sett seter sarja sarjaa sarjat seria serii reeks reeksen" +
			" подх подход подхода подходов сет сета сетов"},
	} {
		for _, t := range strings.Fields(w.texts) {
			m[strings.TrimSuffix(t, ".")] = w.unit
		}
	}
	return m
}()

type wordFor struct {
	q    Quantity
	text string
}

// onlyFor holds writings that mean a unit only where the quantity is known.
var onlyFor = map[wordFor]Unit{
	{Velocity, "ms"}:  metrePerSecond,
	{Velocity, "cms"}: centimetrePerSecond,
	{Velocity, "мс"}:  metrePerSecond,
	{Velocity, "mms"}: millimetrePerSecond,
	{Time, "m"}:       minute,
	{Time, "'"}:       minute,
	{Time, `"`}:       second,
	{Load, "k"}:       kg,
	{Length, "po"}:    inch, // French of Canada
	{Length, "pi"}:    foot,
}
