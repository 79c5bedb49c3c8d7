package words

import (
	"slices"
	"strings"
	"sync"
)

// The concepts.
const (
	Lifter Concept = iota
	Date
	Clock
	Lift
	Variant
	Bar
	Tether
	Device
	Load
	Weight // "weight": the load, or the lifter's own
	Body
	Set
	Rep
	Velocity
	Mean
	Peak
	Max // "max": of the rep or of the set
	Min
	Travel // range of motion
	Duration
	Time // "time": of day, or how long
	Concentric
	Eccentric
	Propulsive
	Sticking // of the sticking region
	RPE
	RIR
	Missed
	Success
	First
	Last
	Best
	Slowest
	Note
	Work // a set in shorthand: "sets x reps"
	Ordinal
	Count
	Target
	Power
	Force
	Acceleration
	Tonnage
	Percent
	OneRM
	Loss
	Rest
	Person // height, age, sex, team, mail
	ID
	Start
	End
	Stored // uploaded, created, exported
	Position
	Sample
	Measure // "value", "result": says nothing
	Name
	Deviation
	Bodyside
	Unit
	Given  // name
	Family // name
)

// lexicon maps folded words and phrases to concepts. Like the other vocabularies
// it is made when first asked for, so that a start does not wait for it.
var lexicon = sync.OnceValue(func() map[string]Concepts {
	m := make(map[string]Concepts)
	for _, line := range slices.Concat(entries, inflected) {
		for _, w := range strings.Fields(line.words) {
			m[Fold(w)] |= line.set()
		}
	}
	return m
})

type entry struct {
	concepts []Concept
	words    string // blank-separated; _ stands for the blank of a phrase
}

func (e entry) set() (s Concepts) {
	for _, c := range e.concepts {
		s = s.With(c)
	}
	return s
}

// maxPhrase is the number of words in the longest phrase.
const maxPhrase = 4

func of(cs ...Concept) []Concept { return cs }

