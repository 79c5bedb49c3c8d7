// Package motion draws raw traces: the bar's position and velocity over time,
// with the reps that were found in them and the movements that are none, and why.
//
//  1. A trace is cut into [panel]s: a set each, or a part of a long one. Rest in
//     which nothing moved is left out, and said.
//  2. Each panel is drawn as two charts over one time axis. Curves are thinned to
//     the highest and lowest point of each dot of the width, so that a picture
//     stays small however long the trace.
//  3. [HTML] puts the panels on a page with tables of what was measured; [SVG]
//     puts them below each other in one picture.
//
// Both are self-contained, and equal traces give equal bytes. Reps and other
// movements differ in shape and words as well as in colour; colours are from
// Okabe M, Ito K (2008), Color Universal Design.
package motion

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"repsift/ingest/rep"
	"repsift/ingest/trace"
)

// Trace is a trace with what was found in it.
type Trace struct {
	Source  string
	Of      rep.Rep // its first sample: whose, when, which lift and load
	Summary trace.Summary
	Series  []trace.Sample // smoothed, in order of time
	Found   []trace.Found  // every movement, in order of time
}

// Limits of a panel. All: what is readable on a page.
const (
	besideFor = 2.5  // s shown before the first and after the last movement
	apartFor  = 20.0 // s without a movement end a panel
	panelFor  = 75.0 // s: a longer one is cut between two movements
)

// panel is a stretch of a trace that is drawn as one picture.
type panel struct {
	from, to float64 // s
	found    []trace.Found
	series   []trace.Sample
}

// panels cuts a trace. A trace without movements is one panel of its beginning.
func (t *Trace) panels() []panel {
	if len(t.Series) == 0 {
		return nil
	}
	first, last := t.Series[0].T, t.Series[len(t.Series)-1].T
	var groups [][]trace.Found
	for i := 0; i < len(t.Found); {
		j := i + 1
		for j < len(t.Found) && t.Found[j].At-end(&t.Found[j-1]) < apartFor && end(&t.Found[j])-t.Found[i].At < panelFor {
			j++
		}
		groups = append(groups, t.Found[i:j])
		i = j
	}
	if groups == nil {
		return []panel{t.cut(first, min(last, first+panelFor), nil)}
	}
	var out []panel
	for k, g := range groups {
		from, to := g[0].At-besideFor, end(&g[len(g)-1])+besideFor
		if k > 0 { // not into the movement before
			from = max(from, (end(&groups[k-1][len(groups[k-1])-1])+g[0].At)/2)
		}
		if k+1 < len(groups) {
			to = min(to, (end(&g[len(g)-1])+groups[k+1][0].At)/2)
		}
		out = append(out, t.cut(max(first, from), min(last, to), g))
	}
	return out
}

func end(f *trace.Found) float64 { return f.At + f.Concentric }

func (t *Trace) cut(from, to float64, found []trace.Found) panel {
	at := func(s trace.Sample, t float64) int { return cmp.Compare(s.T, t) }
	a, _ := slices.BinarySearchFunc(t.Series, from, at)
	b, _ := slices.BinarySearchFunc(t.Series, to, at)
	return panel{from: from, to: to, found: found, series: t.Series[a:b]}
}

// counted reports whether a movement is a rep, made or missed.
func counted(f *trace.Found) bool { return f.Kind <= trace.Missed }

// number gives each rep of a trace its number within its set; 0 for movements
// that are none.
func (t *Trace) number() map[float64]int {
	n, set := 0, 0
	out := make(map[float64]int)
	for i := range t.Found {
		f := &t.Found[i]
		if !counted(f) {
			continue
		}
		if f.Set != set {
			n, set = 0, f.Set
		}
		n++
		out[f.At] = n
	}
	return out
}

// title says whose trace it is.
func (t *Trace) title() string {
	o := &t.Of
	var parts []string
	for _, p := range []string{o.Lifter, o.Lift, o.Variant} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if o.LoadKg > 0 {
		parts = append(parts, fmt.Sprintf("%g kg", math.Round(o.LoadKg*10)/10))
	}
	if o.Date != 0 {
		parts = append(parts, o.Date.String())
	}
	return strings.Join(parts, ", ")
}

// rigging says how the bar was rigged; empty where nothing is known.
func (t *Trace) rigging() string {
	var parts []string
	if t.Of.Bar != "" {
		parts = append(parts, t.Of.Bar+" bar")
	}
	if t.Of.Tether != "" {
		parts = append(parts, "tether: "+t.Of.Tether)
	}
	if t.Of.Device != "" {
		parts = append(parts, t.Of.Device)
	}
	return strings.Join(parts, ", ")
}

// caption says what a panel shows, in words: also for those who cannot see it.
func (p *panel) caption() string {
	var reps, missed, other int
	for i := range p.found {
		switch {
		case p.found[i].Kind == trace.Rep:
			reps++
		case p.found[i].Kind == trace.Missed:
			missed++
		default:
			other++
		}
	}
	text := fmt.Sprintf("%s to %s: %s", clock(p.from), clock(p.to), plural(reps, "rep"))
	if missed > 0 {
		text += ", " + plural(missed, "missed rep")
	}
	if other > 0 {
		text += ", " + plural(other, "movement") + " not counted"
	}
	return text
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// clock writes a time since the start of a trace.
func clock(s float64) string {
	s = max(0, s)
	if s < 60 {
		return fmt.Sprintf("%.1f s", s)
	}
	return fmt.Sprintf("%d:%04.1f", int(s)/60, math.Mod(s, 60))
}
