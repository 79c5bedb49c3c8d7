package season

import (
	"slices"

	"repsift/ingest/rep"
)

// Limit is one limit that a [[filter]] of a kind can declare. Its name ends in
// its unit; a share is a part of one, never percent.
type Limit struct {
	Name    string
	Meaning string  // one phrase
	Lo, Hi  float64 // what may be declared, both ends included
	Whole   bool    // whole numbers only
}

// kind is what a season file can say about one kind of filter. Its defaults
// live with the filter in cleaning, which knows the reasons for them.
type kind struct {
	kind   rep.Kind
	flags  bool // only: the rep stays whatever the filter finds
	limits []Limit
}

// kinds are the declarable kinds, in running order. The ranges keep out slips
// of unit (20 for 0.20) and of sign; what is sensible is the coach's to say.
var kinds = []kind{
	{kind: rep.Duplicate, limits: []Limit{
		{Name: "minutes", Meaning: "clock times of two copies may lie this far apart, whole hours of another time zone aside", Hi: 1440},
	}},
	{kind: rep.SecondDevice},
	{kind: rep.SpeedLimits, limits: []Limit{
		{Name: "mean_min_m_s", Meaning: "least mean velocity", Hi: 1},
		{Name: "mean_max_m_s", Meaning: "greatest mean velocity", Hi: 20},
		{Name: "peak_max_m_s", Meaning: "greatest peak velocity", Hi: 40},
	}},
	{kind: rep.ShortTravel, limits: []Limit{
		{Name: "floor_m", Meaning: "least range of motion", Hi: 1.5},
	}},
	{kind: rep.UsualTravel, limits: []Limit{
		{Name: "deviations", Meaning: "half width of the band around the lifter's median, in scaled median absolute deviations", Lo: 1, Hi: 100},
		{Name: "low_share", Meaning: "the band begins at this share of the median or lower", Hi: 1},
		{Name: "high_share", Meaning: "the band ends at this multiple of the median or higher", Lo: 1, Hi: 10},
		{Name: "learn_reps", Meaning: "reps it takes to learn the band", Lo: 3, Hi: 1000, Whole: true},
	}},
	{kind: rep.TravelCheck, limits: []Limit{
		{Name: "ratio", Meaning: "mean velocity × duration may be this many times the range of motion, or the reverse", Lo: 1, Hi: 10},
	}},
	{kind: rep.PeakCheck, limits: []Limit{
		{Name: "slope", Meaning: "peak velocity may be slope × mean velocity + intercept", Lo: 1, Hi: 20},
		{Name: "intercept_m_s", Meaning: "see slope", Hi: 10},
	}},
	{kind: rep.Rebound, limits: []Limit{
		{Name: "gap_s", Meaning: "starts at most this long after a lockout", Hi: 10},
		{Name: "travel_m", Meaning: "travels at most this far", Hi: 1.5},
		{Name: "travel_share", Meaning: "and at most this share of the lifter's usual travel", Hi: 1},
	}},
	{kind: rep.Rack, limits: []Limit{
		{Name: "travel_share", Meaning: "first or last movements of the set travel less than this share of the lifter's usual", Hi: 1},
		{Name: "time_share", Meaning: "and take less than this share of the shortest time of a rep at the load", Hi: 1},
	}},
	{kind: rep.SplitRep, limits: []Limit{
		{Name: "gap_s", Meaning: "the halves lie at most this far apart in time", Hi: 10},
		{Name: "share", Meaning: "their travels add up to the lifter's usual within this share of it", Hi: 1},
	}},
	{kind: rep.LogCount},
	{kind: rep.LoadCheck, flags: true, limits: []Limit{
		{Name: "deviations", Meaning: "fastest speed of a set may lie this many scaled deviations off the lifter's line", Lo: 2, Hi: 50},
		{Name: "learn_reps", Meaning: "reps it takes to learn the line", Lo: 3, Hi: 1000, Whole: true},
	}},
	{kind: rep.FlexAllowance, flags: true, limits: []Limit{
		{Name: "allowance_m", Meaning: "measured allowance; 0: beam theory gives one from the others", Hi: 0.2},
		{Name: "diameter_mm", Meaning: "diameter of the shaft", Lo: 20, Hi: 40},
		{Name: "span_m", Meaning: "length between the sleeves", Lo: 1, Hi: 2},
		{Name: "grip_m", Meaning: "distance of the hands, or of the edges of the back", Lo: 0.1, Hi: 2},
		{Name: "e_gpa", Meaning: "Young's modulus of the shaft", Lo: 50, Hi: 300},
	}},
	{kind: rep.FusedRep, flags: true, limits: []Limit{
		{Name: "share", Meaning: "travel is twice the lifter's usual, give or take this share of one", Hi: 1},
	}},
}

// Limits returns the limits that a [[filter]] of a kind can declare, in the
// order of the reference; nil for a kind without.
func Limits(k rep.Kind) []Limit {
	if i := slices.IndexFunc(kinds, func(x kind) bool { return x.kind == k }); i >= 0 {
		return slices.Clone(kinds[i].limits)
	}
	return nil
}

// OnlyFlags reports whether filters of a kind never set a rep aside: they mark
// or correct it.
func OnlyFlags(k rep.Kind) bool {
	i := slices.IndexFunc(kinds, func(x kind) bool { return x.kind == k })
	return i >= 0 && kinds[i].flags
}
