package source

import (
	"fmt"

	"repsift/ingest/rep"
	"repsift/ingest/shape/column"
	"repsift/ingest/shape/words"
	"repsift/ingest/source/around"
	"repsift/ingest/table/cell"
)

// encoding asks where a text may be in another encoding as well and a lifter, a
// lift or a unit would be called otherwise: "Zoè" and "Zoč" are the same bytes.
// A heading, a lift or a declared name that is known in one of them settles it;
// where that is the other one, the error is a [*Reread].
func (s *Source) encoding() error {
	for i := range s.file.Rivals {
		r := &s.file.Rivals[i]
		here, there := 0, 0 // known in the encoding recognised, in the rival
		from, to := "", ""
		weigh := func(text string, known func(string) bool, matters bool) {
			other := r.Reread(text)
			if other == text {
				return
			}
			if known(text) {
				here++
			}
			if known(other) {
				there++
			}
			if matters && from == "" {
				from, to = text, other
			}
		}
		for _, k := range s.kinds {
			for _, c := range k.Columns {
				if c.Named {
					weigh(c.Heading, isHeading, false)
				}
				for _, t := range c.Stats.Distinct {
					s.weighName(c.Field, t.Text, weigh)
				}
			}
		}
		for _, p := range s.Parts {
			for b := range p.around {
				s.weighName(b.Field, b.Text, weigh)
			}
		}
		switch {
		case here > there, from == "" && there == 0:
			continue
		case here == 0 && there > 0:
			return &Reread{Encoding: r.Encoding}
		case from == "":
			continue
		}
		return &Ask{
			Place:   rep.Place{Source: s.Name},
			Problem: fmt.Sprintf("%q is %q if the text is in %s rather than %s, and nothing tells which", from, to, r.Encoding, r.Not),
			Lines:   []string{fmt.Sprintf("encoding = %q", r.Not), fmt.Sprintf("encoding = %q", r.Encoding)},
		}
	}
	return nil
}

// Reread says that a text is in another encoding than the one recognised: words
// of it are known only so.
type Reread struct{ Encoding string }

// Error says in which.
func (r *Reread) Error() string { return "the text is in " + r.Encoding }

func (s *Source) weighName(f column.Field, text string, weigh func(text string, known func(string) bool, matters bool)) {
	switch f {
	case column.Lifter:
		weigh(text, func(t string) bool { return s.season.Declares(t) || isTotal(t) }, true)
	case column.Lift:
		weigh(text, func(t string) bool { return around.KnownLift(t, s.season) }, true)
	case column.Device:
		weigh(text, func(string) bool { return false }, true)
	}
}

func isHeading(text string) bool {
	h := words.Parse(text)
	return h.Words > 0 && h.Unknown == 0
}

func isTotal(text string) bool {
	surely, maybe := cell.Total(text)
	return surely || maybe
}
