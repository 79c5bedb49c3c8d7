// Package trace turns a raw trace, samples of time and bar position or velocity,
// into reps. Samples come in one at a time and reps go out as soon as their set
// is over; memory does not grow with the length of the trace.
//
//	s := trace.New(trace.Options{Lift: "squat"}, func(f trace.Found) { … })
//	for … {
//		err := s.Add(line, t, position, velocity)
//	}
//	err := s.Close()
//
// The steps:
//
//  1. Clock: samples are laid on an even grid at the trace's own rate. A sample
//     within 2 % of an interval of its place is taken as it is, others are
//     interpolated linearly; several samples with one time are spread. Two lost
//     samples are bridged by a straight line (at most 0.15 s; always up to
//     0.02 s), a longer gap splits what is smoothed, one of over a second splits
//     movements too. Wild readings are left out; sudden jumps that stay, of a
//     tether that slipped, are levelled. A clock that begins anew is another set.
//  2. Smoothing: second-order Butterworth low pass, forwards and backwards, with
//     the correction for two passes on the warped frequency; cut-off declared or
//     by residual analysis (Winter 2009), not below 6 Hz. Each end is extended by
//     its point reflection, nine samples.
//  3. Movements: stretches of upward speed, joined over a sticking point.
//  4. Measures of each movement; bar flex is taken out.
//  5. Classes, beside the other movements of the set: rep, missed rep, rack,
//     rebound, minor.
//
// Only [Rep] and [Missed] are reps. The other kinds are handed out so that they
// can be counted and drawn; they belong in no rep table.
//
// # Definitions
//
//   - Concentric phase: from the moment the bar, or of a pull the plates, begin
//     to rise to lockout: where the bar comes to rest, or turns. From or to a
//     rest that moment is fitted ([edge]), since any threshold of speed would
//     start the clock late, by more the gentler the lift; at a turn it is where
//     the speed is zero.
//   - Mean concentric velocity: displacement over duration of the concentric
//     phase. Peak velocity: the highest in it, of the smoothed trace.
//   - Mean propulsive velocity: mean up to the moment when the bar decelerates
//     faster than gravity would (Sánchez-Medina, Pérez & González-Badillo 2010,
//     Importance of the propulsive phase in strength assessment, Int J Sports
//     Med 31:123–129).
//   - Sticking minimum: slowest moment between the two peaks of speed of the
//     sticking region (Elliott, Wilson & Kerr 1989, A biomechanical analysis of
//     the sticking region in the bench press, Med Sci Sports Exerc 21:450–462).
//   - Eccentric duration: of the lowering before, its ends fitted likewise.
//
// # Bar flex
//
// The middle of a whippy bar rises before the plates leave the floor, and the
// plates swing after lockout. Of a pull with the tether at the centre of a
// deadlift bar the rep begins where the middle has risen by what load and bar say
// (beam on two supports, package bar), or by what the frequency of the swing allows, whichever
// is less; or where it leaves a hold of the slack a little above that. A swing
// of 2.2 to 9 Hz after lockout is fitted and taken out of travel and duration,
// and is never a rep. What was removed is told in [Found].
//
// # Accuracy
//
// Against the plates' true motion in a two-mass simulation of lifter, bar and
// plates (simulate_test.go; 50–500 Hz, noise 0.1–0.5 mm, steps to 1 mm, reps of
// 0.1–0.8 m/s; 40 sets a line, half as many with the flex left in). Mean velocity
// in m/s, travel in m; |e| is the mean absolute error:
//
//	                                      sets exact     bias     |e|  travel |e|
//	deadlift bar, centre                    40 of 40  +0.0023  0.0099      0.0014
//	  the same, flex left in                20 of 20  -0.0513  0.0513      0.0134
//	deadlift bar, sleeve end                40 of 40  -0.0014  0.0090      0.0008
//	  the same, flex left in                20 of 20  +0.0130  0.0171      0.0058
//	squat, stiff bar, centre                40 of 40  -0.0005  0.0102      0.0017
//	squat, stiff bar, inside sleeve         40 of 40  +0.0042  0.0133      0.0014
//	bench press, stiff bar, centre          40 of 40  +0.0023  0.0115      0.0009
//	bench press, stiff bar, inside sleeve   40 of 40  +0.0050  0.0097      0.0009
//
// Repeat with: go test ./ingest/trace -run TestTwoMass -v -sets 40. Single reps err
// more than these means: up to 0.09 m/s at 0.7 m/s, where a rep is over in less than
// a second and both its ends are gentle.
//
// Motions known in closed form, from rest to rest, with noise (TestClosedForm): mean
// velocity of a minimum-jerk movement within 1 % on average at 20 to 500 Hz, the
// worst of 40 within 6 % at 20, 5 % at 50, 3 % from 100 Hz on, and 0.5 % without
// noise from 50 Hz on; its peak within 4 %.
//
// Whether reps are told from the rest is counted in scenes of everything that
// happens around them (TestVariety -scenes 200): 147 of 147 exact, reps as well as
// misses; where somebody pulled the tether between sets, 50 of 53.
//
// An hour at 500 Hz takes less than a second of processor time (BenchmarkHour)
// and a window of one minute of samples.
package trace
