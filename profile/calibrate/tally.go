package main

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"repsift/clean/robust"
	"repsift/profile"
)

// tally collects, under names, how often intervals held the truth and how far
// values were off.
type tally struct {
	mu    sync.Mutex
	names []string
	rows  map[string]*row
}

type row struct {
	asked, known, held int
	width              float64
	off, hand          []float64 // |error| of ours, of the way by hand
}

func (t *tally) row(name string) *row {
	if t.rows == nil {
		t.rows = map[string]*row{}
	}
	r := t.rows[name]
	if r == nil {
		r = &row{}
		t.rows[name] = r
		t.names = append(t.names, name)
	}
	return r
}

// name fixes the order of the rows before cores fill them.
func (t *tally) name(names ...string) {
	for _, n := range names {
		t.row(n)
	}
}

// held counts an estimate against its truth.
func (t *tally) held(name string, e profile.Estimate, truth float64) {
	t.mu.Lock()
	defer t.mu.Unlock()
	r := t.row(name)
	r.asked++
	if !e.Known {
		return
	}
	r.known++
	r.width += e.Hi - e.Lo
	if e.Lo <= truth && truth <= e.Hi {
		r.held++
	}
	r.off = append(r.off, math.Abs(e.Value-truth))
}

// byHand adds the error of the way by hand; NaN is no answer.
func (t *tally) byHand(name string, v, truth float64) {
	if math.IsNaN(v) {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	r := t.row(name)
	r.hand = append(r.hand, math.Abs(v-truth))
}

func (t *tally) print(title string) {
	fmt.Printf("\n%s\n%-40s %6s %7s %8s %10s %8s %9s %8s\n", title, "", "known", "holds", "width", "median off", "by hand", "mean off", "by hand")
	for _, n := range t.names {
		r := t.rows[n]
		if r.asked == 0 {
			continue
		}
		held, width, off, hand, mean, handMean := "", "", "", "", "", ""
		if r.known > 0 {
			held = fmt.Sprintf("%.1f %%", 100*float64(r.held)/float64(r.known))
			width = fmt.Sprintf("%.4g", r.width/float64(r.known))
			m, _ := robust.Median(r.off)
			off = fmt.Sprintf("%.4g", m)
			mean = fmt.Sprintf("%.4g", average(r.off))
		}
		if len(r.hand) > 0 {
			m, _ := robust.Median(r.hand)
			hand = fmt.Sprintf("%.4g", m)
			handMean = fmt.Sprintf("%.4g", average(r.hand))
		}
		fmt.Println(strings.TrimRight(fmt.Sprintf("%-40s %4.0f %% %7s %8s %10s %8s %9s %8s", n, 100*float64(r.known)/float64(r.asked), held, width, off, hand, mean, handMean), " "))
	}
}

func average(x []float64) float64 {
	var sum float64
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}
