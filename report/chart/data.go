package chart

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
)

// CSV writes the data of the chart, a line a mark: the series' name, its kind
// (points, line, band), x, y, for a band lower and upper in place of y, and for
// points what is known beside. Numbers have seven significant digits.
func CSV(w io.Writer, c Chart) error {
	out := csv.NewWriter(w)
	x, y := c.X.Column, c.Y.Column
	rows := [][]string{append([]string{"series", "kind", x, y, y + "_lower", y + "_upper"}, c.Beside...)}
	none := make([]string, len(c.Beside))
	for _, s := range c.Points {
		for i, p := range s.At {
			beside := none
			if s.Beside != nil {
				beside = s.Beside[i]
			}
			rows = append(rows, append([]string{s.Name, "points", c.X.write(p.X), c.Y.write(p.Y), "", ""}, beside...))
		}
	}
	for _, l := range c.Lines {
		name := l.Name
		if name == "" {
			name = l.Series
		}
		for _, p := range l.At {
			rows = append(rows, append([]string{name, "line", c.X.write(p.X), c.Y.write(p.Y), "", ""}, none...))
		}
	}
	for _, b := range c.Bands {
		for i := range b.Low {
			rows = append(rows, append([]string{b.Name, "band", c.X.write(b.Low[i].X), "", c.Y.write(b.Low[i].Y), c.Y.write(b.High[i].Y)}, none...))
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
