// Package block reviews stretches of training and compares each with the one
// before.
package block

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"repsift/clean/robust"
	"repsift/ingest/rep"
	"repsift/ingest/season"
	"repsift/profile/e1rm"
	"repsift/profile/effort"
	"repsift/profile/loss"
	"repsift/profile/number"
	"repsift/profile/onerm"
	"repsift/profile/sets"
)

// Block is one stretch of training of one lift, and how it differs from the
// block before.
type Block struct {
	Name     string `json:"name"`
	Declared bool   `json:"declared"` // in the season file; else found by gaps of training
	sets.Span
	Sessions int           `json:"sessions"`
	Sets     int           `json:"sets"`      // warm-ups left out
	HardSets int           `json:"hard_sets"` // called RPE 7 or more, or without a call and at a speed of RPE 7 or more
	Reps     int           `json:"reps"`
	Tonnage  number.Number `json:"tonnage_kg"` // Σ load × reps done, warm-ups left out

	Intensity []IntensityBand `json:"intensity"` // of the block's e1RM, else of now; lightest band first
	MeanRPE   number.Estimate `json:"mean_rpe"`
	Calls     Calls           `json:"calls"`
	Loss      number.Estimate `json:"velocity_loss"` // mean of sets of two or more, warm-ups left out
	E1RM      number.Estimate `json:"e1rm_kg"`       // at the end of the block

	Against      string          `json:"against"`           // name of the block before; empty for the first
	E1RMChange   number.Estimate `json:"e1rm_change_kg"`    // mean of the block against mean of the one before
	SpeedChange  number.Estimate `json:"speed_change_m_s"`  // at common loads, days compared
	EffortChange number.Estimate `json:"effort_change_m_s"` // speed at the same called RPE
	AtLoads      []LoadChange    `json:"at_loads"`
	Cautions     []string        `json:"cautions"`
}

// Calls is how well the logged RPE of a block was kept: whether sets were
// called at all, and whether they were as slow as such calls are elsewhere.
type Calls struct {
	Called int `json:"called_sets"` // of the working sets
	// Within is the share of called sets whose slowest rep lies between the
	// speeds that the lifter's chart of all other blocks gives a point less and
	// a point more; the interval is Wilson's (1927, J Am Stat Assoc
	// 22:209–212).
	Within number.Estimate `json:"within_a_point"`
}

// IntensityBand counts working sets by share of the block's e1RM.
type IntensityBand struct {
	FromPercent int `json:"from_percent"` // inclusive
	ToPercent   int `json:"to_percent"`   // exclusive; 0: no upper end
	Sets        int `json:"sets"`
	Reps        int `json:"reps"`
}

// LoadChange is the speed of one load in this block against the one before.
type LoadChange struct {
	LoadKg number.Number   `json:"load_kg"`
	Before number.Number   `json:"before_m_s"`
	Now    number.Number   `json:"now_m_s"`
	Change number.Estimate `json:"change_m_s"`
}

const (
	hardRPE = 7 // a set called this or more is hard (common practice, no source)
	// gapDays without training, and three times the usual gap, end a block
	// that nobody declared (common practice, no source).
	gapDays = 9
	// needCalls sets are asked for before a share of them is told.
	needCalls = 5
)

// Stretch is the days of a block.
type Stretch struct {
	name     string
	from, to rep.Day
	declared bool
}

// Stretches returns the declared blocks by first day or, without any, the
// stretches of training between gaps. days are the lifter's days in order.
func Stretches(s *season.Season, days []rep.Day) []Stretch {
	var out []Stretch
	if s != nil {
		for _, b := range s.Blocks {
			out = append(out, Stretch{b.Name, b.From, b.To, true})
		}
	}
	if out != nil || len(days) == 0 {
		slices.SortStableFunc(out, func(a, b Stretch) int { return cmp.Compare(a.from, b.from) })
		return out
	}
	var gaps []float64
	for i := 1; i < len(days); i++ {
		gaps = append(gaps, float64(days[i]-days[i-1]))
	}
	usual, _ := robust.Median(gaps)
	limit := math.Max(gapDays, 3*usual)
	from := days[0]
	for i := range days {
		if i+1 == len(days) || float64(days[i+1]-days[i]) > limit {
			out = append(out, Stretch{fmt.Sprintf("training %d", len(out)+1), from, days[i], false})
			if i+1 < len(days) {
				from = days[i+1]
			}
		}
	}
	return out
}

// Blocks reviews each stretch that holds sets of the lift.
func (v *View) Blocks(all []Stretch) []Block {
	out := []Block{}
	var before *blockSets
	for _, st := range all {
		b := v.within(st)
		if len(b.sets) == 0 {
			continue
		}
		r := v.review(b)
		if before != nil {
			v.compare(&r, before, b)
		} else {
			const of = "blocks before this one"
			r.E1RMChange, r.SpeedChange, r.EffortChange = number.NotYet(1, 0, of), number.NotYet(1, 0, of), number.NotYet(1, 0, of)
		}
		out = append(out, r)
		before = b
	}
	return out
}

// View is what blocks of a lift are reviewed from.
type View struct {
	Sets   []sets.Set // of the main variant
	Main   sets.Group
	Claims *e1rm.Claims
	Effort effort.SetLine
	Now    number.Estimate // e1RM
}

