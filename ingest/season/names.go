package season

import "repsift/ingest/spelling"

// Lifter returns the name of a lifter from one way of writing it: the declared
// name where a [[lifter]] has the spelling (case, runs of blanks and Unicode
// form aside), else the text as written, trimmed, runs of blanks made one. Use
// [Season.Names] where several writings of one undeclared name can meet.
func (s *Season) Lifter(written string) string {
	if name, ok := s.declaredLifter(spelling.Fold(written)); ok {
		return name
	}
	return spelling.Tidy(written)
}

// Declares reports whether a [[lifter]] has the spelling.
func (s *Season) Declares(lifter string) bool {
	_, ok := s.declaredLifter(spelling.Fold(lifter))
	return ok
}

func (s *Season) declaredLifter(folded string) (name string, ok bool) {
	if s == nil || folded == "" {
		return "", false
	}
	name, ok = s.declared().lifters[folded]
	return name, ok
}

// spellings finds declared names by any of their writings, folded.
type spellings struct {
	lifters map[string]string
	lifts   map[string]liftName
}

type liftName struct{ lift, variant string }

// declared returns the spellings of the season's lifters and lifts. Of two
// tables with one spelling the first holds; Read lets none pass.
func (s *Season) declared() *spellings {
	if s.spellings != nil {
		return s.spellings
	}
	sp := &spellings{make(map[string]string), make(map[string]liftName)}
	for i := range s.Lifters {
		l := &s.Lifters[i]
		for _, w := range append([]string{l.Name}, l.Spelled...) {
			if _, taken := sp.lifters[spelling.Fold(w)]; !taken {
				sp.lifters[spelling.Fold(w)] = l.Name
			}
		}
	}
	put := func(written string, is liftName) {
		if _, taken := sp.lifts[spelling.Fold(written)]; !taken {
			sp.lifts[spelling.Fold(written)] = is
		}
	}
	for i := range s.Lifts {
		l := &s.Lifts[i]
		for _, w := range l.Spelled {
			put(w, liftName{l.Name, l.Variant})
		}
	}
	for i := range s.Lifts {
		put(s.Lifts[i].Name, liftName{s.Lifts[i].Name, ""})
	}
	return sp
}

// Names returns the name of each lifter seen, by the writing: as
// [Season.Lifter], and writings that differ only by case, blanks or Unicode
// form get one name. Of undeclared ones that is the best-written: each word
// with one capital ("Ines Duarte") before other mixtures, before small letters
// alone, before capitals alone; of equals the first by bytes. The order in
// which they are given does not matter.
func (s *Season) Names(seen []string) map[string]string {
	type name struct {
		text     string
		declared bool
	}
	best := make(map[string]name)
	for _, w := range seen {
		key := spelling.Fold(w)
		n := name{text: spelling.Tidy(w)}
		if text, ok := s.declaredLifter(key); ok {
			n = name{text, true}
		}
		old, ok := best[key]
		if !ok || !old.declared && spelling.Better(n.text, old.text) {
			best[key] = n
		}
	}
	names := make(map[string]string, len(seen))
	for _, w := range seen {
		names[w] = best[spelling.Fold(w)].text
	}
	return names
}
