package chart

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// canvas writes SVG. The library's own canvas writes a line of markup a point
// and fixed colours; this one gathers strokes and fills of one kind into one
// path, which makes a page of a season a quarter of the size, and leaves
// colours and typeface to the page.
type canvas struct {
	w, h vg.Length
	ink  func(Ink) string
	out  strings.Builder

	state
	stack []state

	open string          // attributes of the path being gathered; empty for none
	path strings.Builder // its data
}

type state struct {
	colour color.Color
	width  vg.Length
	dashes []vg.Length
	move   [6]float64 // affine: x' = a·x + c·y + e, y' = b·x + d·y + f
}

// newCanvas returns an empty canvas; ink says how a colour is written.
func newCanvas(w, h vg.Length, ink func(Ink) string) *canvas {
	c := &canvas{w: w, h: h, ink: ink}
	c.move = [6]float64{1, 0, 0, 1, 0, 0}
	vg.Initialize(c)
	return c
}

// body returns the elements drawn so far.
func (c *canvas) body() string {
	c.close()
	return c.out.String()
}

func (c *canvas) Size() (w, h vg.Length)                      { return c.w, c.h }
func (c *canvas) SetLineWidth(w vg.Length)                    { c.width = w }
func (c *canvas) SetLineDash(dashes []vg.Length, _ vg.Length) { c.dashes = dashes }
func (c *canvas) SetColor(col color.Color)                    { c.colour = col }
func (c *canvas) Push()                                       { c.stack = append(c.stack, c.state) }

func (c *canvas) Pop() {
	c.state = c.stack[len(c.stack)-1]
	c.stack = c.stack[:len(c.stack)-1]
}

func (c *canvas) Rotate(rad float64) {
	sin, cos := math.Sincos(rad)
	c.then(cos, sin, -sin, cos, 0, 0)
}

func (c *canvas) Translate(p vg.Point) { c.then(1, 0, 0, 1, float64(p.X), float64(p.Y)) }
func (c *canvas) Scale(x, y float64)   { c.then(x, 0, 0, y, 0, 0) }

// then puts a transform before those in force.
func (c *canvas) then(a, b, cc, d, e, f float64) {
	m := c.move
	c.move = [6]float64{
		m[0]*a + m[2]*b, m[1]*a + m[3]*b,
		m[0]*cc + m[2]*d, m[1]*cc + m[3]*d,
		m[0]*e + m[2]*f + m[4], m[1]*e + m[3]*f + m[5],
	}
}

// at returns where a point lies in the picture, y downwards.
func (c *canvas) at(p vg.Point) (x, y float64) {
	x, y = float64(p.X), float64(p.Y)
	return c.move[0]*x + c.move[2]*y + c.move[4], float64(c.h) - (c.move[1]*x + c.move[3]*y + c.move[5])
}

// coat returns colour and opacity.
func (c *canvas) coat() (string, float64) {
	if p, ok := c.colour.(paint); ok {
		return c.ink(p.ink), p.alpha
	}
	return c.ink(Plain), 1
}

func (c *canvas) Stroke(p vg.Path) {
	if c.width <= 0 {
		return
	}
	colour, alpha := c.coat()
	look := fmt.Sprintf(`fill="none" stroke="%s" stroke-width="%s"`, colour, short(float64(c.width)))
	if alpha < 1 {
		look += fmt.Sprintf(` stroke-opacity="%s"`, short(alpha))
	}
	if len(c.dashes) > 0 {
		var dashes []string
		for _, d := range c.dashes {
			dashes = append(dashes, short(float64(d)))
		}
		look += fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(dashes, " "))
	}
	c.gather(look, p)
}

func (c *canvas) Fill(p vg.Path) {
	colour, alpha := c.coat()
	if x, y, r, ok := c.disc(p); ok {
		// A disc is a stroke of no length with round ends: a fifth of the bytes.
		c.start(fmt.Sprintf(`stroke="%s" stroke-width="%s" stroke-linecap="round"`, colour, short(2*r)))
		fmt.Fprintf(&c.path, "M%s %sh0", short(x), short(y))
		return
	}
	look := fmt.Sprintf(`fill="%s"`, colour)
	if alpha < 1 {
		look += fmt.Sprintf(` fill-opacity="%s"`, short(alpha))
	}
	c.gather(look, p)
}