// blockSets is what one block holds.
type blockSets struct {
	Stretch
	sets   []sets.Set // of the variant
	timed  []sets.Set // of the main group
	claims []onerm.Claim
}

func (v *View) within(st Stretch) *blockSets {
	b := &blockSets{Stretch: st}
	b.sets = sets.Between(v.Sets, st.from, st.to)
	b.timed = sets.Where(b.sets, func(s *sets.Set) bool { return s.Timed() && s.Group == v.Main })
	if len(b.sets) == 0 {
		return b
	}
	end := b.sets[len(b.sets)-1].Day
	b.claims = v.Claims.Between(st.from, st.to, end)
	return b
}

// review counts one block.
func (v *View) review(b *blockSets) Block {
	r := Block{Name: b.name, Declared: b.declared, Span: sets.SpanOf(b.sets), Cautions: []string{}, AtLoads: []LoadChange{},
		E1RM:      number.NotYet(1, 0, "top singles, sets of up to ten with RPE, or maxima in the block"),
		Intensity: []IntensityBand{{0, 60, 0, 0}, {60, 70, 0, 0}, {70, 80, 0, 0}, {80, 90, 0, 0}, {90, 0, 0, 0}}}
	r.Sessions = r.Days
	if c, err := onerm.Combine(onerm.Latest(b.claims, e1rm.MostClaims)); err == nil {
		x, lo, hi := c.Interval(number.Level, e1rm.Lifted(b.claims), 0)
		r.E1RM = number.Known(x, lo, hi, len(b.claims), "claims")
	}
	top := r.E1RM
	if !top.Known {
		top = v.Now
	}
	var calls, losses []float64
	var callDay, lossDay []int
	var rs, ls sets.Span
	for i := range b.sets {
		s := &b.sets[i]
		if !s.Working() {
			continue
		}
		r.Sets++
		r.Reps += s.Reps
		if s.Load > 0 {
			r.Tonnage += number.Number(s.Load * float64(s.Reps))
			if top.Known {
				k := bandOf(r.Intensity, 100*s.Load/top.Value)
				r.Intensity[k].Sets++
				r.Intensity[k].Reps += s.Reps
			}
		}
		if v.hard(s) {
			r.HardSets++
		}
		if !math.IsNaN(s.RPE) {
			rs.Add(s.Day)
			calls, callDay = append(calls, s.RPE), append(callDay, rs.Days-1)
		}
		if x, ok := s.Loss(); ok {
			ls.Add(s.Day)
			losses, lossDay = append(losses, x), append(lossDay, ls.Days-1)
		}
	}
	r.MeanRPE, r.Loss = loss.DayMean(calls, callDay, loss.Need, "working sets with RPE").Within(1, 10), loss.DayMean(losses, lossDay, loss.Need, loss.SetsOfTwo).Within(-1, 1)
	if !top.Known {
		r.Intensity = []IntensityBand{}
	}
	if !b.declared {
		r.Cautions = append(r.Cautions, "No block is declared; this one was found by gaps of training.")
	}
	r.Calls = v.calls(b, len(calls))
	return r
}

// calls holds the called sets of a block against the chart of the others.
func (v *View) calls(b *blockSets, called int) Calls {
	c := Calls{Called: called}
	outside := sets.Where(v.Sets, func(s *sets.Set) bool {
		return (s.Day < b.from || s.Day > b.to) && s.Timed() && s.Group == v.Main
	})
	chart := effort.NewSetLine(outside, effort.SlowestOf)
	if !chart.Known() {
		c.Within = number.NotYet(effort.Need, len(chart.RPE), effort.SetsWithRPE+" of other blocks")
		return c
	}
	within, n := 0, 0
	for i := range b.timed {
		s := &b.timed[i]
		if !s.Working() || !(s.RPE >= effort.Lowest) || math.IsNaN(s.Slowest) {
			continue
		}
		n++
		if s.Slowest <= chart.Height(s.RPE-1) && s.Slowest >= chart.Height(s.RPE+1) {
			within++
		}
	}
	if n < needCalls {
		c.Within = number.NotYet(needCalls, n, effort.SetsWithRPE)
		return c
	}
	p, lo, hi := wilson(within, n)
	c.Within = number.Known(p, lo, hi, n, effort.SetsWithRPE)
	return c
}

// wilson returns a share with its interval.
func wilson(k, n int) (p, lo, hi float64) {
	const z = 1.959964
	m := float64(n)
	p = float64(k) / m
	middle := (p + z*z/(2*m)) / (1 + z*z/m)
	half := z * math.Sqrt(p*(1-p)/m+z*z/(4*m*m)) / (1 + z*z/m)
	return p, math.Max(middle-half, 0), math.Min(middle+half, 1)
}

func bandOf(bands []IntensityBand, percent float64) int {
	for i, b := range bands {
		if b.ToPercent == 0 || percent < float64(b.ToPercent) {
			return i
		}
	}
	return 0
}

// hard reports whether a set was called hard or, without a call, was as slow
// as sets that are.
func (v *View) hard(s *sets.Set) bool {
	if !math.IsNaN(s.RPE) {
		return s.RPE >= hardRPE
	}
	return v.Effort.Known() && s.Group == v.Main && s.Slowest <= v.Effort.Height(hardRPE)
}
