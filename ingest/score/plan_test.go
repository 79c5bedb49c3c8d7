package score

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"
)

// gen makes one export.
type gen struct {
	r    *rand.Rand
	lang *language
	late bool     // sessions go on past midnight
	said []string // choices, for the report of a case
}

func (g *gen) chance(p float64) bool { return g.r.Float64() < p }

func pick[T any](g *gen, list []T) T { return list[g.r.IntN(len(list))] }

// weighted is a choice by weights: "rep rows", 5, "blocks", 2.
func (g *gen) weighted(pairs ...any) string {
	sum := 0
	for i := 1; i < len(pairs); i += 2 {
		sum += pairs[i].(int)
	}
	n := g.r.IntN(sum)
	for i := 0; i < len(pairs); i += 2 {
		if n -= pairs[i+1].(int); n < 0 {
			return pairs[i].(string)
		}
	}
	panic("no weights")
}

func (g *gen) say(format string, args ...any) { g.said = append(g.said, fmt.Sprintf(format, args...)) }

// measure is a unit as an export writes it: value in the unit = SI / factor.
type measure struct {
	name     string
	factor   float64
	decimals int
}

// units of an export.
type units struct{ load, speed, travel, time measure }

var (
	kilos  = []measure{{"kg", 1, 1}, {"Kg", 1, 1}, {"kgs", 1, 1}, {"KG", 1, 2}}
	pounds = []measure{{"lb", 0.45359237, 0}, {"lbs", 0.45359237, 1}, {"Lbs", 0.45359237, 0}}
	speeds = []measure{{"m/s", 1, 2}, {"m/s", 1, 3}, {"m·s⁻¹", 1, 2}, {"m/sec", 1, 2}, {"cm/s", 0.01, 1}, {"cm/s", 0.01, 0}, {"mm/s", 0.001, 0}}
	travel = []measure{{"m", 1, 2}, {"m", 1, 3}, {"cm", 0.01, 1}, {"cm", 0.01, 0}, {"mm", 0.001, 0}, {"in", 0.0254, 1}}
	times  = []measure{{"s", 1, 2}, {"s", 1, 3}, {"sec", 1, 2}, {"ms", 0.001, 0}}
)

func (g *gen) units() units {
	u := units{pick(g, kilos), pick(g, speeds), pick(g, travel), pick(g, times)}
	if g.chance(0.25) {
		u.load = pick(g, pounds)
	}
	if g.lang.name == "ru" {
		for m, is := range map[*measure]map[string]string{
			&u.load: {"kg": "кг", "Kg": "кг", "kgs": "кг", "KG": "кг"}, &u.speed: {"m/s": "м/с", "cm/s": "см/с", "mm/s": "мм/с", "m/sec": "м/с"},
			&u.travel: {"m": "м", "cm": "см", "mm": "мм"}, &u.time: {"s": "с", "sec": "сек", "ms": "мс"},
		} {
			if name := is[m.name]; name != "" {
				m.name = name
			}
		}
	}
	g.say("%s, %s, %s, %s", u.load.name, u.speed.name, u.travel.name, u.time.name)
	return u
}

// The truth.
type (
	set struct {
		day    time.Time
		clock  int // minutes after the midnight before the session; past 24 h in the small hours
		lifter string
		lift   int // of the language's lifts
		number int
		load   float64 // in the export's unit
		rpe    float64 // 0: none
		reps   []repTruth
		equal  int // sets alike that one line of a log stands for
	}
	repTruth struct{ mean, peak, rom, con float64 } // in the export's units; 0: none
)

// liftNames are what the lifts are called past reading.
var liftNames = [3]string{"squat", "bench press", "deadlift"}

// season makes up training: some lifters, days and sets.
func (g *gen) season(u units, lifters int) []set {
	names := strings.Split(g.lang.lifters, "|")
	g.r.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
	names = names[:lifters]
	days := 4 + g.r.IntN(24)
	switch {
	case g.chance(0.15):
		days = 1
	case lifters > 1:
		days = 4 + g.r.IntN(8)
	}
	day := time.Date(2023+g.r.IntN(4), time.Month(1+g.r.IntN(12)), 1+g.r.IntN(28), 0, 0, 0, 0, time.UTC)
	var out []set
	for range days {
		for _, name := range names {
			if lifters > 1 && g.chance(0.15) {
				continue
			}
			out = append(out, g.day(u, day, name)...)
		}
		day = day.AddDate(0, 0, 1+g.r.IntN(6))
	}
	if len(out) == 0 {
		return g.season(u, lifters)
	}
	return out
}

func (g *gen) day(u units, day time.Time, lifter string) []set {
	var out []set
	lifts := g.r.Perm(3)[:1+g.r.IntN(2)]
	clock := 16*60 + g.r.IntN(180)
	if g.late {
		clock = 23*60 + 10 + g.r.IntN(30)
	}
	for _, lift := range lifts {
		max := []float64{100, 70, 130}[lift] * (1 + 0.8*g.r.Float64())
		reps := 1 + g.r.IntN(6)
		n := 2 + g.r.IntN(5)
		for k := range n {
			share := 0.45 + 0.47*float64(k)/float64(n)
			s := set{day: day, clock: clock, lifter: lifter, lift: lift, number: k + 1, load: plates(share*max, u.load), equal: 1}
			clock += 3 + g.r.IntN(4)
			if k >= n/2 {
				s.rpe = 6 + 0.5*float64(g.r.IntN(9))
			}
			s.reps = g.reps(u, share, max1(reps+g.r.IntN(3)-1), lift)
			out = append(out, s)
		}
	}
	return out
}

func max1(n int) int { return max(1, n) }

// plates rounds a load in kg to what can be loaded, in the unit.
func plates(kg float64, unit measure) float64 {
	if unit.factor != 1 {
		return math.Max(45, 45+10*math.Round((kg/unit.factor-45)/10))
	}
	return math.Max(20, 2.5*math.Round(kg/2.5))
}

func (g *gen) reps(u units, share float64, n, lift int) []repTruth {
	var out []repTruth
	speed := 1.15 - 0.9*share + 0.06*g.r.NormFloat64()
	way := []float64{0.58, 0.33, 0.5}[lift] * (1 + 0.04*g.r.NormFloat64())
	for k := range n {
		mean := math.Max(0.11, speed*(1-0.04*float64(k))+0.01*g.r.NormFloat64())
		rom := way + 0.008*g.r.NormFloat64()
		out = append(out, repTruth{u.speed.of(mean), u.speed.of(mean * (1.35 + 0.1*g.r.Float64())), u.travel.of(rom), u.time.of(rom / mean)})
	}
	return out
}

// of returns a value in the unit, rounded as it is written.
func (m measure) of(si float64) float64 {
	p := math.Pow10(m.decimals)
	return math.Round(si/m.factor*p) / p
}

func (m measure) si(v float64) float64 { return v * m.factor }
