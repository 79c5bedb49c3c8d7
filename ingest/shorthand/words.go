package shorthand

import "strings"

// meaning is what a word says to the grammar.
type meaning uint8

const (
	noMeaning meaning = iota
	wordTimes         // x
	wordOf            // 3 sets of 5
	wordRPE
	wordRIR
	wordMiss
	wordNot // "no misses"
	wordBodyweight
	wordBar
	wordAMRAP
	wordAt
	wordFirst
	wordLast
	wordFastest
	wordSlowest
	wordMean
	wordPeak
	wordRep // "last rep", "each set": says nothing
	wordOrdinal
	wordTo // between the ends of a range
)

var which = map[meaning]Which{wordFirst: First, wordLast: Last, wordFastest: Fastest,
	wordSlowest: Slowest, wordMean: Mean, wordPeak: Peak}

// meanings maps words in lower case. Languages are those a log may be kept in;
// a word that is not here is a comment, never an error.
var meanings = func() map[string]meaning {
	m := make(map[string]meaning)
	for _, w := range []struct {
		meaning meaning
		texts   string
	}{
		{wordTimes, "x х"},
		{wordOf, "of by for de di à po по van av"},
		{wordRPE, "rpe pse рпе"},
		{wordRIR, "rir"},
		{wordMiss, "miss missed misses fail failed fails f failrep nolift fehlversuch ungültig gescheitert verfehlt" +
			" fallo fallado fallada nulo falha falhou falhada raté ratée échec échoué nul fallito fallita nullo gemist mislukt" +
			" mislykket underkendt bommet miss missad missade misslyckat epäonnistui hylätty spalone spalona nieudana незачет незачёт неудача" +
			" ✗ ✘ ❌"},
		{wordNot, "no not without kein keine ohne sin sem sans senza geen ingen inga ei bez без"},
		{wordBodyweight, "bw bodyweight kgw körpergewicht pdc"},
		{wordBar, "bar emptybar stange barra barre bilanciere stang tanko gryf гриф"},
		{wordAMRAP, "amrap max"},
		{wordAt, "at mit con com avec met med med z на"},
		{wordFirst, "first erste erster erstes 1st primera primeira primeiro primero première premier prima primo eerste første første" +
			" första ensimmäinen pierwsze pierwszy pierwsza первый первая первое"},
		{wordLast, "last final letzte letzter letztes ultima última ultimo último dernière dernier laatste siste sidste sista" +
			" viimeinen ostatnie ostatni ostatnia последний последняя последнее"},
		{wordFastest, "fastest best schnellste beste mejor melhor meilleure meilleur migliore snelste raskeste hurtigste snabbaste" +
			" bästa nopein paras najlepsze najlepszy najszybsze лучший лучшая быстрый"},
		{wordSlowest, "slowest worst langsamste lenta lente plus-lente traagste tregeste langsomste långsammaste hitain" +
			" najwolniejsze медленный"},
		{wordMean, "mean avg average ave schnitt mittel media média moyenne moy gemiddeld snitt genomsnitt medel" +
			" keskiarvo średnia śr среднее средняя сред ø"},
		{wordPeak, "peak vmax spitze pico picco pic pieken topp huippu пик"},
		{wordRep, "rep reps repetition wdh set sets satz sätze wiederholung repetición serie séries repetição répétition ripetizione" +
			" herhaling repetisjon toisto powtórzenie повтор m/s"},
		{wordOrdinal, "st nd rd th er ère º ª"},
		{wordTo, "to bis until till a tot til till tot"},
	} {
		for _, t := range strings.Fields(w.texts) {
			if _, ok := m[t]; !ok {
				m[t] = w.meaning
			}
		}
	}
	return m
}()
