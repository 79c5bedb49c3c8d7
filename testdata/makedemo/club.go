package main

import (
	"hash/fnv"
	"math/rand/v2"
	"strings"
	"time"
)

const (
	seed        = 20260105
	weeks       = 14
	volumeWeeks = 8 // the rest is the peak block
)

// firstDay is a Monday. Times of the demo are wall-clock times: the season
// file says where the clock hangs.
var firstDay = time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)

// testDay is when Ines tried her max in the squat.
var testDay = day(2, 28)

func day(month time.Month, d int) time.Time { return time.Date(2026, month, d, 0, 0, 0, 0, time.UTC) }

// random returns a source of numbers of its own for each name, so that a
// change in one corner of the season leaves the others as they were.
func random(name ...string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(strings.Join(name, "\x00")))
	return rand.New(rand.NewPCG(seed, h.Sum64()))
}

// Lifts and variants as the tidy files name them.
const (
	squat      = "squat"
	benchPress = "bench press"
	deadlift   = "deadlift"
	romanian   = "romanian deadlift" // hand log only
	sumo       = "sumo"
	paused     = "paused"
)

// lifter is one lifter of the club.
type lifter struct {
	name        string
	days        []int // of the week, from Monday 0: first, second, third session
	first, last int   // weeks of the season, inclusive
	unit        destination
	start       string // clock at which the weekday sessions begin
	abilities   [3]*ability
}

// ability is what a lifter can do in one lift.
type ability struct {
	lift, variant string
	max           float64 // kg at the start of the season
	gain          float64 // kg a week
	atMax         float64 // m/s of a 1RM, mean velocity; published means: 0.23 squat, 0.10 bench, 0.14 deadlift (Helms 2017)
	slope         float64 // m/s from a 1RM to no load at all
	travel        float64 // m
	travelSD      float64 // m
	pause         float64 // s, on the chest
}

var (
	ines = &lifter{
		name: "Ines Duarte", days: []int{0, 2, 5}, last: weeks - 1, unit: toNorth, start: "18:10",
		abilities: [3]*ability{
			{lift: squat, max: 138, gain: 0.9, atMax: 0.25, slope: 1.00, travel: 0.585, travelSD: 0.012},
			{lift: benchPress, max: 77, gain: 0.35, atMax: 0.10, slope: 0.92, travel: 0.180, travelSD: 0.008},
			{lift: deadlift, max: 161, gain: 0.8, atMax: 0.15, slope: 0.92, travel: 0.495, travelSD: 0.011},
		},
	}
	kaethe = &lifter{
		name: "Käthe Brandl", days: []int{0, 2, 5}, last: weeks - 1, unit: toSlate, start: "17:30",
		abilities: [3]*ability{
			{lift: squat, max: 122, gain: 0.7, atMax: 0.27, slope: 0.96, travel: 0.560, travelSD: 0.013},
			{lift: benchPress, max: 68, gain: 0.4, atMax: 0.11, slope: 1.12, travel: 0.285, travelSD: 0.010},
			{lift: deadlift, variant: sumo, max: 152, gain: 0.9, atMax: 0.12, slope: 0.84, travel: 0.405, travelSD: 0.012},
		},
	}
	tomas = &lifter{
		name: "Tomás Reis", days: []int{0, 2, 5}, last: weeks - 1, unit: toNorth, start: "18:00",
		abilities: [3]*ability{
			{lift: squat, max: 203, gain: 1.1, atMax: 0.23, slope: 1.04, travel: 0.655, travelSD: 0.014},
			{lift: benchPress, variant: paused, max: 141, gain: 0.6, atMax: 0.09, slope: 1.08, travel: 0.345, travelSD: 0.010, pause: 2},
			{lift: deadlift, max: 238, gain: 1.2, atMax: 0.14, slope: 0.95, travel: 0.555, travelSD: 0.012},
		},
	}
	ruben = &lifter{
		name: "Ruben Aske", days: []int{1, 3, 5}, first: 10, last: weeks - 1, unit: toSlate, start: "19:05",
		abilities: [3]*ability{
			{lift: squat, max: 104, gain: 1.6, atMax: 0.32, slope: 1.02, travel: 0.610, travelSD: 0.015},
			{lift: benchPress, max: 76, gain: 0.8, atMax: 0.15, slope: 1.15, travel: 0.365, travelSD: 0.012},
			{lift: deadlift, max: 132, gain: 1.8, atMax: 0.20, slope: 0.95, travel: 0.520, travelSD: 0.014},
		},
	}

	club = []*lifter{ines, kaethe, tomas, ruben}
)

// destination is the file that a set ends up in.
type destination uint8

const (
	toNorth destination = iota
	toSlate
	toBlocks
	toGuest
	toTrace
	toNowhere // no unit at hand: the hand log alone knows
)

// whereTo returns the file that a session's sets go to.
func whereTo(l *lifter, date time.Time) destination {
	switch {
	case l == ines && date.Equal(day(2, 18)), l == kaethe && date.Equal(day(1, 31)), l == tomas && date.Equal(day(3, 30)):
		return toNowhere
	case l == tomas && weekOf(date) == volumeWeeks:
		return toGuest
	case l == ruben && date.Weekday() == time.Saturday:
		return toBlocks
	}
	return l.unit
}

// traced are the sets that were exported as raw samples: the first back-off of
// a session's lift.
var traced = []struct {
	lifter *lifter
	date   time.Time
	lift   string
}{
	{ines, day(3, 14), squat},
	{tomas, day(3, 18), benchPress},
	{kaethe, day(3, 21), deadlift},
	{ines, day(4, 1), benchPress},
}

func weekOf(date time.Time) int { return int(date.Sub(firstDay).Hours()/24) / 7 }
