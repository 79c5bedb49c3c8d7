package date

import (
	"fmt"
	"strings"
	"time"

	"repsift/ingest/rep"
)

// as returns the day in one order.
func (f *form) as(o Order) (rep.Day, bool) {
	y, m, d := 0, 1, 2
	switch o {
	case DayMonthYear:
		y, m, d = 2, 1, 0
	case MonthDayYear:
		y, m, d = 2, 0, 1
	}
	if f.size[m] > 2 || f.size[d] > 2 || f.size[y] == 1 || f.size[y] == 3 {
		return 0, false
	}
	year := int(f.n[y])
	if f.size[y] == 2 {
		if year += 1900; year < 1969 { // POSIX strptime, %y
			year += 100
		}
	}
	return rep.ValidDay(year, int(f.n[m]), int(f.n[d]))
}

// day returns the day in an order; for AnyOrder, or where the year stands so
// that the order cannot hold, in the one order that fits.
func (f *form) day(order Order) (rep.Day, []Order, string) {
	if f.unix {
		return f.day0, nil, ""
	}
	if f.fixed != AnyOrder {
		order = f.fixed
	}
	if order != AnyOrder && !(order == YearMonthDay && f.size[2] == 4) {
		d, ok := f.as(order)
		if !ok {
			return 0, nil, f.misfit(order)
		}
		return d, nil, ""
	}
	var fits []Order
	same := true
	var days [4]rep.Day
	for o := DayMonthYear; o <= YearMonthDay; o++ {
		d, ok := f.as(o)
		if !ok || o == YearMonthDay && fits != nil && !f.yearFirst() {
			continue
		}
		days[o] = d
		same = same && (fits == nil || d == days[fits[0]])
		fits = append(fits, o)
	}
	switch {
	case fits == nil:
		return 0, nil, noDay
	case same || f.sep == '.' && fits[0] == DayMonthYear:
		return days[fits[0]], nil, ""
	}
	return 0, fits, twoReadings
}

// yearFirst reports whether a date that could end in a year of two digits may
// begin with one: only with dashes or blanks between (see Evidence.Orders).
func (f *form) yearFirst() bool { return f.sep != '.' && f.sep != '/' }

// misfit says what is wrong with a date that does not fit its order.
func (f *form) misfit(order Order) string {
	if f.fixed == AnyOrder {
		for o := DayMonthYear; o <= YearMonthDay; o++ {
			if _, ok := f.as(o); ok {
				return fmt.Sprintf("is no day of the calendar as %q, only as %q", order, o)
			}
		}
	}
	return noDay
}

func (f *form) ambiguous(text string, orders []Order) error {
	var b strings.Builder
	b.WriteString("is ")
	for i, o := range orders {
		if i > 0 {
			b.WriteString(" or ")
		}
		d, _ := f.as(o)
		fmt.Fprintf(&b, "%s (%s)", d.Time().Format("2 January 2006"), o)
	}
	b.WriteString("; declare date_order")
	return &Error{Text: text, Problem: b.String(), Orders: orders}
}

func (f *form) stamp(day rep.Day) Stamp {
	s := Stamp{Day: day, Clock: f.clock}
	if f.zoned && f.clock.OK {
		t := day.Time().Add(time.Duration(f.clock.V)*time.Millisecond - time.Duration(f.offset)*time.Minute)
		s.Instant = rep.Some(rep.InstantOf(t))
		s.UTC = f.offset == 0
	}
	return s
}
