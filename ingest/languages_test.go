package ingest

import (
	"fmt"
	"math"
	"strings"
	"time"

	"repsift/ingest/rep"
)

// language is how the generator of exports names things; alternatives are
// parted by bars.
type language struct {
	name                                                                 string
	date, clock, lifter, lift, load, set, rep, mean, peak, rom, con, rpe string
	reps, speeds, work                                                   string
	repN                                                                 string // heading of a rep's column, %d its number
	squat, bench, dead                                                   string
	months                                                               string
}

var languages = []language{
	{"English", "Date|Session date|Day", "Time|Time of day|Clock", "Athlete|Lifter|Name|Player", "Exercise|Lift|Movement", "Load|Weight|Bar load", "Set|Set #|Set no.", "Rep|Rep #|Rep number|Repetition",
		"Mean velocity|Avg velocity|Average speed|Mean concentric velocity|MCV|Velocity", "Peak velocity|Max velocity|Vmax|Peak speed", "ROM|Range of motion|Displacement|Distance", "Concentric time|Duration|Concentric duration", "RPE",
		"Reps|Repetitions|Rep count", "Velocities|Speeds|Rep velocities", "Sets|Work|Sets x reps", "Rep %d|R%d|V%d", "Squat|Back squat|SQ", "Bench press|Bench|BP", "Deadlift|DL", "Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"},
	{"German", "Datum|Tag|Trainingsdatum", "Uhrzeit|Zeit", "Athlet|Heber|Name|Sportler", "Übung|Disziplin", "Gewicht|Last|Hantelgewicht", "Satz|Satz-Nr.|Serie", "Wdh|Wiederholung|Wdh.|Wdh-Nr.",
		"Mittlere Geschwindigkeit|Durchschnittsgeschwindigkeit|V mittel|Geschwindigkeit", "Spitzengeschwindigkeit|Max. Geschwindigkeit|Vmax", "Hubweg|Weg|Bewegungsumfang|ROM", "Dauer|Konzentrische Dauer|Hubdauer", "RPE|Anstrengung",
		"Wiederholungen|Wdh|Anzahl Wdh", "Geschwindigkeiten", "Sätze|Sätze x Wdh", "Wdh %d|Wdh. %d|V%d", "Kniebeuge|Kniebeugen", "Bankdrücken", "Kreuzheben", "Januar|Februar|März|April|Mai|Juni|Juli|August|September|Oktober|November|Dezember"},
	{"Spanish", "Fecha|Día", "Hora", "Atleta|Nombre|Levantador|Deportista", "Ejercicio|Levantamiento", "Carga|Peso", "Serie|Nº serie", "Rep|Repetición|Rep.",
		"Velocidad media|Vel. media|Velocidad", "Velocidad máxima|Velocidad pico|Vel. máx.", "Recorrido|Rango de movimiento|Desplazamiento", "Duración|Tiempo concéntrico", "RPE|Esfuerzo",
		"Repeticiones|Reps", "Velocidades", "Series x reps|Series x repeticiones", "Rep %d|Repetición %d", "Sentadilla", "Press banca|Press de banca", "Peso muerto", "enero|febrero|marzo|abril|mayo|junio|julio|agosto|septiembre|octubre|noviembre|diciembre"},
	{"Portuguese", "Data|Dia", "Hora|Horário", "Atleta|Nome|Praticante", "Exercício|Movimento", "Carga|Peso", "Série", "Rep|Repetição",
		"Velocidade média|Vel. média|Velocidade", "Velocidade máxima|Velocidade de pico|Pico de velocidade", "Amplitude|Deslocamento", "Duração|Tempo concêntrico", "RPE|Esforço",
		"Repetições|Reps", "Velocidades", "Séries x reps", "Rep %d|Repetição %d", "Agachamento", "Supino", "Levantamento terra", "janeiro|fevereiro|março|abril|maio|junho|julho|agosto|setembro|outubro|novembro|dezembro"},
	{"French", "Date|Jour", "Heure", "Athlète|Nom|Sportif", "Exercice|Mouvement", "Charge|Poids", "Série|N° série", "Rép|Répétition|Rép.",
		"Vitesse moyenne|Vit. moyenne|Vitesse", "Vitesse max|Vitesse maximale|Vitesse de pointe", "Amplitude|Déplacement|Course", "Durée|Temps concentrique", "RPE",
		"Répétitions|Reps", "Vitesses", "Séries x reps|Séries", "Rép %d|Répétition %d", "Squat|Flexion de jambes", "Développé couché", "Soulevé de terre", "janvier|février|mars|avril|mai|juin|juillet|août|septembre|octobre|novembre|décembre"},
	{"Italian", "Data|Giorno", "Ora|Orario", "Atleta|Nome", "Esercizio|Alzata", "Carico|Peso", "Serie|N. serie", "Rip|Ripetizione|Rep",
		"Velocità media|Vel. media|Velocità", "Velocità massima|Velocità di picco|Picco velocità", "Escursione|Spostamento|ROM", "Durata|Tempo concentrico", "RPE",
		"Ripetizioni|Reps", "Velocità", "Serie x rip", "Rip %d|Ripetizione %d", "Squat|Accosciata", "Panca|Panca piana", "Stacco|Stacco da terra", "gennaio|febbraio|marzo|aprile|maggio|giugno|luglio|agosto|settembre|ottobre|novembre|dicembre"},
	{"Dutch", "Datum|Dag", "Tijd|Tijdstip", "Atleet|Naam|Sporter", "Oefening", "Gewicht|Belasting", "Set|Serie", "Herhaling|Rep",
		"Gemiddelde snelheid|Gem. snelheid|Snelheid", "Max. snelheid|Maximale snelheid|Pieksnelheid", "Bewegingsbereik|Afstand|ROM", "Duur|Concentrische tijd", "RPE",
		"Herhalingen|Reps", "Snelheden", "Sets x reps", "Herhaling %d|Rep %d", "Squat|Kniebuiging", "Bankdrukken", "Deadlift", "januari|februari|maart|april|mei|juni|juli|augustus|september|oktober|november|december"},
	{"Swedish", "Datum|Dag", "Tid|Klockslag", "Lyftare|Namn|Atlet", "Övning|Lyft", "Vikt|Belastning", "Set", "Rep|Repetition",
		"Medelhastighet|Genomsnittlig hastighet|Hastighet", "Maxhastighet|Topphastighet", "Rörelseomfång|Sträcka|ROM", "Varaktighet|Koncentrisk tid", "RPE|Ansträngning",
		"Repetitioner|Reps", "Hastigheter", "Set x reps", "Rep %d", "Knäböj", "Bänkpress", "Marklyft", "januari|februari|mars|april|maj|juni|juli|augusti|september|oktober|november|december"},
	{"Norwegian", "Dato|Dag", "Tid|Klokkeslett", "Løfter|Navn|Utøver", "Øvelse|Løft", "Vekt|Belastning", "Sett|Serie", "Rep|Repetisjon",
		"Gjennomsnittshastighet|Snitthastighet|Hastighet", "Makshastighet|Topphastighet", "Bevegelsesutslag|Strekning|ROM", "Varighet|Konsentrisk tid", "RPE",
		"Repetisjoner|Reps", "Hastigheter", "Sett x reps", "Rep %d", "Knebøy", "Benkpress", "Markløft", "januar|februar|mars|april|mai|juni|juli|august|september|oktober|november|desember"},
	{"Danish", "Dato|Dag", "Tid|Klokkeslæt", "Løfter|Navn|Atlet", "Øvelse|Løft", "Vægt|Belastning", "Sæt", "Rep|Gentagelse",
		"Gennemsnitshastighed|Gennemsnitlig hastighed|Hastighed", "Maks. hastighed|Tophastighed", "Bevægeudslag|ROM", "Varighed|Koncentrisk tid", "RPE",
		"Gentagelser|Reps", "Hastigheder", "Sæt x reps", "Rep %d|Gentagelse %d", "Squat|Knæbøjning", "Bænkpres", "Dødløft", "januar|februar|marts|april|maj|juni|juli|august|september|oktober|november|december"},
	{"Finnish", "Päivämäärä|Pvm", "Aika|Kellonaika", "Nostaja|Nimi|Urheilija", "Liike", "Paino|Kuorma", "Sarja", "Toisto",
		"Keskinopeus|Nopeus", "Huippunopeus|Maksiminopeus", "Liikelaajuus|Liikerata", "Kesto|Konsentrinen aika", "RPE|Rasitus",
		"Toistot", "Nopeudet", "Sarjat x toistot", "Toisto %d", "Kyykky|Jalkakyykky", "Penkkipunnerrus|Penkki", "Maastaveto", "tammikuu|helmikuu|maaliskuu|huhtikuu|toukokuu|kesäkuu|heinäkuu|elokuu|syyskuu|lokakuu|marraskuu|joulukuu"},
	{"Polish", "Data|Dzień", "Czas|Godzina", "Zawodnik|Imię i nazwisko", "Ćwiczenie|Bój", "Ciężar|Obciążenie", "Seria|Nr serii", "Powtórzenie|Powt.",
		"Średnia prędkość|Prędkość średnia|Prędkość", "Prędkość maksymalna|Prędkość szczytowa|Maks. prędkość", "Zakres ruchu|Droga", "Czas trwania|Czas fazy koncentrycznej", "RPE",
		"Powtórzenia|Liczba powtórzeń", "Prędkości", "Serie x powt", "Powt. %d|Powtórzenie %d", "Przysiad", "Wyciskanie leżąc|Wyciskanie", "Martwy ciąg", "stycznia|lutego|marca|kwietnia|maja|czerwca|lipca|sierpnia|września|października|listopada|grudnia"},
	{"Russian", "Дата|День", "Время|Час", "Спортсмен|Имя|Атлет", "Упражнение|Движение", "Вес|Нагрузка", "Подход|№ подхода", "Повтор|Повторение",
		"Средняя скорость|Ср. скорость|Скорость", "Пиковая скорость|Максимальная скорость|Макс. скорость", "Амплитуда|Ход", "Длительность|Время концентрической фазы", "RPE|Усилие",
		"Повторения|Количество повторений", "Скорости", "Подходы x повторы", "Повтор %d", "Присед|Приседания", "Жим лёжа", "Становая тяга|Тяга", "января|февраля|марта|апреля|мая|июня|июля|августа|сентября|октября|ноября|декабря"},
}

