package column

import (
	"math/bits"
	"slices"

	"repsift/ingest/shape/words"
	"repsift/ingest/unit"
)

// Field is what a column of a source can hold.
type Field uint8

// The fields. Those from RepNumber on say something of a rep or set; those
// before say which it is.
const (
	Nothing Field = iota
	Lifter
	Date
	Clock // time of day, or a full date and time beside the date
	Lift
	Variant
	Bar
	Tether
	Device
	LoadUnit // the unit of the load beside it
	Load
	SetNumber
	RepNumber
	SetRep // both numbers in one cell: 3/5
	MeanVelocity
	PeakVelocity
	ROM
	Concentric
	RPE
	RIR
	Missed
	Success
	Sets
	Reps
	FirstVelocity
	FastestVelocity
	LastVelocity
	SlowestVelocity
	Speeds // the speeds of a set in one cell
	Work   // a set in shorthand
	Note
	SampleTime
	Position
	MeanPropulsive
	StickingVelocity
	TimeToPeak
	Eccentric
	Known // understood, and of no use here: power, body weight, a planned load
	numFields
)

// field describes one Field.
type field struct {
	name     string // key in the season file's columns and units, and in name_parts
	quantity unit.Quantity
	lo, hi   float64 // what a value in SI units can be
	word     string  // as messages call it
}

// fields describes each Field. The ranges are what no barbell rep exceeds, wide
// on purpose: they tell columns and units apart, cleaning looks at values.
// Common practice, no source.
var fields = [numFields]field{
	Lifter:           {name: "lifter", word: "lifter"},
	Date:             {name: "date", word: "date"},
	Clock:            {name: "time", word: "time of day"},
	Lift:             {name: "lift", word: "lift"},
	Variant:          {name: "variant", word: "variant"},
	Bar:              {name: "bar", word: "bar"},
	Tether:           {name: "tether", word: "tether"},
	Device:           {name: "device", word: "device"},
	LoadUnit:         {word: "unit of the load"},
	Load:             {name: "load", quantity: unit.Load, lo: 0, hi: 520, word: "load"},
	SetNumber:        {name: "set", lo: 0, hi: 200, word: "set number"},
	RepNumber:        {name: "rep", lo: 0, hi: 200, word: "rep number"},
	SetRep:           {word: "set and rep number"},
	MeanVelocity:     {name: "mean_velocity", quantity: unit.Velocity, lo: 0.02, hi: 3, word: "mean velocity"},
	PeakVelocity:     {name: "peak_velocity", quantity: unit.Velocity, lo: 0.03, hi: 5, word: "peak velocity"},
	ROM:              {name: "rom", quantity: unit.Length, lo: 0.02, hi: 1.5, word: "range of motion"},
	Concentric:       {name: "concentric", quantity: unit.Time, lo: 0.1, hi: 15, word: "concentric duration"},
	RPE:              {name: "rpe", lo: 1, hi: 10, word: "RPE"},
	RIR:              {name: "rir", lo: 0, hi: 10, word: "RIR"},
	Missed:           {name: "missed", word: "missed"},
	Success:          {name: "success", word: "made"},
	Sets:             {name: "sets", lo: 1, hi: 30, word: "number of sets"},
	Reps:             {name: "reps", lo: 0, hi: 100, word: "number of reps"},
	FirstVelocity:    {name: "first_velocity", quantity: unit.Velocity, lo: 0.02, hi: 3, word: "first rep's velocity"},
	FastestVelocity:  {name: "fastest_velocity", quantity: unit.Velocity, lo: 0.02, hi: 3, word: "fastest rep's velocity"},
	LastVelocity:     {name: "last_velocity", quantity: unit.Velocity, lo: 0.02, hi: 3, word: "last rep's velocity"},
	SlowestVelocity:  {name: "slowest_velocity", quantity: unit.Velocity, lo: 0.02, hi: 3, word: "slowest rep's velocity"},
	Speeds:           {name: "speeds", quantity: unit.Velocity, lo: 0.02, hi: 3, word: "speeds of the set"},
	Work:             {name: "work", word: "set in shorthand"},
	Note:             {name: "note", word: "note"},
	SampleTime:       {name: "sample_time", quantity: unit.Time, word: "time of the sample"},
	Position:         {name: "position", quantity: unit.Length, word: "position of the bar"},
	MeanPropulsive:   {name: "mean_propulsive_velocity", quantity: unit.Velocity, lo: 0.02, hi: 3, word: "mean propulsive velocity"},
	StickingVelocity: {name: "sticking_velocity", quantity: unit.Velocity, lo: 0, hi: 3, word: "sticking-region velocity"},
	TimeToPeak:       {name: "time_to_peak", quantity: unit.Time, lo: 0.02, hi: 15, word: "time to peak velocity"},
	Eccentric:        {name: "eccentric", quantity: unit.Time, lo: 0.1, hi: 30, word: "eccentric duration"},
	Known:            {name: "", word: "not needed"},
}

