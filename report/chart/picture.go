package chart

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image/color"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// SVG returns the chart as an SVG element for embedding in a page, without
// title and legend. The page gives the colours --ink1 to --ink4. Equal charts
// give equal bytes.
func SVG(c Chart) ([]byte, error) {
	p, err := c.plot()
	if err != nil {
		return nil, err
	}
	w, h := c.size()
	canvas := newCanvas(w, h, Ink.css)
	p.Draw(draw.New(canvas))
	var b bytes.Buffer
	fmt.Fprintf(&b, "<svg class=\"chart\" viewBox=\"0 0 %s %s\" role=\"img\" aria-label=\"%s\">\n%s</svg>",
		short(float64(w)), short(float64(h)), escape(c.Alt), canvas.body())
	return b.Bytes(), nil
}

// Key is one entry of a legend.
type Key struct {
	Name string
	Mark []byte // an SVG element of the size of a letter
}

// Legend returns a key for each series that has a name and something to show,
// in drawing order.
func (c *Chart) Legend() []Key {
	var keys []Key
	for _, s := range c.swatches() {
		canvas := newCanvas(keyWidth, keyHeight, Ink.css)
		s.draw(draw.New(canvas))
		keys = append(keys, Key{s.name, fmt.Appendf(nil,
			"<svg class=\"key\" viewBox=\"0 0 %d %d\" width=\"%d\" height=\"%d\" aria-hidden=\"true\">%s</svg>",
			keyWidth, keyHeight, keyWidth, keyHeight, canvas.body())})
	}
	return keys
}

const keyWidth, keyHeight = 24, 12

// swatch draws how a series looks.
type swatch struct {
	name string
	draw func(c draw.Canvas)
}

func (c *Chart) swatches() []swatch {
	var out []swatch
	add := func(name string, there bool, draw func(draw.Canvas)) {
		if name != "" && there {
			out = append(out, swatch{name, draw})
		}
	}
	for _, s := range c.Points {
		add(s.Name, len(s.At) > 0, func(d draw.Canvas) { d.DrawGlyph(s.style(), d.Center()) })
	}
	for _, l := range c.Lines {
		add(l.Name, len(l.At) > 0, func(d draw.Canvas) {
			d.StrokeLine2(l.style(), d.Min.X, d.Center().Y, d.Max.X, d.Center().Y)
		})
	}
	for _, b := range c.Bands {
		add(b.Name, len(b.Low) > 0, func(d draw.Canvas) {
			d.FillPolygon(paint{b.Ink, bandAlpha}, []vg.Point{d.Min, {X: d.Min.X, Y: d.Max.Y}, d.Max, {X: d.Max.X, Y: d.Min.Y}})
		})
	}
	return out
}

// File returns the chart as an SVG file that stands alone: title, legend, its
// own colours on white.
func File(c Chart) ([]byte, error) {
	p, err := c.plot()
	if err != nil {
		return nil, err
	}
	w, h := c.size()
	h += c.headHeight(w)
	canvas := newCanvas(w, h, Ink.hex)
	c.alone(p, draw.New(canvas))
	var b bytes.Buffer
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %[1]s %[2]s\" width=\"%[1]s\" height=\"%[2]s\" role=\"img\" font-family=\"Helvetica, Arial, sans-serif\">\n",
		short(float64(w)), short(float64(h)))
	fmt.Fprintf(&b, "<title>%s</title>\n<rect width=\"100%%\" height=\"100%%\" fill=\"#ffffff\"/>\n%s</svg>\n", escape(c.Alt), canvas.body())
	return b.Bytes(), nil
}

// dotsPerInch of a PNG: sharp in print at the width of a column.
const dotsPerInch = 220

// PNG returns the chart as a picture that stands alone.
func PNG(c Chart) ([]byte, error) {
	p, err := c.plot()
	if err != nil {
		return nil, err
	}
	w, h := c.size()
	h += c.headHeight(w)
	canvas := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(w, h), vgimg.UseDPI(dotsPerInch), vgimg.UseBackgroundColor(color.White))}
	c.alone(p, draw.New(canvas))
	var b bytes.Buffer
	if _, err := canvas.WriteTo(&b); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

const margin, lineHeight = 6, 17

// lettering is the text of titles and legends.
func lettering(size vg.Length) text.Style {
	return text.Style{
		Color: paint{Plain, 1}, Font: typeface(size), Handler: plot.DefaultTextHandler,
		XAlign: draw.XLeft, YAlign: draw.YCenter,
	}
}

// rows breaks the legend into lines of the width.
func (c *Chart) rows(w vg.Length) [][]swatch {
	style := lettering(textSize)
	var rows [][]swatch
	var x vg.Length
	for _, s := range c.swatches() {
		need := keyWidth + 5 + style.Width(s.name) + 14
		if len(rows) == 0 || x+need > w-2*margin {
			rows, x = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], s)
		x += need
	}
	return rows
}

func (c *Chart) headHeight(w vg.Length) vg.Length {
	h := vg.Length(len(c.rows(w)))*lineHeight + 2*margin
	if c.Title != "" {
		h += lineHeight + 4
	}
	return h
}

// alone draws title, legend and, below them, the plot.
func (c *Chart) alone(p *plot.Plot, d draw.Canvas) {
	w := d.Max.X - d.Min.X
	y := d.Max.Y - margin
	if c.Title != "" {
		d.FillText(lettering(textSize+2), vg.Point{X: d.Min.X + margin, Y: y - lineHeight/2}, c.Title)
		y -= lineHeight + 4
	}
	style := lettering(textSize)
	for _, row := range c.rows(w) {
		x := d.Min.X + margin
		for _, s := range row {
			box := d
			box.Min, box.Max = vg.Point{X: x, Y: y - lineHeight/2 - keyHeight/2}, vg.Point{X: x + keyWidth, Y: y - lineHeight/2 + keyHeight/2}
			s.draw(box)
			d.FillText(style, vg.Point{X: x + keyWidth + 5, Y: y - lineHeight/2}, s.name)
			x += keyWidth + 5 + style.Width(s.name) + 14
		}
		y -= lineHeight
	}
	d.Max.Y = y - margin
	p.Draw(d)
}

// escape returns a text as it stands in XML. What XML cannot hold, control
// characters among them, becomes the replacement character.
func escape(text string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(text)) // a Builder never fails
	return b.String()
}
