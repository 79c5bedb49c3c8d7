package trace

import (
	"repsift/ingest/rep"
	"repsift/ingest/trace/clock"
	"repsift/ingest/trace/fit"
)

// Options say what a trace does not: how it was sampled, what was lifted and
// how the bar was rigged. The zero Options read a trace of positions in metres,
// upwards by evidence.
type Options struct {
	MetresPerCount float64 // size of a count where positions are encoder counts; 0: positions are in m
	Hz             float64 // sampling rate of samples that carry no time; 0: unknown
	Up             int     // +1: positions grow upwards, −1: downwards, 0: by evidence
	CutoffHz       float64 // of the low pass; 0: by residual analysis

	Lift        string  // as in rep.Rep; empty: unknown
	LoadKg      float64 // bar plus plates; 0: unknown
	Bar, Tether string  // as in rep.Rep; empty: unknown

	KeepFlex   bool // leave bar flex and ringing in, to compare
	KeepSeries bool // keep the smoothed series, to draw it: memory grows with the trace
}

// Kind says what an upward movement of the bar was.
type Kind uint8

// Kinds of movement. Only a Rep and a Missed one are reps; the others are
// reported so that they can be counted, drawn and argued with.
const (
	Rep     Kind = iota // a repetition
	Missed              // a rep that came down before lockout
	Rack                // taken out of the rack, walked out or put back
	Rebound             // the bar's or the plates' bounce, after a lockout or on the floor
	Minor               // any other small movement: sway, a shift of the grip, a touch of the tether
	Part                // what is there of a rep in which samples begin, end or are missing
)

var kindNames = [...]string{"rep", "missed rep", "rack", "rebound", "minor", "part of a rep"}

// String returns the kind in words.
func (k Kind) String() string { return kindNames[k] }

// Found is an upward movement. Times are in s, lengths in m, speeds in m/s.
// The package comment has the definitions.
type Found struct {
	Kind Kind
	Why  string // why it is no rep, or what is peculiar to it

	Set          int   // 1, 2, … : sets of one trace lie a long rest apart
	Row, LastRow int32 // first and last sample of the concentric phase

	At             float64 // start of the concentric phase, since the first sample
	Concentric     float64 // its duration
	ROM            float64 // its displacement
	MeanVelocity   float64 // ROM / Concentric
	PeakVelocity   rep.Null[float64]
	TimeToPeak     rep.Null[float64] // from the start of the concentric phase
	MeanPropulsive rep.Null[float64]
	StickingMin    rep.Null[float64] // slowest moment between two peaks; null where there is no dip
	Eccentric      rep.Null[float64] // duration of the lowering right before

	// What bar flex added and was taken out.
	SlackTravel float64 // m the bar's middle rose before the plates left the floor
	SlackTime   float64 // s that took
	RingHz      float64 // frequency of the ringing after lockout; 0: none seen
	RingTravel  float64 // m by which the first swing passed the settled lockout
	RingTime    float64 // s by which it made the rep seem to end later; negative: sooner

	// Cut reports that the movement has no beginning or no end in the samples: what
	// was measured is of a part.
	Cut bool

	// Slipped is by how much the tether slipped in it, which was levelled, m.
	Slipped float64

	// Gap reports that samples are missing inside: mean velocity, travel and
	// duration hold, what rests on single moments is null.
	Gap bool
}

// Summary says how a trace was read.
type Summary struct {
	Samples int // read
	clock.Counts
	Hz     float64 // sampling rate; the mean of the regular intervals
	Jitter float64 // share of the intervals that are off by more than a tenth
	Cutoff float64 // Hz
	Noise  float64 // RMS of the noise, m
	Step   float64 // m, the smallest change of position: quantisation
	Up     int     // +1 or −1
	Flex   float64 // m by which load and bar say that the middle rises first; 0: not looked for
	Kinds  [len(kindNames)]int
}

// Sample is a moment of the smoothed series.
type Sample struct {
	T        float64 // s since the first sample
	Position float64 // m, upwards
	Velocity float64 // m/s
	Gap      bool    // no reading there
}

// Segmenter finds the reps of a trace while its samples come in. It keeps the
// last minute of samples and the movements of the current set, nothing else.
type Segmenter struct {
	opt   Options
	found func(Found)
	sum   Summary

	laid   *clock.Clock
	clock  pace
	win    window
	set    set
	series []Sample
	ring   fit.Swing // of the plates after the last rep that showed it, …
	rungAt float64   // s: … and when that was
	begun  bool      // cut-off and direction are settled
	err    error
}

// pace is what the clock says of the samples in the window.
type pace struct {
	dt, step float64 // s between them; m, quantisation
	speeds   bool    // positions are sums of speeds
}

// New returns a Segmenter that hands every movement it finds to found, in order
// of time, a set at a time.
func New(opt Options, found func(Found)) *Segmenter {
	s := &Segmenter{opt: opt, found: found}
	scale := 1.0
	if opt.MetresPerCount > 0 {
		scale = opt.MetresPerCount
	}
	s.laid = clock.New((*grid)(s), scale, opt.Hz, setRest)
	s.set.number = 1
	return s
}

// Add takes a sample: its line, its time in s, the bar's position in m (or in
// counts) and its velocity in m/s. Position counts where both are there; a trace
// has to keep to one of them. A sample without a time, or without either, is
// dropped. The error is of a trace that cannot be read at all; once there, it
// stays.
func (s *Segmenter) Add(line int32, t, position, velocity rep.Null[float64]) error {
	if s.err == nil {
		s.sum.Samples++
		s.err = s.laid.Add(line, t, position, velocity)
	}
	return s.err
}

// Close finds what is left and returns an error where the trace had no use.
func (s *Segmenter) Close() error {
	if s.err == nil {
		s.err = s.laid.Close()
	}
	if s.err != nil {
		return s.err
	}
	s.flush()
	s.set.end(s)
	return nil
}

// Summary says how the trace was read; it is complete after Close.
func (s *Segmenter) Summary() Summary {
	sum := s.sum
	sum.Counts, sum.Hz, sum.Jitter, sum.Step = s.laid.Counts, 0, s.laid.Jitter, s.laid.Step
	if s.laid.DT > 0 {
		sum.Hz = 1 / s.laid.DT
	}
	return sum
}

// Series returns the smoothed series where it was asked for.
func (s *Segmenter) Series() []Sample { return s.series }
