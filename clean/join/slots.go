package join

// slots returns the pairs that only their place tells: between two sure
// neighbours (or the ends of the day) as many logged as done sets are left, and
// they fit two by two, all but one in load and all but one in reps: that one
// was mistyped, or a rep of it lost. Where they do not fit in order, they may
// out of it: a log has two lines changed places where each logged set fits one
// of the done sets alone.
func slots(logged, done []Set, sure []Match) []Match {
	var out []Match
	from := Match{Logged: -1, Done: -1}
	fill := func(to Match) {
		n := to.Logged - from.Logged - 1
		ends := from.Logged < 0 || to.Logged == len(logged)
		if n == 0 || n != to.Done-from.Done-1 || n == len(logged) && n < 3 || ends && n == 1 {
			return
		}
		g := gap{logged[from.Logged+1 : to.Logged], done[from.Done+1 : to.Done]}
		switch {
		case g.inOrder():
			for k := range n {
				out = append(out, g.match(from, k, k))
			}
		case n <= mostChanged:
			for k, at := range g.outOfOrder() {
				out = append(out, g.match(from, k, at))
			}
		}
	}
	for _, m := range sure {
		if m.Sure() {
			fill(m)
			from = m
		}
	}
	fill(Match{Logged: len(logged), Done: len(done)})
	return out
}

// mostChanged is how many sets between sure neighbours may stand in another
// order in the log.
const mostChanged = 4

// gap is what is left between two sure neighbours, as many on either side.
type gap struct{ logged, done []Set }

func (g gap) match(from Match, k, at int) Match {
	l, d := &g.logged[k], &g.done[at]
	return Match{Logged: from.Logged + 1 + k, Done: from.Done + 1 + at, Slot: true, Load: CompareLoads(l.Load, l.LoadStep, d.Load, d.LoadStep)}
}

// inOrder reports whether the sets fit two by two.
func (g gap) inOrder() bool {
	otherLoads, otherReps := 0, 0
	for k := range g.logged {
		l, d := &g.logged[k], &g.done[k]
		if !l.Reps.OK || !d.Reps.OK {
			return false
		}
		same := CompareLoads(l.Load, l.LoadStep, d.Load, d.LoadStep) <= NearLoad
		if !same {
			otherLoads++
		}
		if !d.has(l.Reps.V) {
			if otherReps++; !same || l.Reps.V < d.Reps.V-1 || l.Reps.V > d.Reps.V+d.Extra+1 {
				return false
			}
		}
	}
	return otherLoads <= 1 && otherReps <= 1
}

// outOfOrder returns the done set of each logged one where each fits one alone,
// in load and reps; else nil.
func (g gap) outOfOrder() []int {
	out := make([]int, len(g.logged))
	taken := make([]bool, len(g.done))
	for k := range g.logged {
		l := &g.logged[k]
		fits := 0
		for j := range g.done {
			d := &g.done[j]
			if l.Reps.OK && d.Reps.OK && d.has(l.Reps.V) && CompareLoads(l.Load, l.LoadStep, d.Load, d.LoadStep) <= NearLoad {
				fits++
				out[k] = j
			}
		}
		if fits != 1 || taken[out[k]] {
			return nil
		}
		taken[out[k]] = true
	}
	return out
}
