// Package chart draws the charts of a lifter's page: points, a line with the
// band it may lie in, axes with units. It knows nothing of lifting; the page
// says what to draw.
//
// A chart has three forms. [SVG] is an element for a page: its colours are the
// page's, so that one picture serves light, dark and print, and its legend is
// apart ([Legend]), for the page to set above it, where it hides no point.
// [File] and [PNG] are pictures that stand alone, with title and legend. [CSV]
// is the data of the picture.
//
// Series differ in shape as well as in colour, for readers and printers that do
// not tell colours apart. Colours are from Okabe M, Ito K (2008), Color
// Universal Design.
package chart

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Chart is what one picture shows.
type Chart struct {
	Title  string // of a picture that stands alone
	Alt    string // what a reader who cannot see it is told, one or two sentences
	X, Y   Axis
	Bands  []Band
	Lines  []Line
	Points []Points
	Height float64 // of the width; 0 is 0.62

	// Beside names what the data says of each point beyond x and y.
	Beside []string
}

// Axis is one axis. Where Min < Max the axis spans just that.
type Axis struct {
	Label    string // with unit: "load (kg)"
	Column   string // heading of the data: "load_kg"
	Days     bool   // values are days since 1970-01-01
	Min, Max float64
}

// XY is a point in data units.
type XY struct{ X, Y float64 }

// Points is a series of single points.
type Points struct {
	Name  string // in the legend; empty for none
	Ink   Ink
	Small bool // for the many that are only there to be compared with
	At    []XY

	Beside [][]string // of each point, in the order of Chart.Beside; nil for none
}

// Line is a line through its points.
type Line struct {
	Name   string
	Series string // its name in the data, where it has none in the legend
	Ink    Ink
	Dashed bool
	At     []XY
}

// Band is the area between a lower and an upper line over the same X.
type Band struct {
	Name      string
	Ink       Ink
	Low, High []XY
}

// Ink is a colour and a shape that go together.
type Ink int

// The inks, told apart by colour and by shape.
const (
	Plain  Ink = iota // the page's text colour, ring
	First             // blue, disc
	Second            // vermillion, triangle
	Third             // green, square
	Faint             // grey, cross
	inkCount
)

var glyphs = [inkCount]draw.GlyphDrawer{
	Plain: ring{}, First: draw.CircleGlyph{}, Second: draw.PyramidGlyph{}, Third: draw.BoxGlyph{}, Faint: cross{},
}

// ring and cross are the library's, with a line that can be seen on a phone.
type (
	ring  struct{}
	cross struct{}
)

const glyphLine = 1.1

func (ring) DrawGlyph(c *draw.Canvas, sty draw.GlyphStyle, at vg.Point) {
	c.SetLineStyle(draw.LineStyle{Color: sty.Color, Width: glyphLine})
	var p vg.Path
	p.Move(vg.Point{X: at.X + sty.Radius, Y: at.Y})
	p.Arc(at, sty.Radius, 0, 2*math.Pi)
	p.Close()
	c.Stroke(p)
}

func (cross) DrawGlyph(c *draw.Canvas, sty draw.GlyphStyle, at vg.Point) {
	c.SetLineStyle(draw.LineStyle{Color: sty.Color, Width: glyphLine})
	const half = 0.75 // of the radius: a cross looks larger than a disc
	r := half * sty.Radius
	var p vg.Path
	p.Move(vg.Point{X: at.X - r, Y: at.Y - r})
	p.Line(vg.Point{X: at.X + r, Y: at.Y + r})
	p.Move(vg.Point{X: at.X - r, Y: at.Y + r})
	p.Line(vg.Point{X: at.X + r, Y: at.Y - r})
	c.Stroke(p)
}

// Sizes in points of the picture; pages scale it so that a chart of a phone's
// width can still be read.
const (
	width       = 420
	usualHeight = 0.62
	textSize    = 12
	bandAlpha   = 0.2
	gridAlpha   = 0.28
)

