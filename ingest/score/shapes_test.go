package score

import (
	"fmt"
	"slices"
	"strings"
)

// repRows: one line is a rep.
func (l *layout) repRows(sets []set) [][]val {
	cols := l.identity()
	cols = append(cols, l.loads()...)
	together := l.chance(0.05)
	if together {
		form := pick(l.gen, []string{"%d/%d", "Set %d Rep %d", "%d.%d", "%d-%d", "S%dR%d"})
		l.say("set and rep %s", form)
		cols = append(cols, col{heading: pick(l.gen, []string{"Set/Rep", "Set & rep", "Set.Rep"}), cell: func(s *set, r int) val { return text(fmt.Sprintf(form, s.number, r+1)) }})
	} else if l.chance(0.75) {
		cols = append(cols, l.plain("set", func(s *set, _ int) val { return whole(s.number) }))
	}
	numbered := !together && l.chance(0.85)
	if numbered {
		cols = append(cols, l.plain("rep", func(_ *set, r int) val { return whole(r + 1) }))
	}
	cols = append(cols, l.measured("mean", &l.u.speed, func(s *set, r int) float64 { return s.reps[r].mean }))
	peak, rom, con, rpe := l.chance(0.5), l.chance(0.6), l.chance(0.4), l.chance(0.4)
	if peak {
		cols = append(cols, l.measured("peak", &l.u.speed, func(s *set, r int) float64 { return s.reps[r].peak }))
	}
	if rom {
		cols = append(cols, l.measured("rom", &l.u.travel, func(s *set, r int) float64 { return s.reps[r].rom }))
	}
	if con {
		cols = append(cols, l.measured("con", &l.u.time, func(s *set, r int) float64 { return s.reps[r].con }))
	}
	if rpe {
		cols = append(cols, l.rpe())
	}
	cols = l.arrange(append(cols, l.noise()...))
	rows := l.headings(cols)
	gaps := l.chance(0.1)
	average := pick(l.gen, strings.Split(l.lang.total, "|"))
	averages := len(cols) >= 4 && l.chance(0.04)
	for i := range sets {
		s := &sets[i]
		if gaps && i > 0 && s.day != sets[i-1].day {
			rows = append(rows, nil)
		}
		for r := range s.reps {
			if rom && l.chance(0.02) {
				s.reps[r].rom = 0
			}
			t := s.reps[r]
			if !peak {
				t.peak = 0
			}
			if !rom {
				t.rom = 0
			}
			if !con {
				t.con = 0
			}
			n := 0
			if numbered || together {
				n = r + 1
			}
			l.expect(s, t, n, rpe)
			rows = append(rows, l.row(cols, s, r))
		}
		if averages {
			foot := make([]val, len(cols))
			for i := range foot {
				foot[i] = text("")
			}
			foot[0] = text(average)
			foot[len(foot)-1] = num(s.reps[0].mean, l.u.speed.decimals)
			rows = append(rows, foot)
		}
	}
	return l.footer(rows, cols)
}

// across: one line is a set, with a column for each rep.
func (l *layout) across(sets []set) [][]val {
	most := 0
	for i := range sets {
		most = max(most, len(sets[i].reps))
	}
	if most < 2 {
		return l.repRows(sets)
	}
	cols := append(l.identity(), l.loads()...)
	if l.chance(0.5) {
		cols = append(cols, l.plain("set", func(s *set, _ int) val { return whole(s.number) }))
	}
	rpe := l.chance(0.6)
	if rpe {
		cols = append(cols, l.rpe())
	}
	cols = l.arrange(append(cols, l.noise()...))
	word := strings.TrimRight(l.lang.of(l.gen, "rep"), "#.")
	switch {
	case l.chance(0.3):
		word = l.lang.of(l.gen, "mean")
	case l.chance(0.15):
		word = pick(l.gen, []string{"R", "V", "Rep.", "rep_"})
	}
	between := l.weighted(" ", 6, "", 1, " #", 1, "_", 1)
	for k := range most {
		c := l.headed(strings.TrimSpace(word)+between+fmt.Sprint(k+1), &l.u.speed)
		c.cell = func(s *set, _ int) val {
			if k >= len(s.reps) {
				return text("")
			}
			v := num(s.reps[k].mean, l.u.speed.decimals)
			if l.unitsIn == "cells" {
				v.unit = l.u.speed.name
			}
			return v
		}
		cols = append(cols, c)
	}
	rows := l.headings(cols)
	for i := range sets {
		s := &sets[i]
		rows = append(rows, l.row(cols, s, 0))
		for r, t := range s.reps {
			l.expect(s, repTruth{mean: t.mean}, r+1, rpe)
		}
	}
	return l.footer(rows, cols)
}

// inCell: one line is a set, its speeds in a cell.
func (l *layout) inCell(sets []set) [][]val {
	if !slices.ContainsFunc(sets, func(s set) bool { return len(s.reps) > 1 }) {
		return l.repRows(sets)
	}
	cols := append(l.identity(), l.loads()...)
	rpe := l.chance(0.7)
	if rpe {
		cols = append(cols, l.rpe())
	}
	between := l.weighted(" / ", 4, "/", 2, "; ", 2, " ", 1, " - ", 1)
	c := l.head("speeds", &l.u.speed)
	c.cell = func(s *set, _ int) val {
		var parts []string
		for _, t := range s.reps {
			parts = append(parts, l.write(&l.s, num(t.mean, l.u.speed.decimals)))
		}
		out := strings.Join(parts, between)
		if l.unitsIn == "cells" {
			out += " " + l.u.speed.name
		}
		return text(out)
	}
	cols = l.arrange(append(cols, l.noise()...))
	cols = append(cols, c)
	rows := l.headings(cols)
	for i := range sets {
		s := &sets[i]
		rows = append(rows, l.row(cols, s, 0))
		for r, t := range s.reps {
			l.expect(s, repTruth{mean: t.mean}, r+1, rpe)
		}
	}
	return l.filled(rows, cols)
}
