package motion

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"repsift/ingest/trace"
)

// Sizes of a panel, in the units of its view box.
const (
	width               = 1000.0
	left, right         = 62.0, 14.0
	labels              = 22.0 // above the charts: names of the movements
	positionH, speedH   = 190.0, 170.0
	between, below      = 20.0, 40.0
	panelH              = labels + positionH + between + speedH + below
	mostTicks           = 9
	letterW, nameHeight = 7.2, 12.0
)

// axis maps values onto the paper.
type axis struct{ lo, hi, from, to float64 }

func (a axis) at(v float64) float64 { return a.from + (v-a.lo)/(a.hi-a.lo)*(a.to-a.from) }

// step returns a step of 1, 2 or 5 × 10ⁿ that gives at most n ticks, and the
// decimals it has.
func (a axis) step(n float64) (step float64, digits int) {
	e := int(math.Floor(math.Log10((a.hi - a.lo) / n)))
	for ; ; e++ {
		for _, m := range []float64{1, 2, 5} {
			if s := m * math.Pow10(e); (a.hi-a.lo)/s <= n {
				return s, max(0, -e)
			}
		}
	}
}

func (a axis) ticks(n float64, tick func(at float64, label string)) {
	step, digits := a.step(n)
	for k := math.Ceil(a.lo/step - 1e-9); k*step <= a.hi+1e-9*step; k++ {
		label := strconv.FormatFloat(math.Abs(k*step), 'f', digits, 64)
		if k < 0 {
			label = "−" + label
		}
		tick(a.at(k*step), label)
	}
}

// picture writes the elements of a panel.
type picture struct {
	strings.Builder
	top  float64 // y of the panel
	time axis
}

func (p *picture) add(format string, args ...any) { fmt.Fprintf(p, format, args...) }

func (p *picture) text(class, anchor string, x, y float64, text string) {
	p.add("<text class=\"%s\" text-anchor=\"%s\" x=\"%s\" y=\"%s\">%s</text>\n", class, anchor, short(x), short(y), html.EscapeString(text))
}

// draw writes a panel whose upper edge is at y: two charts over one time axis.
func (p *panel) draw(top float64, number map[float64]int) string {
	d := &picture{top: top, time: axis{p.from, max(p.to, p.from+1), left, width - right}}
	zero := math.Inf(1)
	var y, v axis
	y.hi, v.lo, v.hi = 0.05, -0.1, 0.1
	for _, s := range p.series {
		zero = min(zero, s.Position)
	}
	for _, s := range p.series {
		y.hi, v.lo, v.hi = max(y.hi, s.Position-zero), min(v.lo, s.Velocity), max(v.hi, s.Velocity)
	}
	y = axis{-0.04 * y.hi, 1.06 * y.hi, top + labels + positionH, top + labels}
	v = axis{1.06 * v.lo, 1.1 * v.hi, y.from + between + speedH, y.from + between}
	d.movements(p, y, v, number)
	d.frame(y, "position, m above the lowest shown")
	d.frame(v, "velocity, m/s, upwards")
	d.add("<path class=\"zero\" d=\"M%s %sH%s\"/>\n", short(left), short(v.at(0)), short(width-right))
	d.seconds(v.from)
	d.curve("position", p.series, func(s trace.Sample) float64 { return y.at(s.Position - zero) })
	d.curve("velocity", p.series, func(s trace.Sample) float64 { return v.at(s.Velocity) })
	d.measures(p, v)
	return d.String()
}

// frame writes the frame of a chart, its grid and labels.
func (d *picture) frame(a axis, name string) {
	a.ticks(5, func(at float64, label string) {
		d.add("<path class=\"grid\" d=\"M%s %sH%s\"/>\n", short(left), short(at), short(width-right))
		d.text("tick", "end", left-6, at+4, label)
	})
	d.add("<path class=\"frame\" d=\"M%s %sV%sH%s\"/>\n", short(left), short(a.to), short(a.from), short(width-right))
	x, y := 15.0, (a.from+a.to)/2
	d.add("<text class=\"name\" text-anchor=\"middle\" transform=\"translate(%s %s) rotate(-90)\">%s</text>\n", short(x), short(y), html.EscapeString(name))
}

func (d *picture) seconds(y float64) {
	d.time.ticks(mostTicks, func(at float64, label string) {
		d.add("<path class=\"frame\" d=\"M%s %sv4\"/>\n", short(at), short(y))
		d.text("tick", "middle", at, y+16, label)
	})
	d.text("name", "middle", (left+width-right)/2, y+33, "time since the first sample, s")
}

