// Package chart draws the charts of a lifter's page as SVG: points, a line
// with the band it may lie in, axes with units. It knows nothing of lifting;
// the page says what to draw.
//
// A chart has no colours of its own for ink and paper: axes and text take the
// page's text colour, so that one picture serves light, dark and print. Series
// differ in shape as well as in colour, for readers and printers that do not
// tell colours apart. Colours are from Okabe M, Ito K (2008), Color Universal
// Design.
package chart

import (
	"bytes"
	"fmt"
	"html"
	"image/color"
	"regexp"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Chart is what one picture shows.
type Chart struct {
	Alt    string // what a reader who cannot see it is told, one or two sentences
	X, Y   Axis
	Bands  []Band
	Lines  []Line
	Points []Points
	Marks  []Mark
	Height float64 // of the width; 0 is 0.56
}

// Axis is one axis. Where Min < Max the axis spans just that.
type Axis struct {
	Label    string // with unit: "load (kg)"
	Min, Max float64
	Ticks    []Tick // nil: chosen
}

// Tick is a labelled place on an axis.
type Tick struct {
	At    float64
	Label string
}

// XY is a point in data units.
type XY struct{ X, Y float64 }

// Points is a series of single points.
type Points struct {
	Name string // in the legend; empty for none
	Ink  Ink
	Size float64 // radius in points; 0 is 3
	At   []XY
}

// Line is a line through its points.
type Line struct {
	Name   string
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

// Mark is a short text at a point.
type Mark struct {
	At   XY
	Text string
}

// Ink is a colour and a shape that go together.
type Ink int

// The inks, told apart by colour and by shape.
const (
	Plain  Ink = iota // the page's text colour, ring
	First             // blue, disc
	Second            // vermillion, triangle
	Third             // green, square
	Faint             // grey, small cross
)

var inks = []struct {
	colour color.NRGBA
	glyph  draw.GlyphDrawer
}{
	Plain:  {color.NRGBA{A: 255}, draw.RingGlyph{}},
	First:  {color.NRGBA{0x00, 0x72, 0xb2, 255}, draw.CircleGlyph{}},
	Second: {color.NRGBA{0xd5, 0x5e, 0x00, 255}, draw.PyramidGlyph{}},
	Third:  {color.NRGBA{0x00, 0x9e, 0x73, 255}, draw.BoxGlyph{}},
	Faint:  {color.NRGBA{0x80, 0x80, 0x80, 255}, draw.CrossGlyph{}},
}

func (i Ink) withAlpha(a uint8) color.NRGBA {
	c := inks[i].colour
	c.A = a
	return c
}

// widthPt is the nominal width; pages scale it.
const widthPt = 520

// SVG returns the chart as an SVG element for embedding in a page. Equal
// charts give equal bytes.
func SVG(c Chart) ([]byte, error) {
	p := plot.New()
	p.BackgroundColor = color.Transparent
	axis(&p.X, c.X)
	axis(&p.Y, c.Y)
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = Faint.withAlpha(70), Faint.withAlpha(70)
	p.Add(grid)
	p.Legend.Top = true
	p.Legend.TextStyle.Font.Size = 10
	p.Legend.Padding = vg.Points(2)
	p.Legend.XOffs = vg.Points(-4)
	p.Legend.YOffs = vg.Points(-2)
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
	if err := addMarks(p, c.Marks); err != nil {
		return nil, err
	}
	axisSpan(&p.X, c.X)
	axisSpan(&p.Y, c.Y)
	height := c.Height
	if height == 0 {
		height = 0.56
	}
	canvas := vgsvg.New(widthPt, vg.Length(height*widthPt))
	p.Draw(draw.New(canvas))
	var b bytes.Buffer
	if _, err := canvas.WriteTo(&b); err != nil {
		return nil, err
	}
	return embed(b.Bytes(), c.Alt), nil
}

func axis(a *plot.Axis, want Axis) {
	a.Label.Text = want.Label
	a.Label.TextStyle.Font.Size = 11
	a.Tick.Label.Font.Size = 10
	if want.Ticks != nil {
		ticks := make(plot.ConstantTicks, len(want.Ticks))
		for i, t := range want.Ticks {
			ticks[i] = plot.Tick{Value: t.At, Label: t.Label}
		}
		a.Tick.Marker = ticks
	}
}

func axisSpan(a *plot.Axis, want Axis) {
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
	area.Color = b.Ink.withAlpha(40)
	area.LineStyle.Width = 0
	p.Add(area)
	if b.Name != "" {
		p.Legend.Add(b.Name+" ", area)
	}
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
	line.Color = inks[l.Ink].colour
	line.Width = vg.Points(1.6)
	if l.Dashed {
		line.Dashes = []vg.Length{vg.Points(5), vg.Points(3)}
	}
	p.Add(line)
	if l.Name != "" {
		p.Legend.Add(l.Name+" ", line)
	}
	return nil
}

func addPoints(p *plot.Plot, s Points) error {
	if len(s.At) == 0 {
		return nil
	}
	points, err := plotter.NewScatter(xys(s.At))
	if err != nil {
		return fmt.Errorf("points %q: %w", s.Name, err)
	}
	size := s.Size
	if size == 0 {
		size = 3
	}
	points.GlyphStyle = draw.GlyphStyle{Color: inks[s.Ink].colour, Radius: vg.Points(size), Shape: inks[s.Ink].glyph}
	p.Add(points)
	if s.Name != "" {
		p.Legend.Add(s.Name+" ", points)
	}
	return nil
}

func addMarks(p *plot.Plot, marks []Mark) error {
	if len(marks) == 0 {
		return nil
	}
	var at plotter.XYLabels
	for _, m := range marks {
		at.XYs = append(at.XYs, plotter.XY{X: m.At.X, Y: m.At.Y})
		at.Labels = append(at.Labels, m.Text)
	}
	labels, err := plotter.NewLabels(at)
	if err != nil {
		return err
	}
	for i := range labels.TextStyle {
		labels.TextStyle[i].Font.Size = 9
	}
	labels.Offset = vg.Point{X: vg.Points(4), Y: vg.Points(4)}
	p.Add(labels)
	return nil
}

func xys(at []XY) plotter.XYs {
	out := make(plotter.XYs, len(at))
	for i, p := range at {
		out[i] = plotter.XY{X: p.X, Y: p.Y}
	}
	return out
}

var (
	opening = regexp.MustCompile(`(?s)^.*?<svg[^>]*>`)
	viewBox = regexp.MustCompile(`viewBox="[^"]*"`)
	// The library writes a typeface that the page does not have.
	family = regexp.MustCompile(`font-family:[^;"]*`)
)

// embed makes the library's stand-alone file an element that scales with the
// page, takes its ink from it and tells a screen reader what it shows.
func embed(svg []byte, alt string) []byte {
	box := viewBox.Find(opening.Find(svg))
	head := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" class="chart" %s role="img" aria-label="%s">`+"\n<title>%s</title>",
		box, html.EscapeString(alt), html.EscapeString(alt))
	body := opening.ReplaceAll(svg, []byte{})
	text := family.ReplaceAllString(string(body), "font-family:inherit")
	text = strings.ReplaceAll(text, "#000000", "currentColor")
	return []byte(head + text)
}
