package date

import (
	"strconv"
	"strings"

	"repsift/ingest/rep"
)

// Evidence gathers what the dates of a column, or of a source and its sister
// files, say about the order of day, month and year. The zero Evidence is
// empty and ready.
type Evidence struct {
	Dates   int // texts that are dates in at least one order
	Clocks  int // times of day alone
	Serials int // numbers that would be spreadsheet dates from 1990 to 2100
	Unix    int // unmistakable Unix times
	Other   int // none of these; blanks are not counted

	Open   int        // dates whose order the text does not settle
	Fits   [4]int     // of the open ones, by Order: how many fit it
	Differ int        // open dates that day first and month first read differently
	Spaced int        // open dates parted otherwise than by points
	Fixed  [4]int     // dates whose order the text settles, by Order
	Front  int        // open dates whose first number may be a year although the last may be one too
	First  [4]uint64  // which first numbers those have, a bit each
	Third  [4]uint64  // which third numbers
	Last   [4]rep.Day // the open date before, as read in each order
	Moved  int        // how often the open date changed
	Travel [4]int64   // days between neighbours, summed, by Order
}

// Add takes one text into account.
func (e *Evidence) Add(text string) {
	if figure(text) {
		e.none(text)
		return
	}
	f, problem := scan(text)
	switch {
	case problem == isEmpty:
		return
	case problem == clockAlone:
		e.Clocks++
		return
	case problem != "":
		e.none(text)
		return
	case f.unix:
		e.Unix++
		return
	}
	if f.fixed != AnyOrder {
		if _, ok := f.as(f.fixed); !ok {
			e.Other++
			return
		}
		e.Dates++
		e.Fixed[f.fixed]++
		return
	}
	e.addOpen(&f)
}

// none takes a text into account that is no date as it stands.
func (e *Evidence) none(text string) {
	if isSerial(text) {
		e.Serials++
	} else {
		e.Other++
	}
}

// figure reports whether a text is digits with at most one point or comma among
// them, as most cells are, and fewer than any date alone has.
func figure(text string) bool {
	digits, marks := 0, 0
	for i := range len(text) {
		switch c := text[i]; {
		case c-'0' <= 9:
			digits++
		case c == '.' || c == ',':
			marks++
		default:
			return false
		}
	}
	return digits > 0 && digits < len("20260405") && marks <= 1
}

func (e *Evidence) addOpen(f *form) {
	var days [4]rep.Day
	var ok [4]bool
	any := false
	for o := DayMonthYear; o <= YearMonthDay; o++ {
		days[o], ok[o] = f.as(o)
		any = any || ok[o]
	}
	if !any {
		e.Other++
		return
	}
	e.Dates++
	moved := e.Open > 0
	e.Open++
	for o := DayMonthYear; o <= YearMonthDay; o++ {
		if !ok[o] {
			continue
		}
		e.Fits[o]++
		if d := int64(days[o]) - int64(e.Last[o]); moved && e.Fits[o] > 1 {
			e.Travel[o] += max(d, -d)
		}
	}
	if moved && days != e.Last {
		e.Moved++
	}
	e.Last = days
	if days[DayMonthYear] != days[MonthDayYear] {
		e.Differ++
	}
	if f.sep != '.' {
		e.Spaced++
	}
	if f.size[2] <= 2 {
		if f.yearFirst() {
			e.Front++
		}
		e.First[f.n[0]>>6&3] |= 1 << (f.n[0] & 63)
		e.Third[f.n[2]>>6&3] |= 1 << (f.n[2] & 63)
	}
}

// Merge takes the evidence of o into account: another column, a sister file.
func (e *Evidence) Merge(o *Evidence) {
	e.Dates += o.Dates
	e.Clocks += o.Clocks
	e.Serials += o.Serials
	e.Unix += o.Unix
	e.Other += o.Other
	e.Open += o.Open
	e.Differ += o.Differ
	e.Spaced += o.Spaced
	e.Front += o.Front
	e.Moved += o.Moved
	for i := range 4 {
		e.Fits[i] += o.Fits[i]
		e.Fixed[i] += o.Fixed[i]
		e.First[i] |= o.First[i]
		e.Third[i] |= o.Third[i]
		e.Travel[i] += o.Travel[i]
	}
	e.Last = o.Last
}

// Orders returns the orders in which every date so far can be read. One: that is
// the order (or, where no date depends on it, the order they are written in).
// Several: the dates do not say; ask. None, with Dates above 0: no order fits
// them all, the column mixes two.
//
// Orders that have meant the same days so far count as one. Dates all parted by
// points are day first where that fits (see [Parse]). Years of two digits at
// both ends are told by how they spread: over four or more different dates the
// end with at most two different numbers is the year; with less than that, a
// year in front is possible only with dashes or blanks, as ISO 8601:1988 had it
// (common practice, no source).
func (e *Evidence) Orders() []Order {
	if e.Open == 0 {
		best := AnyOrder
		for o := DayMonthYear; o <= YearMonthDay; o++ {
			if e.Fixed[o] > e.Fixed[best] {
				best = o
			}
		}
		if best == AnyOrder {
			return nil
		}
		return []Order{best}
	}
	day := e.Fits[DayMonthYear] == e.Open
	month := e.Fits[MonthDayYear] == e.Open
	year := e.Fits[YearMonthDay] == e.Open
	if year && (day || month) {
		first, third := bits(e.First), bits(e.Third)
		switch {
		case first <= 2 && third >= 4:
			day, month = false, false
		case third <= 2 && first >= 4 || e.Front == 0:
			year = false
		}
	}
	if day && month && (e.Differ == 0 || e.Spaced == 0) {
		month = false
	}
	var orders []Order
	for _, o := range []struct {
		order Order
		ok    bool
	}{{DayMonthYear, day}, {MonthDayYear, month}, {YearMonthDay, year}} {
		if o.ok {
			orders = append(orders, o.order)
		}
	}
	return orders
}

// Likely returns the one among Orders that the calendar speaks for: over six
// or more changes of date in the order of the rows, the dates read so move at
// least eight times fewer days in all than read otherwise. A log is kept in
// order and its sessions lie days apart; swapped, 3/4 and 5/4 lie two months
// apart. It is a guess to be said aloud: a log of tests on the first days of
// successive months deceives it. (Common practice, no source.)
func (e *Evidence) Likely() (Order, bool) {
	orders := e.Orders()
	if len(orders) == 1 {
		return orders[0], true
	}
	if len(orders) == 0 || e.Moved < 6 {
		return AnyOrder, false
	}
	best := orders[0]
	for _, o := range orders {
		if e.Travel[o] < e.Travel[best] {
			best = o
		}
	}
	for _, o := range orders {
		if o != best && e.Travel[o] < 8*max(e.Travel[best], 1) {
			return AnyOrder, false
		}
	}
	return best, true
}

func bits(set [4]uint64) int {
	n := 0
	for _, w := range set {
		for ; w != 0; w &= w - 1 {
			n++
		}
	}
	return n
}

// isSerial reports whether a text is a number that a spreadsheet would show as
// a date from 1990 to 2100 (32874…73050 in the 1900 system).
func isSerial(text string) bool {
	t := strings.Replace(strings.TrimFunc(text, blank), ",", ".", 1)
	if len(t) < 5 || t[0] < '3' || t[0] > '7' || len(t) > 5 && t[5] != '.' {
		return false
	}
	f, err := strconv.ParseFloat(t, 64)
	return err == nil && f >= 32874 && f < 73051
}
