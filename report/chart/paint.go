package chart

import (
	"fmt"
	"image/color"
	"math"
)

// paint is an ink laid on more or less thickly. It is a colour for the plotting
// library, and stays an ink for the canvas.
type paint struct {
	ink   Ink
	alpha float64 // in [0,1]
}

// onWhite are the inks on white paper. A page may give them other values, by
// the CSS names of [Ink.css].
var onWhite = [inkCount]color.NRGBA{
	Plain:  {0x1b, 0x1d, 0x1f, 255},
	First:  {0x00, 0x72, 0xb2, 255},
	Second: {0xd5, 0x5e, 0x00, 255},
	Third:  {0x00, 0x9e, 0x73, 255},
	Faint:  {0x76, 0x76, 0x76, 255},
}

func (p paint) RGBA() (r, g, b, a uint32) {
	c := onWhite[p.ink]
	c.A = uint8(math.Round(255 * p.alpha))
	return c.RGBA()
}

// hex returns the ink on white paper: "#0072b2".
func (i Ink) hex() string {
	c := onWhite[i]
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

// css returns the ink as a page has it: the text's colour, or a variable.
func (i Ink) css() string {
	if i == Plain {
		return "currentColor"
	}
	return fmt.Sprintf("var(--ink%d)", i)
}
