package rep

import "slices"

// LoadStep returns the size of the last written digit of row i's load, in kg;
// 0 is unknown.
func (t *Table) LoadStep(i int32) float64 { return t.stepAt(i, 0) }

// MeanStep returns the step of the mean velocity of row i, in m/s.
func (t *Table) MeanStep(i int32) float64 { return t.stepAt(i, 1) }

// PeakStep returns the step of the peak velocity of row i, in m/s.
func (t *Table) PeakStep(i int32) float64 { return t.stepAt(i, 2) }

// ROMStep returns the step of the range of motion of row i, in m.
func (t *Table) ROMStep(i int32) float64 { return t.stepAt(i, 3) }

func (t *Table) stepAt(i int32, of int) float64 { return t.sizes[t.kinds[t.steps.At(i)][of]] }

// lastStep is the step a column had in the row before.
type lastStep struct {
	size float64
	n    uint8
}

// size returns the number of a step size of the nth column that has one.
// Exports have a handful; past 255 a step counts as unknown, which only makes
// duplicates compare exactly.
func (t *Table) size(nth int, size float64) uint8 {
	l := &t.step[nth]
	if l.size == size && len(t.sizes) > 0 {
		return l.n
	}
	if len(t.sizes) == 0 {
		t.sizes = append(t.sizes, 0)
	}
	n := slices.Index(t.sizes, size)
	switch {
	case n >= 0:
	case len(t.sizes) == 256:
		n = 0
	default:
		n = len(t.sizes)
		t.sizes = append(t.sizes, size)
	}
	*l = lastStep{size, uint8(n)}
	return l.n
}

// lastSteps are the steps of the row before.
type lastSteps struct {
	sizes [4]float64
	kind  Sym
	ok    bool
}

// stepsOf returns the number of the steps of a rep.
func (t *Table) stepsOf(r *Rep) Sym {
	sizes := [4]float64{r.LoadStep, r.MeanStep, r.PeakStep, r.ROMStep}
	if l := &t.lastSteps; !l.ok || l.sizes != sizes {
		var steps [4]uint8
		for nth, size := range sizes {
			steps[nth] = t.size(nth, size)
		}
		*l = lastSteps{sizes, t.stepped(steps), true}
	}
	return t.lastSteps.kind
}

// stepped returns the number of the steps of a row.
func (t *Table) stepped(steps [4]uint8) Sym {
	if n := len(t.kinds); n > 0 && t.kinds[t.lastKind] == steps {
		return t.lastKind
	}
	n, ok := t.kindOf[steps]
	if !ok {
		if t.kindOf == nil {
			t.kindOf = make(map[[4]uint8]Sym)
		}
		n = Sym(len(t.kinds))
		t.kinds = append(t.kinds, steps)
		t.kindOf[steps] = n
	}
	t.lastKind = n
	return n
}
