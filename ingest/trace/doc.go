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
//  1. Clock (package clock): samples are laid on an even grid at the trace's own
//     rate. A sample within 2 % of an interval of its place is taken as it is,
//     others are interpolated linearly; several samples with one time are spread,
//     late ones dropped. Two lost samples are bridged by a straight line (at most
//     0.15 s; always up to 0.02 s), a longer gap splits what is smoothed, one of
//     over a second splits movements too. A step that no bar makes is a wild
//     reading, left out, or a tether that slipped, levelled. A clock that begins
//     anew is another set.
//  2. Smoothing: second-order Butterworth low pass, forwards and backwards, with
//     the correction for two passes on the warped frequency; cut-off declared or
//     by residual analysis (Winter 2009), not below 6 Hz. Each end is extended by
//     its point reflection, nine samples.
//  3. Movements: stretches of upward speed, joined over a sticking point.
//  4. Measures of each movement; bar flex is taken out.
//  5. Classes, beside the other movements of the set: rep, missed rep, rack,
//     rebound, minor; a part of a rep, in which the samples begin, end or are
//     missing, of which neither travel nor speed can be told.
//
// Only [Rep] and [Missed] are reps. The other kinds are handed out so that they
// can be counted and drawn; they belong in no rep table.
//
// # Definitions
//
//   - Concentric phase: from the moment the bar, or of a pull the plates, begin
//     to rise to lockout: where the bar comes to rest, or turns. That moment is
//     fitted ([edge]), since any threshold of speed would start the clock late, by
//     more the gentler the lift: a minimum-jerk lift of 0.5 m in a second passes
//     0.02 m/s 0.04 s after it began. No source defines it more closely; that the mean
//     holds of the whole movement makes its peak 1.875 times its mean.
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
// The middle of a bar rises before the plates leave the floor, the more the whippier
// it is, and the plates swing after lockout. Of a pull with the tether at the centre
// the rep begins where the middle has risen by what load and bar say (beam on two
// supports, package bar), or by what the frequency of the swing allows, whichever
// is less; or where it leaves a hold of the slack a little above that. A swing of
// 2.2 to 12 Hz after lockout is fitted and taken out of travel and duration, and is
// never a rep. With the tether at the plates, both ends of a rep are sought on the
// path of what the plates swing on, also where they do not swing: at the frequency
// seen after lockout, else at the one that load and bar say. What was removed is
// told in [Found].
//
// # Accuracy
//
// Against the plates' true motion in a two-mass simulation of lifter, bar and
// plates (simulate_test.go; 50–500 Hz, noise 0.1–0.5 mm, steps to 1 mm, reps of
// 0.1–0.8 m/s; 200 sets a line, half as many with the flex left in). A rep's truth
// runs from where the hands, of a pull the plates, begin to rise, to where the hands
// stop: no threshold. Mean velocity in m/s, travel in m; |e| is the mean absolute
// error:
//
//	                                      sets exact     bias     |e|  travel |e|
//	deadlift bar, centre                  200 of 200  +0.0011  0.0053      0.0015
//	  the same, flex left in              100 of 100  -0.0476  0.0477      0.0116
//	deadlift bar, sleeve end              200 of 200  +0.0031  0.0059      0.0008
//	  the same, flex left in              100 of 100  +0.0119  0.0214      0.0054
//	squat, stiff bar, centre              200 of 200  +0.0032  0.0079      0.0020
//	squat, stiff bar, inside sleeve       200 of 200  -0.0005  0.0057      0.0018
//	  the same, flex left in              100 of 100  +0.0169  0.0220      0.0033
//	bench press, stiff bar, centre        200 of 200  +0.0015  0.0086      0.0010
//	bench press, stiff bar, inside sleeve 200 of 200  +0.0022  0.0084      0.0011
//	  the same, flex left in              100 of 100  +0.0196  0.0237      0.0025
//
// Repeat with: go test ./ingest/trace -run TestTwoMass -v -sets 200. Single reps err
// more than these means, up to 0.2 m/s: short, fast ones with gentle ends.
//
// In another simulation (elsewhere_test.go: an Euler–Bernoulli beam, other lifts,
// sensors of 10 to 1000 Hz, steps to 5 mm, counts, speeds; TestElsewhere -gyms 420)
// 418 of 420 traces are counted exactly, all from 20 Hz on; from 50 Hz and steps of
// 1 mm on the bias is -0.0025 m/s, |e| 0.0080 m/s, of travel 0.0011 m, of peak
// velocity 0.0045 m/s. At 10 and 20 Hz |e| is 0.027 and 0.013 m/s.
//
// Motions known in closed form, from rest to rest (TestClosedForm): without noise the
// mean velocity of minimum-jerk, half-sine and steady movements comes out within
// 0.3 % from 50 Hz on. With noise of 0.3 mm and steps of 0.5 mm it is within 0.9 % on
// average from 50 Hz on and 1.4 % at 20 Hz, the worst of 40 within 3.4 and 4.3 %; the
// peak of the first two within 4 %. Lowered by minimum jerk and turned at once
// (TestClosedFormLowered): within 0.0012 m/s without noise from 50 Hz on, with it
// 0.002 to 0.004 m/s on average.
//
// Whether reps are told from the rest is counted in scenes of everything that
// happens around them (TestVariety -scenes 200): 133 of 134 exact, reps as well as
// misses; where somebody pulled the tether before a set, 65 of 66. A miss that ends
// within a tenth of lockout, and a bar put back at once in a rep's time, may pass for
// reps, as may a pull of the tether as long and as slow as the pulls of the set.
//
// An hour at 500 Hz takes 0.6 s of processor time, and a window of one minute of
// samples (BenchmarkHour).
package trace
