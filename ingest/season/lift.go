package season

import (
	"strings"

	"repsift/ingest/spelling"
)

// Lift returns lift and variant from one way of writing them: as a [[lift]]
// table declares (case, blanks and Unicode form aside), else in the usual
// words ([spelling.KnownLift]), else the text itself, trimmed and in lower case. The
// plain name of a declared lift means the lift, not the variant beside it.
func (s *Season) Lift(written string) (lift, variant string) {
	if s != nil && s.AsWritten {
		return spelling.Tidy(written), ""
	}
	if l, v, ok := s.declaredLift(written); ok {
		return l, v
	}
	if l, v, ok := spelling.KnownLift(written); ok {
		return l, v
	}
	return strings.ToLower(spelling.Tidy(written)), ""
}

func (s *Season) declaredLift(written string) (lift, variant string, ok bool) {
	key := spelling.Fold(written)
	if s == nil || key == "" {
		return "", "", false
	}
	is, ok := s.declared().lifts[key]
	return is.lift, is.variant, ok
}
