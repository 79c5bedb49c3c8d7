package shorthand

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// note is a set as done, and how its lifter writes.
type note struct {
	load       float64
	sets, reps int
	missed     int
	rpe        float64
	speeds     []float64
}

// habits of one lifter's hand, drawn once a log.
type hand struct {
	*rand.Rand
	comma     bool
	times     string
	unit      string
	effort    string // %s is the number
	order     Order
	loadFirst bool
}

func newHand(r *rand.Rand) hand {
	pick := func(s ...string) string { return s[r.IntN(len(s))] }
	return hand{r, r.IntN(2) == 0, pick("x", " x ", "X", "×", " × ", "*"), pick("", "", "kg", " kg", "lb", " lbs"),
		pick("@%s", " @%s", " @ %s", " RPE %s", " RPE%s", ", RPE: %s", " %s RPE", " (RPE %s)"), Order(1 + r.IntN(2)), r.IntN(2) == 0}
}

func (h hand) number(v float64, digits int) string {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if h.comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

func (h hand) write(n note) string {
	load := h.number(n.load, -1) + h.unit
	pair := fmt.Sprintf("%d%s%d", n.sets, h.times, n.reps)
	if h.order == RepsSets {
		pair = fmt.Sprintf("%d%s%d", n.reps, h.times, n.sets)
	}
	var s string
	switch {
	case n.sets == 1:
		s = fmt.Sprintf("%s%s%d", load, h.times, n.reps)
	case h.loadFirst:
		s = load + h.times + pair
	default:
		s = pair + []string{"@", " @ ", h.times, " at "}[h.IntN(4)] + load
	}
	if n.missed > 0 {
		s += []string{fmt.Sprintf("(%d)", n.reps-n.missed), fmt.Sprintf(", missed %d", n.missed)}[h.IntN(2)]
	}
	if n.rpe > 0 {
		s += fmt.Sprintf(h.effort, h.number(n.rpe, -1))
	}
	if len(n.speeds) > 0 {
		var texts []string
		for _, v := range n.speeds {
			texts = append(texts, h.number(v, 2))
		}
		s += " " + strings.Join(texts, " / ")
	}
	return s
}

// Notes written from known sets by hands of many habits, in a form of their
// own, are read back as those sets: with the lifter's order known all of them,
// without it none wrong, only in two readings.
func TestNotes(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const logs, lines = 400, 25
	ambiguous := 0
	for range logs {
		h := newHand(r)
		for range lines {
			n := note{load: float64(8+r.IntN(100)) * 2.5, sets: 1, reps: 1 + r.IntN(10)}
			if r.IntN(2) == 0 {
				n.sets = 2 + r.IntN(6)
			}
			if r.IntN(3) > 0 {
				n.rpe = 6 + float64(r.IntN(9))/2
			}
			if n.sets == 1 && r.IntN(8) == 0 {
				n.missed = 1
			}
			if n.sets == 1 && r.IntN(4) == 0 {
				for range n.reps {
					n.speeds = append(n.speeds, float64(15+r.IntN(100))/100)
				}
			}
			text := h.write(n)
			for _, opt := range []Options{{Order: h.order, LoadFirst: h.order}, {}} {
				entries, err := Parse(text, opt)
				if err != nil || len(entries) != 1 {
					t.Errorf("%q: %v, %v", text, entries, err)
					continue
				}
				e := entries[0]
				if e.Ambiguous {
					ambiguous++
					if opt.Order != Undecided {
						t.Errorf("%q: two readings though the order is known", text)
					}
					if e.Sets != n.sets {
						e = e.Swapped()
					}
				}
				if got := done(e); got != done(Entry{Load: Load{V: n.load}, Sets: n.sets, Reps: n.reps, Missed: n.missed, RPE: n.rpe}) || len(e.Speeds) != len(n.speeds) {
					t.Errorf("%q (%+v): %s, %d speeds; want %+v", text, opt, got, len(e.Speeds), n)
				}
				for i := range e.Speeds {
					if i < len(n.speeds) && e.Speeds[i].V != n.speeds[i] {
						t.Errorf("%q: speed %d is %v, want %v", text, i, e.Speeds[i].V, n.speeds[i])
					}
				}
			}
		}
	}
	t.Logf("%d notes read twice; %d in two readings where no order was known", logs*lines, ambiguous)
}

// done says what was done in an entry.
func done(e Entry) string {
	return fmt.Sprintf("%v: %d x %d, %d missed, RPE %v", e.Load.V, max(e.Sets, 1), e.Reps, e.Missed, e.RPE)
}
