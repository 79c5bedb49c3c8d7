package words

// inflected are further forms of the words in entries: plurals, genitives as
// they stand behind "number of" ("Toistojen määrä", "№ повтора"), and phrases
// that mean something else than their words.
var inflected = []entry{
	{of(Lifter), "udøver udøveren utøveren løfteren nostajan urheilijan lyftaren zawodnika спортсмена атлета atletas"},
	{of(Clock), "kello horário horario godz"},
	{of(Lift), "nosto nostot nostolaji alzate levantamientos bewegungen exercices ejercicios exercícios"},
	{of(Load), "poids_de_barre poids_de_la_barre peso_de_la_barra peso_en_barra peso_na_barra peso_da_barra peso_bilanciere peso_del_bilanciere" +
		" vægt_på_stang vægt_på_stangen vekt_på_stang vekt_på_stangen vikt_på_stången tangon_paino ciężar_sztangi waga_sztangi вес_штанги вес_на_штанге halterbelasting"},
	{of(Set), "sarjan sarjoja sarjojen подхода подходов satser"},
	{of(Rep), "toiston toistoa toistoja toistojen gentagelsen gentagelsens repetisjonen repetitionen powtórzeniu повтора повторов repeticion herhalingen"},
	{of(Peak), "pointe suurin szczytowej пиковой пика"},
	{of(Max), "maksimi suurimman максимальной"},
	{of(Peak, Velocity), "maksiminopeus makshastighet makshastighed maxhastighet"},
	{of(Concentric, Duration), "tempo_concentrico tempo_concêntrico tempo_concentrica"},
	{of(Travel), "distanse vandring løftehøyde løftehøjde lyfthöjd nostokorkeus liikematka hefhoogte hauteur_de_levée"},
	{of(First), "ensimmäisen pierwszego první первое"},
	{of(Last), "viimeisen ostatniego последнее последней"},
	{of(Best), "nopeimman parhaan najlepszego najszybszego najszybsze самый_быстрый самого_быстрого лучшего лучшее schnellsten besten"},
	{of(Slowest), "hitaimman najwolniejszego najwolniejsze самый_медленный самого_медленного langsamsten"},
	{of(Note), "noter notater huomiot huomioita muistiinpanot notatki merknader bemærkninger anmärkningar komentarze комментарии"},
	{of(Work), "trabajo travail lavoro trabalho werk arbejde arbeid arbete työ praca работа sarjat_x_toistot sæt_x_reps séries_x_répétitions"},
	{of(Ordinal), "nº no_de n_de numer_kolejny номера"},
	{of(Count), "number_of nb nb_de lkm lukumäärä число кол_во total_de gesamtzahl aantallen"},
	{of(Rep, Count), "n_ripetizioni n_di_ripetizioni"},
	{of(Set, Count), "n_di_serie"},
	// Abbreviations.
	{of(Lifter), "zaw zawod спортсм sportl utøv"},
	{of(Lift), "упр exo ejerc exerc eserc oef övn øv ćw ćwicz üb"},
	{of(Set), "ser sér подх"},
	{of(Rep), "повт ripet repet herh gent toist pow wdhl wdhlg"},
	{of(Load), "gew obc ciężar_szt carg belast kuorm"},
	{of(Velocity), "snelh hast ск prędk pręd скор hastigh"},
	{of(Mean), "gns keskim mitt méd gjsn gjennomsn"},
	{of(Travel), "ampl recorr desl dépl escurs перем"},
	{of(Concentric), "koncentr концентр"},
	{of(Duration), "dur длит czas_trw"},
	{of(First), "prem pierw перв erst"},
	{of(Last), "ost últ dern letzt viim laatste_herh посл"},
	{of(Best), "naj mej meill snabb"},
	{of(Note), "bem kom уваги прим opm"},
}
