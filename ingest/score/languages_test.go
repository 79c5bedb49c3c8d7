package score

import "strings"

// language is how a coach of some country heads the columns of a sheet: of each
// field several usual writings, parted by bars.
type language struct {
	name    string
	comma   bool // decimal comma
	head    map[string]string
	lifts   [3]string // squat, bench press, deadlift
	months  string
	order   string // of a date in figures: dmy, mdy
	total   string
	title   string
	lifters string
	extras  string
	note    string
}

func (l *language) of(g *gen, field string) string {
	return pick(g, strings.Split(l.head[field], "|"))
}

var languages = []language{
	{
		name: "en", order: "dmy", total: "Total|Average|Mean", title: "Export|Training log|Session report|Strength block 2",
		months: "January February March April May June July August September October November December",
		lifts:  [3]string{"Squat|Back squat|Comp squat|SQ|squat", "Bench press|Bench|BP|bench press", "Deadlift|DL|Barbell deadlift|deadlift"},
		head: map[string]string{
			"date": "Date|Day|Session date|Workout date|date", "time": "Time|Time of day|Start time|Clock", "lifter": "Lifter|Athlete|Name|Athlete name|lifter|Player",
			"lift": "Lift|Exercise|Movement|Exercise name|lift", "load": "Load|Weight|Bar load|Bar weight|load", "set": "Set|Set no.|Set #|Set number|set",
			"rep": "Rep|Rep #|Rep no.|Rep number|Repetition|rep", "reps": "Reps|Reps done|Number of reps|Repetitions|# reps|Rep count", "sets": "Sets|Number of sets|# sets",
			"mean": "Mean velocity|Avg velocity|Average speed|Mean concentric velocity|MCV|Avg. vel.|Mean speed|Bar speed|Velocity|Avg speed|mean_velocity",
			"peak": "Peak velocity|Max velocity|Peak speed|Max speed|PV|Peak vel.|Vmax", "rom": "ROM|Range of motion|Displacement|Bar travel|Distance|rom",
			"con": "Concentric time|Concentric duration|Duration|Rep duration|Con. time", "rpe": "RPE|Set RPE|RPE of set|rpe", "note": "Notes|Comment|Remarks|Note",
			"speeds": "Rep speeds|Velocities|Speeds|All rep velocities|Speed of each rep|Rep velocities", "work": "Work|Sets x reps|What I did|Sets & reps|Work done|Sets",
			"last": "Last rep|Last rep speed|Speed last rep|Last rep velocity", "best": "Best rep|Fastest rep|Best rep speed", "first": "First rep|First rep velocity",
		},
		lifters: "Ines Duarte|Joss Alder|Mira Holt|Tom Reis|Anna-Lena Berg|Pat O'Rourke", extras: "Power (W)|Peak power|Body weight|Battery|Target RPE|Heart rate|% of 1RM|Eccentric time (s)|Rest (min)",
		note: "felt heavy|belt on|knee a bit sore, fine|good bar path|slow off the floor",
	},
	{
		name: "de", comma: true, order: "dmy", total: "Summe|Gesamt|Mittelwert|Durchschnitt", title: "Messprotokoll|Trainingsprotokoll|Auswertung Block 2",
		months: "Januar Februar März April Mai Juni Juli August September Oktober November Dezember",
		lifts:  [3]string{"Kniebeuge|Kniebeugen|KB", "Bankdrücken|Bank", "Kreuzheben|KH"},
		head: map[string]string{
			"date": "Datum|Tag|Trainingstag|Trainingsdatum", "time": "Uhrzeit|Zeit", "lifter": "Athlet|Heber|Sportler|Name|Heberin", "lift": "Übung|Disziplin", "load": "Gewicht|Last|Hantelgewicht|Gewicht Hantel",
			"set": "Satz|Satz-Nr.|Satz Nr.|Satznummer|Serie", "rep": "Wdh.|Wdh|Wiederholung|Wdh.-Nr.|Wdh Nr.|Wdh-Nr.", "reps": "Wdh.|Wiederholungen|Anzahl Wdh.|Wdhs|Wdh|Anzahl Wdh", "sets": "Sätze|Anzahl Sätze",
			"mean": "mittlere Geschwindigkeit|Mittl. Geschw.|Durchschnittsgeschwindigkeit|Ø Geschwindigkeit|Geschwindigkeit|mittl. konz. Geschwindigkeit|V mittel",
			"peak": "Spitzengeschwindigkeit|max. Geschwindigkeit|V max|Höchstgeschwindigkeit|Maximalgeschwindigkeit|Vmax", "rom": "Hubweg|Weg|Bewegungsumfang|Hub|ROM", "con": "Dauer|Hubdauer|konz. Dauer|Dauer konzentrisch|Konzentrische Dauer",
			"rpe": "RPE|RPE Satz|Anstrengung (RPE)|Anstrengung", "note": "Bemerkung|Notiz|Kommentar|Anmerkungen", "speeds": "Geschwindigkeiten|Tempo je Wdh.|alle Geschwindigkeiten",
			"work": "Sätze x Wdh.|Arbeit|Leistung|Satz x Wdh|Sätze|Sätze x Wdh", "last": "letzte Wdh.|Letzte Wdh|Tempo letzte Wdh.", "best": "schnellste Wdh.|beste Wdh.", "first": "erste Wdh.",
		},
		lifters: "Käthe Brandl|Jörg Müßig|Ruben Aske|Änne Größl|Ines Vogt", extras: "Leistung (W)|Körpergewicht|Akku|Pause (min)|% 1RM|Ziel-RPE", note: "schwer|Gürtel|gut, zügig|Knie zwickt",
	},
	{
		name: "es", comma: true, order: "dmy", total: "Total|Promedio|Media", title: "Registro de entrenamiento|Informe de sesión",
		months: "enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre",
		lifts:  [3]string{"Sentadilla|Sentadillas", "Press de banca|Press banca", "Peso muerto"},
		head: map[string]string{
			"date": "Fecha|Día|Fecha de sesión", "time": "Hora", "lifter": "Atleta|Levantador|Nombre|Deportista", "lift": "Ejercicio|Movimiento|Levantamiento", "load": "Carga|Peso|Peso en barra|Peso de la barra",
			"set": "Serie|N.º de serie|Nº serie", "rep": "Repetición|Rep.|Nº rep.|Rep", "reps": "Repeticiones|Reps|Nº de repeticiones", "sets": "Series|Nº de series",
			"mean": "Velocidad media|Vel. media|Velocidad media concéntrica|Velocidad|V. media", "peak": "Velocidad máxima|Velocidad pico|Vel. pico|Vel. máx.", "rom": "Recorrido|Desplazamiento|Rango de movimiento|ROM",
			"con": "Duración|Tiempo concéntrico|Duración concéntrica", "rpe": "RPE|RPE de la serie|Esfuerzo (RPE)|Esfuerzo", "note": "Notas|Comentarios|Observaciones", "speeds": "Velocidades|Velocidad de cada rep.",
			"work": "Series x reps|Trabajo|Series x repeticiones", "last": "Última rep.|Vel. última rep|Velocidad última repetición", "best": "Mejor rep.|Rep. más rápida", "first": "Primera rep.",
		},
		lifters: "Íñigo Peña|Lucía Ferrán|Marta Soler|Nuño Ibáñez", extras: "Potencia (W)|Peso corporal|Batería|Descanso (min)|% 1RM", note: "pesado|buena serie|rodilla, ojo",
	},
	{
		name: "pt", comma: true, order: "dmy", total: "Total|Média", title: "Registo de treino|Relatório da sessão",
		months: "janeiro fevereiro março abril maio junho julho agosto setembro outubro novembro dezembro",
		lifts:  [3]string{"Agachamento", "Supino", "Levantamento terra|Peso morto"},
		head: map[string]string{
			"date": "Data|Dia|Data da sessão", "time": "Hora|Horário", "lifter": "Atleta|Nome|Praticante", "lift": "Exercício|Movimento", "load": "Carga|Peso|Peso na barra",
			"set": "Série|Nº da série|Série nº", "rep": "Repetição|Rep.|Rep", "reps": "Repetições|Reps|Nº de repetições", "sets": "Séries|Nº de séries", "mean": "Velocidade média|Vel. média|Velocidade média concêntrica|Velocidade",
			"peak": "Velocidade máxima|Velocidade de pico|Vel. pico|Pico de velocidade", "rom": "Amplitude|Deslocamento|Amplitude de movimento|ROM", "con": "Duração|Tempo concêntrico|Duração concêntrica", "rpe": "RPE|RPE da série|PSE|Esforço",
			"note": "Notas|Observações|Comentários", "speeds": "Velocidades|Velocidade de cada rep", "work": "Séries x reps|Trabalho", "last": "Última rep|Velocidade da última rep", "best": "Melhor rep|Rep mais rápida", "first": "Primeira rep",
		},
		lifters: "Inês Duarte|Tomás Reis|João Falcão|Conceição Prado", extras: "Potência (W)|Peso corporal|Bateria|Descanso (min)", note: "pesado|boa série|cinto",
	},
	{
		name: "fr", comma: true, order: "dmy", total: "Total|Moyenne", title: "Carnet d'entraînement|Rapport de séance",
		months: "janvier février mars avril mai juin juillet août septembre octobre novembre décembre",
		lifts:  [3]string{"Squat|Flexion de jambes", "Développé couché|DC", "Soulevé de terre|SDT"},
		head: map[string]string{
			"date": "Date|Jour|Date de séance", "time": "Heure", "lifter": "Athlète|Nom|Sportif", "lift": "Exercice|Mouvement", "load": "Charge|Poids|Poids de barre", "set": "Série|N° de série|Série n°|N° série",
			"rep": "Répétition|Rép.|Rep|N° rép.|Rép", "reps": "Répétitions|Reps|Nombre de répétitions|Nb reps", "sets": "Séries|Nombre de séries", "mean": "Vitesse moyenne|Vit. moy.|Vitesse moyenne concentrique|Vitesse|V moy|Vit. moyenne",
			"peak": "Vitesse max|Vitesse de pointe|Pic de vitesse|Vitesse maximale", "rom": "Amplitude|Course|Déplacement|ROM", "con": "Durée|Durée concentrique|Temps concentrique", "rpe": "RPE|RPE de la série",
			"note": "Notes|Remarques|Commentaire", "speeds": "Vitesses|Vitesse de chaque rép.", "work": "Séries x reps|Travail|Séries", "last": "Dernière rép.|Vitesse dernière rép.", "best": "Meilleure rép.|Rép. la plus rapide", "first": "Première rép.",
		},
		lifters: "Zoé Lefèvre|Hervé Maçon|Anaïs Brun|Loïc Têtu", extras: "Puissance (W)|Poids de corps|Batterie|Repos (min)", note: "lourd|ceinture|bonne série, propre",
	},
	{
		name: "it", comma: true, order: "dmy", total: "Totale|Media", title: "Diario di allenamento|Rapporto seduta",
		months: "gennaio febbraio marzo aprile maggio giugno luglio agosto settembre ottobre novembre dicembre",
		lifts:  [3]string{"Squat|Accosciata", "Panca piana|Distensioni su panca|Panca", "Stacco da terra|Stacco"},
		head: map[string]string{
			"date": "Data|Giorno", "time": "Ora|Orario", "lifter": "Atleta|Nome", "lift": "Esercizio|Alzata", "load": "Carico|Peso|Peso bilanciere", "set": "Serie|N. serie|Serie n.", "rep": "Ripetizione|Rip.|Rep|Rip",
			"reps": "Ripetizioni|Reps|N. ripetizioni", "sets": "Serie|N. di serie", "mean": "Velocità media|Vel. media|Velocità|Velocità media concentrica", "peak": "Velocità di picco|Velocità massima|Picco di velocità|Vel. max|Picco velocità",
			"rom": "Escursione|Corsa|Spostamento|ROM", "con": "Durata|Durata concentrica|Tempo concentrico", "rpe": "RPE|RPE della serie", "note": "Note|Commenti|Osservazioni", "speeds": "Velocità ripetizioni|Velocità di ogni rip.|Velocità",
			"work": "Serie x rip|Lavoro|Serie x ripetizioni", "last": "Ultima rip.|Velocità ultima rip.", "best": "Migliore rip.|Rip. più veloce", "first": "Prima rip.",
		},
		lifters: "Nicolò Serra|Giada Conti|Zoè Marchì|Elia Bruni", extras: "Potenza (W)|Peso corporeo|Batteria|Recupero (min)", note: "pesante|cintura|buona",
	},
	{
		name: "nl", comma: true, order: "dmy", total: "Totaal|Gemiddelde", title: "Trainingslogboek|Sessierapport",
		months: "januari februari maart april mei juni juli augustus september oktober november december",
		lifts:  [3]string{"Squat|Kniebuiging", "Bankdrukken|Bench", "Deadlift"},
		head: map[string]string{
			"date": "Datum|Dag", "time": "Tijd|Tijdstip", "lifter": "Atleet|Naam|Lifter|Sporter", "lift": "Oefening|Lift", "load": "Gewicht|Belasting|Halterbelasting", "set": "Set|Setnummer|Set nr.|Serie", "rep": "Herhaling|Rep|Herh.|Rep nr.",
			"reps": "Herhalingen|Reps|Aantal herhalingen|Aantal reps", "sets": "Sets|Aantal sets", "mean": "Gemiddelde snelheid|Gem. snelheid|Snelheid|Gem. concentrische snelheid", "peak": "Pieksnelheid|Max. snelheid|Maximale snelheid|Topsnelheid",
			"rom": "Bewegingsuitslag|Afstand|Verplaatsing|ROM|Bewegingsbereik", "con": "Duur|Concentrische tijd|Concentrische duur", "rpe": "RPE|RPE van de set", "note": "Opmerking|Notities|Opmerkingen", "speeds": "Snelheden|Snelheid per rep",
			"work": "Sets x reps|Werk", "last": "Laatste rep|Snelheid laatste rep", "best": "Beste rep|Snelste rep", "first": "Eerste rep",
		},
		lifters: "Jelle Bakker|Noor de Wit|Daniël Hoek|Loïs Mulder", extras: "Vermogen (W)|Lichaamsgewicht|Batterij|Rust (min)", note: "zwaar|riem|ging goed",
	},
	{
		name: "da", comma: true, order: "dmy", total: "Total|I alt|Gennemsnit", title: "Træningslog|Rapport",
		months: "januar februar marts april maj juni juli august september oktober november december",
		lifts:  [3]string{"Squat|Knæbøjning", "Bænkpres|Bænk", "Dødløft"},
		head: map[string]string{
			"date": "Dato|Dag", "time": "Tid|Klokkeslæt", "lifter": "Løfter|Navn|Atlet|Udøver", "lift": "Øvelse|Løft", "load": "Vægt|Belastning|Vægt på stang", "set": "Sæt|Sæt nr.|Sætnummer", "rep": "Gentagelse|Rep|Rep nr.", "reps": "Gentagelser|Reps|Antal gentagelser|Antal reps",
			"sets": "Sæt|Antal sæt", "mean": "Gennemsnitshastighed|Middelhastighed|Gns. hastighed|Hastighed|Gennemsnitlig hastighed", "peak": "Tophastighed|Maks. hastighed|Maksimal hastighed", "rom": "Bevægeudslag|Distance|Vandring|ROM", "con": "Varighed|Koncentrisk tid|Koncentrisk varighed",
			"rpe": "RPE|RPE for sættet", "note": "Noter|Bemærkning|Kommentar", "speeds": "Hastigheder|Hastighed pr. rep", "work": "Sæt x reps|Arbejde", "last": "Sidste rep|Hastighed sidste rep", "best": "Bedste rep|Hurtigste rep", "first": "Første rep",
		},
		lifters: "Søren Ågård|Mette Krøll|Bjørn Dahl|Astrid Holm", extras: "Effekt (W)|Kropsvægt|Batteri|Pause (min)", note: "tung|bælte|god",
	},
	{
		name: "no", comma: true, order: "dmy", total: "Totalt|Sum|Gjennomsnitt", title: "Treningslogg|Øktrapport",
		months: "januar februar mars april mai juni juli august september oktober november desember",
		lifts:  [3]string{"Knebøy|Squat", "Benkpress|Benk", "Markløft"},
		head: map[string]string{
			"date": "Dato|Dag", "time": "Tid|Klokkeslett", "lifter": "Løfter|Utøver|Navn", "lift": "Øvelse|Løft", "load": "Vekt|Belastning|Last", "set": "Sett|Sett nr.|Serie", "rep": "Repetisjon|Rep|Rep nr.", "reps": "Repetisjoner|Reps|Antall reps|Antall repetisjoner",
			"sets": "Sett|Antall sett", "mean": "Gjennomsnittshastighet|Snitthastighet|Middelhastighet|Hastighet|Gj.snitt hastighet", "peak": "Topphastighet|Maks hastighet|Maksimal hastighet|Makshastighet", "rom": "Bevegelsesutslag|Løftehøyde|Distanse|ROM|Strekning", "con": "Varighet|Konsentrisk tid|Konsentrisk varighet",
			"rpe": "RPE|RPE på settet", "note": "Notater|Merknad|Kommentar", "speeds": "Hastigheter|Hastighet per rep", "work": "Sett x reps|Arbeid", "last": "Siste rep|Hastighet siste rep", "best": "Beste rep|Raskeste rep", "first": "Første rep",
		},
		lifters: "Håkon Lie|Sølvi Aas|Ragnhild Moe|Øyvind Berg", extras: "Effekt (W)|Kroppsvekt|Batteri|Hvile (min)", note: "tungt|belte|bra",
	},
	{
		name: "sv", comma: true, order: "dmy", total: "Totalt|Summa|Medel", title: "Träningsdagbok|Passrapport",
		months: "januari februari mars april maj juni juli augusti september oktober november december",
		lifts:  [3]string{"Knäböj|Böj", "Bänkpress|Bänk", "Marklyft"},
		head: map[string]string{
			"date": "Datum|Dag", "time": "Tid|Klockslag", "lifter": "Lyftare|Namn|Atlet", "lift": "Övning|Lyft", "load": "Vikt|Belastning|Vikt på stången", "set": "Set|Set nr|Serie", "rep": "Repetition|Rep|Rep nr", "reps": "Repetitioner|Reps|Antal reps|Antal repetitioner",
			"sets": "Set|Antal set", "mean": "Medelhastighet|Genomsnittlig hastighet|Medelfart|Hastighet|Snitthastighet", "peak": "Topphastighet|Maxhastighet|Maximal hastighet", "rom": "Rörelseomfång|Sträcka|Rörelseutslag|ROM", "con": "Varaktighet|Koncentrisk tid|Tid koncentrisk",
			"rpe": "RPE|RPE för setet|Ansträngning", "note": "Anteckningar|Anmärkning|Kommentar", "speeds": "Hastigheter|Hastighet per rep", "work": "Set x reps|Arbete", "last": "Sista rep|Hastighet sista rep", "best": "Bästa rep|Snabbaste rep", "first": "Första rep",
		},
		lifters: "Åsa Lindqvist|Örjan Nyström|Maja Ek|Göran Sjö", extras: "Effekt (W)|Kroppsvikt|Batteri|Vila (min)", note: "tungt|bälte|bra",
	},
	{
		name: "fi", comma: true, order: "dmy", total: "Yhteensä|Keskiarvo", title: "Treenipäiväkirja|Harjoitusraportti",
		months: "tammikuu helmikuu maaliskuu huhtikuu toukokuu kesäkuu heinäkuu elokuu syyskuu lokakuu marraskuu joulukuu",
		lifts:  [3]string{"Kyykky|Jalkakyykky", "Penkkipunnerrus|Penkki", "Maastaveto|Mave"},
		head: map[string]string{
			"date": "Päivämäärä|Pvm|Päivä", "time": "Aika|Kello|Kellonaika", "lifter": "Nostaja|Urheilija|Nimi", "lift": "Liike|Nosto", "load": "Paino|Kuorma|Tangon paino", "set": "Sarja|Sarja nro|Sarjan numero", "rep": "Toisto|Toisto nro|Toiston numero", "reps": "Toistot|Toistoja|Toistojen määrä",
			"sets": "Sarjat|Sarjoja|Sarjojen määrä", "mean": "Keskinopeus|Nopeus|Keskimääräinen nopeus|Konsentrinen keskinopeus", "peak": "Huippunopeus|Maksiminopeus|Suurin nopeus", "rom": "Liikelaajuus|Liikematka|Matka|ROM|Liikerata", "con": "Kesto|Konsentrinen aika|Konsentrinen kesto",
			"rpe": "RPE|Sarjan RPE|Rasitus", "note": "Huomiot|Huomautus|Kommentti|Muistiinpanot", "speeds": "Nopeudet|Toistojen nopeudet", "work": "Sarjat x toistot|Työ", "last": "Viimeinen toisto|Viimeisen toiston nopeus", "best": "Paras toisto|Nopein toisto", "first": "Ensimmäinen toisto",
		},
		lifters: "Väinö Mäkelä|Aino Korpi|Pekka Järvi|Elsa Niemi", extras: "Teho (W)|Kehonpaino|Akku|Palautus (min)", note: "raskas|vyö|hyvä",
	},
	{
		name: "pl", comma: true, order: "dmy", total: "Razem|Suma|Średnia", title: "Dziennik treningowy|Raport z sesji",
		months: "stycznia lutego marca kwietnia maja czerwca lipca sierpnia września października listopada grudnia",
		lifts:  [3]string{"Przysiad|Przysiady", "Wyciskanie leżąc|Wyciskanie", "Martwy ciąg"},
		head: map[string]string{
			"date": "Data|Dzień|Data treningu", "time": "Godzina|Czas", "lifter": "Zawodnik|Imię i nazwisko|Sportowiec", "lift": "Ćwiczenie|Bój", "load": "Ciężar|Obciążenie|Ciężar sztangi", "set": "Seria|Nr serii|Numer serii", "rep": "Powtórzenie|Powt.|Nr powtórzenia", "reps": "Powtórzenia|Liczba powtórzeń|Powt.",
			"sets": "Serie|Liczba serii", "mean": "Średnia prędkość|Prędkość średnia|Śr. prędkość|Prędkość|Średnia prędkość koncentryczna", "peak": "Prędkość maksymalna|Prędkość szczytowa|Maks. prędkość|Prędkość maks.", "rom": "Zakres ruchu|Droga|Przemieszczenie|ROM", "con": "Czas trwania|Czas koncentryczny|Czas fazy koncentrycznej",
			"rpe": "RPE|RPE serii", "note": "Uwagi|Notatki|Komentarz", "speeds": "Prędkości|Prędkości powtórzeń", "work": "Serie x powt.|Praca|Serie x powt", "last": "Ostatnie powt.|Prędkość ostatniego powt.", "best": "Najlepsze powt.|Najszybsze powt.", "first": "Pierwsze powt.",
		},
		lifters: "Łukasz Żak|Małgorzata Ćwik|Jędrzej Śliwa|Zofia Kos", extras: "Moc (W)|Masa ciała|Bateria|Przerwa (min)", note: "ciężko|pas|dobrze",
	},
	{
		name: "ru", comma: true, order: "dmy", total: "Итого|Всего|Среднее", title: "Дневник тренировок|Отчёт о тренировке",
		months: "января февраля марта апреля мая июня июля августа сентября октября ноября декабря",
		lifts:  [3]string{"Приседание|Присед|Приседания", "Жим лёжа|Жим", "Становая тяга|Становая"},
		head: map[string]string{
			"date": "Дата|День|Дата тренировки", "time": "Время|Час", "lifter": "Атлет|Спортсмен|Имя|ФИО", "lift": "Упражнение|Движение", "load": "Вес|Нагрузка|Вес штанги", "set": "Подход|№ подхода|Номер подхода", "rep": "Повторение|Повтор|№ повтора|Номер повторения", "reps": "Повторения|Повторы|Кол-во повторений|Число повторений|Количество повторений",
			"sets": "Подходы|Кол-во подходов", "mean": "Средняя скорость|Скорость|Ср. скорость|Средняя концентрическая скорость", "peak": "Пиковая скорость|Максимальная скорость|Макс. скорость", "rom": "Амплитуда|Ход штанги|Перемещение|Путь|Ход", "con": "Длительность|Продолжительность|Время подъёма|Время концентрической фазы",
			"rpe": "RPE|RPE подхода|Усилие", "note": "Заметки|Примечания|Комментарий", "speeds": "Скорости|Скорости повторений", "work": "Подходы x повторы|Работа", "last": "Последний повтор|Скорость последнего повтора", "best": "Лучший повтор|Самый быстрый повтор", "first": "Первый повтор",
		},
		lifters: "Олег Щукин|Анна Лебедева|Пётр Зуев|Юлия Чайка", extras: "Мощность (Вт)|Вес тела|Заряд|Отдых (мин)", note: "тяжело|пояс|хорошо",
	},
}
