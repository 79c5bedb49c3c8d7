package judge

import (
	"fmt"

	"repsift/ingest/rep"
)

// The general load–velocity equations, carried on to no load at all, give
// 1.82 m/s (bench press) and 1.70 m/s (full squat): mean concentric velocity,
// guided bar; 7.5786 v² − 75.865 v + 113.02 = 0 (González-Badillo & Sánchez-
// Medina 2010) and −12.87 v² − 46.31 v + 116.3 = 0 (Sánchez-Medina et al.
// 2017). A bar of 15 kg or more is never that fast in a powerlift.
const zeroLoad = "above the speed without load of the general equations, 1.82 and 1.70 m/s (González-Badillo 2010, Sánchez-Medina 2017)"

var speedLimits = &kind{
	Kind: rep.SpeedLimits,
	what: "Sets aside a rep whose mean or peak speed no barbell rep of the lift can have.",
	limits: []limit{
		{name: "mean_min_m_s", value: 0.01, source: "a tenth of the mean speed at 1RM in the bench press, 0.10 ± 0.04 m/s (Helms 2017)", most: 1},
		{name: "mean_max_m_s", value: 3, lifts: perLift(2, 2, 2), source: zeroLoad, most: 20},
		{name: "peak_max_m_s", value: 6, lifts: perLift(4, 4, 4), source: "twice the mean limit: " + unsourced, most: 40},
	},
	look: func(h *History, l []float64, out *looks) {
		slow, fast, peak := l[0], l[1], l[2]
		for i, v := range h.Speed {
			if !out.in(i) {
				continue
			}
			switch {
			case v < slow:
				out.at(i, true, v, slow)
			case h.Peak[i] > peak: // no for a missing peak
				out.at(i, true, h.Peak[i], peak)
			default:
				out.at(i, v > fast, v, fast)
			}
		}
	},
	unit: speedText,
	say: func(h *History, i int, f finding) string {
		switch {
		case f.measured < f.limit:
			return fmt.Sprintf("mean speed %s is below %s: no rep", speedText(f.measured), speedText(f.limit))
		case f.measured != h.Speed[i]:
			return fmt.Sprintf("peak speed %s is above %s, which no %s reaches", speedText(f.measured), speedText(f.limit), h.Lift)
		}
		return fmt.Sprintf("mean speed %s is above %s, which no %s reaches", speedText(f.measured), speedText(f.limit), h.Lift)
	},
}
