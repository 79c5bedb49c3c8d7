// Package loss tells how much speed is lost within sets, how speed goes with the
// reps left, and at which speed to end a back-off set.
package loss

import (
	"math"
	"slices"

	"repsift/profile/effort"
	"repsift/profile/loadline"
	"repsift/profile/mixed"
	"repsift/profile/number"
	"repsift/profile/sets"
)

// Loss is how much speed is lost within sets, and when to end one.
type Loss struct {
	Mean   number.Estimate `json:"mean"` // of working sets of two or more reps
	ByRPE  []LossAtRPE     `json:"by_rpe"`
	ByLeft []SpeedLeft     `json:"by_reps_left"`
	// PerRepLeft is how much faster a rep is for each rep that is left after
	// it, m/s.
	PerRepLeft number.Estimate `json:"per_rep_left_m_s"`
	// LossPerRep is the mean share lost with each rep of a set.
	LossPerRep number.Estimate `json:"loss_per_rep"`
	// Stop is the speed of a rep at which to end a back-off set so that it
	// would be called this RPE.
	Stop []StopAtRPE `json:"stop_at_rpe"`
	// StopAtLoss is the same for a chosen velocity loss, load by load.
	StopAtLoss []StopAtLoss `json:"stop_at_loss"`
	Cautions   []string     `json:"cautions"`
}

// LossAtRPE is the loss of sets called an RPE.
type LossAtRPE struct {
	RPE  float64       `json:"rpe"`
	Sets int           `json:"sets"`
	Loss number.Number `json:"loss"`
	SD   number.Number `json:"sd"`
}

// SpeedLeft is the speed of reps after which this many were left, by the RPE
// called: reps left = reps to come in the set + (10 − RPE).
type SpeedLeft struct {
	Left  int           `json:"reps_left"`
	Reps  int           `json:"reps"`
	Sets  int           `json:"sets"`
	Speed number.Number `json:"speed_m_s"`
	SD    number.Number `json:"sd_m_s"`
}

// StopAtRPE is a speed at which to end a set.
type StopAtRPE struct {
	RPE   float64         `json:"rpe"`
	Speed number.Estimate `json:"speed_m_s"` // lo, hi: the last rep of the next such set
}

// StopAtLoss is the last speed to do at a load for a velocity loss.
type StopAtLoss struct {
	Percent int           `json:"percent_1rm"`
	LoadKg  number.Number `json:"load_kg"`
	Fastest number.Number `json:"fastest_m_s"`
	At      []LossTo      `json:"at"`
}

// LossTo is the speed a loss leads to.
type LossTo struct {
	Loss  float64       `json:"loss"`
	Speed number.Number `json:"speed_m_s"`
}

const (
	// SetsOfTwo is what most figures here count.
	SetsOfTwo = "working sets of two reps or more"
	// Need is how many sets a mean needs.
	Need     = 4
	mostLeft = 8
)

// DayMean returns the mean of values that come in days: sets of a day are
// alike, so their mean is less sure than so many independent ones.
func DayMean(v []float64, day []int, need int, of string) number.Estimate {
	if len(v) < need {
		return number.NotYet(need, len(v), of)
	}
	one := make([]float64, len(v))
	for i := range one {
		one[i] = 1
	}
	mean, err := mixed.Coefficient(mixed.Data{Y: v, Day: day, Columns: []mixed.Column{{X: one}}}, 0)
	if err != nil {
		// All values are the same to the last digit.
		return number.Known(v[0], v[0], v[0], len(v), of)
	}
	m, lo, hi := mean.Interval(number.Level)
	return number.Known(m, lo, hi, len(v), of)
}

