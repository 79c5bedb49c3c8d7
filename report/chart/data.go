package chart

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
)

// CSV writes the data of the chart, a line a mark: the series' name, its kind
// (points, line, band), x, y, and for a band lower and upper in place of y.
// Numbers have seven significant digits.
func CSV(w io.Writer, c Chart) error {
	out := csv.NewWriter(w)
	x, y := c.X.Column, c.Y.Column
	rows := [][]string{{"series", "kind", x, y, y + "_lower", y + "_upper"}}
	for _, s := range c.Points {
		for _, p := range s.At {
			rows = append(rows, []string{s.Name, "points", c.X.write(p.X), c.Y.write(p.Y), "", ""})
		}
	}
	for _, l := range c.Lines {
		name := l.Name
		if name == "" {
			name = l.Series
		}
		for _, p := range l.At {
			rows = append(rows, []string{name, "line", c.X.write(p.X), c.Y.write(p.Y), "", ""})
		}
	}
	for _, b := range c.Bands {
		for i := range b.Low {
			rows = append(rows, []string{b.Name, "band", c.X.write(b.Low[i].X), "", c.Y.write(b.Low[i].Y), c.Y.write(b.High[i].Y)})
		}
	}
	return out.WriteAll(rows)
}

func (a Axis) write(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	if a.Days {
		return day(int(v)).Format("2006-01-02")
	}
	return strconv.FormatFloat(v, 'g', 7, 64)
}
