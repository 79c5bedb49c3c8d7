package kinds

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

var speedLimits = &Spec{
	Kind: rep.SpeedLimits,
	What: "Sets aside a rep whose mean or peak speed no barbell rep of the lift can have.",
	Limits: []Limit{
		{Name: "mean_min_m_s", Value: 0.01, Source: "a tenth of the mean speed at 1RM in the bench press, 0.10 ± 0.04 m/s (Helms 2017)", Most: 1},
		{Name: "mean_max_m_s", Value: 3, Lifts: perLift(2, 2, 2), Source: zeroLoad, Most: 20},
		{Name: "peak_max_m_s", Value: 6, Lifts: perLift(4, 4, 4), Source: "twice the mean limit: " + unsourced, Most: 40},
	},
	Look: func(h *History, l []float64, out *Looks) {
		slow, fast, peak := l[0], l[1], l[2]
		for s, r := range h.Ranges {
			if out.Skip(r.Speed.Within(slow, fast) && r.Peak.Hi <= peak) {
				continue
			}
			for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
				switch v := h.Speed[i]; {
				case !out.In(i):
				case v < slow:
					out.At(i, true, v, slow)
				case h.Peak[i] > peak: // no for a missing peak
					out.At(i, true, h.Peak[i], peak)
				default:
					out.At(i, v > fast, v, fast)
				}
			}
		}
	},
	Unit: SpeedText,
	Say: func(h *History, i int, f Finding) string {
		switch {
		case f.Measured < f.Limit:
			return fmt.Sprintf("mean speed %s is below %s: no rep", SpeedText(f.Measured), SpeedText(f.Limit))
		case f.Measured != h.Speed[i]:
			return fmt.Sprintf("peak speed %s is above %s, which no %s reaches", SpeedText(f.Measured), SpeedText(f.Limit), h.Lift)
		}
		return fmt.Sprintf("mean speed %s is above %s, which no %s reaches", SpeedText(f.Measured), SpeedText(f.Limit), h.Lift)
	},
}
