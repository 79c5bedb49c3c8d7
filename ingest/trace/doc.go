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
//     interpolated linearly. Short gaps are bridged, longer ones split what is
//     smoothed, gaps of over a second split movements too. Wild readings are
//     left out, sudden jumps that stay (a tether that slipped) levelled.
//  2. Smoothing: second-order Butterworth low pass, forwards and backwards, with
//     the correction for two passes on the warped frequency; cut-off declared or
//     by residual analysis. Each end is extended by its point reflection.
//  3. Movements: stretches of upward speed, joined over a sticking point.
//  4. Measures of each movement.
//  5. Classes, beside the other movements of the set: rep, missed rep, rack,
//     rebound, minor.
//
// Only [Rep] and [Missed] are reps. The other kinds are handed out so that they
// can be counted and drawn; they belong in no rep table.
//
// # Definitions
//
//   - Concentric phase: from the moment the bar begins to rise to the moment it
//     comes to rest or turns. From a pause, the moment at which the speed leaves
//     zero is found by extending its course from 5, 10 and 20 % of the peak back
//     to zero, the power of time left open.
//   - Mean concentric velocity: displacement over duration of the concentric
//     phase.
//   - Mean propulsive velocity: mean up to the moment when the bar decelerates
//     faster than gravity would (Sánchez-Medina, Pérez & González-Badillo 2010,
//     Importance of the propulsive phase in strength assessment, Int J Sports
//     Med 31:123–129).
//   - Sticking minimum: slowest moment between the two peaks of speed of the
//     sticking region (Elliott, Wilson & Kerr 1989, A biomechanical analysis of
//     the sticking region in the bench press, Med Sci Sports Exerc 21:450–462).
package trace