func (c *Chart) size() (w, h vg.Length) {
	height := c.Height
	if height == 0 {
		height = usualHeight
	}
	return width, vg.Length(height * width)
}

// plot returns the picture without legend and title.
func (c *Chart) plot() (*plot.Plot, error) {
	p := plot.New()
	p.BackgroundColor = nil
	c.axis(&p.X, c.X)
	c.axis(&p.Y, c.Y)
	grid := plotter.NewGrid()
	grid.Vertical = draw.LineStyle{Color: paint{Faint, gridAlpha}, Width: 0.7}
	grid.Horizontal = grid.Vertical
	p.Add(grid)
	for _, b := range c.Bands {
		if err := addBand(p, b); err != nil {
			return nil, err
		}
	}
	for _, l := range c.Lines {
		if err := addLine(p, l); err != nil {
			return nil, err
		}
	}
	for _, s := range c.Points {
		if err := addPoints(p, s); err != nil {
			return nil, err
		}
	}
	span(&p.X, c.X)
	span(&p.Y, c.Y)
	return p, nil
}

func (c *Chart) axis(a *plot.Axis, want Axis) {
	a.Label.Text = want.Label
	a.Label.TextStyle.Font = typeface(textSize)
	a.Label.Padding = 3
	a.Tick.Label.Font = typeface(textSize)
	a.Tick.Length = 4
	a.Tick.Marker = round{}
	if want.Days {
		a.Tick.Marker = calendar{}
	}
	ink := paint{Plain, 1}
	a.Color, a.Tick.Color, a.Label.TextStyle.Color, a.Tick.Label.Color = ink, ink, ink, ink
	a.Tick.LineStyle.Color = ink
}

// typeface is what text is measured with and, in a PNG, written in: like what
// pages and viewers use.
func typeface(size vg.Length) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}
}

func span(a *plot.Axis, want Axis) {
	if want.Min < want.Max {
		a.Min, a.Max = want.Min, want.Max
	}
}

func addBand(p *plot.Plot, b Band) error {
	ring := append([]XY(nil), b.Low...)
	for i := len(b.High) - 1; i >= 0; i-- {
		ring = append(ring, b.High[i])
	}
	area, err := plotter.NewPolygon(xys(ring))
	if err != nil {
		return fmt.Errorf("band %q: %w", b.Name, err)
	}
	area.Color = paint{b.Ink, bandAlpha}
	area.LineStyle.Width = 0
	p.Add(area)
	return nil
}

func addLine(p *plot.Plot, l Line) error {
	if len(l.At) == 0 {
		return fmt.Errorf("line %q has no points", l.Name)
	}
	line, err := plotter.NewLine(xys(l.At))
	if err != nil {
		return fmt.Errorf("line %q: %w", l.Name, err)
	}
	line.LineStyle = l.style()
	p.Add(line)
	return nil
}

func (l *Line) style() draw.LineStyle {
	s := draw.LineStyle{Color: paint{l.Ink, 1}, Width: 1.8}
	if l.Dashed {
		s.Dashes = []vg.Length{5, 3}
	}
	return s
}

func addPoints(p *plot.Plot, s Points) error {
	if len(s.At) == 0 {
		return nil
	}
	points, err := plotter.NewScatter(xys(s.At))
	if err != nil {
		return fmt.Errorf("points %q: %w", s.Name, err)
	}
	points.GlyphStyle = s.style()
	p.Add(points)
	return nil
}

func (s *Points) style() draw.GlyphStyle {
	if s.Small {
		return draw.GlyphStyle{Color: paint{s.Ink, 1}, Radius: 1.1, Shape: draw.CircleGlyph{}}
	}
	return draw.GlyphStyle{Color: paint{s.Ink, 1}, Radius: 3, Shape: glyphs[s.Ink]}
}

func xys(at []XY) plotter.XYs {
	out := make(plotter.XYs, len(at))
	for i, p := range at {
		out[i] = plotter.XY{X: p.X, Y: p.Y}
	}
	return out
}
