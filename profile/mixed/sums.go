package mixed

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/floats"
)

// sums are the sufficient statistics of the data: sums of weight·z·zᵀ, where z
// holds the columns without a prior, then those with one, then y. Days come as
// what they take off in proportion to the day variance.
type sums struct {
	room       *room
	n, p, free int       // free: columns without a prior
	order      []int     // the column at each place of z
	all        []float64 // see packed
	logW       float64   // Σ ln weight
	dayN       []int     // values of each day
	days       []dayTerm

	precision, priorMean []float64 // of the columns with a prior
	priorDF, priorSS     float64
	dayRatio             float64
}

// dayTerm is a day or, as far as they weigh alike, several: the sum of t·tᵀ,
// where t is the sum of weight·z of one of them.
type dayTerm struct {
	n  int
	m  float64   // sum of the weights of one
	tt []float64 // see packed
}

// packed is how many numbers the lower triangle of an n×n matrix has, which is
// kept row by row.
func packed(n int) int { return n * (n + 1) / 2 }

// unpack writes a packed matrix, times a factor, to a whole one.
func unpack(to, packed []float64, n int, factor float64) {
	for i := range n {
		row := packed[:i+1]
		packed = packed[i+1:]
		for j, x := range row {
			to[i*n+j], to[j*n+i] = x*factor, x*factor
		}
	}
}

// collect checks the data and sums them up, in a room that they keep.
func collect(d Data, room *room) (*sums, error) {
	n, p := len(d.Y), len(d.Columns)
	if d.Day != nil && len(d.Day) != n || d.Weight != nil && len(d.Weight) != n {
		return nil, fmt.Errorf("mixed: %d values, %d days, %d weights", n, len(d.Day), len(d.Weight))
	}
	q := p + 1
	nDays := 0
	if n > 0 && d.Day != nil {
		nDays = slices.Max(d.Day) + 1
	}
	s := &room.sums
	*s = sums{n: n, p: p, order: room.order[:0], room: room, all: room.some(packed(q)), precision: room.some(p)[:0], priorMean: room.some(p)[:0],
		priorDF: d.PriorDF, priorSS: d.PriorDF * d.PriorSD * d.PriorSD, dayRatio: d.DayRatio}
	for k := range d.Columns {
		if len(d.Columns[k].X) != n {
			return nil, fmt.Errorf("mixed: column %d has %d values of %d", k, len(d.Columns[k].X), n)
		}
		if !(d.Columns[k].SD > 0) {
			s.order = append(s.order, k)
		}
	}
	s.free = len(s.order)
	for k := range d.Columns {
		if col := &d.Columns[k]; col.SD > 0 {
			s.order = append(s.order, k)
			s.precision, s.priorMean = append(s.precision, 1/(col.SD*col.SD)), append(s.priorMean, col.Mean)
		}
	}
	ofDay := room.some(nDays * (q + 1)) // of each day: Σ weight, Σ weight·z
	s.dayN = append(room.dayN[:0], make([]int, nDays)...)
	weights := product{0, 1}
	for _, w := range d.Weight {
		weights.times(w, 1)
	}
	if nDays > 0 {
		for i, day := range d.Day {
			s.dayN[day]++
			ofDay[day*(q+1)] += weightOf(d.Weight, i)
		}
	}
	var few [8][]float64
	cols := few[:0]
	for _, k := range s.order {
		cols = append(cols, d.Columns[k].X)
	}
	cols = append(cols, d.Y)
	row := s.all
	for j, col := range cols {
		if d.Weight != nil {
			col = floats.MulTo(room.some(n), col, d.Weight)
		}
		for k := range j + 1 {
			row[k] = floats.Dot(col, cols[k])
		}
		row = row[j+1:]
		if nDays > 0 {
			for i, x := range col {
				ofDay[d.Day[i]*(q+1)+1+j] += x
			}
		}
	}
	s.logW = weights.ln()
	s.gather(ofDay, d.Weight == nil)
	return s, nil
}

// gather sums the days up; where values weigh alike, so do days of as many.
func (s *sums) gather(ofDay []float64, alike bool) {
	q := s.p + 1
	s.days = s.room.days[:0]
	for i, n := range s.dayN {
		if n == 0 {
			continue
		}
		m, t := ofDay[i*(q+1)], ofDay[i*(q+1)+1:(i+1)*(q+1)]
		k := len(s.days)
		if alike {
			k = slices.IndexFunc(s.days, func(g dayTerm) bool { return g.m == m })
		}
		if k < 0 || k == len(s.days) {
			k = len(s.days)
			s.days = append(s.days, dayTerm{m: m, tt: s.room.some(packed(q))})
		}
		s.days[k].n++
		addSquare(s.days[k].tt, t)
	}
	s.room.days, s.room.dayN, s.room.order = s.days, s.dayN, s.order
}

// addSquare adds z·zᵀ to a packed matrix.
func addSquare(to, z []float64) {
	for j, zj := range z {
		row := to[:j+1]
		to = to[j+1:]
		for k := range row {
			row[k] += zj * z[k]
		}
	}
}
