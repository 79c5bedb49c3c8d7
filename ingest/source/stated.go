package source

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"repsift/ingest/number"
	"repsift/ingest/season"
	"repsift/ingest/spelling"
	"repsift/ingest/unit"
)

// samplesOf returns what is known of the samples of a table: as declared, else
// as the lines above it and its headings say.
func (s *Source) samplesOf(p *Part) season.Samples {
	var known season.Samples
	if d := s.declared.Samples; d != nil {
		known = *d
	}
	for _, pair := range p.Region.Preamble {
		text := pair.Key + " " + pair.Value
		known.Hz = cmp.Or(known.Hz, statedRate(text))
		known.MetresPerCount = cmp.Or(known.MetresPerCount, statedScale(text))
	}
	for _, c := range p.Columns {
		if c.Named {
			known.MetresPerCount = cmp.Or(known.MetresPerCount, statedScale(c.Heading))
		}
	}
	return known
}

// Words around the scale of an encoder and the rate of samples.
var (
	counting = []string{"count", "counts", "cnt", "cnts", "pulse", "pulses", "tick", "ticks", "impulse", "impulses", "increment", "increments", "inkrement", "inkremente", "impuls", "pas", "paso", "pulso", "impulso"}
	per      = []string{"per", "pro", "por", "par", "/", "a", "je"}
	scaling  = []string{"scale", "scaling", "resolution", "skala", "auflösung", "resolución", "résolution", "encoder"}
	rating   = []string{"sampling", "sample", "rate", "frequency", "fs", "abtastrate", "frequenz", "frecuencia", "fréquence"}
	tokens   = regexp.MustCompile(`[0-9]+(?:[.,][0-9]+)?(?:[eE][-+]?[0-9]+)?|[\p{L}µ]+|[/=]`)
)

// statedScale returns how many metres a count of an encoder is, where a line says
// so: "Resolution: 0.125 mm/count", "Counts per metre: 8000", "1 count = 0.3 mm",
// "Encoder scale 0.3 mm"; 0 where it does not.
func statedScale(text string) float64 {
	if !strings.ContainsAny(text, "0123456789") {
		return 0
	}
	counted, parted, equal, scaled := -1, -1, -1, false
	long, at := 0.0, -1
	var numbers []float64
	for i, w := range tokens.FindAllString(text, -1) {
		folded := spelling.Fold(w)
		if v, err := number.Parse(w, number.AnyMark); err == nil && v.Unit == "" {
			numbers = append(numbers, v.V)
			continue
		}
		switch {
		case slices.Contains(counting, folded):
			counted = max(counted, i)
		case w == "=":
			equal = i
		case slices.Contains(per, folded):
			parted = i
		case slices.Contains(scaling, folded):
			scaled = true
		default:
			if u, ok := unit.ParseFor(unit.Length, w); ok && at < 0 {
				long, at = u.Factor, i
			}
		}
	}
	if at < 0 || len(numbers) == 0 {
		return 0
	}
	n := numbers[len(numbers)-1]
	metres := 0.0
	switch {
	case equal >= 0 && counted >= 0 && len(numbers) == 2 && numbers[0] > 0:
		metres = numbers[1] * long / numbers[0]
		if at < counted { // "1 mm = 8 counts"
			metres = numbers[0] * long / numbers[1]
		}
	case len(numbers) > 1:
		return 0
	case counted >= 0 && parted > counted && at > parted: // counts per metre
		metres = long / n
	case counted >= 0 && parted > at && counted > parted, counted < 0 && scaled:
		metres = n * long
	}
	if !(metres > 1e-7 && metres < 0.02) { // 0.1 µm to 2 cm
		return 0
	}
	return metres
}

// counted reports whether a heading speaks of an encoder's counts.
func counted(heading string) bool {
	return slices.ContainsFunc(tokens.FindAllString(heading, -1), func(w string) bool { return slices.Contains(counting, spelling.Fold(w)) })
}

// statedRate returns the samples a second, where a line says so: "Sampling rate:
// 200 Hz", "fs = 100"; 0 where it does not.
func statedRate(text string) float64 {
	hz, rate, found := 0.0, false, 0
	for _, w := range tokens.FindAllString(text, -1) {
		if v, err := number.Parse(w, number.AnyMark); err == nil && v.Unit == "" {
			hz = v.V
			found++
			continue
		}
		folded := spelling.Fold(w)
		rate = rate || folded == "hz" || slices.Contains(rating, folded)
	}
	if !rate || found != 1 || hz < 5 || hz > 5000 {
		return 0
	}
	return hz
}
