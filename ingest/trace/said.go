package trace

import (
	"fmt"
	"strings"
)

// Said says in a line how a trace was read and what was found in it. chosen
// says that the cut-off was chosen here.
func (s Summary) Said(chosen bool) string {
	var out []string
	out = append(out, fmt.Sprintf("trace of %d samples at %.4g Hz", s.Samples, s.Hz))
	cutoff := fmt.Sprintf("low pass %.1f Hz", s.Cutoff)
	if chosen {
		cutoff += " by residual analysis"
	}
	out = append(out, cutoff)
	for _, c := range []struct {
		n         int
		one, many string
	}{
		{s.Dropped, "without a usable time or position", ""}, {s.Spikes, "wild reading left out", "wild readings left out"},
		{s.Slips, "jump that stayed, levelled: the tether slipped", "jumps that stayed, levelled: the tether slipped"},
		{s.Gaps, "gap", "gaps"}, {s.Restarts, "time the clock began anew", "times the clock began anew"},
		{s.SetBack, "time the clock was set back", "times the clock was set back"}, {s.Resampled, "laid between two readings", ""},
	} {
		switch {
		case c.n > 1 && c.many != "":
			out = append(out, fmt.Sprintf("%d %s", c.n, c.many))
		case c.n > 0:
			out = append(out, fmt.Sprintf("%d %s", c.n, c.one))
		}
	}
	if s.Up < 0 {
		out = append(out, "positions count downwards")
	}
	reps := fmt.Sprintf("%d reps", s.Kinds[Rep])
	if s.Kinds[Rep] == 1 {
		reps = "1 rep"
	}
	if n := s.Kinds[Missed]; n > 0 {
		reps += fmt.Sprintf(" and %d missed", n)
	}
	out = append(out, reps)
	var left []string
	for k := Missed + 1; int(k) < len(kindNames); k++ {
		if n := s.Kinds[k]; n > 0 {
			left = append(left, fmt.Sprintf("%d %s", n, kindNames[k]))
		}
	}
	if len(left) > 0 {
		out = append(out, "other movements left out: "+strings.Join(left, ", "))
	}
	return strings.Join(out, "; ")
}