func (g *generator) liftName(lift string) string {
	switch lift {
	case "squat":
		return strings.Split(g.lang.squat, "|")[0]
	case "bench press":
		return strings.Split(g.lang.bench, "|")[0]
	}
	return strings.Split(g.lang.dead, "|")[0]
}

// cell quotes a cell where it needs that.
func (g *generator) cell(s string) string {
	if strings.Contains(s, g.delim) || strings.Contains(s, `"`) {
		return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return s
}

func (g *generator) line(cells ...string) string {
	for i := range cells {
		cells[i] = g.cell(cells[i])
	}
	return strings.Join(cells, g.delim) + "\n"
}

func (g *generator) repRows(sets []genSet) string {
	l := g.lang
	withPeak, withROM, withCon, withRPE, withSet := g.IntN(3) > 0, g.IntN(3) > 0, g.IntN(3) > 0, g.IntN(3) == 0, g.IntN(4) > 0
	joined := g.IntN(2) == 0 // date and time in one column
	head := []string{g.pick(l.date)}
	if g.clock != "" && !joined {
		head = append(head, g.pick(l.clock))
	}
	if g.extras {
		head = append(head, g.pick("ID|Session ID|Row"), g.pick("Body weight (kg)|Bodyweight|BW"))
	}
	head = append(head, g.pick(l.lifter), g.pick(l.lift), g.heading(l.load, g.load, g.named[0]))
	if withSet {
		head = append(head, g.pick(l.set))
	}
	head = append(head, g.pick(l.rep), g.heading(l.mean, g.speed, g.named[1]))
	if withPeak {
		head = append(head, g.heading(l.peak, g.speed, g.named[1]))
	}
	if withROM {
		head = append(head, g.heading(l.rom, g.rom, g.named[2]))
	}
	if withCon {
		head = append(head, g.heading(l.con, g.con, g.named[3]))
	}
	if withRPE {
		head = append(head, g.pick(l.rpe))
	}
	if g.extras {
		head = append(head, g.pick("Mean power (W)|Avg power [W]|Power"), g.pick("Eccentric velocity (m/s)|Ecc. duration (s)"), g.pick("Velocity loss (%)|%1RM|e1RM (kg)"), g.pick("Notes|Comment"))
	}
	var b strings.Builder
	if g.preamble {
		b.WriteString(g.line("Harbour barbell club") + g.line(g.pick("Exported|Export")+": "+g.date(200)) + "\n")
	}
	b.WriteString(g.line(head...))
	number, day := 0, -1
	optional := func(s string) string {
		if g.gaps && g.IntN(12) == 0 {
			return g.pick("|--|n/a|-")
		}
		return s
	}
	for i := range sets {
		s := &sets[i]
		if s.day != day || i > 0 && (sets[i-1].lift != s.lift || sets[i-1].lifter != s.lifter) {
			number, day = 0, s.day
		}
		number++
		for k := range s.speeds {
			row := []string{g.date(s.day)}
			if at := time.Date(2026, 1, 1, 0, s.minute, 4*k, 0, time.UTC).Format(g.clock); g.clock != "" && joined {
				row[0] += " " + at
			} else if g.clock != "" {
				row = append(row, at)
			}
			if g.extras {
				row = append(row, fmt.Sprint(1000+i), g.num(71.5, 1))
			}
			row = append(row, s.lifter, g.liftName(s.lift), g.loadText(s))
			if withSet {
				row = append(row, fmt.Sprint(number))
			}
			row = append(row, fmt.Sprint(k+1), g.in(s.speeds[k], g.speed))
			if withPeak {
				row = append(row, optional(g.in(s.peaks[k], g.speed)))
			}
			if withROM {
				row = append(row, optional(g.in(s.rom[k], g.rom)))
			}
			if withCon {
				row = append(row, optional(g.in(s.con[k], g.con)))
			}
			if withRPE {
				row = append(row, optional(g.num(s.rpe, 1)))
			}
			if g.extras {
				row = append(row, g.num(400+100*g.Float64(), 1), g.num(0.5+g.Float64(), 2), g.num(20*g.Float64(), 1), g.pick("|||belt on|felt easy"))
			}
			for i, h := range head {
				if u := g.cellUnits[h]; u != "" && len(row[i]) > 0 && row[i][0] >= '0' && row[i][0] <= '9' {
					row[i] += " " + u
				}
			}
			b.WriteString(g.line(row...))
		}
	}
	return b.String()
}

func (g *generator) across(sets []genSet) string {
	l := g.lang
	g.inCells = false
	head := []string{g.pick(l.date), g.pick(l.lifter), g.pick(l.lift), g.heading(l.load, g.load, g.named[0])}
	name := g.pick(l.repN)
	for k := range 6 {
		head = append(head, g.heading(fmt.Sprintf(name, k+1), g.speed, false))
		if g.named[1] {
			head[len(head)-1] += " (" + g.speed + ")"
		}
	}
	head = append(head, g.pick(l.rpe))
	var b strings.Builder
	b.WriteString(g.line(head...))
	for i := range sets {
		s := &sets[i]
		row := []string{g.date(s.day), s.lifter, g.liftName(s.lift), g.loadText(s)}
		for k := range 6 {
			cell := ""
			if k < len(s.speeds) {
				cell = g.in(s.speeds[k], g.speed)
			}
			row = append(row, cell)
		}
		b.WriteString(g.line(append(row, g.num(s.rpe, 1))...))
	}
	return b.String()
}

func (g *generator) inCell(sets []genSet) string {
	l := g.lang
	g.inCells = false
	sep := g.pick(" / |/| ; |; ")
	var b strings.Builder
	b.WriteString(g.line(g.pick(l.date), g.pick(l.lifter), g.pick(l.lift), g.heading(l.load, g.load, g.named[0]), g.pick(l.rpe), g.heading(l.speeds, g.speed, g.named[1])))
	for i := range sets {
		s := &sets[i]
		var speeds []string
		for _, v := range s.speeds {
			speeds = append(speeds, g.in(v, g.speed))
		}
		b.WriteString(g.line(g.date(s.day), s.lifter, g.liftName(s.lift), g.loadText(s), g.num(s.rpe, 1), strings.Join(speeds, sep)))
	}
	return b.String()
}

func (g *generator) setRows(sets []genSet) string {
	l := g.lang
	g.inCells = false
	var b strings.Builder
	b.WriteString(g.line(g.pick(l.date), g.pick(l.lifter), g.pick(l.lift), g.heading(l.load, g.load, g.named[0]), g.pick(l.reps), g.pick(l.rpe)))
	before := genSet{}
	fill := g.IntN(3) == 0 // date and lifter only where they change
	for i := range sets {
		s := &sets[i]
		date, lifter := g.date(s.day), s.lifter
		if fill && s.day == before.day && s.lifter == before.lifter {
			date, lifter = "", ""
		}
		before = *s
		b.WriteString(g.line(date, lifter, g.liftName(s.lift), g.loadText(s), fmt.Sprint(len(s.speeds)), g.num(s.rpe, 1)))
	}
	return b.String()
}

func (g *generator) shorthand(sets []genSet) string {
	l := g.lang
	g.inCells = false
	unit := ""
	if g.load == "lb" || g.IntN(2) == 0 {
		unit = g.load
	}
	form := g.pick("%s%sx%d @%s|%s%s x %d @%s|%s%sx%d RPE %s")
	var b strings.Builder
	b.WriteString(g.line(g.pick(l.date), g.pick(l.lifter), g.pick(l.lift), g.pick(l.work)))
	for i := range sets {
		s := &sets[i]
		b.WriteString(g.line(g.date(s.day), s.lifter, g.liftName(s.lift), fmt.Sprintf(form, g.loadText(s), unit, len(s.speeds), g.num(s.rpe, 1))))
	}
	return b.String()
}

func (g *generator) blocks(sets []genSet) string {
	l := g.lang
	g.inCells = false
	date, lifter, lift, load := g.pick(l.date), g.pick(l.lifter), g.pick(l.lift), g.pick(l.load)
	head := g.line(g.pick(l.rep), g.heading(l.mean, g.speed, true), g.heading(l.rom, g.rom, true))
	var b strings.Builder
	for i := range sets {
		s := &sets[i]
		fmt.Fprintf(&b, "%s: %s\n%s: %s\n%s: %s\n%s: %s %s\n%s", lifter, s.lifter, date, g.date(s.day), lift, g.liftName(s.lift), load, g.loadText(s), g.load, head)
		for k := range s.speeds {
			b.WriteString(g.line(fmt.Sprint(k+1), g.in(s.speeds[k], g.speed), g.in(s.rom[k], g.rom)))
		}
		b.WriteString("\n")
	}
	return b.String()
}

// differs returns what was read otherwise than it was made; empty for nothing.
func (e *export) differs(r *Reading) string {
	var want, got []string
	for i := range e.sets {
		s := &e.sets[i]
		y, m, d := civil(s.day)
		head := fmt.Sprintf("%s %d-%02d-%02d %s %.3f kg", s.lifter, y, m, d, s.lift, s.kg)
		if e.shape == "set rows" || e.shape == "shorthand" {
			want = append(want, fmt.Sprintf("%s %d @%g", head, len(s.speeds), s.rpe))
			continue
		}
		for k, v := range s.speeds {
			want = append(want, fmt.Sprintf("%s rep %d %.3f", head, k+1, v))
		}
	}
	for _, n := range r.Notes {
		got = append(got, fmt.Sprintf("%s %s %s %.3f kg %d @%g", n.Lifter, n.Date, n.Lift, n.LoadKg.V, n.Reps.V, n.RPE.V))
	}
	for i := range r.Reps.Len() {
		x := r.Reps.Rep(int32(i))
		got = append(got, fmt.Sprintf("%s %s %s %.3f kg rep %d %.3f", x.Lifter, x.Date, x.Lift, x.LoadKg, x.RepRecorded.V, math.Round(x.MeanVelocity*1000)/1000))
		if p := odd(&x); p != "" {
			return p
		}
	}
	for i := range max(len(want), len(got)) {
		switch {
		case i >= len(got):
			return fmt.Sprintf("%d of %d: missing %s; %v", i, len(want), want[i], r.Unread)
		case i >= len(want):
			return "too much: " + got[i]
		case got[i] != want[i]:
			return fmt.Sprintf("got %s, want %s", got[i], want[i])
		}
	}
	return ""
}

// odd returns a measure that no generated rep has: it was read in a wrong unit
// or from a wrong column.
func odd(x *rep.Rep) string {
	if v := x.PeakVelocity; v.OK && (v.V < 1.35*x.MeanVelocity || v.V > 1.65*x.MeanVelocity) {
		return fmt.Sprintf("peak %g beside mean %g", v.V, x.MeanVelocity)
	}
	if v := x.ROM; v.OK && (v.V < 0.2 || v.V > 0.8) {
		return fmt.Sprintf("range of motion %g", v.V)
	}
	if v := x.Concentric; v.OK && x.ROM.OK && (v.V*x.MeanVelocity < 0.5*x.ROM.V || v.V*x.MeanVelocity > 2*x.ROM.V) {
		return fmt.Sprintf("%g s at %g m/s over %g m", v.V, x.MeanVelocity, x.ROM.V)
	}
	if x.RPE.OK && (x.RPE.V < 6 || x.RPE.V > 10) {
		return fmt.Sprintf("RPE %g", x.RPE.V)
	}
	return ""
}
