package main

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"time"
)

// A lifter trains on every third day: three lifts, six sets of five each.
const (
	repsOfSet   = 5
	repsOfDay   = 3 * 6 * repsOfSet
	repsOfYear  = 5000
	headingLine = "Date and time,Lifter,Lift,Load (lb),Set,Rep,Mean velocity (m/s),Peak velocity (m/s),ROM (m),Concentric time (s)\n"
)

var lifts = []string{"squat", "bench press", "deadlift"}

// writeRows writes a CSV of n rep rows, in the order of days as an export of a
// federation has them: a lifter for every 5,000 rows, loads in pounds, one rep
// in twenty an unrack of a few centimetres, one session in fifty twice.
func writeRows(name string, n int, seed uint64) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	w := rows{Writer: bufio.NewWriterSize(f, 1<<20), left: n, r: rand.New(rand.NewPCG(seed, 1))}
	w.WriteString(headingLine)
	day := time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
	for lifters := max(1, n/repsOfYear); w.left > 0; day = day.AddDate(0, 0, 3) {
		for lifter := range lifters {
			w.session(lifter, day.Add(7*time.Hour+time.Duration(w.r.IntN(12*3600))*time.Second))
		}
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return f.Close()
}

type rows struct {
	*bufio.Writer
	r    *rand.Rand
	left int
	day  []byte // the lines of a session, to write them again
}

// session writes what one lifter did on one day.
func (w *rows) session(lifter int, at time.Time) {
	w.day = w.day[:0]
	mark := 0
	for k, lift := range lifts {
		best := 220 + 40*float64(k) + float64(lifter*37%180) // lb
		for set, share := range []float64{0.4, 0.55, 0.7, 0.8, 0.8, 0.75} {
			mark++
			load := float64(int(best*share/5)) * 5
			first := 1.25 - share + 0.03*w.r.NormFloat64()
			for i := range repsOfSet {
				at = at.Add(4 * time.Second)
				w.rep(at, lifter, lift, load, mark, i+1, first-0.02*float64(i), 0.35+0.08*float64(k)+0.0005*float64(lifter%200))
			}
			at = at.Add(time.Duration(120+60*set) * time.Second)
		}
	}
	w.Write(w.day)
	if w.r.IntN(50) == 0 && w.left > repsOfDay {
		w.left -= repsOfDay
		w.Write(w.day)
	}
}

// rep adds a line to the session.
func (w *rows) rep(at time.Time, lifter int, lift string, load float64, set, n int, v, rom float64) {
	if w.left == 0 {
		return
	}
	w.left--
	v = max(0.08, v+0.015*w.r.NormFloat64())
	rom += 0.008 * w.r.NormFloat64()
	if w.r.IntN(20) == 0 {
		v, rom = 0.25+0.1*w.r.Float64(), 0.02+0.06*w.r.Float64()
	}
	b := at.AppendFormat(w.day, "2006-01-02T15:04:05")
	b = fmt.Appendf(b, ",Lifter %05d,%s,", lifter, lift)
	b = strconv.AppendFloat(b, load, 'f', -1, 64)
	for _, whole := range []int{set, n} {
		b = strconv.AppendInt(append(b, ','), int64(whole), 10)
	}
	for _, x := range []float64{v, v * (1.5 + 0.1*w.r.Float64()), rom} {
		b = strconv.AppendFloat(append(b, ','), x, 'f', 3, 64)
	}
	b = strconv.AppendFloat(append(b, ','), rom/v, 'f', 2, 64)
	w.day = append(b, '\n')
}
