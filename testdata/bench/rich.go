package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"time"
)

// A club has so many lifters. Its first unit records every set, a second one what
// is done on its platform, a third of all; each gives a file a month, which begins
// with the last week of the month before. One club in three has loads in pounds,
// one a unit of speeds alone. Every lifter logs the work sets by hand.
const (
	liftersOfClub = 20
	overlapDays   = 7
	unitHeadings  = "Date and time,Lifter,Lift,Load (%s),Set,Rep,Mean velocity (m/s)"
	wholeHeadings = ",Peak velocity (m/s),ROM (m),Concentric time (s)"
	otherHeadings = "Date;Time;Athlete;Exercise;Weight (kg);Set;Rep;Mean velocity (cm/s);ROM (cm)\n"
	logHeadings   = "Date,Lifter,Lift,Sets (kg),RPE,Comment\n"
)

// writeRich writes a folder of exports and hand logs as clubs have them, with n
// rep rows or a few more, copies and second accounts among them: a lifter for
// every so many.
func writeRich(dir string, n, each int, seed uint64) error {
	s := rich{files: make(map[string]*bytes.Buffer), r: rand.New(rand.NewPCG(seed, 2))}
	day := time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
	for lifters := max(1, n/each); s.rows < n; day = day.AddDate(0, 0, 3) {
		for lifter := range lifters {
			s.session(lifter, day.Add(7*time.Hour+time.Duration(s.r.IntN(12*3600))*time.Second))
		}
	}
	for name, text := range s.files {
		name = filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(name, text.Bytes(), 0o666); err != nil {
			return err
		}
	}
	return nil
}

type rich struct {
	files map[string]*bytes.Buffer
	r     *rand.Rand
	rows  int // of reps, in all files
}

// lifterName is an invented name, like others as names are.
func lifterName(lifter int) string {
	first := []string{"Ada", "Bruno", "Carla", "Dario", "Edda", "Fynn", "Greta", "Hugo", "Ivana", "Jonas", "Kaia", "Lorenz", "Mira", "Nils", "Olga", "Paavo"}
	syllables := []string{"ba", "den", "gor", "ho", "kell", "lim", "mar", "nov", "rus", "sten", "tal", "vik"}
	last, of := "", lifter
	for range 3 {
		last += syllables[of%len(syllables)]
		of /= len(syllables)
	}
	if of > 0 {
		last += strconv.Itoa(of)
	}
	return first[lifter*7%len(first)] + " " + string(last[0]-'a'+'A') + last[1:]
}

// to returns a file to append to, with its headings.
func (s *rich) to(name, headings string) *bytes.Buffer {
	b := s.files[name]
	if b == nil {
		b = bytes.NewBufferString(headings)
		s.files[name] = b
	}
	return b
}

// session writes what one lifter did on one day.
func (s *rich) session(lifter int, at time.Time) {
	club := lifter / liftersOfClub
	unit, pounds := "kg", 1.0
	if club%3 == 2 {
		unit, pounds = "lb", 1/0.45359237
	}
	headings, whole := fmt.Sprintf(unitHeadings, unit), club%3 != 1
	if whole {
		headings += wholeHeadings
	}
	headings += "\n"
	name := lifterName(lifter)
	var first, second []byte
	log := s.to(fmt.Sprintf("logs/club %02d/%05d.csv", club, lifter), logHeadings)
	mark, rows, rowsOfSecond := 0, 0, 0
	for k, lift := range lifts {
		best := 100 + 18*float64(k) + float64(lifter*37%80) // kg
		besides, markOfSecond := s.r.IntN(3) == 0, 0        // on the second unit's platform
		for set, share := range []float64{0.4, 0.55, 0.7, 0.8, 0.8, 0.75} {
			mark++
			load := math.Round(best*share/2.5) * 2.5
			if besides {
				markOfSecond++
			}
			speed := 1.25 - share + 0.03*s.r.NormFloat64()
			n, other := 0, 0 // movements, as either unit counts them
			for i := range repsOfSet + 1 {
				at = at.Add(4 * time.Second)
				v := max(0.08, speed-0.02*float64(i)+0.015*s.r.NormFloat64())
				rom := 0.35 + 0.08*float64(k) + 0.0005*float64(lifter%200) + 0.008*s.r.NormFloat64()
				unrack := i == 0
				if unrack {
					if s.r.IntN(4) > 0 {
						continue // not taken for a rep
					}
					v, rom = 0.25+0.1*s.r.Float64(), 0.02+0.06*s.r.Float64()
				}
				n++
				first = fmt.Appendf(first, "%s,%s,%s,%.4g,%d,%d,%.3f", at.Format("2006-01-02T15:04:05"), name, lift, math.Round(load*pounds*2)/2, mark, n, v)
				if whole {
					first = fmt.Appendf(first, ",%.3f,%.3f,%.2f", v*(1.5+0.1*s.r.Float64()), rom, rom/v)
				}
				first = append(first, '\n')
				if !besides || unrack && s.r.IntN(2) == 0 {
					continue
				}
				other++
				there := at.Add(37 * time.Second) // its clock is fast
				second = fmt.Appendf(second, "%s;%s;%s;%s;%g;%d;%d;%.1f;%.1f\n", there.Format("02.01.2006"), there.Format("15:04:05"), name, lift,
					load, markOfSecond, other, 102*v+0.8*s.r.NormFloat64(), 100*rom+0.5*s.r.NormFloat64())
			}
			rows, rowsOfSecond = rows+n, rowsOfSecond+other
			if set > 1 && s.r.IntN(20) > 0 {
				s.log(log, at, name, lift, load, 6+12*(share-0.55)+0.5*s.r.NormFloat64())
			}
			at = at.Add(time.Duration(120+60*set) * time.Second)
		}
	}
	s.export(fmt.Sprintf("club %02d/", club), at, headings, first, rows)
	if rowsOfSecond > 0 {
		s.export(fmt.Sprintf("second unit/club %02d ", club), at, otherHeadings, second, rowsOfSecond)
	}
}

// log writes a set as its lifter does; one line in two hundred cannot be read.
func (s *rich) log(to *bytes.Buffer, at time.Time, lifter, lift string, load, rpe float64) {
	set := fmt.Sprintf("%gx%d", load, repsOfSet)
	comment := ""
	switch s.r.IntN(200) {
	case 0:
		set = "see phone"
	case 1, 2, 3, 4, 5, 6, 7, 8, 9:
		comment = []string{"grip slipped", "felt light", "belt on the last hole"}[s.r.IntN(3)]
	}
	fmt.Fprintf(to, "%s,%s,%s,%s,%g,%s\n", at.Format(time.DateOnly), lifter, lift, set, min(10, max(5, math.Round(2*rpe)/2)), comment)
}

// export writes lines of a day into the file of their month, and into the next
// month's where they are of the last week.
func (s *rich) export(name string, at time.Time, headings string, lines []byte, rows int) {
	months := []time.Time{at, at.AddDate(0, 0, overlapDays)}
	for _, m := range slices.CompactFunc(months, func(a, b time.Time) bool { return a.Month() == b.Month() }) {
		s.to(name+m.Format("2006-01")+".csv", headings).Write(lines)
		s.rows += rows
	}
}