// String returns the field's key in the season file.
func (f Field) String() string { return fields[f].name }

// Quantity returns what a field measures; unit.Any for nothing.
func (f Field) Quantity() unit.Quantity { return fields[f].quantity }

// Further reports whether a field is one of the measures that nothing else rests
// on: a column of it that stays unclear is left out, not asked about.
func (f Field) Further() bool { return f >= MeanPropulsive && f <= Eccentric }

// Word returns the field as messages call it.
func (f Field) Word() string { return fields[f].word }

// Can reports whether a value in SI units is one that the field can have.
func (f Field) Can(v float64) bool { return v >= fields[f].lo && v <= fields[f].hi }

// Set is a set of fields.
type Set uint64

// Has reports whether f is in the set.
func (s Set) Has(f Field) bool { return s&(1<<f) != 0 }

// With returns the set with f added.
func (s Set) With(f Field) Set { return s | 1<<f }

// Without returns the set without f.
func (s Set) Without(f Field) Set { return s &^ (1 << f) }

// SetOf returns the set of some fields.
func SetOf(fields ...Field) (s Set) {
	for _, f := range fields {
		s = s.With(f)
	}
	return s
}

// FieldOf returns the field of a season-file key.
func FieldOf(key string) (Field, bool) {
	for f, d := range fields {
		if d.name == key && key != "" {
			return Field(f), true
		}
	}
	return Nothing, false
}

// rule says that a heading with certain concepts means a field.
type rule struct {
	field Field
	score float64 // how sure, 0…1
	need  words.Concepts
	not   words.Concepts
}

func all(cs ...words.Concept) (s words.Concepts) {
	for _, c := range cs {
		s = s.With(c)
	}
	return s
}

// away are concepts that turn a measure of the rep into something else.
var away = all(words.Eccentric, words.Loss, words.Target, words.Percent, words.Deviation, words.Power,
	words.Force, words.Acceleration, words.Tonnage, words.OneRM, words.Rest, words.Stored, words.Propulsive, words.Sticking)

