package join

// slots returns the pairs that only their place tells: between two sure
// neighbours (or the ends of the day) as many logged as done sets are left, and
// they fit two by two, all but one in load and all but one in reps: that one
// was mistyped, or a rep of it lost. A load mistyped for several equal sets is one
// slip. One pair alone at an end of the day must be a slip that is known, beside
// two sure neighbours; at its beginning, where a warm-up may be left out, of a day
// logged whole.
func slots(logged, done []Set, sure []Match) []Match {
	var out []Match
	from := Match{Logged: -1, Done: -1}
	sures := 0
	for _, m := range sure {
		if m.Sure() {
			sures++
		}
	}
	fill := func(to Match) {
		n := to.Logged - from.Logged - 1
		ends := from.Logged < 0 || to.Logged == len(logged)
		if n == 0 || n != to.Done-from.Done-1 || n == len(logged) && n < 3 {
			return
		}
		if ends && n == 1 && (sures < 2 || from.Logged < 0 && len(logged) != len(done) || !slipOf(&logged[from.Logged+1], &done[from.Done+1])) {
			return
		}
		g := gap{logged[from.Logged+1 : to.Logged], done[from.Done+1 : to.Done]}
		if !g.inOrder() {
			return
		}
		for k := range n {
			out = append(out, slot(logged, done, from.Logged+1+k, from.Done+1+k))
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

// slipOf reports whether two sets agree in reps and differ in load by a slip.
func slipOf(l, d *Set) bool {
	return l.Reps.OK && d.Reps.OK && d.Has(l.Reps.V) && CompareLoads(l.Load, l.LoadStep, d.Load, d.LoadStep) < NoLoad
}

func slot(logged, done []Set, i, j int) Match {
	return Match{Logged: i, Done: j, Slot: true, Load: CompareLoads(logged[i].Load, logged[i].LoadStep, done[j].Load, done[j].LoadStep)}
}

// gap is what is left between two sure neighbours, as many on either side.
type gap struct{ logged, done []Set }

// inOrder reports whether the sets fit two by two.
func (g gap) inOrder() bool {
	otherLoads, otherReps := 0, 0
	for k := range g.logged {
		l, d := &g.logged[k], &g.done[k]
		if !l.Reps.OK || !d.Reps.OK {
			return false
		}
		same := CompareLoads(l.Load, l.LoadStep, d.Load, d.LoadStep) <= NearLoad
		if again := k > 0 && l.Load == g.logged[k-1].Load && d.Load == g.done[k-1].Load; !same && !again {
			otherLoads++
		}
		if !d.Has(l.Reps.V) {
			if otherReps++; !same || l.Reps.V < d.Reps.V-1 || l.Reps.V > d.Reps.V+d.Extra+1 {
				return false
			}
		}
	}
	return otherLoads <= 1 && otherReps <= 1
}

// moved returns the pairs that the log has in another order: what is left on
// both sides and fits nothing else of the whole day, in load and reps, at most
// mostMoved places off. Sets of two units are never moved.
func moved(logged, done []Set, sure []Match) []Match {
	takenLogged, takenDone := make([]bool, len(logged)), make([]bool, len(done))
	for _, m := range sure {
		if m.Sure() {
			takenLogged[m.Logged], takenDone[m.Done] = true, true
		}
	}
	fits := func(l, d *Set) bool {
		return d.Speeds == nil && l.Reps.OK && d.Reps.OK && d.Has(l.Reps.V) && CompareLoads(l.Load, l.LoadStep, d.Load, d.LoadStep) <= NearLoad
	}
	var out []Match
	for i := range logged {
		if takenLogged[i] {
			continue
		}
		at, n := -1, 0
		for j := range done {
			if fits(&logged[i], &done[j]) {
				at, n = j, n+1
			}
		}
		if n != 1 || takenDone[at] || at-i > mostMoved || i-at > mostMoved {
			continue
		}
		others := 0
		for k := range logged {
			if k != i && fits(&logged[k], &done[at]) {
				others++
			}
		}
		if others == 0 {
			takenDone[at] = true
			m := slot(logged, done, i, at)
			m.Moved = true
			out = append(out, m)
		}
	}
	return out
}

// mostMoved is how far a line of the log may be from its place.
const mostMoved = 4
