package judge

import (
	"fmt"
	"math"

	"repsift/clean/history"
	"repsift/ingest/rep"
)

var peakCheck = &kind{
	Kind: rep.PeakCheck,
	what: "Sets aside a rep whose peak speed is below its mean, or far above what the mean allows.",
	limits: []limit{
		// A grinder peaks early and then crawls: 0.10 m/s on average with a peak
		// of 0.5. So the bound is a line, not a quotient.
		{name: "slope", value: 3, source: unsourced, least: 1, most: 20},
		{name: "intercept_m_s", value: 0.8, source: unsourced, most: 10},
	},
	look: func(h *History, l []float64, out *looks) {
		slope, intercept := l[0], l[1]
		for i, peak := range h.Peak {
			if !out.in(i) || math.IsNaN(peak) || h.Mark[i] == history.SecondHalf || h.Mark[i] == history.Fused {
				continue
			}
			r := h.Rows[i]
			most := slope*h.Speed[i] + intercept
			least := h.Speed[i] - (h.Table.MeanStep(r)+h.Table.PeakStep(r))/2 - 1e-9
			if peak < least {
				out.at(i, true, peak, h.Speed[i])
				continue
			}
			out.at(i, peak > most, peak, most)
		}
	},
	unit: speedText,
	say: func(h *History, i int, f finding) string {
		if f.measured < f.limit {
			return fmt.Sprintf("peak speed %s is below the mean speed %s", speedText(f.measured), speedText(f.limit))
		}
		return fmt.Sprintf("peak speed %s is above %s, the most that a mean of %s allows",
			speedText(f.measured), speedText(f.limit), speedText(h.Speed[i]))
	},
}