// rules turn concepts into fields. Every rule that fits is a candidate; values
// decide between candidates of like score.
var rules = func() []rule {
	w := all
	const (
		sure   = 1.0
		likely = 0.85
		maybe  = 0.6
		faint  = 0.35
	)
	effort := w(words.RPE, words.RIR)
	place := w(words.First, words.Last, words.Best, words.Slowest)
	return []rule{
		{Lifter, sure, w(words.Lifter), away | w(words.ID, words.Body, words.Person)},
		{Lifter, maybe, w(words.Name), away | w(words.Lift, words.Device, words.Bar, words.Lifter, words.ID)},
		{Lifter, maybe, w(words.Lifter, words.ID), away},
		{Date, sure, w(words.Date), away | w(words.Person, words.Ordinal)},
		{Date, faint, w(words.Clock), away},
		{Date, faint, w(words.Time), away | w(words.Concentric, words.Duration)},
		{Date, faint, w(words.Start), away | w(words.Velocity, words.Position)},
		{Clock, likely, w(words.Clock), away | w(words.Person, words.Duration, words.Concentric)},
		{Clock, maybe, w(words.Time), away | w(words.Duration, words.Concentric, words.Position, words.Velocity, words.Rep, words.Peak, words.Max)},
		{Clock, likely, w(words.Time, words.Start), away | w(words.Duration, words.Concentric)},
		{Lift, sure, w(words.Lift), away | w(words.ID, words.Ordinal, words.Weight, words.Velocity, words.Variant, words.Duration)},
		{Lift, maybe, w(words.Lift, words.ID), away},
		{Lift, maybe, w(words.Name), away | w(words.Lifter, words.Device, words.Bar, words.Given, words.Family)},
		{Variant, likely, w(words.Variant), away},
		{Variant, sure, w(words.Lift, words.Variant), away},
		{Bar, likely, w(words.Bar), away | w(words.Velocity, words.Load, words.Weight, words.Travel, words.Position, words.Tether)},
		{Tether, sure, w(words.Tether), away},
		{Device, likely, w(words.Device), away | w(words.Position, words.Count)},
		{Device, faint, w(words.Unit), away},
		{LoadUnit, likely, w(words.Unit), away | w(words.Device, words.Velocity, words.Travel)},
		{LoadUnit, sure, w(words.Unit, words.Weight), away | w(words.Body)},
		{LoadUnit, sure, w(words.Unit, words.Load), away | w(words.Body)},
		{Load, sure, w(words.Load), away | w(words.Body, words.Velocity, words.Rep, words.Unit)},
		{Load, likely, w(words.Weight), away | w(words.Body, words.Load, words.Unit)},
		{Load, sure, w(words.Weight, words.Bar), away | w(words.Body)},
		{Load, sure, w(words.Weight, words.Load), away | w(words.Body)},
		{Load, sure, w(words.Weight, words.Count), away | w(words.Body, words.Unit)}, // "total weight"
		{SetNumber, likely, w(words.Set), away | effort | w(words.Rep, words.Count, words.Velocity, words.Note)},
		{SetNumber, sure, w(words.Set, words.Ordinal), away | effort | w(words.Rep, words.Velocity)},
		{Sets, maybe, w(words.Set), away | effort | w(words.Rep, words.Ordinal, words.Velocity)},
		{Sets, sure, w(words.Set, words.Count), away | effort | w(words.Rep, words.Velocity)},
		{RepNumber, likely, w(words.Rep), away | place | w(words.Count, words.Velocity, words.Set, words.Missed, words.Success, words.RIR, words.Duration, words.Travel, words.Time)},
		{RepNumber, sure, w(words.Rep, words.Ordinal), away | place | w(words.Velocity, words.Duration)},
		{SetRep, sure, w(words.Set, words.Rep), away | w(words.Velocity, words.Count)},
		{Reps, maybe, w(words.Rep), away | place | w(words.Ordinal, words.Velocity, words.Set, words.Missed, words.Success, words.RIR, words.Duration, words.Travel, words.Time)},
		{Reps, sure, w(words.Rep, words.Count), away | place | w(words.Velocity, words.Missed, words.RIR)},
		{MeanVelocity, sure, w(words.Velocity, words.Mean), away | place | w(words.Peak)},
		{MeanVelocity, likely, w(words.Velocity), away | place | w(words.Peak, words.Max, words.Mean, words.Min, words.Target)},
		{MeanVelocity, maybe, w(words.Mean), away | place | w(words.Velocity, words.Peak, words.Max, words.Time, words.Duration, words.Travel)},
		{PeakVelocity, sure, w(words.Velocity, words.Peak), away | place | w(words.Mean)},
		{PeakVelocity, sure, w(words.Velocity, words.Max), away | place | w(words.Mean)},
		{PeakVelocity, maybe, w(words.Peak), away | place | w(words.Velocity, words.Time, words.Duration, words.Travel)},
		{PeakVelocity, faint, w(words.Max), away | place | w(words.Velocity, words.Time, words.Duration, words.Travel)},
		{ROM, sure, w(words.Travel), away | w(words.Velocity, words.Date)},
		{ROM, maybe, w(words.Position), away | w(words.Velocity, words.Bar, words.Tether)},
		{Concentric, sure, w(words.Concentric, words.Duration), away | w(words.Velocity)},
		{Concentric, sure, w(words.Concentric, words.Time), away | w(words.Velocity, words.Peak)},
		{Concentric, likely, w(words.Duration), away | w(words.Velocity, words.Set)},
		{Concentric, maybe, w(words.Time), away | w(words.Velocity, words.Clock, words.Date, words.Set)},
		{Concentric, maybe, w(words.Concentric), away | w(words.Velocity, words.Travel, words.Mean, words.Peak)},
		{Concentric, maybe, w(words.Rep, words.Time), away | w(words.Velocity)},
		{RPE, sure, w(words.RPE), w(words.Target)},
		{RIR, sure, w(words.RIR), w(words.Target)},
		{Missed, sure, w(words.Missed), away},
		{Success, likely, w(words.Success), away | w(words.Missed, words.Count)},
		{FirstVelocity, sure, w(words.First), away | w(words.Name)},
		{LastVelocity, likely, w(words.Last), away | w(words.Name)},
		{FastestVelocity, sure, w(words.Best), away | w(words.OneRM)},
		{SlowestVelocity, sure, w(words.Slowest), away},
		{SlowestVelocity, likely, w(words.Min, words.Velocity), away},
		{FastestVelocity, faint, w(words.Max, words.Velocity), away | w(words.Peak)},
		{Speeds, likely, w(words.Velocity), away | place | w(words.Peak, words.Max)},
		{Speeds, maybe, w(words.Rep), away | place},
		{Work, likely, w(words.Work), away},
		{Work, likely, w(words.Set, words.Rep), away | w(words.Velocity)},
		{Work, faint, w(words.Set), away | w(words.Velocity)},
		{Work, faint, w(words.Load), away | w(words.Velocity)},
		{Work, faint, w(words.Note), away | w(words.Velocity)},
		{Note, sure, w(words.Note), 0},
		{MeanPropulsive, sure, w(words.Propulsive, words.Velocity), w(words.Eccentric, words.Loss, words.Target, words.Percent, words.Deviation, words.Peak, words.Max, words.Time)},
		{StickingVelocity, sure, w(words.Sticking, words.Velocity), away&^w(words.Sticking) | w(words.Time, words.Peak)},
		{StickingVelocity, sure, w(words.Sticking, words.Velocity, words.Min), away&^w(words.Sticking) | w(words.Time, words.Peak)},
		{TimeToPeak, sure, w(words.Time, words.Peak), away | w(words.Mean)},
		{TimeToPeak, sure, w(words.Time, words.Peak, words.Velocity), away | w(words.Mean)},
		{Eccentric, sure, w(words.Eccentric, words.Duration), w(words.Velocity, words.Loss, words.Target, words.Percent, words.Power, words.Force, words.Concentric)},
		{Eccentric, sure, w(words.Eccentric, words.Time), w(words.Velocity, words.Loss, words.Target, words.Percent, words.Power, words.Force, words.Concentric, words.Peak)},
		{Known, likely, w(words.Sticking), 0},
		{Known, maybe, w(words.Set, words.Velocity), w(words.Rep)}, // the mean of the set
		{SampleTime, maybe, w(words.Time), away | w(words.Concentric, words.Duration)},
		{SampleTime, maybe, w(words.Sample), away},
		{Position, likely, w(words.Position), away | w(words.Velocity, words.Tether)},
		{Position, maybe, w(words.Travel), away | w(words.Velocity)},
		{Known, likely, w(words.Power), 0},
		{Known, likely, w(words.Force), 0},
		{Known, likely, w(words.Acceleration), 0},
		{Known, likely, w(words.Tonnage), 0},
		{Known, likely, w(words.Body, words.Weight), 0},
		{Known, likely, w(words.Eccentric), 0},
		{Known, likely, w(words.Propulsive), 0},
		{Known, likely, w(words.OneRM), 0},
		{Known, likely, w(words.Percent), w(words.Velocity, words.Mean)},
		{Known, likely, w(words.Loss), 0},
		{Known, likely, w(words.Target), 0},
		{Known, likely, w(words.Rest), 0},
		{Known, likely, w(words.Person), w(words.Lifter)},
		{Known, likely, w(words.Stored), 0},
		{Known, likely, w(words.Deviation), 0},
		{Known, maybe, w(words.ID), w(words.Lifter, words.Lift, words.Set, words.Rep, words.Device)},
		{Known, maybe, w(words.Ordinal), w(words.Set, words.Rep)},
		{Known, maybe, w(words.Bodyside), 0},
		{Known, maybe, w(words.Min), w(words.Velocity)},
		{Known, faint, w(words.Unit), 0},
		{Known, faint, w(words.End), 0},
		{Known, maybe, w(words.Sample), 0},
	}
}()

// Guess is a field that a heading can mean.
type Guess struct {
	Field Field
	Score float64 // how sure, about 0…1
	why   string  // what the values are like
}

// unknownWord is what a word that is not understood takes off a score.
const unknownWord = 0.9

// Guesses returns what a heading can mean, the best rule of each field. A word
// that is not understood lowers the score a little: "Load comment 2".
func Guesses(h words.Heading) []Guess {
	var out []Guess
	for _, r := range rules {
		if h.Has&r.need != r.need || h.Has&r.not != 0 {
			continue
		}
		// "Timestamp" is a date too, but less so than "Date".
		score := r.score - 0.04*float64(bits.OnesCount64(uint64(h.Has&^r.need)))
		if h.Unknown > 0 {
			score *= unknownWord
		}
		i := slices.IndexFunc(out, func(g Guess) bool { return g.Field == r.field })
		if i < 0 {
			out = append(out, Guess{Field: r.field, Score: score})
		} else {
			out[i].Score = max(out[i].Score, score)
		}
	}
	return out
}