// New answers what is lost in sets of one group.
func New(own []sets.Set, last effort.SetLine, table []loadline.PercentRow) Loss {
	v := Loss{ByRPE: []LossAtRPE{}, ByLeft: []SpeedLeft{}, Stop: []StopAtRPE{}, StopAtLoss: []StopAtLoss{}, Cautions: []string{}}
	loss, perRep, day := make([]float64, 0, len(own)), make([]float64, 0, len(own)), make([]int, 0, len(own))
	var sp sets.Span
	at := map[float64][]float64{}
	for i := range own {
		s := &own[i]
		x, ok := s.Loss()
		if !ok || !s.Working() {
			continue
		}
		sp.Add(s.Day)
		loss, day = append(loss, x), append(day, sp.Days-1)
		perRep = append(perRep, x/float64(len(s.Speeds)-1))
		if !math.IsNaN(s.RPE) && math.IsNaN(s.RPEHigh) {
			at[s.RPE] = append(at[s.RPE], x)
		}
	}
	v.Mean, v.LossPerRep = DayMean(loss, day, Need, SetsOfTwo).Within(-1, 1), DayMean(perRep, day, Need, SetsOfTwo).Within(-1, 1)
	for r := 1.0; r <= 10; r += 0.5 {
		if x := at[r]; len(x) > 0 {
			l := LossAtRPE{RPE: r, Sets: len(x)}
			l.Loss, l.SD = number.MeanSD(x)
			v.ByRPE = append(v.ByRPE, l)
		}
	}
	v.repsLeft(own)
	if last.Known() {
		for _, r := range []float64{6, 7, 8, 9} {
			v.Stop = append(v.Stop, StopAtRPE{RPE: r, Speed: last.Estimate(last.Next(r)).NotNegative()})
		}
	}
	for _, row := range table {
		if row.Percent > 85 || row.Percent < 60 || !row.Fastest.OK() {
			continue
		}
		s := StopAtLoss{Percent: row.Percent, LoadKg: row.LoadKg, Fastest: row.Fastest}
		for _, x := range []float64{0.10, 0.15, 0.20, 0.25, 0.30} {
			s.At = append(s.At, LossTo{Loss: x, Speed: number.Number(float64(row.Fastest) * (1 - x))})
		}
		v.StopAtLoss = append(v.StopAtLoss, s)
	}
	if len(loss) > 0 {
		v.Cautions = append(v.Cautions, "How many reps a velocity loss leaves differs between people and days (Jukic et al. 2023): check it against the RPE.")
	}
	return v
}

// repsLeft fills the speed of reps by how many were left after them: the reps
// to come in the set and those in reserve by the call, to the nearest whole
// (half points down: at 8.5 at least one is left).
func (v *Loss) repsLeft(own []sets.Set) {
	const of = "reps of sets with RPE"
	speeds := make([][]float64, mostLeft+1)
	in := make([]int, mostLeft+1) // sets
	var y, left []float64
	var inSet []int // the set of each rep: reps of a set are alike
	for i := range own {
		s := &own[i]
		if !(s.RPE >= effort.Lowest) || len(s.Speeds) != s.Reps || s.Missed > 0 {
			continue
		}
		n := 0
		if len(inSet) > 0 {
			n = inSet[len(inSet)-1] + 1
		}
		seen := map[int]bool{}
		for k, x := range s.Speeds {
			l := float64(len(s.Speeds)-1-k) + 10 - s.RPE
			whole := int(l)
			if whole > mostLeft {
				continue
			}
			y, left, inSet = append(y, x), append(left, l), append(inSet, n)
			speeds[whole] = append(speeds[whole], x)
			if !seen[whole] {
				in[whole]++
				seen[whole] = true
			}
		}
	}
	for k, x := range speeds {
		if len(x) > 0 {
			s := SpeedLeft{Left: k, Reps: len(x), Sets: in[k]}
			s.Speed, s.SD = number.MeanSD(x)
			v.ByLeft = append(v.ByLeft, s)
		}
	}
	if len(y) < 2*Need {
		v.PerRepLeft = number.NotYet(2*Need, len(y), of)
		return
	}
	v.PerRepLeft = number.More(len(y), of)
	if slices.Max(left)-slices.Min(left) < 1 {
		return
	}
	one := make([]float64, len(y))
	for i := range one {
		one[i] = 1
	}
	if per, err := mixed.Coefficient(mixed.Data{Y: y, Day: inSet, Columns: []mixed.Column{{X: one}, {X: left}}}, 1); err == nil {
		m, lo, hi := per.Interval(number.Level)
		v.PerRepLeft = number.Known(m, lo, hi, len(y), of)
	}
}