// movements marks every movement: reps as bands with a number, missed ones
// hatched, others as a dotted frame with their kind.
func (d *picture) movements(p *panel, y, v axis, number map[float64]int) {
	for i := range p.found {
		f := &p.found[i]
		a, b := d.time.at(f.At), d.time.at(end(f))
		class := "aside"
		switch f.Kind {
		case trace.Rep:
			class = "rep"
		case trace.Missed:
			class = "missed"
		}
		d.add("<g class=\"%s\"><title>%s</title><rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/>", class, html.EscapeString(tell(f, number[f.At])),
			short(a), short(y.to), short(max(b-a, 1)), short(v.from-y.to))
		if f.Kind == trace.Missed { // hatched, for those who do not tell the colours apart
			for h := y.to + 12; h < v.from; h += 12 {
				d.add("<path d=\"M%s %sL%s %s\"/>", short(a), short(h), short(b), short(h-min(12, (b-a)/2)))
			}
		}
		d.add("</g>\n")
		if f.SlackTime > 0 {
			d.add("<g class=\"slack\"><title>%s</title><rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/></g>\n", html.EscapeString(slack(f)),
				short(d.time.at(f.At-f.SlackTime)), short(y.to), short(a-d.time.at(f.At-f.SlackTime)), short(v.from-y.to))
		}
	}
	d.names(p, y.to-6, number)
}

// names writes what the movements are above them, reps first; where there is no
// room the table has it.
func (d *picture) names(p *panel, y float64, number map[float64]int) {
	const apart = 7.0
	var taken [][2]float64
	write := func(f *trace.Found, name string) {
		middle, half := (d.time.at(f.At)+d.time.at(end(f)))/2, float64(len([]rune(name)))*letterW/2
		for _, t := range taken {
			if middle-half < t[1]+apart && middle+half > t[0]-apart {
				return
			}
		}
		taken = append(taken, [2]float64{middle - half, middle + half})
		d.text("label", "middle", middle, y, name)
	}
	for i := range p.found {
		switch f := &p.found[i]; f.Kind {
		case trace.Rep:
			write(f, fmt.Sprint(number[f.At]))
		case trace.Missed:
			write(f, fmt.Sprintf("%d missed", number[f.At]))
		}
	}
	for i := range p.found {
		if f := &p.found[i]; !counted(f) {
			write(f, f.Kind.String())
		}
	}
}

// measures marks what was measured of each rep: mean and peak, and the slowest
// moment of a sticking region.
func (d *picture) measures(p *panel, v axis) {
	for i := range p.found {
		f := &p.found[i]
		if !counted(f) {
			continue
		}
		y := v.at(f.MeanVelocity)
		d.add("<path class=\"mean\" d=\"M%s %sH%s\"/>\n", short(d.time.at(f.At)), short(y), short(d.time.at(end(f))))
		if f.PeakVelocity.OK && f.TimeToPeak.OK {
			d.add("<circle class=\"peak\" cx=\"%s\" cy=\"%s\" r=\"3.2\"/>\n", short(d.time.at(f.At+f.TimeToPeak.V)), short(v.at(f.PeakVelocity.V)))
		}
		if f.StickingMin.OK {
			for _, s := range p.series {
				if s.T >= f.At && s.T <= end(f) && math.Abs(s.Velocity-f.StickingMin.V) < 1e-6 {
					x, y := d.time.at(s.T), v.at(s.Velocity)
					d.add("<path class=\"stick\" d=\"M%s %sl4.5 8h-9z\"/>\n", short(x), short(y))
					break
				}
			}
		}
	}
}

// curve writes a series, thinned to the highest and lowest of each half dot.
// Where readings are missing it is broken.
func (d *picture) curve(class string, series []trace.Sample, at func(trace.Sample) float64) {
	d.add("<path class=\"%s\" d=\"", class)
	pen := byte('M')
	to := func(x, y float64) {
		d.WriteByte(pen)
		d.WriteString(short(x))
		d.WriteByte(' ')
		d.WriteString(short(y))
		pen = 'L'
	}
	const fine = 2 // columns a dot
	for i := 0; i < len(series); {
		if series[i].Gap {
			pen = 'M'
			i++
			continue
		}
		column := math.Floor(d.time.at(series[i].T) * fine)
		lo, hi, j := i, i, i
		for ; j < len(series) && !series[j].Gap && math.Floor(d.time.at(series[j].T)*fine) == column; j++ {
			if at(series[j]) < at(series[lo]) {
				lo = j
			}
			if at(series[j]) > at(series[hi]) {
				hi = j
			}
		}
		to(d.time.at(series[min(lo, hi)].T), at(series[min(lo, hi)]))
		if lo != hi {
			to(d.time.at(series[max(lo, hi)].T), at(series[max(lo, hi)]))
		}
		i = j
	}
	d.add("\"/>\n")
}

// tell says what a movement was, for the pointer that rests on it.
func tell(f *trace.Found, number int) string {
	if !counted(f) {
		return fmt.Sprintf("not counted, %s at %s: %s", f.Kind, clock(f.At), f.Why)
	}
	text := fmt.Sprintf("%s %d of set %d at %s: %.3f m/s over %.3f m", f.Kind, number, f.Set, clock(f.At), f.MeanVelocity, f.ROM)
	if f.Why != "" {
		text += "; " + f.Why
	}
	return text
}

func slack(f *trace.Found) string {
	return fmt.Sprintf("slack of the bar taken out, %.1f cm in %.2f s before the plates left the floor", 100*f.SlackTravel, f.SlackTime)
}

// short writes a coordinate to a tenth: finer than a printed dot.
func short(x float64) string {
	s := strconv.FormatFloat(x, 'f', 1, 64)
	s = strings.TrimSuffix(s, ".0")
	if s == "-0" {
		return "0"
	}
	return s
}
