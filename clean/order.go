package clean

import (
	"cmp"
	"slices"
)

// arrange puts the rows of h into sets in the order done and takes copies
// out, where the duplicate filter is one that sets aside here.
func (h *history) arrange(c *compiled) {
	sheets := h.sheets()
	var sets []recorded
	if c.tells(h) {
		sets = h.takeCopies(sheets)
	} else {
		for i := range sheets {
			for _, s := range sheets[i].sets {
				s.sheet = int32(i)
				sets = append(sets, s)
			}
		}
	}
	h.sortDays(sheets, sets)

	rows := make([]int32, 0, len(h.rows))
	for i := range sets {
		lo := int32(len(rows))
		rows = append(rows, sets[i].rows...)
		s := set{span: span{lo, int32(len(rows))}, date: sheets[sets[i].sheet].date}
		if n := len(h.sets); n > 0 && h.sets[n-1].date == s.date {
			h.days[len(h.days)-1].hi++
		} else {
			h.days = append(h.days, span{int32(n), int32(n + 1)})
		}
		h.sets = append(h.sets, s)
	}
	h.rows = rows
	h.fill()
}

// sortDays puts sets in the order done: by day; on a day by time where all
// have one; else sheet by sheet in the order of their names, those that are
// timed first, each in its own order (time, else set mark, else row).
func (h *history) sortDays(sheets []sheet, sets []recorded) {
	for lo := 0; lo < len(sets); {
		hi := lo + 1
		date := sheets[sets[lo].sheet].date
		for hi < len(sets) && sheets[sets[hi].sheet].date == date {
			hi++
		}
		slices.SortStableFunc(sets[lo:hi], func(a, b recorded) int {
			sa, sb := &sheets[a.sheet], &sheets[b.sheet]
			switch {
			case sa.timed && sb.timed:
				return cmp.Compare(a.at.V, b.at.V)
			case sa.timed:
				return -1
			case sb.timed:
				return 1
			}
			return cmp.Compare(a.sheet, b.sheet)
		})
		lo = hi
	}
}