// entries is the vocabulary. Order within a line: English, German, Spanish,
// Portuguese, French, Italian, Dutch, Nordic, Polish, Russian. Words are
// folded on loading, so marks may be written.
var entries = []entry{
	{of(Lifter), "lifter athlete player client member user person trainee subject powerlifter participant" +
		" athlet athletin sportler sportlerin heber heberin teilnehmer proband spieler" +
		" atleta levantador levantadora deportista jugador usuario sujeto" +
		" praticante jogador utilizador usuário athlète sportif sportive joueur haltérophile sujet" +
		" sollevatore giocatore utente soggetto atleet sporter lifters gebruiker deelnemer speler" +
		" utøver utøvere löftare lyftare atlet løfter idrettsutøver idrottare urheilija nostaja deltaker deltagare" +
		" zawodnik zawodniczka sportowiec uczestnik спортсмен спортсменка атлет лифтер пользователь участник"},
	{of(Name), "name nom naam nombre nome navn namn nimi imię imie фио full_name fullname imię_i_nazwisko"},
	{of(Name, Given), "first_name firstname given_name forename vorname voornaam prénom nombre_de_pila primeiro_nome fornavn förnamn etunimi имя"},
	{of(Name, Family), "last_name lastname family_name surname nachname familienname apellido apellidos sobrenome cognome achternaam etternavn efternavn efternamn sukunimi nazwisko фамилия nom_de_famille"},
	{of(Date), "date day datum tag fecha día dia data jour giorno dag dato pvm päivä paivays päivämäärä dzień дата день" +
		" session_date workout_date training_date trainingstag trainingsdatum"},
	{of(Date, Clock), "timestamp datetime date_time date_and_time datum_zeit datum_uhrzeit zeitstempel fecha_hora fecha_y_hora data_hora data_e_hora" +
		" date_heure date_et_heure horodatage data_ora data_e_ora tijdstempel tidsstempel tidsstämpel aikaleima" +
		" data_i_czas znacznik_czasu дата_время дата_и_время performed_at recorded_at start_time_utc unix epoch unixtime"},
	{of(Clock), "clock uhrzeit time_of_day hora heure ora orario uur tijdstip klokkeslett klockslag klokkeslæt kellonaika godzina час" +
		" clock_time local_time startzeit"},
	{of(Time), "time zeit tiempo tempo temps tijd tid aika czas время"},
	{of(Duration), "duration dauer duración duração durée durata duur varighet varaktighet varighed kesto trwania czas_trwania" +
		" длительность продолжительность rep_time hubdauer hubzeit time_taken"},
	{of(Concentric, Duration), "tct ct contime"},
	{of(Lift), "lift exercise movement übung uebung hebung exercice mouvement" +
		" ejercicio movimiento levantamiento exercício exercicio movimento levantamento" +
		" esercizio alzata oefening beweging øvelse oevelse övning ovning løft lyft liike liikkeet " +
		" ćwiczenie bój ruch упражнение движение exercise_name lift_name movement_name lift_type disziplin"},
	{of(Variant), "variant variation style stance variante stil estilo variação variazione variatie stijl wariant вариант стиль grip griff technique"},
	{of(Bar), "bar barbell hantel stange langhantel hantelstange barra barre bilanciere stang halter skivstång sztanga tanko levytanko гриф штанга bar_type"},
	{of(Tether), "tether attachment clip tether_position cable_position attachment_point befestigung seil seilposition cuerda fijación fixation attache attacco bevestiging feste fäste mocowanie крепление"},
	{of(Device), "device encoder sensor unit_name gerät geraet dispositivo appareil capteur sensore apparaat toestel enhet laite anturi urządzenie czujnik устройство датчик" +
		" serial serial_number device_name device_id sensor_id encoder_id seriennummer messgerät"},
	{of(Load), "load loads last gewicht_last zusatzlast hantellast carga charge carico belasting belastning last_kg kuorma obciążenie нагрузка" +
		" bar_load barbell_load total_load weight_on_bar masse_soulevée weight_lifted lifted_weight külo resistance"},
	{of(Weight), "weight wt gewicht peso poids pesi gewichten vekt vikt vægt paino ciężar waga вес mass masse masa massa масса kilo kilos "},
	{of(Body, Weight), "bodyweight bodymass bw körpergewicht koerpergewicht peso_corporal peso_corporeo poids_corporel poids_du_corps poids_de_corps lichaamsgewicht kroppsvekt kroppsvikt" +
		" kropsvægt kehonpaino masa_ciała вес_тела body_weight body_mass собственный_вес weigh_in"},
	{of(Body), "body körper corporal corporel corporeo"},
	{of(Set), "set sets satz sätze saetze serie series série séries serien sarja sarjat serier sæt serii seria подход подходы sett "},
	{of(Set, Ordinal), "set_number set_no set_nr set_index satznummer satznr serienummer serienr setnr setno №_подхода номер_подхода"},
	{of(Rep), "rep reps repetition repetitions repeat wdh whd wh wdhs wiederholung wiederholungen wiederh" +
		" repetición repeticiones repe repes repetição repetições répétition répétitions rép réps" +
		" ripetizione ripetizioni rip ripe herhaling herhalingen herh repetisjon repetisjoner repetition repetitioner gentagelse gentagelser" +
		" toisto toistot powtórzenie powtórzenia powtórzeń powt повтор повторение повторения повторы повторений"},
	{of(Rep, Ordinal), "rep_number rep_no rep_nr rep_index repno repnr repnumber wdhnr wdh_nr"},
	{of(Rep, Count), "rep_count reps_completed reps_done total_reps number_of_reps reps_performed repcount anzahl_wdh"},
	{of(Velocity), "velocity speed vel velo v spd geschwindigkeit geschw tempo velocidad veloc velocidade vitesse vit velocità velocita" +
		" snelheid snelh hastighet hastighed fart nopeus prędkość predkosc predk скорость скор velocities speeds velocidades vitesses snelheden hastigheter hastigheder hastigheterna farten nopeudet prędkości скорости geschwindigkeiten barspeed bar_speed bar_velocity hantelgeschwindigkeit"},
	{of(Mean), "mean avg average ave ø mittlere mittlerer mittleres mittel mittelwert durchschnitt durchschnittliche durchschnittlich durchschn mittl dschn" +
		" media medio promedio média médio moyenne moyen moy vmoy gemiddelde gemiddeld gem gjennomsnitt gjennomsnittlig snitt medel medelvärde medelhastighet genomsnitt gennemsnit gennemsnitlig middel" +
		" keskiarvo keskimääräinen średnia średni śr sr srednia srednie средняя средний сред ср"},
	{of(Mean, Velocity), "mv mcv acv av mvel vmean vavg vmed vmit vmittel vm vgem avgv meanv meanvel avgvel avgvelocity meanvelocity keskinopeus vmedia vmoy acmv amv medelhastighet gjennomsnittsfart middelhastighed"},
	{of(Peak), "peak spitze spitzen pico pic picco piek spits huippu szczytowa szczyt szczytowy пик пиковая пиковый"},
	{of(Max), "max maximum maximal maximale maximaler máxima máximo máx maxima massima massimo maximaal maksimal maks maksimum maksymalna maksymalny макс максимальная максимальный höchst hoechst höchste hoogste top topp"},
	{of(Peak, Velocity), "pv pcv vmax vpeak pvel peakv maxv peakvel maxvel peakvelocity spitzengeschwindigkeit höchstgeschwindigkeit toppfart topphastighet piekvelocity huippunopeus"},
	{of(Min), "min minimum minimal minimale mínima mínimo minima minimo мин минимальная minimalna"},
	{of(Travel), "rom range_of_motion displacement distance travel stroke bar_travel bar_path_length" +
		" weg hub hubweg hubhöhe hubhoehe bewegungsumfang bewegungsweite bewegungsradius wegstrecke strecke distanz" +
		" recorrido desplazamiento distancia rango_de_movimiento rango amplitud amplitude amplitude_de_movimento deslocamento distância percurso" +
		" déplacement amplitude_de_mouvement course escursione ampiezza spostamento corsa distanza bewegingsbereik verplaatsing afstand slag bewegingsuitslag" +
		" bevegelsesutslag bevegelsesbane rørelseomfång rörelseomfång rörelseutslag bevægeudslag bevægelse_udslag sträcka strekning liikelaajuus liikerata matka" +
		" zakres_ruchu zakres droga przemieszczenie dystans амплитуда ход путь перемещение дистанция"},
	{of(Concentric), "concentric con conc konzentrisch konzentrische konz concéntrica concéntrico concentrica concentrico concêntrica concêntrico concentrique concentrisch concentrische" +
		" konsentrisk konsentrinen koncentrisk koncentryczna koncentryczny koncentrycznej концентрическая концентрической концентрический конц up lifting ascent"},
	{of(Eccentric), "eccentric ecc exzentrisch exzentrische exz excéntrica excéntrico eccentrica eccentrico excêntrica excêntrico excentrique excentrisch excentrische" +
		" eksentrisk excentrisk eksentrinen ekscentryczna ekscentryczny эксцентрическая эксцентрической эксц down descent lowering tut"},
	{of(Propulsive, Mean, Velocity), "mpv mpvel"},
	{of(Propulsive), "propulsive propulsiv propulsiva propulsivo propulsief"},
	{of(Sticking), "sticking sticking_point sticking_region"},
	{of(RPE), "rpe exertion effort perceived_exertion anstrengung esfuerzo esforço effort_perçu sforzo inspanning anstrengelse ansträngning rasitus wysiłek усилие borg" +
		" rate_of_perceived_exertion @ ipe pse belastungsempfinden"},
	{of(RIR), "rir reps_in_reserve repetitions_in_reserve reserve wdh_in_reserve reserva répétitions_en_réserve ripetizioni_in_riserva buffer reps_left"},
	{of(Missed), "missed miss failed fail failure no_lift nolift fehlversuch ungültig ungueltig verfehlt gescheitert misslungen fallo fallado fallada fallida nulo falha falhou échec échoué raté manqué fallito fallita nullo" +
		" mislukt gemist bom misset mislykket ikke_godkjent missad misslyckad misslyckat underkänd mislykkedes epäonnistui hylätty nieudane nieudany spalone неудача неудачно срыв не_взял"},
	{of(Success), "success successful made good_lift valid gültig gueltig geschafft gelungen erfolg erfolgreich éxito exito válido válida logrado sucesso réussi réussite valide riuscito riuscita valido valida" +
		" gelukt geldig geslaagd godkjent vellykket godkänd lyckad lyckades godkendt onnistui hyväksytty udane zaliczone udany успех удачно взял засчитан passed"},
	{of(First), "first erste erster erstes ersten primera primer primero primeira primeiro première premier premiere prima primo eerste første foerste första ensimmäinen pierwsza pierwsze pierwszy первая первый первого initial"},
	{of(Last), "last final letzte letzter letztes letzten última ultima último ultimo derniere dernière dernier laatste siste sista sidste viimeinen ostatnia ostatnie ostatni последняя последний последнего"},
	{of(Best), "best fastest beste bester schnellste schnellster schnellstes mejor más_rápida mas_rapida rapida melhor mais_rápida meilleure meilleur plus_rapide migliore più_veloce snelste beste raskest raskeste snabbaste bästa hurtigste bedste nopein paras najlepsza najszybsza najlepsze лучшая лучший самая_быстрая быстрая"},
	{of(Slowest), "slowest worst langsamste langsamster langsamstes más_lenta mas_lenta peor mais_lenta pior plus_lente pire più_lenta peggiore langzaamste traagste tregeste langsomste långsammaste hitain najwolniejsza najgorsza самая_медленная медленная"},
	{of(Note), "note notes comment comments remark remarks memo bemerkung bemerkungen notiz notizen kommentar kommentare anmerkung anmerkungen nota notas comentario comentarios observaciones observações comentário observação" +
		" commentaire commentaires remarque remarques note commento commenti osservazioni opmerking opmerkingen notitie notities merknad notat kommentarer anteckning anteckningar anmärkning bemærkning huomautus muistiinpano kommentti uwagi uwaga notatka komentarz заметка заметки примечание комментарий примечания feel cues"},
	{of(Work), "sets_x_reps sets_reps sets_by_reps set_x_rep sets_and_reps scheme prescription work work_done workset worksets sets_done what_i_did performed leistung arbeit satz_x_wdh sätze_x_wdh sätze_wdh serien_x_wdh series_x_reps series_x_repeticiones series_y_repeticiones séries_x_reps serie_x_rip serie_e_ripetizioni sett_x_reps set_x_reps serie_x_powt подходы_x_повторы training entry eintrag top_sets log logbook übungssatz load_x_reps weight_x_reps gewicht_x_wdh"},
	{of(Ordinal), "number no nr num index idx # № n° nummer numero número numéro nro numer номер order reihenfolge lfd position_no orden ordem ordre ordine volgorde seq sequence lp"},
	{of(Count), "count total anzahl zahl cantidad quantidade nombre_de numero_di aantal antall antal määrä liczba ilość кол количество completed done summe"},
	{of(Target), "target planned prescribed plan goal soll ziel geplant vorgabe objetivo previsto planeado planificado programado prévu objectif cible prescrit previsto obiettivo doel gepland voorgeschreven planlagt mål planerad planlagd tavoite zaplanowane planowane cel план плановый цель zielwert"},
	{of(Power), "power watts watt leistung_w potencia potência puissance potenza vermogen effekt teho moc мощность"},
	{of(Force), "force newton kraft fuerza força forza kracht voima siła сила"},
	{of(Acceleration), "acceleration accel beschleunigung aceleración aceleração accélération accelerazione versnelling akselerasjon acceleration kiihtyvyys przyspieszenie ускорение rfd jerk"},
	{of(Tonnage), "time_under_tension tut tonnage volume volumen volumenlast volume_load volym tonnasje tonaż objętość объем тоннаж workload impulse energy energie energía calories kcal joule joules"},
	{of(Percent), "% percent percentage pct prozent porcentaje percentagem pourcentage percentuale procent prosent prosentti процент intensity intensität intensidad intensidade intensité intensità"},
	{of(OneRM), "1rm e1rm rm est1rm estimated_max estimated_1rm one_rep_max predicted_1rm 1wm maximalkraft 1пм пм training_max orm"},
	{of(Loss), "loss drop decrease verlust abfall pérdida perdida caída perda queda perte baisse perdita calo verlies tap förlust tab strata spadek потеря падение vl fatigue"},
	{of(Rest), "rest pause pausenzeit satzpause descanso pausa repos récupération recupero rust pauze hvile vila lepo przerwa odpoczynek отдых recovery"},
	{of(Person), "age sex gender birth birthday dob geburtstag geschlecht alter edad sexo idade âge sexe età sesso leeftijd geslacht alder kjønn ålder kön wiek płeć возраст пол" +
		" email e_mail mail phone club team verein mannschaft equipo equipe équipe squadra klub klubb lag drużyna клуб команда coach trainer gym category klasse weight_class gewichtsklasse body_height stature körpergröße federation"},
	{of(ID), "id uuid guid key hash uid ref"},
	{of(Start), "start started begin beginn inicio início début debut inizio aanvang begynnelse alku początek начало onset from"},
	{of(End), "end ended finish ende fin einde slutt slut loppu koniec конец stop until"},
	{of(Stored), "uploaded upload created exported export imported modified updated synced hochgeladen erstellt exportiert geändert subido creado exportado criado téléchargé créé exporté caricato creato geüpload aangemaakt opplastet uppladdad utworzono загружено создано"},
	{of(Position), "position pos posición posição posizione positie posisjon asento pozycja позиция положение elevation bar_height bar_position counts ticks pulses encoder_count impulse_count zählerstand höhe hoehe x y z"},
	{of(Sample), "sample samples frame frames messpunkt muestra amostra échantillon campione monster måling tick probe próbka отсчет кадр"},
	{of(Measure), "value values wert werte valor valeur valore waarde verdi värde værdi arvo wartość значение result ergebnis resultado résultat risultato measured actual ist real gemessen measurement data"},
	{of(Deviation), "sd std deviation cv variance error err standardabweichung desviación desvio écart deviazione afwijking avvik avvikelse odchylenie отклонение spread min_max"},
	{of(Bodyside), "left right links rechts izquierda derecha esquerda direita gauche droite sinistra destra venstre høyre vänster höger side seite"},
	{of(Unit), "unit units einheit einheiten unidad unidades unidade unité unités unità eenheid enheter yksikkö jednostka единица единицы uom"},
}

// plurals are words that count rather than number where they stand for reps
// and sets.
var plurals = foldedSet("reps sets repetitions wiederholungen sätze serien repeticiones series repetições séries répétitions réps" +
	" ripetizioni herhalingen repetisjoner repetitioner toistot sarjat powtórzenia serie повторения повторы повторений подходы wdhs repes" +
	" toistoja toistojen sarjoja sarjojen повторов подходов powtórzeń gentagelser sæt sett")

// oneOrMany are plurals that are a form of the singular as well: "nr
// powtórzenia", "номер повторения", "numero serie", "sæt nr."
var oneOrMany = foldedSet("serie powtórzenia повторения sæt sett")

// filler are words without a meaning of their own.
var filler = foldedSet("of the a an in on at for per by and or to der die das des den dem pro je im am bei von vom und oder zu" +
	" de del la el los las por en y o da do dos das em e ou du le les par et di della il lo per van het een og av på och i w na z do в на по за и x")

func foldedSet(list string) map[string]bool {
	m := make(map[string]bool)
	for _, w := range strings.Fields(list) {
		m[Fold(w)] = true
	}
	return m
}