// disc reports whether a path is one full circle.
func (c *canvas) disc(p vg.Path) (x, y, r float64, ok bool) {
	for _, s := range p {
		switch {
		case s.Type == vg.ArcComp && !ok && math.Abs(s.Angle) > 2*math.Pi-1e-6:
			x, y = c.at(s.Pos)
			r, ok = float64(s.Radius), true
		case s.Type != vg.MoveComp && s.Type != vg.CloseComp:
			return 0, 0, 0, false
		}
	}
	return x, y, r, ok
}

// gather adds a path to those that look the same.
func (c *canvas) gather(look string, p vg.Path) {
	c.start(look)
	b := &c.path
	began := false
	to := func(command byte, q vg.Point) {
		x, y := c.at(q)
		b.WriteByte(command)
		b.WriteString(short(x))
		b.WriteByte(' ')
		b.WriteString(short(y))
	}
	for _, s := range p {
		switch s.Type {
		case vg.MoveComp:
			to('M', s.Pos)
		case vg.LineComp:
			to('L', s.Pos)
		case vg.CloseComp:
			b.WriteByte('Z')
		case vg.CurveComp:
			to('C', s.Control[0])
			for _, q := range append(append([]vg.Point(nil), s.Control[1:]...), s.Pos) {
				to(' ', q)
			}
		case vg.ArcComp:
			point := func(angle float64) vg.Point {
				sin, cos := math.Sincos(angle)
				return vg.Point{X: s.Pos.X + s.Radius*vg.Length(cos), Y: s.Pos.Y + s.Radius*vg.Length(sin)}
			}
			if began {
				to('L', point(s.Start))
			} else {
				to('M', point(s.Start))
			}
			sweep := 0 // anticlockwise
			if s.Angle < 0 {
				sweep = 1
			}
			// Halves, since an arc that ends where it starts is none.
			for _, part := range []float64{0.5, 1} {
				x, y := c.at(point(s.Start + part*s.Angle))
				r := short(float64(s.Radius))
				fmt.Fprintf(b, "A%s %s 0 0 %d %s %s", r, r, sweep, short(x), short(y))
			}
		}
		began = true
	}
}

// start makes the gathered path one of that look.
func (c *canvas) start(look string) {
	if c.open != look {
		c.close()
		c.open = look
	}
}

func (c *canvas) close() {
	if c.path.Len() > 0 {
		fmt.Fprintf(&c.out, "<path %s d=\"%s\"/>\n", c.open, c.path.String())
	}
	c.path.Reset()
	c.open = ""
}

// FillString writes text, held at its middle: the page's typeface is not quite
// as wide as the one the library measures with.
func (c *canvas) FillString(f font.Face, at vg.Point, text string) {
	if f.Font.Size == 0 || strings.TrimSpace(text) == "" {
		return
	}
	c.close()
	colour, _ := c.coat()
	x, y := c.at(vg.Point{X: at.X + f.Width(text)/2, Y: at.Y})
	turn := ""
	if angle := -math.Atan2(c.move[1], c.move[0]) * 180 / math.Pi; math.Abs(angle) > 0.01 {
		turn = fmt.Sprintf(" transform=\"rotate(%s %s %s)\"", short(angle), short(x), short(y))
	}
	fmt.Fprintf(&c.out, "<text x=\"%s\" y=\"%s\"%s text-anchor=\"middle\" fill=\"%s\" font-size=\"%s\">%s</text>\n",
		short(x), short(y), turn, colour, short(float64(f.Font.Size)), escape(text))
}

// DrawImage draws nothing: no chart holds a picture.
func (c *canvas) DrawImage(vg.Rectangle, image.Image) {}

// short writes a number to a tenth, or a hundredth below one: finer than a
// printed dot.
func short(x float64) string {
	digits := 1
	if math.Abs(x) < 1 {
		digits = 2
	}
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
