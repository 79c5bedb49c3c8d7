package shorthand

import (
	"slices"
	"strconv"
	"strings"
)

// String returns the entry in a form that [Parse], told of no load elsewhere,
// reads as the same entry, without its comment: "180 kg x 5 @8".
func (e Entry) String() string {
	var b strings.Builder
	part := func(s string) {
		if s != "" {
			if b.Len() > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(s)
		}
	}
	load, reps := e.Load.String(), e.repsText()
	kind := e.Load.Kind
	plain := kind == PercentMax || kind == Absolute && (e.Load.V >= minLoad || e.Load.Unit != "")
	switch {
	case load == "" || reps == "":
		part(load + reps)
	case e.Ambiguous && !e.LoadFirst && kind == Absolute && !plain: // 5 x 3 x 17.5
		part(reps + " x " + load)
	case e.Ambiguous && !e.LoadFirst && !plain: // +20 5 x 3
		part(load + " " + reps)
	case e.Ambiguous && !e.LoadFirst, e.Sets > 0 && plain && !e.Ambiguous:
		part(reps + " @ " + load)
	default:
		part(load + " x " + reps)
	}
	if e.Missed > 0 {
		part("missed " + strconv.Itoa(e.Missed))
	}
	switch {
	case len(e.RPEList) > 0:
		s := "@"
		for i, r := range e.RPEList {
			if i > 0 {
				s += ", "
			}
			s += decimal(r, 0)
		}
		part(s)
	case e.RPEHigh > 0:
		part("@" + decimal(e.RPE, 0) + "-" + decimal(e.RPEHigh, 0))
	case e.RPE > 0:
		part("@" + decimal(e.RPE, 0))
	}
	part(speedsText(e.Speeds))
	return b.String()
}

// repsText writes sets and reps; numbers that could be loads get a word or
// brackets.
func (e *Entry) repsText() string {
	if n := len(e.RepsList); n > 0 {
		texts := make([]string, n)
		for i, r := range e.RepsList {
			texts[i] = strconv.Itoa(r)
		}
		if slices.Max(e.RepsList) < minLoad {
			return strings.Join(texts, ", ")
		}
		return strconv.Itoa(n) + " sets x 1 (" + strings.Join(texts, ",") + ")"
	}
	sets, reps := "", ""
	if e.Reps > 0 {
		reps = strconv.Itoa(e.Reps)
	}
	if e.Reps >= minLoad {
		reps += " reps"
	}
	if e.Sets > 0 {
		sets = strconv.Itoa(e.Sets)
		if !e.Ambiguous {
			sets += " sets"
		}
		if reps != "" {
			sets += " x "
		}
	}
	return sets + reps
}

// String returns the load as Parse reads it, "" for none.
func (l Load) String() string {
	unit := ""
	if unit = l.Unit; unit != "" && unit != "#" {
		unit = " " + unit
	}
	switch l.Kind {
	case Absolute:
		return decimal(l.V, l.Step) + unit
	case Added:
		return signed(l.V, l.Step) + unit
	case AddedPercent:
		return signed(l.V, l.Step) + "%"
	case Bodyweight:
		if l.V == 0 {
			return "bw"
		}
		return "bw" + signed(l.V, l.Step) + unit
	case PercentMax:
		return decimal(l.V, l.Step) + "%"
	case EmptyBar:
		return "bar"
	}
	return ""
}

// speedsText writes speeds in an order in which each keeps its meaning.
func speedsText(speeds []Speed) string {
	var b strings.Builder
	for i, s := range speeds {
		each := s.Which == EachRep && i > 0 && speeds[i-1].Which == EachRep
		switch {
		case each:
			b.WriteString(" / ")
		case i > 0:
			b.WriteString(", ")
		}
		if s.Which > EachRep {
			b.WriteString(whichNames[s.Which])
			b.WriteByte(' ')
		}
		b.WriteString(decimal(s.V, s.Step))
		if s.Unit != "" {
			b.WriteString(" " + s.Unit)
		}
	}
	return b.String()
}

// decimal writes a number with the digits its step asks for, the fewest for 0.
func decimal(v, step float64) string {
	digits := -1
	if step > 0 {
		for digits = 0; step < 0.5; step *= 10 {
			digits++
		}
	}
	return strconv.FormatFloat(v, 'f', digits, 64)
}

func signed(v, step float64) string {
	if v < 0 {
		return decimal(v, step)
	}
	return "+" + decimal(v, step)
}
