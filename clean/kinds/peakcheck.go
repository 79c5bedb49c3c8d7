package kinds

import (
	"fmt"
	"math"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var peakCheck = &Spec{
	Kind: rep.PeakCheck,
	What: "Sets aside a rep whose peak speed is below its mean, or far above what the mean allows.",
	Limits: []Limit{
		// A grinder peaks early and then crawls: 0.10 m/s on average with a peak
		// of 0.5. So the bound is a line, not a quotient.
		{Name: "slope", Value: 3, Source: unsourced, Least: 1, Most: 20},
		{Name: "intercept_m_s", Value: 0.8, Source: unsourced, Most: 10},
	},
	Look: func(h *History, l []float64, out *Looks) {
		slope, intercept := l[0], l[1]
		for s, r := range h.Ranges {
			if out.Skip(r.Peak.Within(r.Speed.Hi, slope*r.Speed.Lo+intercept)) {
				continue
			}
			for i := h.Sets[s].Lo; i < h.Sets[s].Hi; i++ {
				peak, row := h.Peak[i], h.Rows[i]
				if !out.In(i) || math.IsNaN(peak) || h.Mark[i] == history.SecondHalf || h.Mark[i] == history.Fused {
					continue
				}
				most := slope*h.Speed[i] + intercept
				least := h.Speed[i] - (h.Table.MeanStep(row)+h.Table.PeakStep(row))/2 - 1e-9
				if peak < least {
					out.At(i, true, peak, h.Speed[i])
					continue
				}
				out.At(i, peak > most, peak, most)
			}
		}
	},
	Unit: SpeedText,
	Say: func(h *History, i int, f Finding) string {
		if f.Measured < f.Limit {
			return fmt.Sprintf("peak speed %s is below the mean speed %s", SpeedText(f.Measured), SpeedText(f.Limit))
		}
		return fmt.Sprintf("peak speed %s is above %s, the most that a mean of %s allows",
			SpeedText(f.Measured), SpeedText(f.Limit), SpeedText(h.Speed[i]))
	},
}
